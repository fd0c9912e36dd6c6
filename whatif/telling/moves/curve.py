"""The answer over the values of one input, in words."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil
from typing import Final

from whatif.answers.answer import Answer
from whatif.answers.moves.break_even import BreakEven
from whatif.answers.moves.inputs import Value, place_of_value
from whatif.answers.moves.vary import Curve, all_met
from whatif.records import dataclass
from whatif.study.raw import Path
from whatif.study.schema.catalogue import key_for
from whatif.telling.amounts import NOTHING, listed, rounded
from whatif.telling.gain_texts import (
    bare_percent_text,
    gain_text,
)
from whatif.telling.money.ranges import year_gain_texts
from whatif.telling.moves.break_even import level_words, span_tried, wanted_words
from whatif.telling.moves.tried import (
    CANNOT_BE_TOLD,
    amount_words,
    compared_words,
    gain_in_short,
    moved_words,
    outcome_words,
    resting_of_all,
    without_gap_words,
    worked_from,
)
from whatif.telling.problems import what_is_wrong
from whatif.telling.sources import input_source_words


def marks(curve: Curve, place: int) -> tuple[str, ...]:
    """What is to be marked at a value, in words."""
    at_now = place_of_value([curve.points[place].value], curve.varied.now_value) is not None
    stops = place == curve.knee and curve.stops_paying
    enough = "as good as any" if curve.way[:1] == (place,) else "output grows no more"
    if stops and curve.way[:1] != (place,) and _most_beyond(curve) is not None:
        enough = "no clear gain beyond"
    said = ((at_now, "now"), (stops, enough), (place == curve.met, "demand met"))
    return tuple(word for holds, word in said if holds)


def place_now(curve: Curve) -> int:
    """The place of what holds now, or of the first value."""
    return curve.now or 0


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


def curve_told(
    curve: Curve,
    level: BreakEven | None,
    wanted: BreakEven | None = None,
    level_of: str = "",
) -> list[CurveFinding]:
    """All that is to be said beside a drawn curve, what leads first.

    A gain that is wanted, where one is, comes first; the break-even after what is found.

    Args:
        level_of: the figure that the break-even is of, where another one is drawn.
    """
    drawn = [point.value for point in curve.points]
    found = curve_findings(curve)
    first = [] if wanted is None else [_finding(wanted_words(wanted, drawn))]
    behind = []
    if level is not None:
        text = level_words(level, drawn)
        of = f"By the {level_of} (f draws it): {text[:1].lower()}{text[1:]}"
        behind.append(_finding(of if level_of else text))
    behind += map(_finding, (*_refused(curve), *_tried(curve)))
    # What does nearly as well is part of what is found.
    lead = 1 + len(_nearly(curve))
    return [*first, *found[:lead], *behind, *found[lead:]]


def _finding(sentence: str) -> CurveFinding:
    return CurveFinding(sentence.removesuffix("."))


def _tried(curve: Curve) -> tuple[str, ...]:
    """Which values are drawn, where they do not stand equally far apart."""
    numbers = [point.value.number for point in curve.points]
    steps = {round(after - before, 9) for before, after in pairwise(numbers)}
    if len(steps) < 2:
        return ()
    return (f"Drawn are {listed([point.value.text for point in curve.points])}, none between.",)


def point_words(curve: Curve, place: int, answer: Answer | None = None) -> str:
    """One value of a curve in words; ``answer`` is the study's own, for the value as it stands."""
    point = curve.points[place]
    without_gap = without_gap_words(curve.asked, answer if place == curve.now else None)
    told = outcome_words(point.outcome, without_gap, is_drawn=True)
    return f"{curve.varied.label} {point.value.text}: {told}"


def _named(curve: Curve, value: Value) -> str:
    """A value with what it is of: "4" alone leaves that open."""
    text = amount_words(value)
    return f"{curve.varied.label} {text}" if text.replace(".", "", 1).isdigit() else text


