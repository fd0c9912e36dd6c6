"""What moves a scenario, in short: figures that a curve may show, and sentences beside it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import isfinite

from whatif.answers.gains import is_difference
from whatif.answers.moves.break_even import BreakEven, Crossing, Target
from whatif.answers.moves.changing import AskedAbout, Outcome, Point
from whatif.answers.moves.inputs import Input, Value
from whatif.answers.moves.sensitivity import Effect, Ranking, Side
from whatif.answers.moves.vary import Curve, Grid, Varied, all_met
from whatif.study.schema.catalogue import Key, key_for
from whatif.telling.amounts import grouped, signed
from whatif.telling.limits import limit_in_short
from whatif.telling.problems import what_is_wrong
from whatif.telling.table import NOTHING, gain_text, number, percent_text
from whatif.units import in_unit, parse

SAME = "="
"""Stands where there is no room for "no difference"."""


@dataclass(frozen=True, slots=True)
class Measure:
    """A figure that a curve may be drawn of.

    Attributes:
        of, text: the figure of one try as a number and as it is written into the picture.
    """

    name: str
    unit: str
    of: Callable[[Outcome], float | None]
    text: Callable[[Outcome], str]

    @property
    def title(self) -> str:
        """Name and unit."""
        return f"{self.name}, {self.unit}" if self.unit else self.name


def measures(curve: Curve) -> tuple[Measure, ...]:
    """The figures that the curve has; first one that its input moves."""
    outcomes = [point.outcome for point in curve.points]
    parts = dict.fromkeys(part for outcome in outcomes for part in outcome.pieces)
    physical = (
        Measure("saleable gain", "%", lambda outcome: outcome.gains.saleable, gain_in_short),
        _plain("spindle hours", "a week", lambda outcome: outcome.spindle_hours, 1),
        _plain("demand met, part furthest behind", "%", lambda outcome: outcome.least_met, 0),
        *(_pieces(part) for part in parts),
    )
    paid = (
        Measure("year's gain", "money", lambda outcome: _of_money(outcome, "year_gain"), _year),
        Measure("payback", "years", lambda outcome: _of_money(outcome, "payback_years"), _payback),
    )
    offered = (*physical, *paid)
    known = [each for each in offered if any(each.of(outcome) is not None for outcome in outcomes)]
    if not _varies(physical[0], outcomes):
        # A price moves payback and no output, so that is what it is drawn of first.
        known.sort(key=lambda each: not _varies(each, outcomes))
    return tuple(known)


def _varies(measure: Measure, outcomes: Sequence[Outcome]) -> bool:
    return len({measure.of(outcome) for outcome in outcomes if not outcome.problem}) > 1


def _of_money(outcome: Outcome, name: str) -> float | None:
    found: float | None = None if outcome.money is None else getattr(outcome.money, name)
    return found


def gain_in_short(outcome: Outcome) -> str:
    """The saleable gain in a narrow column; "=" where it is no difference."""
    gain = outcome.gains.saleable
    if gain is None:
        return NOTHING
    return signed(gain) if is_difference(gain, outcome.grain.saleable) else SAME


def _plain(name: str, unit: str, of: Callable[[Outcome], float | None], digits: int) -> Measure:
    return Measure(name, unit, of, lambda outcome: number(of(outcome), digits))


def _pieces(part: str) -> Measure:
    return _plain(f"good pieces of {part}", "a week", lambda outcome: outcome.pieces.get(part), 0)


def _year(outcome: Outcome) -> str:
    gain = _of_money(outcome, "year_gain")
    return NOTHING if gain is None else grouped(gain)


def _payback(outcome: Outcome) -> str:
    if outcome.money is None:
        return NOTHING
    return "never" if outcome.money.payback_years is None else f"{outcome.money.payback_years:.1f}"


# -- a curve in words ----------------------------------------------------------------------


def curve_lead(curve: Curve, level: BreakEven | None) -> str:
    """Where it stops paying, where it breaks even and where demand is met, as short as can be."""
    said = [finding.in_short for finding in curve_findings(curve)]
    even = [] if level is None else [level_words(level)]
    return " ".join([*said[:1], *even, *said[1:2]])


def curve_in_full(curve: Curve, level: BreakEven | None) -> str:
    """The same with its reasons, and whatever else there is to be said."""
    even = [] if level is None else [level_words(level)]
    said = curve_sentences(curve)
    return " ".join([*said[:1], *even, *said[1:]])


def level_words(found: BreakEven) -> str:
    """Every break-even of the range in one sentence, or that there is none."""
    what = found.asked.against if found.target.kind == "gain" else target_words(found)
    if found.always is True:
        return f"No break-even with {what}: no value tried falls below it."
    if found.always is False:
        near = "" if found.nearest is None else f"; nearest is {found.nearest.text}"
        return f"No break-even with {what}: no value tried reaches it{near}."
    listed = "; ".join(_crossing(crossing) for crossing in found.crossings)
    many = f"in {len(found.crossings)} places, it goes both ways: " if found.crossings[1:] else ""
    return f"Break-even with {what} {many}{listed}."


def _crossing(crossing: Crossing) -> str:
    text = f"from {crossing.at.text} up" if crossing.upward else f"from {crossing.at.text} down"
    if crossing.margin and not is_difference(crossing.margin, crossing.grain):
        text += ", within the grain"
    return text


def marks(curve: Curve, place: int) -> tuple[str, ...]:
    """What is to be marked at a value: "now", "stops" (paying), "met" (the demand)."""
    at_now = curve.varied.now is not None and _same(curve.points[place].value, curve.varied.now)
    said = ((at_now, "now"), (place == curve.knee, "stops"), (place == curve.met, "met"))
    return tuple(word for holds, word in said if holds)


def _same(value: Value, other: Value) -> bool:
    return (value.unit == other.unit and abs(value.number - other.number) < 1e-9) or value == other


def place_now(points: Sequence[Value], varied: Varied) -> int:
    """The place of what holds now, or of the first value."""
    now = varied.now
    return next((i for i, value in enumerate(points) if now is not None and _same(value, now)), 0)


def point_words(curve: Curve, point: Point) -> str:
    """One value of a curve in words."""
    return f"{curve.varied.label} {point.value.text}: {outcome_words(point.outcome)}"


def outcome_words(outcome: Outcome) -> str:
    """What one try brought, in a sentence."""
    if outcome.problem:
        return f"not allowed. {what_is_wrong(outcome.problem)}"
    said = [f"saleable gain {gain_text(outcome.gains.saleable, outcome.grain.saleable)}"]
    if outcome.gains.saleable is not None and outcome.grain.saleable:
        said[0] += f" (grain {outcome.grain.saleable:.1f})"
    said.append(f"{number(outcome.spindle_hours)} spindle h a week")
    if outcome.least_met is not None:
        said.append(f"demand met {outcome.least_met:.0f} %")
    if outcome.money is not None:
        pays = "never pays back" if outcome.money.payback_years is None else (
            f"pays back in {outcome.money.payback_years:.1f} years"
        )  # fmt: skip
        said.append(f"a year's gain {grouped(outcome.money.year_gain)}, {pays}")
    if outcome.held_back is not None:
        said.append(f"held back by {limit_in_short(outcome.held_back)}")
    return "; ".join(said) + "."


# -- a ranking in words --------------------------------------------------------------------


def ranking_lead(found: Ranking) -> str:
    """What moves it most, and what of that nobody has measured."""
    moving = [effect for effect in found.effects if effect.most]
    if not moving:
        return "No input makes a difference above its grain."
    text = f"{moving[0].label} moves it most."
    measure = [effect.label for effect in moving if effect.assumed]
    if not measure:
        return f"{text} Every input that matters has been entered; none is only assumed."
    listed = ", ".join(measure[:4])
    more = f" and {len(measure) - 4} more" if len(measure) > 4 else ""
    return f"{text} Only assumed, and it matters: {listed}{more}. Go and measure these first."


def effect_words(found: Ranking, effect: Effect) -> str:
    """What one input does to the gain, in words."""
    origin = "assumed: go and measure" if effect.assumed else effect.origin
    what = "its output" if found.asked.is_reference else "the gain"
    unit = "%" if found.asked.is_reference else "points"
    sides = (effect.down, effect.up)
    said = [_side_words(side, what, unit) for side in sides if side is not None]
    moved = "; ".join(said) or "it cannot be moved from here"
    return f"{effect.label}, now {effect.now.text} ({origin}): {moved}."


def _side_words(side: Side, what: str, unit: str) -> str:
    if side.change is None:
        return f"{side.value.text} is not allowed"
    if not side.is_difference:
        return f"{side.value.text} makes no difference"
    moves = "rises" if (side.change or 0) > 0 else "falls"
    by = f"{abs(side.change or 0):.1f} {unit}"
    return f"at {side.value.text} {what} {moves} by {by}"


def side_text(side: Side | None) -> str:
    """The change of one side in a narrow column."""
    if side is None:
        return NOTHING
    if side.change is None:
        return "refused"
    return signed(side.change) if side.is_difference else SAME


def pull(effect: Effect) -> tuple[float, float]:
    """How far the bars of an input go left and right of nothing: its largest loss and gain."""
    told = [
        side.change
        for side in (effect.down, effect.up)
        if side is not None and side.change is not None and side.is_difference
    ]
    return max(0.0, -min(told, default=0.0)), max(0.0, max(told, default=0.0))


# -- a table of two in words ---------------------------------------------------------------


def grid_text(outcome: Outcome) -> str:
    """The gain of a cell; "=" where it is no difference."""
    return "refused" if outcome.problem else gain_in_short(outcome)


def grid_lead(found: Grid) -> str:
    """Which cell is the best, the first of equals."""
    if found.best is None:
        return "No pair of values is allowed."
    i, j = found.best
    outcome = found.outcomes[i][j]
    if not is_difference(outcome.gains.saleable, outcome.grain.saleable):
        return "No pair of values brings more than the reference."
    gain = gain_text(outcome.gains.saleable, outcome.grain.saleable)
    return f"Best (*): {pair_words(found, i, j)}, {gain}."


def grid_words(found: Grid, row: int, column: int) -> str:
    """One cell in words."""
    return f"{pair_words(found, row, column)}: {outcome_words(found.outcomes[row][column])}"


def grid_now(found: Grid) -> tuple[int, int] | None:
    """Row and column of what holds now; None where it is not among the values."""
    down, across = found.down.now, found.across.now
    if down is None or across is None:
        return None
    rows = [i for i, value in enumerate(found.values_down) if _same(value, down)]
    columns = [i for i, value in enumerate(found.values_across) if _same(value, across)]
    return (rows[0], columns[0]) if rows and columns else None


# -- curves ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class CurveFinding:
    """Something found, and the reasons for it, which follow after a colon or a semicolon."""

    found: str
    reasons: str = ""

    @property
    def text(self) -> str:
        """The whole sentence."""
        return f"{self.found}{self.reasons or '.'}"

    @property
    def in_short(self) -> str:
        """The same without the reasons."""
        return f"{self.found}."


def curve_sentences(curve: Curve) -> tuple[str, ...]:
    """What is to be said of a curve: what is not allowed, where it stops paying, and the rest."""
    refused = _not_allowed(curve)
    found = tuple(finding.text for finding in curve_findings(curve))
    return (refused, *found) if refused else found


def _not_allowed(curve: Curve) -> str:
    refused = [point for point in curve.points if point.outcome.problem]
    if not refused:
        return ""
    which = ", ".join(point.value.text for point in refused)
    return f"Not allowed: {which}. {what_is_wrong(refused[0].outcome.problem)}"


def curve_findings(curve: Curve) -> list[CurveFinding]:
    """What is to be said of the values that are allowed, the most telling first."""
    texts = [point.value.text for point in curve.points]
    found = _findings(curve)
    now = f"{curve.varied.now_text}, {curve.varied.origin}"
    if curve.asked.is_reference:
        itself = ": its gains are against itself as it stands"
        end = f" ({now})." if curve.varied.now_text else "."
        found.append(CurveFinding(f"{curve.asked.title} is the reference", itself + end))
    elif curve.varied.now_text and curve.varied.now_text not in texts:
        found.append(CurveFinding(f"As it stands it is {now}"))
    if _has_fewer_runs(curve.asked):
        found.append(CurveFinding("Stops", f": {_fewer_runs(curve.asked)}"))
    return found


def _findings(curve: Curve) -> list[CurveFinding]:
    """Where it stops paying and where demand is met; or why there is nothing to find."""
    if len(curve.way) > 1:
        return [_stops_paying(curve), *_is_met(curve)]
    nothing = CurveFinding("None of the values is allowed, so there is nothing to show")
    return [] if curve.way else [nothing]


def _stops_paying(curve: Curve) -> CurveFinding:
    way = curve.way
    begin, end = (curve.points[place].value for place in (way[0], way[-1]))
    first, last = begin.text, end.text
    beyond = "larger" if end.number > begin.number else "smaller"
    if curve.knee is None:
        if curve.is_flat:
            return CurveFinding("No value tried makes a difference in saleable output")
        return CurveFinding(
            f"It still pays at {last}, the {beyond[:-1]}st value tried",
            ": each of the others brings less saleable output.",
        )
    at = curve.points[curve.knee].value.text
    after = f" At {last} there is less again." if curve.falls else ""
    if curve.falls and curve.rises:
        low, high = (first, last) if beyond == "larger" else (last, first)
        return CurveFinding(f"Most saleable output at {at}", f": both {low} and {high} bring less.")
    if curve.knee == way[0]:
        return CurveFinding(
            f"{first} is as good as any", f": no {beyond} value brings more.{after}"
        )
    return CurveFinding(
        f"It stops paying at {at}",
        f": no {beyond} value tried brings a difference in saleable output.{after}",
    )


def _is_met(curve: Curve) -> list[CurveFinding]:
    way = curve.way
    reached = {place: curve.points[place].outcome.least_met for place in way}
    known = {place: met for place, met in reached.items() if met is not None}
    if not known:
        return []
    if curve.met is None:
        nearest = max(known, key=lambda place: known[place])
        reasons = (
            f"; nearest is {curve.points[nearest].value.text}, where the part furthest behind "
            f"reaches {known[nearest]:.1f} %."
        )
        return [CurveFinding("No value tried meets the demand of every part", reasons)]
    at = curve.points[curve.met].value.text
    if curve.met == way[0] and all(all_met(curve.points[place].outcome) for place in way):
        return [CurveFinding("The demand of every part is met with every value tried")]
    later = (curve.points[place] for place in way[way.index(curve.met) + 1 :])
    lost = [point.value.text for point in later if not all_met(point.outcome)]
    but = f", but not at {', '.join(lost)}" if lost else ""
    return [CurveFinding(f"The demand of every part is first met at {at}{but}")]


# -- tables of two ---------------------------------------------------------------------------


def grid_sentences(found: Grid) -> tuple[str, ...]:
    """The best pair, what is not allowed, and the rest that is to be said of a table of two."""
    said = []
    if found.best is not None:
        i, j = found.best
        best = found.outcomes[i][j]
        gain = best.gains.saleable
        if gain is not None and is_difference(gain, best.grain.saleable):
            said.append(
                f"Most saleable output: {pair_words(found, i, j)} ({percent_text(gain)}); where "
                "others are as good, the first of them is named."
            )
        else:
            said.append("No pair of values brings more than the reference, by a difference.")
    refused = [
        what_is_wrong(outcome.problem)
        for row in found.outcomes
        for outcome in row
        if outcome.problem
    ]
    if refused:
        said.append(f"Not allowed: {len(refused)} of the pairs. {refused[0]}")
    if found.asked.is_reference:
        said.append(
            f"{found.asked.title} is the reference: its gains are against itself as it stands."
        )
    said.append(_runs_words(found.asked))
    return tuple(text for text in said if text)


def pair_words(found: Grid, row: int, column: int) -> str:
    """The two values of a cell with their labels."""
    down, across = found.values_down[row].text, found.values_across[column].text
    return f"{found.down.label} {down}, {found.across.label} {across}"


# -- break-evens -----------------------------------------------------------------------------


TARGET_UNITS = {
    "gain": "%",
    "hours": "h a week",
    "pieces": "a week",
    "met": "%",
    "payback": "years",
}
"""The unit of a target's amount and of margins."""


