"""What a curve may be drawn of, and its plot: the likely range, the values, what is marked."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from whatif.answers.moves.trial import Outcome
from whatif.answers.moves.vary import Curve
from whatif.records import dataclass
from whatif.telling.blocks import LIKELY
from whatif.telling.moves.curve import axis_text, marks
from whatif.telling.moves.tried import draws_words, is_over_now, over_now_words
from whatif.telling.plot import (
    POINT,
    Across,
    AmountScale,
    Placed,
    Plot,
    Trace,
    Upright,
    Word,
    in_a_line,
    plot_of,
    pointing,
    scale,
)

if TYPE_CHECKING:
    from whatif.answers.moves.break_even import BreakEven
    from whatif.answers.moves.trial import AskedAbout


GAIN, PAYBACK, SAID = "saleable gain", "payback", "hours that are said"
"""Names of figures that a break-even, or a gain that is wanted, is about."""


@dataclass(frozen=True, slots=True)
class Measure:
    """A figure that a curve may be drawn of.

    Attributes:
        of: the figure of one try.
        likely: what it lies between with the likely range, the lower one first.
    """

    name: str
    unit: str
    of: Callable[[Outcome], float | None]
    likely: Callable[[Outcome], tuple[float, float] | None] = lambda _outcome: None

    @property
    def title(self) -> str:
        """Name and unit."""
        return f"{self.name}, {self.unit}" if self.unit else self.name


def measures(curve: Curve) -> tuple[Measure, ...]:
    """The figures that the curve has; first one that its input moves."""
    outcomes = [point.outcome for point in curve.points]
    parts = dict.fromkeys(part for outcome in outcomes for part in outcome.pieces)
    gain = Measure(GAIN, "%", lambda outcome: outcome.gains.saleable, _gain_between)
    itself = Measure(
        over_now_words(curve.asked), "%", lambda outcome: outcome.itself, _itself_between
    )
    moneys = (outcome.money.currency for outcome in outcomes if outcome.money is not None)
    offered = (
        itself,
        gain,
        Measure("spindle hours", "h a week", lambda outcome: outcome.spindle_hours),
        Measure("demand met, part furthest behind", "%", lambda outcome: outcome.least_met),
        *(_pieces(part) for part in parts),
        Measure("yearly gain", next(moneys, ""), _year_gain, _year_between),
        Measure(PAYBACK, _in_years(outcomes), _payback_years, _payback_between),
        Measure(SAID, "h a day", _said_hours),
    )
    known = [each for each in offered if any(each.of(outcome) is not None for outcome in outcomes)]
    if not _varies(itself if is_over_now(outcomes) else gain, outcomes):
        # A price moves payback and no output, so that is what it is drawn of first.
        known.sort(key=lambda each: not _varies(each, outcomes))
    return tuple(known)


def is_told_of(level: BreakEven | None, measure: Measure) -> bool:
    """Whether a break-even is one of the figure that is drawn."""
    return level is not None and measure_of(level) == measure.name


def measure_of(level: BreakEven) -> str:
    """Name of the figure that a break-even is of."""
    return {"payback": PAYBACK, "said": SAID}.get(level.target.kind, GAIN)


def _varies(measure: Measure, outcomes: Sequence[Outcome]) -> bool:
    return len({measure.of(outcome) for outcome in outcomes if not outcome.problem}) > 1


def _pieces(part: str) -> Measure:
    name = f"good pieces of {part}"
    return Measure(name, "pieces a week", lambda outcome: outcome.pieces.get(part))


def _gain_between(outcome: Outcome) -> tuple[float, float] | None:
    return None if outcome.likely is None else (outcome.likely[0], outcome.likely[2])


def _itself_between(outcome: Outcome) -> tuple[float, float] | None:
    likely = outcome.likely_itself
    return None if likely is None else (likely[0], likely[2])


def _said_hours(outcome: Outcome) -> float | None:
    return None if outcome.said is None else outcome.said.hours_per_day


def _year_gain(outcome: Outcome) -> float | None:
    return None if outcome.money is None else outcome.money.leading(outcome.likely_money).year_gain


def _year_between(outcome: Outcome) -> tuple[float, float] | None:
    likely = outcome.likely_money
    return None if likely is None else (likely.low.year_gain, likely.high.year_gain)


def _in_years(outcomes: Sequence[Outcome]) -> str:
    """The unit of paybacks, with the longest that is drawn."""
    counted = [outcome.money.terms.years for outcome in outcomes if outcome.money is not None]
    return f"years, up to the {max(counted):g} counted" if counted else "years"


def _payback_years(outcome: Outcome) -> float | None:
    """None too where a year's gain is not clear, or beyond the years counted: no line tells it."""
    if outcome.money is None:
        return None
    years = outcome.money.leading(outcome.likely_money).payback_years
    return None if years is None or years > outcome.money.terms.years else years


def _payback_between(outcome: Outcome) -> tuple[float, float] | None:
    """None where one end never comes back, or not in the years counted, where its band ends."""
    likely, money = outcome.likely_money, outcome.money
    if likely is None or money is None:
        return None
    first, last, most = likely.high.payback_years, likely.low.payback_years, money.terms.years
    if first is None or last is None or first > most:
        return None
    return first, min(last, most)


# -- the plot ------------------------------------------------------------------------------

LINE, BAND, MARK, WANTED = "line", "band", "mark", "wanted"
"""Inks."""

