"""The comparison as one table of texts, the common ground of the text, Markdown and CSV forms."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from operator import attrgetter
from typing import TypeVar

from whatif.answers.account.explain import ITSELF, rows_of
from whatif.answers.answer import Answer, Comparison
from whatif.answers.figures import Figures
from whatif.answers.indicators import LOADING_LOSSES, Indicator, indicators
from whatif.answers.limits import people_by_shift
from whatif.answers.money.money import MoneyFigures
from whatif.answers.orders.orders import promises
from whatif.answers.orders.rush import AnyHour, RushArrival, any_gain
from whatif.answers.per import Per, answer_per
from whatif.answers.ranks import Range
from whatif.answers.states import LOSSES, IsoTime, states_of
from whatif.records import dataclass
from whatif.telling.amounts import (
    NO_MORE,
    NOTHING,
    grouped,
    number,
    rounded,
    shown_difference,
    signed,
)
from whatif.telling.fit import fit_text
from whatif.telling.gain_texts import (
    CHANGES_NOTHING,
    between_text,
    digits_of,
    gain_text,
    likely_gain_text,
)
from whatif.telling.limits import limit_in_short
from whatif.telling.money.ranges import MONEY_TEXTS, NOT_PRICED
from whatif.telling.money.rests import least
from whatif.telling.promised import TOGETHER, runs_differ, together_text
from whatif.telling.rush import range_of_rush, rush_texts
from whatif.telling.strip import changes_nothing
from whatif.units import Dimension, show

T = TypeVar("T")

_Ends = tuple[float, float] | None
"""What a figure lies between, the lower first."""


@dataclass(frozen=True, slots=True)
class TableRow:
    """One line of the table: what it is, its unit, and a text per scenario.

    Attributes:
        plain: the same as lines of bare numbers, for programs; () where it is that already.
    """

    label: str
    unit: str
    cells: tuple[str, ...]
    plain: tuple[TableRow, ...] = ()


def table_rows(found: Comparison, per: Per = Per.WEEK) -> list[TableRow]:
    """All lines of the table: gains first, then hours, states, pieces, people, fit.

    ``per`` is the time that hours and pieces are told for.
    """
    answers = [answer_per(answer, per) for answer in found.answers.values()]
    figures = [answer.figures for answer in answers]
    table = [
        *_gain_rows(found.reference, answers),
        *_caveat_rows(found.reference, answers),
        *_hour_rows(figures),
        *_part_rows(answers, figures),
        *_spare_rows(answers),
        *_band_rows(answers),
        *_meter_rows(found.reference, answers),
        *(_row(label, "h a week", figures, _at(of)) for label, of in _PEOPLE.items()),
        *_shift_rows(answers),
        *_floor_rows(answers, found.units),
        *_indicator_rows(answers),
        *_money_rows(answers),
        *_order_rows(answers),
        TableRow("parts", "", tuple(map(fit_text, answers))),
        _row("limited by", "", [answer.held_back for answer in answers], limit_in_short),
    ]
    return [replace(row, unit=row.unit.replace(Per.WEEK.words, per.words)) for row in table]


def rows_in_numbers(rows: Iterable[TableRow]) -> list[TableRow]:
    """Lines as a program reads them: a gain is a number in percent, its range beside it."""
    return [plain for row in rows for plain in row.plain or (row,)]


def _caveat_rows(reference: str, answers: Sequence[Answer]) -> Iterator[TableRow]:
    """What gains rest on that is not so yet (rule `limits.caveats`), where any does."""
    cells = [
        ", ".join(caveat.value for caveat in answer.caveats)
        if answer.plan.scenario != reference
        else ""
        for answer in answers
    ]
    if any(cells):
        yield TableRow("gain rests on", "", tuple(cell or NOTHING for cell in cells))


def _row(
    label: str,
    unit: str,
    found: Iterable[T | None],
    text: Callable[[T], str],
) -> TableRow:
    """A text for each scenario, a dash for one that has nothing to tell."""
    texts = tuple(NOTHING if of is None else text(of) for of in found)
    return TableRow(label, unit, texts)


def _at(place: str, digits: int = 1) -> Callable[[object], str]:
    """The text of a number by where it stands: "people.paid"."""
    get = attrgetter(place)
    return lambda of: number(get(of), digits)


def _entry(figure: str, key: str) -> Callable[[Figures], str]:
    """The text of one entry of a figure that has several."""
    return lambda figures: number(getattr(figures, figure).get(key))


_HOURS = {
    "spindle hours": "spindle.total",
    "  attended": "spindle.attended",
    "  on breaks": "spindle.breaks",
    "  after hours": "spindle.after_hours",
    "  unsold": "unsold_hours",
}
_PEOPLE = {
    "people paid": "people.paid",
    "people on duty": "people.on_duty",
    "people busy": "people.busy",
    "people free": "people.free",
    "people free, half hours and more": "people.free_stretches",
}


def _gain_rows(reference: str, answers: list[Answer]) -> Iterator[TableRow]:
    def told(answer: Answer, gain: float | None, likely: Range | None) -> str:
        if gain is not None and answer.plan.scenario == reference:
            return "reference"
        return CHANGES_NOTHING if changes_nothing(answer) else likely_gain_text(gain, likely)

    for key, gain in rows_of("gain_percent").items():
        texts = (
            told(answer, getattr(answer.gains, key), answer.range_of(key)) for answer in answers
        )
        yield TableRow(gain.title, "", tuple(texts), _plain_gains(gain.title, key, answers))
    said = [answer.said for answer in answers]
    if any(said):
        yield _row("spindle hours said", "a day", said, _at("hours_per_day"))
        texts = (
            "reference"
            if answer.plan.scenario == reference
            else gain_text(None if answer.said is None else answer.said.gain, None)
            for answer in answers
        )
        gains = (None if of is None else of.gain for of in said)
        plain = TableRow("gain said", "%", tuple(map(_bare, gains)))
        yield TableRow("gain said", "", tuple(texts), (plain,))


def _plain_gains(title: str, key: str, answers: Iterable[Answer]) -> tuple[TableRow, ...]:
    """A gain as typed and the ends of its likely range, in percent; the reference's is 0.

    All with as many decimals as the one that needs the most.
    """
    found = [(getattr(answer.gains, key), answer.range_of(key)) for answer in answers]
    digits = max((digits_of(gain, likely) for gain, likely in found), default=1)

    def row(label: str, values: Iterable[float | None]) -> TableRow:
        return TableRow(label, "%", tuple(_bare(value, digits) for value in values))

    return (
        row(title, (gain for gain, _ in found)),
        row(f"{title}, likely from", (likely and likely[0] for _, likely in found)),
        row(f"{title}, likely to", (likely and likely[2] for _, likely in found)),
    )


def _bare(value: float | None, digits: int = 1) -> str:
    """A number alone, as programs read it."""
    return NOTHING if value is None else rounded(value, digits)


def _hour_rows(figures: list[Figures | None]) -> Iterator[TableRow]:
    for label, of in _HOURS.items():
        yield _row(label, "h a week", figures, _at(of))
    for base, share in rows_of("utilization_percent").items():
        yield _row(share.title, "%", figures, _at(f"utilization.{base}"))
    for row in LOSSES:
        if any(of is not None and of.by_state[row.name] > 0 for of in figures):
            hours = _entry("by_state", row.name)
            yield _row(f"not cutting: {row.label}", "h a week", figures, hours)


def _part_rows(answers: list[Answer], figures: list[Figures | None]) -> Iterator[TableRow]:
    for part in dict.fromkeys(
        part.id for answer in answers for part in answer.plan.parts if part.weekly
    ):
        yield _row(f"pieces: {part}", "a week", figures, _entry("pieces", part))
        yield _row(f"demand met: {part}", "%", figures, _entry("demand_met", part))


def _spare_rows(answers: list[Answer]) -> Iterator[TableRow]:
    """What could be made at most, where any scenario makes all that is wanted."""
    found = [answer.could_make for answer in answers]
    if any(most is not None for most in found):
        title = rows_of("could_make_percent")[ITSELF].title
        yield TableRow(title, "%", tuple(number(most) for most in found))


def _shift_rows(answers: list[Answer]) -> Iterator[TableRow]:
    """How full the people of each shift are, where any scenario has more than one."""
    found = [busy_by_shift(answer) for answer in answers]
    if any(len(shifts) > 1 for shifts in found):
        for shift in dict.fromkeys(shift for shifts in found for shift in shifts):
            cells = (number(shifts.get(shift), 0) for shifts in found)
            yield TableRow(f"  busy, {shift}", "%", tuple(cells))


def busy_by_shift(answer: Answer) -> dict[str, float]:
    """Percent of their time on duty for which the people of each shift are busy."""
    if answer.figures is None:
        return {}
    people = people_by_shift(answer.plan, answer.figures)
    return {of.shift: 100 * of.busy for of in people}


def _floor_rows(answers: list[Answer], units: str) -> Iterator[TableRow]:
    """Floor, where any scenario has one, in the units that the study is shown in."""
    floors = [answer.plan.floor for answer in answers]
    if any(floors):
        row = _row("floor", "", floors, lambda floor: show(floor, Dimension.AREA, units))
        told = [cell.split() for cell in row.cells if cell != NOTHING]
        bare = tuple(
            NOTHING if cell == NOTHING else rounded(float(cell.split()[0])) for cell in row.cells
        )
        yield replace(row, plain=(TableRow("floor", told[0][1], bare),))


def _money_rows(answers: list[Answer]) -> Iterator[TableRow]:
    """Money, where any part has a contribution; whole amounts, since prices are no finer."""
    found = [answer.money for answer in answers]
    currency = next((money.currency for money in found if money is not None), None)
    if currency is None:
        return
    for key, row in rows_of("money").items():
        if key == ITSELF:
            continue
        label = f"  {row.title}" if key == "year_gain" else row.title
        texts = tuple(_money_text(answer, key, row.digits) for answer in answers)
        told = TableRow(label, row.unit.format(worth=currency), texts)
        typed = [_money_typed(money, key) for money in found]
        yield _with_numbers(
            told, typed, [_money_ends(answer, key) for answer in answers], row.digits
        )


def _money_typed(money: MoneyFigures | None, key: str) -> float | None:
    """A figure as a number; none where what it rests on has no price, and none would be known."""
    if money is None or (money.is_bare and key in _OF_CAPITAL):
        return None
    value: float | None = getattr(money, key)
    return value


_OF_CAPITAL = ("payback_years", "rate_of_return_percent")
"""What is not known of an investment of which nothing is priced."""


def _money_ends(answer: Answer, key: str) -> _Ends:
    """What a figure that has a likely range lies between, the lower first."""
    money, likely = answer.money, answer.likely_money
    if money is None or likely is None or not money.is_compared or key not in MONEY_TEXTS:
        return None
    if _money_typed(money, key) is None:
        return None
    ends = getattr(likely.low, key), getattr(likely.high, key)
    return None if None in ends else (min(ends), max(ends))


def _with_numbers(
    row: TableRow,
    typed: Sequence[float | None],
    ends: Sequence[_Ends],
    digits: int,
) -> TableRow:
    """A row whose texts say more than a number; for programs numbers, and the texts behind them."""
    label = row.label.strip()
    plain = [TableRow(row.label, row.unit, tuple(_bare(each, digits) for each in typed))]
    if any(ends):
        plain += [
            TableRow(
                f"{label}, {name}",
                row.unit,
                tuple(_bare(each and each[place], digits) for each in ends),
            )
            for place, name in enumerate(("likely from", "likely to"))
        ]
    if any(
        text.replace("\N{NO-BREAK SPACE}", "") != bare
        for text, bare in zip(row.cells, plain[0].cells, strict=True)
    ):
        plain.append(TableRow(f"{label}, in words", "", row.cells))
    return replace(row, plain=tuple(plain))


def _money_text(answer: Answer, key: str, digits: int) -> str:
    """A figure with its likely range, where it is held against the reference's."""
    money = answer.money
    if money is None:
        return NOTHING
    if key == "capital":
        return _capital(money)
    if money.is_compared and (texts := MONEY_TEXTS.get(key)):
        return texts(money, answer.likely_money)[0]
    if key in ("payback_years", "rate_of_return_percent"):
        return number(getattr(money, key), digits)
    return grouped(getattr(money, key))


