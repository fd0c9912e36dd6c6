"""The comparison as one table of texts, the common ground of the text, Markdown and CSV forms."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from whatif.answers.compare import Answer, Comparison
from whatif.answers.figures import Figures
from whatif.answers.gains import Gains, is_difference
from whatif.answers.indicators import indicators
from whatif.answers.orders.orders import promises
from whatif.answers.orders.rush import AnyHour, RushArrival, any_gain
from whatif.answers.per import Per, answer_per
from whatif.answers.states import LOSSES
from whatif.telling.amounts import rounded, signed
from whatif.telling.limits import limit_in_short
from whatif.units import Dimension, show

NOTHING = "-"


@dataclass(frozen=True, slots=True)
class TableRow:
    """One line of the table: what it is, its unit, and a text per scenario.

    Attributes:
        is_weekly: whether it is so much a week, and is told for another time where one is chosen.
    """

    label: str
    unit: str
    cells: tuple[str, ...]
    is_weekly: bool = False


def gain_text(gain: float | None, grain: float | None) -> str:
    """A gain in percent with its sign; one smaller than its grain is no difference."""
    if gain is None:
        return NOTHING
    if not is_difference(gain, grain):
        return "no difference"
    return percent_text(gain)


def percent_text(gain: float) -> str:
    """A percentage with its sign and as many digits as it takes not to read "-0.0 %"."""
    for digits in (1, 2, 3):
        text = signed(gain, digits)
        if float(text):
            return f"{text} %"
    return "0.0 %"


def whole_percent_text(gain: float) -> str:
    """A percentage without its tenth, which is for tables, unless there is nothing else to it."""
    return percent_text(gain) if abs(gain) < 1 else f"{signed(gain, 0)} %"


def number(value: float | None, digits: int = 1) -> str:
    """A plain number, or a dash where there is none."""
    return NOTHING if value is None else rounded(value, digits)


def fit_text(answer: Answer) -> str:
    """Whether the scenario's parts fit, in a few words."""
    if not answer.plan.parts:
        return NOTHING
    left_out = [part.id for part in answer.plan.parts if part.unmade]
    if left_out:
        return f"not made: {', '.join(left_out)}"
    misfits = [
        f"{part} not on {group}"
        for part, by_group in answer.plan.fits.items()
        for group, fit in by_group.items()
        if not fit.fits and all(limit.kind != "machine" for limit in fit.limits)
    ]
    if misfits:
        return ", ".join(misfits)
    unknown = [
        part
        for part, by_group in answer.plan.fits.items()
        if all(fit.most is None for fit in by_group.values())
    ]
    return "sizes unchecked" if unknown else "all fit"


def table_rows(found: Comparison, per: Per = Per.WEEK) -> list[TableRow]:
    """All lines of the table: gains first, then hours, states, pieces, people, fit.

    ``per`` is the time that hours and pieces are told for.
    """
    answers = [answer_per(one, per) for one in found.answers.values()]
    table = [*_gain_rows(found, answers), *_hour_rows(answers), *_state_rows(answers)]
    for id_ in _parts(answers):
        table += [
            _weekly(answers, f"pieces: {id_}", "", _entry("pieces", id_)),
            _row(answers, f"demand met: {id_}", "%", _entry("demand_met", id_)),
        ]
    table += [
        *_band_rows(answers),
        *_meter_rows(answers),
        *_people_rows(answers),
        *_floor_rows(answers, found.units),
        *_indicator_rows(answers),
        *_money_rows(answers),
        *_order_rows(answers),
    ]
    table.append(TableRow("parts", "", tuple(fit_text(one) for one in answers)))
    held = (NOTHING if one.held_back is None else limit_in_short(one.held_back) for one in answers)
    table.append(TableRow("held back by", "", tuple(held)))
    return [
        replace(row, unit=f"{row.unit} {per.words}".strip()) if row.is_weekly else row
        for row in table
    ]


def _parts(answers: list[Answer]) -> list[str]:
    return list(dict.fromkeys(part.id for one in answers for part in one.plan.parts if part.weekly))


def _row(answers: list[Answer], label: str, unit: str, text: Callable[[Figures], str]) -> TableRow:
    return TableRow(
        label, unit, tuple(NOTHING if one.figures is None else text(one.figures) for one in answers)
    )