LINE_SIGN, BAND_SIGN, WANTED_SIGN = "⠒●⠒", 2 * LIKELY, "╌╌"
"""How they look, for a legend."""

MOST_MARKS = 3
"""Lines of words below the axis."""


@dataclass(frozen=True, slots=True)
class CurvePlot:
    """A curve as it is drawn.

    Attributes:
        values: what stands below the axis.
        marks: lines of words that point at values.
        nearest: the place of the value next to each column.
    """

    plot: Plot
    values: list[Placed]
    marks: list[list[Placed]]
    nearest: tuple[int, ...]


def curve_legends(asked: AskedAbout, drawn_band: str) -> tuple[tuple[str, str], ...]:
    """What the line and the band of a curve are, ever shorter.

    The band has a sign that is drawn of it (``drawn_band`` are all of them); without one no words.

    The line may leave the band: it is one course of things, the band what most of the others do.
    """
    line, band = f"{LINE_SIGN} as typed", f"  {_of_band(drawn_band)} likely range"
    tried = f"{line}, {POINT} each value tried"
    if not drawn_band:
        return (f"{tried} ", ""), (f"{line} ", "")
    # As it stands now its range is the sheet's, of more draws, and so may be wider.
    is_more = asked.is_answered_now and asked.draws < asked.of_draws
    drawn = draws_words(asked.draws) + (f", {asked.of_draws} at now" if is_more else "")
    return (
        (
            f"{tried}, all times and demands exact",
            f"{band}, {drawn}: each a little off, so the line may leave it ",
        ),
        (tried, f"{band}, {drawn} "),
        (line, f"{band}, {drawn} "),
        (line, f"{band} "),
    )


def _of_band(drawn: str) -> str:
    """The sign of a likely range where it is drawn; of a band that is too thin what is drawn."""
    return BAND_SIGN if LIKELY in drawn else 2 * max(sorted(drawn), key=drawn.count, default="")


def curve_plot(
    curve: Curve,
    level: BreakEven | None,
    measure: Measure,
    at: int,
    width: int,
    height: int,
    wanted: float | None = None,
) -> CurvePlot:
    """A plot of one figure over the values, as typed, with its likely range as a band.

    Args:
        at: place of the value under the cursor.
        width, height: in cells, without labels and what stands below the axis.
        wanted: an amount of the figure that is to be reached: a stroke across.
    """
    order = sorted(range(len(curve.points)), key=lambda place: curve.points[place].value.number)
    places = [curve.points[place].value.number for place in order]
    outcomes = [curve.points[place].outcome for place in order]
    amounts = [measure.of(outcome) for outcome in outcomes]
    # What is not allowed has no figure, and no range either.
    between = [measure.likely(outcome) for outcome in outcomes]
    trace = Trace(
        list(zip(places, amounts, strict=True)), LINE, between, BAND,
        [(place, POINT) for place in places],
    )  # fmt: skip
    here = curve.points[at].value.number
    strokes = _strokes(curve, level if is_told_of(level, measure) else None)
    strokes_across = () if wanted is None else (Across(wanted, WANTED, WANTED_SIGN[0]),)
    canvas, plot = plot_of(
        [trace],
        strokes,
        (places[0], places[-1]),
        _up(measure, [*amounts, wanted], between, height),
        width,
        height,
        lit=here,
        levels=strokes_across,
    )
    words = [
        Word(canvas.column(point.value.number), axis_text(curve, point.value), first=lit, lit=lit)
        for place, point in enumerate(curve.points)
        for lit in (place == at,)
    ]
    columns = [canvas.column(point.value.number) for point in curve.points]
    nearest = tuple(
        min(range(len(columns)), key=lambda place: abs(columns[place] - column))
        for column in range(canvas.width)
    )
    pointing_at = [Word(canvas.column(each.at), each.word, each.ink) for each in strokes]
    marks = pointing(pointing_at, canvas.width, MOST_MARKS)
    return CurvePlot(plot, in_a_line(words, canvas.width), marks, nearest)


def _up(
    measure: Measure,
    amounts: Sequence[float | None],
    between: Sequence[tuple[float, float] | None],
    height: int,
) -> AmountScale:
    """Nothing is on the scale where it is not far off what is drawn."""
    known = [amount for amount in amounts if amount is not None]
    known += [end for ends in between if ends is not None for end in ends]
    low, high = (min(known), max(known)) if known else (0.0, 1.0)
    if low > 0 and (measure.unit == "%" or high - low > 0.3 * high):
        low = 0.0
    return scale(min(low, high), max(high, 0.0), height)


def _strokes(curve: Curve, level: BreakEven | None) -> list[Upright]:
    """What is marked among the values, a word each; two at one value share it."""
    said: dict[float, list[str]] = {}
    least, most = (pick(point.value.number for point in curve.points) for pick in (min, max))
    unit = curve.points[0].value.unit
    for place, point in enumerate(curve.points):
        said.setdefault(point.value.number, []).extend(marks(curve, place))
    for crossing in () if level is None else level.crossings:
        value = crossing.at
        if crossing.is_clear and value.unit == unit and least <= value.number <= most:
            said.setdefault(value.number, []).append("break-even")
    return [
        Upright(place, MARK, ", ".join(words))
        for place, words in sorted(said.items(), key=lambda each: "now" not in each[1])
        if words
    ]