def target_words(found: BreakEven) -> str:
    """What is to be reached, as it stands in a sentence."""
    target = found.target
    amount = f"{target.amount:g}"
    return {
        "gain": f"the saleable output of {found.asked.against}",
        "hours": f"{amount} spindle hours a week",
        "pieces": f"{amount} good pieces of {target.part} a week",
        "met": f"{amount} % of the demand of {target.part or 'every part'}",
        "payback": f"a payback of {amount} years or less",
    }[target.kind]


def break_even_sentences(found: BreakEven) -> tuple[str, ...]:
    """Whether and where the target is reached, and how sure that is."""
    what = target_words(found)
    span = f"{found.low.text} to {found.high.text}"
    said = []
    if found.always is True:
        said.append(f"Every value from {span} reaches {what}; there is no break-even in between.")
    elif found.always is False and found.nearest is not None:
        short = (
            ""
            if not isfinite(found.margin)
            else f" ({found.margin:+.2g} {TARGET_UNITS[found.target.kind]})"
        )
        said.append(
            f"No value tried from {span} reaches {what}. Nearest is {found.nearest.text}{short}."
        )
    elif len(found.crossings) > 1:
        said.append(f"From {span} there are {len(found.crossings)} places, so it goes both ways:")
    said += [
        _crossing_said(crossing, found.target, what, jumps=found.jumps)
        for crossing in found.crossings
    ]
    if found.jumps:
        said.append(
            f"{found.tried} values were tried. What a cell reaches goes in jumps: between two "
            "values that were tried next to each other there may be more."
        )
    said.append(_runs_words(found.asked))
    return tuple(text for text in said if text)