def instead_words(came_from: Path | None, drawn: str, over: Path = ()) -> str:
    """Why a curve is not over the row of the sheet that one came from, and what it is over.

    Args:
        came_from: path of that row; None of a heading.
        drawn: name of the input that the curve is over.
        over: its path: where another thing has the same, both are told with what has them.
    """
    key = None if came_from is None else key_for(came_from)
    reason = "On the sheet the cursor is on a heading, which has no curve"
    if came_from is not None and key is not None:
        is_number, name = key.kind.numeric, key.label
        if over != came_from and over[:1] + over[2:] == came_from[:1] + came_from[2:]:
            name, drawn = (f"{key.label} of {path[1]}" for path in (came_from, over))
        reason = f'"{name}" {"changes nothing here" if is_number else "is not one number"}'
    return f"{reason}: this one is over {drawn} (o chooses another)."


def curve_sentences(curve: Curve) -> tuple[str, ...]:
    """What is to be said of a curve: what is not allowed, where output grows no more, the rest."""
    return (*_refused(curve), *(finding.text for finding in curve_findings(curve)))


def _refused(curve: Curve) -> tuple[str, ...]:
    """Which values are not allowed, and why; none where all are."""
    refused = [point for point in curve.points if point.outcome.problem]
    if not refused:
        return ()
    which = ", ".join(point.value.text for point in refused)
    return (f"Not allowed: {which}. {what_is_wrong(refused[0].outcome.problem)}",)


def curve_findings(curve: Curve) -> list[CurveFinding]:
    """What is to be said of the values that are allowed, the most telling first."""
    texts = [point.value.text for point in curve.points]
    found = _findings(curve)
    now = f"{curve.varied.now_text}, {input_source_words(curve.varied)}"
    if curve.varied.all_of:
        now = f"{curve.varied.now_text} of what each is"
    if curve.asked.is_reference:
        itself = ": its gains are against itself as it stands"
        end = f" ({now})." if curve.varied.now_text else "."
        found.append(CurveFinding(f"{curve.asked.title} is the reference", itself + end))
    elif curve.varied.now_text and curve.varied.now_text not in texts:
        found.append(CurveFinding(f"As it stands it is {now}"))
    resting = resting_of_all(point.outcome for point in curve.points)
    found += [CurveFinding(said.removesuffix(".")) for said in resting]
    found.append(CurveFinding(f"Moved {moved_words(curve.varied, curve.asked)}"))
    if compared := compared_words(curve.asked, (point.outcome for point in curve.points)):
        found.append(CurveFinding(compared.removesuffix(".")))
    found.append(CurveFinding(worked_from(curve.asked).removesuffix(".")))
    return found


def _findings(curve: Curve) -> list[CurveFinding]:
    """Where output grows no more and where demand is met; or why there is nothing to find."""
    if curve.varied.is_said:
        return [CurveFinding("What is said moves nothing that is simulated")]
    if curve.varied.path[-1] == "contribution" and curve.way:
        return [_weighs(curve), *_is_met(curve)]
    if len(curve.way) > 1:
        return [_grows_no_more(curve), *_nearly(curve), *_is_met(curve), *_falls_between(curve)]
    nothing = CurveFinding("None of the values is allowed, so there is nothing to show")
    return [] if curve.way else [nothing]


def _weighs(curve: Curve) -> CurveFinding:
    """What a contribution does: output is the same, and counts otherwise."""
    ends = [curve.points[place] for place in (curve.way[0], curve.way[-1])]
    low, high = sorted(ends, key=lambda point: point.value.number)
    gains = [gain_in_short(each.outcome) for each in (low, high)]
    what = "It makes no piece more, it only says how much each part's pieces count in the gain"
    if low is high or NOTHING in gains:
        return CurveFinding(what)
    from_low = f"{gains[0]} at {low.value.text}"
    return CurveFinding(what, f": {from_low}, {gains[1]} at {high.value.text}.")