def _weekly(
    answers: list[Answer], label: str, unit: str, text: Callable[[Figures], str]
) -> TableRow:
    return replace(_row(answers, label, unit, text), is_weekly=True)


def _entry(figure: str, key: str) -> Callable[[Figures], str]:
    """The text of one entry of a figure that has several."""
    return lambda figures: number(getattr(figures, figure).get(key))


GAIN_WORDS = {
    "saleable": "saleable output",
    "output": "output",
    "spindle_hours": "spindle hours",
    "per_paid_hour": "output a paid hour",
    "per_floor_area": "spindle hours a floor area",
}


def _gain_rows(found: Comparison, answers: list[Answer]) -> list[TableRow]:
    reference = found.reference

    def cell(one: Answer, kind: str) -> str:
        gain = getattr(one.gains, kind)
        if one.plan.scenario == reference and gain is not None:
            return "reference"
        return gain_text(gain, _of(one.grain, kind))

    table = [
        TableRow(f"gain in {words}", "", tuple(cell(one, kind) for one in answers))
        for kind, words in GAIN_WORDS.items()
    ]
    if any(one.claimed for one in answers):
        claims = [one.claimed for one in answers]
        table += [
            TableRow(
                "claimed spindle hours",
                "a day",
                tuple(number(claim.hours_per_day) if claim else NOTHING for claim in claims),
            ),
            TableRow(
                "claimed gain",
                "",
                tuple(
                    "reference"
                    if one.plan.scenario == reference
                    else gain_text(one.claimed.gain, 0.0)
                    if one.claimed
                    else NOTHING
                    for one in answers
                ),
            ),
        ]
    return table


def _of(gains: Gains | None, kind: str) -> float | None:
    grain: float | None = None if gains is None else getattr(gains, kind)
    return grain


def _hour_rows(answers: list[Answer]) -> list[TableRow]:
    return [
        _weekly(answers, "spindle hours", "h", lambda f: number(f.spindle.total)),
        _weekly(answers, "  attended", "h", lambda f: number(f.spindle.attended)),
        _weekly(answers, "  on breaks", "h", lambda f: number(f.spindle.breaks)),
        _weekly(answers, "  after hours", "h", lambda f: number(f.spindle.after_hours)),
        _weekly(answers, "  that nobody buys", "h", lambda f: number(f.unsold_hours)),
        _row(
            answers,
            "in cut, nights too, over shift hours",
            "%",
            lambda f: number(f.utilization.of_shift),
        ),
        _row(
            answers, "in cut, over powered hours", "%", lambda f: number(f.utilization.of_powered)
        ),
        _row(answers, "in cut, over the whole week", "%", lambda f: number(f.utilization.of_week)),
    ]


def _state_rows(answers: list[Answer]) -> list[TableRow]:
    return [
        _weekly(answers, f"not cutting: {row.label}", "h", _entry("by_state", row.name))
        for row in LOSSES
        if any(one.figures is not None and one.figures.by_state[row.name] > 0 for one in answers)
    ]


def _floor_rows(answers: list[Answer], units: str) -> list[TableRow]:
    """Floor, where any scenario has one, in the units that the study is shown in."""
    floors = [one.plan.floor for one in answers]
    if not any(floors):
        return []
    return [
        TableRow(
            "floor",
            "",
            tuple(NOTHING if one is None else show(one, Dimension.AREA, units) for one in floors),
        )
    ]


def _money_rows(answers: list[Answer]) -> list[TableRow]:
    """Money, where any part has a contribution; whole amounts, since prices are no finer."""
    if not any(one.money is not None for one in answers):
        return []
    currency = next(one.money.currency for one in answers if one.money is not None)
    table = []
    for label, unit, figure, digits in (
        ("contribution less wages and floor", f"{currency} a year", "year", 0),
        ("  gain of it", f"{currency} a year", "year_gain", 0),
        ("capital", currency, "capital", 0),
        ("payback", "years", "payback_years", 1),
        ("net present value", currency, "net_present_value", 0),
        ("rate of return", "% a year", "rate_of_return", 1),
    ):
        texts = (
            NOTHING if one.money is None else number(getattr(one.money, figure), digits)
            for one in answers
        )
        table.append(TableRow(label, unit, tuple(texts)))
    return table