def _crossing_said(crossing: Crossing, target: Target, what: str, *, jumps: bool) -> str:
    way = "more" if crossing.upward else "less"
    at, beside = crossing.at.text, crossing.beside.text
    text = f"With {at} and {way} it reaches {what}; with {beside} it does not."
    unit = TARGET_UNITS[target.kind]
    if jumps and crossing.margin and not is_difference(crossing.margin, crossing.grain):
        text += (
            f" There it is {abs(crossing.margin):.2g} {unit} off, which is within the grain: "
            "no difference."
        )
    return text


# -- rankings --------------------------------------------------------------------------------


def ranking_sentences(found: Ranking) -> tuple[str, ...]:
    """How the inputs were moved; what to go and measure; what is assumed to be nothing."""
    return (ranking_how(found), _measure(found), *ranking_rest(found))


def ranking_how(found: Ranking) -> str:
    """How far each input was moved, and what the change is of."""
    asked = found.asked
    what = (
        f"its own saleable output, since {asked.title} is the reference"
        if asked.is_reference
        else f"its saleable gain over {asked.against}, in percentage points"
    )
    stays = "" if asked.is_reference else f", in {asked.title} alone"
    return f"Each input is moved by a tenth{stays}, counts by one; the change is that of {what}."


def _measure(found: Ranking) -> str:
    """What matters and is only assumed, so that it has to be measured."""
    moving = [effect for effect in found.effects if effect.most]
    if not moving:
        return "No input makes a difference above its grain."
    assumed = [effect.label for effect in moving if effect.assumed]
    if not assumed:
        return "Every input that matters has been entered; none of them is only assumed."
    which = ", ".join(assumed[:5])
    return f"Only assumed, and it matters: {which}. Go and look at these, or measure them, first."