def _capital(money: MoneyFigures) -> str:
    """Against today, where what has no price there too counts as nothing, and may be more."""
    own = any(each.what != "wage" and not each.reference for each in money.not_priced)
    if own and not money.capital:
        return NOT_PRICED
    return f"{least('worse') if own else ''}{grouped(money.capital)}"


def _order_rows(answers: list[Answer]) -> Iterator[TableRow]:
    """Real orders together, and each rush order."""
    if any(answer.orders for answer in answers):
        together = [promises(answer.plan, list(answer.orders.values())) for answer in answers]
        for of_all in TOGETHER:
            if of_all.key != "all_on_time" or runs_differ(answers):
                told = _row(
                    of_all.label, of_all.unit, together, partial(together_text, figure=of_all)
                )
                typed = [None if of is None else getattr(of, of_all.key) for of in together]
                yield _with_numbers(told, typed, [], 1)
    for id_ in dict.fromkeys(id_ for answer in answers for id_ in answer.rush):
        found = [answer.rush.get(id_) for answer in answers]
        figures = [
            (f"rush {id_}: off after", "h", "hours"),
            ("  other work loses", "spindle h", "loses"),
        ]
        if any_gain(found):
            figures.append(("  other work gains", "spindle h", "gains"))
        if any(answer.plan.contributes for answer in answers):
            figures.append(("  it costs other work", "", "least_price"))
        for label, unit, figure in figures:
            row = _row(label, unit, found, partial(_rush_text, figure=figure))
            typed = [None if of is None else getattr(_middle(of), figure) for of in found]
            ends = [_rush_ends(of, figure) for of in found]
            yield _with_numbers(row, typed, ends, _rush_digits(figure))