def _order_rows(answers: list[Answer]) -> list[TableRow]:
    """Real orders together, and each rush order."""
    table = []
    if any(one.orders for one in answers):
        together = [promises(one.plan, list(one.orders.values())) for one in answers]
        for label, unit, figure in (
            ("orders on time", "%", "on_time"),
            ("  late, mean", "h", "mean_late"),
            ("  late, most", "h", "most_late"),
            ("  late pieces", "a day", "pieces_late"),
        ):
            texts = tuple(number(getattr(one, figure)) for one in together)
            table.append(TableRow(label, unit, texts))
    for id_ in dict.fromkeys(id_ for one in answers for id_ in one.rush):
        figures = [
            (f"rush {id_}: off after", "h", "hours"),
            ("  other work loses", "spindle h", "loses"),
        ]
        if any_gain(one.rush.get(id_) for one in answers):
            figures.append(("  other work gains", "spindle h", "gains"))
        if any(one.plan.contributes for one in answers):
            figures.append(("  it must at least bring", "", "lost_contribution"))
        for label, unit, figure in figures:
            texts = tuple(_rush_text(one.rush.get(id_), figure) for one in answers)
            table.append(TableRow(label, unit, texts))
    return table


def _rush_text(found: RushArrival | AnyHour | None, figure: str) -> str:
    if found is None:
        return NOTHING
    if isinstance(found, RushArrival):
        return number(getattr(found, figure))
    middle, worst = getattr(found.median, figure), getattr(found.worst, figure)
    return f"{number(middle)}, worst {number(worst)}"


def _band_rows(answers: list[Answer]) -> list[TableRow]:
    if not any(one.band is not None for one in answers):
        return []
    texts = (
        NOTHING if one.band is None else f"{one.band[0]:.1f} to {one.band[1]:.1f}"
        for one in answers
    )
    return [TableRow("  in 8 of 10 runs", "h", tuple(texts), is_weekly=True)]


def _meter_rows(answers: list[Answer]) -> list[TableRow]:
    """What hour meters measured, to be held against the model's share of powered hours."""
    meters = [one.plan.meters for one in answers]
    if not any(one is not None and one.own for one in meters):
        return []
    texts = (
        number(100 * float(m.measured)) if m is not None and m.own else NOTHING for m in meters
    )
    ranges = (
        NOTHING
        if one.gain_range is None
        else f"{signed(one.gain_range[0])} to {signed(one.gain_range[1])}"
        for one in answers
    )
    return [
        TableRow("in cut, by the hour meters", "%", tuple(texts)),
        TableRow("  gain, the gap being people or machines", "%", tuple(ranges)),
    ]


def _people_rows(answers: list[Answer]) -> list[TableRow]:
    return [
        _weekly(answers, "people paid", "h", lambda f: number(f.people.paid)),
        _weekly(answers, "people on duty", "h", lambda f: number(f.people.on_duty)),
        _weekly(answers, "people busy", "h", lambda f: number(f.people.busy)),
        _weekly(answers, "people free", "h", lambda f: number(f.people.free)),
        _weekly(
            answers,
            "people free, half hours and more",
            "h",
            lambda f: number(f.people.free_stretches),
        ),
    ]


_INDICATORS = {
    "availability": "availability: in cycle / planned",
    "utilization_efficiency": "utilization: in cycle / busy",
    "allocation_efficiency": "allocation: busy / planned",
    "setup_ratio": "setup ratio: of setup and in cycle",
    "technical_efficiency": "technical: in cycle / with delay",
    "worker_efficiency": "worker: at work / on duty",
    "quality_ratio": "quality ratio: good / made",
    "loading_loss_product": "all losses: good cycles / planned",
}


def _indicator_rows(answers: list[Answer]) -> list[TableRow]:
    """Indicators under a heading of their own, each with its formula in plain words."""
    found = [None if one.figures is None else indicators(one.plan, one.figures) for one in answers]
    if all(one is None for one in found):
        return []
    heading = TableRow("indicators as in ISO 22400-2", "", ("",) * len(answers))
    return [heading] + [
        TableRow(
            f"  {label}",
            "%",
            tuple(NOTHING if one is None else number(one[key].percent) for one in found),
        )
        for key, label in _INDICATORS.items()
    ]