def ranking_rest(found: Ranking) -> tuple[str, ...]:
    """What is assumed to be nothing, and how many seeded runs were used."""
    nothing = ""
    if found.assumed_nothing:
        which = "; ".join(with_ids(label, ids) for label, ids in found.assumed_nothing)
        nothing = (
            f"Assumed to be 0, so that a tenth of it is nothing: {which}. Enter those that take "
            "time or lose pieces in your shop."
        )
    return tuple(text for text in (nothing, _runs_words(found.asked)) if text)


def with_ids(label: str, ids: Sequence[str]) -> str:
    """The name of an input with the things that have it, as long as these are few."""
    if not ids:
        return label
    return f"{label} ({', '.join(ids)})" if len(ids) <= 3 else f"{label} ({len(ids)} of them)"


def unmoved(found: Ranking) -> str:
    """The inputs that make no difference, as one list in words; "" where all make one."""
    names: dict[str, list[str]] = {}
    for effect in found.effects:
        if not effect.most:
            names.setdefault(effect.name, []).extend([effect.thing] if effect.thing else [])
    return ", ".join(with_ids(name, things) for name, things in names.items())


def _has_fewer_runs(asked: AskedAbout) -> bool:
    return asked.runs < asked.of_runs


def _fewer_runs(asked: AskedAbout) -> str:
    return (
        f"means of {asked.runs} of the study's {asked.of_runs} seeded runs, since all of them "
        "would take long."
    )