def _rush_digits(figure: str) -> int:
    return 0 if figure == "least_price" else 1


def _middle(found: RushArrival | AnyHour) -> RushArrival:
    """The one arrival, or the middle of many."""
    return found if isinstance(found, RushArrival) else found.median


def _rush_ends(found: RushArrival | AnyHour | None, figure: str) -> _Ends:
    likely = range_of_rush(found, figure) if isinstance(found, RushArrival) else None
    return likely and (likely[0], likely[2])


def _rush_text(found: RushArrival | AnyHour, figure: str) -> str:
    digits = _rush_digits(figure)
    if isinstance(found, RushArrival):
        return next(iter(rush_texts(found, figure, digits)), NOTHING)
    middle, worst = getattr(found.median, figure), getattr(found.worst, figure)
    return f"{number(middle, digits)}, worst {number(worst, digits)}"


def _band_rows(answers: list[Answer]) -> Iterator[TableRow]:
    bands = [answer.band for answer in answers]
    if any(bands):
        row = _row("spindle hours, in 8 of 10 runs", "h a week", bands, _band)
        ends = [
            _row(f"{row.label}, {word}", row.unit, (band and band[place] for band in bands), number)
            for place, word in enumerate(("from", "to"))
        ]
        yield replace(row, plain=tuple(ends))