def _grows_no_more(curve: Curve) -> CurveFinding:
    way = curve.way
    begin, end = (curve.points[place].value for place in (way[0], way[-1]))
    first, last = begin.text, end.text
    beyond = "larger" if end.number > begin.number else "smaller"
    until = f"{'up' if beyond == 'larger' else 'down'} to {last}"
    if curve.knee is None:
        if curve.is_flat:
            return CurveFinding(_flat(curve, span_tried(begin, end)))
        least = f"{_named(curve, end)}, the {beyond[:-1]}st value tried"
        short = _short_of_paying(curve, way[-1])
        is_most = all(_reads_less(curve, place, way[-1]) for place in way[:-1])
        each = ": each of the others brings less" if is_most else ""
        but = f"{'; ' if each else ': '}{short}" if short else ""
        return CurveFinding(f"Saleable output is largest at {least}", f"{each}{but}.")
    at = _named(curve, curve.points[curve.knee].value)
    # The figures that stand beside it say the same, or nothing is said.
    falls = curve.falls and _reads_less(curve, way[-1], curve.knee)
    rises = curve.rises and _reads_less(curve, way[0], curve.knee)
    after = f" At {last} there is less again." if falls else ""
    if not curve.stops_paying:
        return CurveFinding(
            f"Whether a {beyond} value than {at} brings more is not clear, tried {until}",
            f": maybe up to {rounded(curve.beyond)} points, maybe nothing.{after}",
        )
    is_largest = not any((_reads_over(curve, place, curve.knee) or 0.0) > 0 for place in way)
    if falls and rises and is_largest:
        low, high = (first, last) if beyond == "larger" else (last, first)
        return CurveFinding(
            f"Saleable output is largest at {at}, tried from {low} to {high}",
            ": both ends bring less.",
        )
    if curve.knee == way[0]:
        return CurveFinding(
            f"As good as any is {_named(curve, begin)}, tried {until}",
            f": no {beyond} value {'' if is_largest else 'clearly '}brings more.{after}",
        )
    # Money may go on rising, or have fallen long before: only output is told of here.
    short = _short_of_paying(curve, curve.knee)
    but = f"; {short}" if short else ""
    most = _most_beyond(curve)
    if most is not None:
        # What is drawn rises again: that it grows no more would be read as wrong.
        points, value = _drawn_over(curve, most), curve.points[most].value
        unsure = f"that {value.text} is drawn {points:g} point{'s' * (points != 1)} above it"
        return CurveFinding(
            f"No {beyond} value than {at} clearly brings more, tried {until}",
            f": {unsure} is no clear difference{but}.{after}",
        )
    none = f": no {beyond} value tried brings a difference{but}.{after}"
    where = f"{at} {_onward(curve)}, tried {until}"
    return CurveFinding(f"Saleable output grows no more from {where}", none)


_NEARLY: Final = 0.03
"""A value that brings all but so much of the output of the best one may be the better choice."""


def _nearly(curve: Curve) -> list[CurveFinding]:
    """The first value that comes near to where output is largest, or grows no more, if any does.

    It may take far less: of money the gains of a year stand beside each other.
    """
    if len(curve.way) < 2 or curve.is_flat or (curve.knee is not None and not curve.stops_paying):
        return []
    top = _top(curve)
    if curve.varied.path[-1] == "contribution" or not _is_told_by_gain(curve):
        return []
    enough = (1 - _NEARLY) * _makes(curve, top)
    before = curve.way[: curve.way.index(top)]
    near = next((each for each in before if _makes(curve, each) >= enough), None)
    if near is None:
        return []
    points = max(1, ceil(_reads_over(curve, top, near) or 0.0))
    money = [
        "" if each.money is None else year_gain_texts(each.money, each.likely_money)[0]
        for each in (curve.points[place].outcome for place in (near, top))
    ]
    at, best = (curve.points[place].value.text for place in (near, top))
    year = f" (a year's gain is {money[0]}, at {best} {money[1]})" if all(money) else ""
    said = f"At {at} it is already within {points} point{'s' * (points > 1)} of that{year}"
    return [CurveFinding(said)]