def _runs_words(asked: AskedAbout) -> str:
    """What is to be said where fewer seeded runs were used than the study has; else ""."""
    return f"Stops: {_fewer_runs(asked)}" if _has_fewer_runs(asked) else ""


# -- in other units (only texts and numbers for reading: what is tried stays as typed) -----


def now_in(input_: Input, units: str) -> str:
    """What holds now of an input, in the units; as it was typed where it has none of them."""
    return _text(input_.key, input_.now_text, units)


def curve_in(found: Curve, units: str) -> Curve:
    """A curve in "metric" or "inch" units; as it is in any other word, or where it has none."""
    key = _key(found.varied.key)
    points = tuple(replace(point, value=_value(key, point.value, units)) for point in found.points)
    return replace(
        found,
        varied=_varied(found.varied, units),
        points=points,
    )


def level_in(found: BreakEven | None, units: str) -> BreakEven | None:
    """A break-even in the units."""
    if found is None:
        return None
    key = _key(found.varied.key)
    return replace(
        found,
        varied=_varied(found.varied, units),
        low=_value(key, found.low, units),
        high=_value(key, found.high, units),
        nearest=None if found.nearest is None else _value(key, found.nearest, units),
        crossings=tuple(
            replace(
                crossing,
                at=_value(key, crossing.at, units),
                beside=_value(key, crossing.beside, units),
            )
            for crossing in found.crossings
        ),
    )