def _band(ends: tuple[float, float]) -> str:
    return " to ".join(map(rounded, ends))


def _meter_rows(reference: str, answers: list[Answer]) -> Iterator[TableRow]:
    """What hour meters measured, to be held against the model's share of powered hours."""
    found = [answer.plan.meters for answer in answers]
    read = [answer.gain_range for answer in answers]
    measured = [100 * float(of.measured) if of is not None and of.own else None for of in found]
    if all(share is None for share in measured):
        return
    yield _row("in cut, by the hour meters", "%", measured, number)
    texts = tuple(
        NOTHING
        if ends is None
        else "reference"
        if answer.plan.scenario == reference
        else between_text(*ends).removesuffix(" %")
        for answer, ends in zip(answers, read, strict=True)
    )
    digits = max((digits_of(None, (low, low, high)) for low, high in filter(None, read)), default=1)
    label = "gain however the meters' gap is read"
    plain = tuple(
        TableRow(
            f"{label}, {name}",
            "%",
            tuple(_bare(ends and ends[place], digits) for ends in read),
        )
        for place, name in enumerate(("from", "to"))
    )
    yield TableRow(f"  {label}", "%", texts, plain)


_INDICATORS = {
    "availability": ("availability: in cycle / planned", "in cycle", "planned machine hours"),
    "utilization_efficiency": ("utilization: in cycle / busy", "in cycle", "busy machine hours"),
    "allocation_efficiency": ("allocation: busy / planned", "busy", "planned machine hours"),
    "setup_ratio": (
        "setup ratio: of setup and in cycle",
        "setup",
        "machine hours in cycle or setup",
    ),
    "technical_efficiency": (
        "technical: in cycle / with delay",
        "in cycle",
        "machine hours in cycle or delayed",
    ),
    "worker_efficiency": ("worker: at work / on duty", "at work", "hours of people on duty"),
    "quality_ratio": ("quality ratio: good / made", "good", "pieces made"),
    LOADING_LOSSES: ("left after losses: good cycles / planned", "", ""),
}
"""The formula of each in plain words, and what it is a share of what."""