def _falls_between(curve: Curve) -> list[CurveFinding]:
    """Where a value before the best brings far less than one before it: no rise is steady then."""
    if not curve.way or not _is_told_by_gain(curve):
        return []
    high, deepest = curve.way[0], (0.0, curve.way[0], curve.way[0])
    for place in curve.way[: curve.way.index(_top(curve))]:
        if _makes(curve, place) >= _makes(curve, high):
            high = place
        elif fall := 1 - _makes(curve, place) / _makes(curve, high):
            deepest = max(deepest, (fall, place, high))
    fall, low, from_ = deepest
    less = rounded(_reads_over(curve, from_, low) or 0.0)
    if fall < _NEARLY:
        return []
    at, than = (curve.points[place].value.text for place in (low, from_))
    points = f"{less} point{'s' * (less != '1')}"
    said = f"It does not rise all the way: at {at} it is {points} less than at {than}"
    return [CurveFinding(said)]


def _onward(curve: Curve) -> str:
    """Which way what holds from a value on goes: of a shift's start "from 05:00 on" is later."""
    first, last = (curve.points[place].value.number for place in (curve.way[0], curve.way[-1]))
    return "on" if last >= first else "down"


def _top(curve: Curve) -> int:
    """Where output is largest, or grows no more."""
    return curve.way[-1] if curve.knee is None else curve.knee


def _is_told_by_gain(curve: Curve) -> bool:
    """Whether every value that is allowed has a gain to be held against that of another."""
    return all(curve.points[at].outcome.over_now.leading_gain is not None for at in curve.way)


def _makes(curve: Curve, place: int) -> float:
    """What a value makes, in percent of what the reference makes."""
    return 100 + (curve.points[place].outcome.over_now.leading_gain or 0.0)


def _most_beyond(curve: Curve) -> int | None:
    """The value beyond the knee that is drawn highest above it; None where none is by a tenth."""
    if curve.knee is None:
        return None
    beyond = curve.way[curve.way.index(curve.knee) + 1 :]
    most = max(beyond, key=lambda place: _drawn_over(curve, place), default=None)
    return most if most is not None and _drawn_over(curve, most) > 0 else None


def _drawn_over(curve: Curve, place: int) -> float:
    """By how many points more a value is drawn than the knee, to a tenth; 0 without a figure."""
    here, knee = (curve.points[each].outcome.over_now for each in (place, curve.knee or 0))
    if here.gains.saleable is None or knee.gains.saleable is None:
        return 0.0
    return float(rounded(here.gains.saleable - knee.gains.saleable))


def _reads_over(curve: Curve, place: int, other: int) -> float | None:
    """By how much more one value brings than another by the figures as told; None without any."""
    here, there = (curve.points[each].outcome.over_now for each in (place, other))
    if here.leading_gain is not None and there.leading_gain is not None:
        mine = bare_percent_text(here.leading_gain, here.likely)
        return float(mine) - float(bare_percent_text(there.leading_gain, there.likely))
    if here.saleable is None or there.saleable is None:
        return None
    return here.saleable - there.saleable


def _reads_less(curve: Curve, place: int, other: int) -> bool:
    """Whether the figures beside a sentence let it say that a value brings less than another."""
    more = _reads_over(curve, place, other)
    return more is None or more < 0


def _short_of_paying(curve: Curve, place: int) -> str:
    """Why a value does not pay though none brings more output; "" where it does."""
    outcome, against = curve.points[place].outcome, curve.asked.against
    if outcome.itself is not None:
        against += " with the same value"
    gain = outcome.leading_gain
    if curve.asked.is_reference:
        # What holds now is no gain against itself, and other values may bring less.
        if gain is None or gain >= 0 or not outcome.is_clear:
            return ""
        against = "it as it stands"
    if gain is not None and not (outcome.is_clear and gain > 0):
        return f"against {against} that is {gain_text(gain, outcome.likely)}"
    money = outcome.money
    if money is None or money.leading(outcome.likely_money).year_gain > 0:
        return ""
    return f"a year's gain is {year_gain_texts(money, outcome.likely_money)[0]}"


def _flat(curve: Curve, span: str) -> str:
    gains = {curve.points[place].outcome.over_now.gains.saleable for place in curve.way}
    outputs = {curve.points[place].outcome.saleable for place in curve.way}
    if len(gains) == 1 and (len(outputs) == 1 or gains != {None}):
        return f"No value tried, {span}, makes a difference in saleable output"
    return f"What the values tried, {span}, change in saleable output {CANNOT_BE_TOLD}"


