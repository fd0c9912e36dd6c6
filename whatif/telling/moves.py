"""What moves a scenario, in short: figures that a curve may show, and sentences beside it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from whatif.answers.gains import is_difference
from whatif.answers.moves.break_even import BreakEven, Crossing
from whatif.answers.moves.changing import Outcome, Point
from whatif.answers.moves.inputs import Value
from whatif.answers.moves.sensitivity import Effect, Ranking, Side
from whatif.answers.moves.vary import Curve, Grid, Varied
from whatif.telling.amounts import grouped, signed
from whatif.telling.limits import limit_in_short
from whatif.telling.moves_sentences import curve_findings, curve_sentences, pair_words, target_words
from whatif.telling.problems import what_is_wrong
from whatif.telling.table import NOTHING, gain_text, number

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