def ranking_in(found: Ranking, units: str) -> Ranking:
    """A ranking in the units."""
    return replace(found, effects=tuple(_effect(effect, units) for effect in found.effects))


def grid_in(found: Grid, units: str) -> Grid:
    """A table of two inputs in the units."""
    values = []
    for varied, typed in ((found.down, found.values_down), (found.across, found.values_across)):
        key = _key(varied.key)
        values.append(tuple(_value(key, value, units) for value in typed))
    return replace(
        found,
        down=_varied(found.down, units),
        across=_varied(found.across, units),
        values_down=values[0],
        values_across=values[1],
    )


def _effect(effect: Effect, units: str) -> Effect:
    key = _key(effect.key)

    def side(typed: Side | None) -> Side | None:
        return None if typed is None else replace(typed, value=_value(key, typed.value, units))

    now = _value(key, effect.now, units)
    return replace(effect, now=now, down=side(effect.down), up=side(effect.up))


def _varied(varied: Varied, units: str) -> Varied:
    key = _key(varied.key)
    now = None if varied.now is None else _value(key, varied.now, units)
    return replace(varied, now=now, now_text=_text(key, varied.now_text, units))


def _key(written: str) -> Key | None:
    return key_for(tuple(written.split(".")))


def _text(key: Key | None, text: str, units: str) -> str:
    turned = None if key is None else _turned(key, text, units)
    return text if turned is None else turned


def _value(key: Key | None, value: Value, units: str) -> Value:
    turned = None if key is None else _turned(key, value.text, units)
    if turned is None or key is None or key.kind.dimension is None:
        return value
    amount = parse(turned, key.kind.dimension)
    return Value(turned, float(in_unit(amount.value, amount.unit)), amount.unit)


def _turned(key: Key, text: str, units: str) -> str | None:
    if units not in ("metric", "inch") or not text:
        return None
    return key.kind.in_units(key.kind.typed(text), units)