def _is_met(curve: Curve) -> list[CurveFinding]:
    way = curve.way
    reached = {place: curve.points[place].outcome.least_met for place in way}
    known = {place: met for place, met in reached.items() if met is not None}
    if not known:
        return []
    if curve.met is None:
        span = f", {span_tried(*(curve.points[place].value for place in (way[0], way[-1])))},"
        if curve.is_flat:
            # What leads has said between which values.
            span = ""
        if not any(known.values()):
            # One that is not made at all is made with none of them.
            none = f"no value tried{span}" if span else "none of the values"
            return [CurveFinding(f"With {none} is every part made")]
        nearest = max(known, key=lambda place: known[place])
        reasons = (
            f"; nearest is {curve.points[nearest].value.text}, where the part furthest behind "
            f"reaches {rounded(known[nearest])} %{_nearly_all(curve, [nearest])}."
        )
        return [CurveFinding(f"No value tried{span} meets the demand of every part", reasons)]
    at = f"{curve.points[curve.met].value.text}{_untried_before(curve, curve.met)}"
    if curve.met == way[0] and all(all_met(curve.points[place].outcome) for place in way):
        return [CurveFinding("The demand of every part is met with every value tried")]
    if not curve.met_is_clear:
        reasons = "; the likely range leaves open from which value on."
        return [CurveFinding(f"As entered the demand of every part is first met at {at}", reasons)]
    return [CurveFinding(f"The demand of every part is {_met_where(curve, at)}")]


def _untried_before(curve: Curve, place: int) -> str:
    """Which counts before a value are left out: one of them may do what it is the first to do."""
    step = curve.way.index(place)
    if not (step and curve.varied.whole):
        return ""
    here, before = (curve.points[each].value.number for each in (place, curve.way[step - 1]))
    low, high = (min(here, before) + 1, max(here, before) - 1)
    if low > high:
        return ""
    if low == high:
        return f" ({low:g} is not among the values)"
    return f" ({low:g} to {high:g} are not among the values)"


def _met_where(curve: Curve, at: str) -> str:
    """From which value on it is met throughout, and at which ones it fails in between."""
    way = curve.way
    text = {place: curve.points[place].value.text for place in way}
    missed = [n for n, place in enumerate(way) if not all_met(curve.points[place].outcome)]
    throughout = way[missed[-1] + 1 :] if missed else way
    if not curve.unmet:
        is_from = throughout[:1] == (curve.met,) and len(throughout) > 1
        return f"met from {at} {_onward(curve)}" if is_from else f"first met at {at}"
    fails = listed([text[place] for place in curve.unmet])
    # A row beside it that reads as less than all is not passed over.
    after = way[way.index(curve.met) + 1 :] if curve.met in way else ()
    doubted = [place for n, place in enumerate(way) if n in missed and place in after]
    doubted = [place for place in doubted if place not in curve.unmet]
    if doubted:
        fails += f", and whether at {listed([text[place] for place in doubted])} {CANNOT_BE_TOLD}"
    if throughout:
        begin = f"{text[throughout[0]]} {_onward(curve)}"
        return f"met from {begin}. At {at} it is met too, but fails at {fails}"
    little = _nearly_all(curve, curve.unmet)
    if curve.better > 0 and curve.unmet == way[way.index(curve.unmet[0]) :]:
        return f"met at {at}, and no more from {text[curve.unmet[0]]} {_onward(curve)}{little}"
    return f"met at {at}, but fails at {fails}{little}"


def _nearly_all(curve: Curve, places: Sequence[int]) -> str:
    """That only a trifle lacks: what is in work as the weeks end may be as much."""
    met = [curve.points[place].outcome.least_met for place in places]
    is_little = all(each is not None and each >= _NEARLY_ALL for each in met)
    return ": nearly all, and work in hand as the weeks end may be the rest" if is_little else ""


_NEARLY_ALL: Final = 99.5


def axis_text(curve: Curve, value: Value) -> str:
    """A value where its unit stands beside all of them; times of day as they are."""
    return value.text if curve.varied.is_clock else f"{value.number:g}"