def _indicator_rows(answers: list[Answer]) -> Iterator[TableRow]:
    """Indicators under a heading of their own, each with its formula in plain words."""
    found = [
        None if answer.figures is None else indicators(answer.plan, answer.figures)
        for answer in answers
    ]
    if any(found):
        yield TableRow("indicators as in ISO 22400-2", "", ("",) * len(answers))
        for key, (label, _, _) in _INDICATORS.items():
            shares = [None if of is None else of[key].percent for of in found]
            yield _row(f"  {label}", "%", shares, number)


# -- what indicators are -------------------------------------------------------------------


def _held(time: IsoTime, last: str) -> str:
    """What a time of ISO 22400-2 holds, the last behind a word of its own."""
    *others, end = (row.in_iso for row in states_of(time))
    return f"{', '.join(others)} {last} {end}" if others else end


STATES_IN_WORDS = (
    "Indicators have the names and formulas of ISO 22400-2. Production is time "
    f"{_held('production', 'and')}; setup is {_held('setup', 'and')}; delay is "
    f"{_held('delay', 'or')}; busy is all of these. Planned are the attended hours, breaks in "
    "which pieces may be begun, and what machines are busy beyond. Left after losses (Nakajima's "
    "loading losses) takes the cycle entered as ideal."
)
"""For readers of a table: which time is which."""

SIGNS_IN_WORDS = (
    "APT production, AUST setup, ADET delay, AUBT busy, PBT planned; APWT people at work, APAT on "
    "duty; GQ good pieces, PQ all."
)
"""What the signs in the formulas stand for."""


def indicator_words(indicator: Indicator) -> str:
    """The formula with the scenario's numbers, or why there is none, in sentences."""
    if indicator.key == LOADING_LOSSES:
        return _losses_words(indicator)
    _, count_is, base_is = _INDICATORS[indicator.key]
    if indicator.percent is None:
        return f"There are no {base_is}, so there is no {indicator.name}."
    share = f"{indicator.name} {rounded(indicator.percent)} %"
    base, count = rounded(indicator.base), rounded(indicator.count)
    return f"Of {base} {base_is} a week {count} are {count_is}: {share}."


def indicator_texts(indicator: Indicator, reference: Indicator | None) -> tuple[str, str]:
    """Its percent, and how many points more that is than the reference's, as both read.

    There are no points without a reference to hold it against.
    """
    own = indicator.percent
    percent = NOTHING if own is None else f"{number(own)} %"
    if reference is None:
        return percent, ""
    if own is None or reference.percent is None:
        return percent, NOTHING
    points = shown_difference(own, reference.percent)
    return percent, signed(points) if points else NO_MORE


def _losses_words(indicator: Indicator) -> str:
    losses = indicator.losses
    if losses is None:
        return f"No piece is made in planned time, so there is no {indicator.name}."
    uptime, speed, quality, product = (
        f"{rounded(100 * share)} %"
        for share in (losses.uptime, losses.speed, losses.quality, losses.product)
    )
    return (
        f"Of {rounded(losses.loading)} planned machine hours a week {rounded(losses.down)} are "
        f"lost to setups and stops: uptime {uptime}. Pieces made at the cycle entered take "
        f"{rounded(losses.ideal)} of the others: speed {speed}. Good are {quality} of them. "
        f"Multiplied: {indicator.name} {product}."
    )
