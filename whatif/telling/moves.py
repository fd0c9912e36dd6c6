"""What moves a scenario, in words: curves, break-evens, rankings, tables of two inputs.

A screen has little room and is told in short; reports, and screens with room, in whole sentences.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import chain
from math import isfinite
from typing import Final

from whatif.answers.caveats import Caveat
from whatif.answers.gains import is_nothing, lies_outside
from whatif.answers.moves.break_even import BreakEven, Crossing
from whatif.answers.moves.held import Moved
from whatif.answers.moves.inputs import Input, Value, place_of_value
from whatif.answers.moves.sensitivity import Effect, MovedBy, Ranking, Side
from whatif.answers.moves.trial import AskedAbout, Outcome, Point
from whatif.answers.moves.vary import Curve, Grid, all_met
from whatif.records import dataclass
from whatif.telling.amounts import NOTHING, listed, number, rounded, signed
from whatif.telling.gain_texts import (
    bare_percent_text,
    digits_of,
    gain_text,
    leading_range_text,
    likely_gain_text,
    percent_text,
    range_text,
    tenths_text,
)
from whatif.telling.limits import limited_by_words
from whatif.telling.money.ranges import payback_texts, year_gain_texts
from whatif.telling.problems import what_is_wrong
from whatif.telling.sources import input_source_words

SAME = "no change"
"""Stands where there is no room for "no difference"."""

UNTOLD = "not clear"
"""Stands where there is no room for "cannot be told from the likely range"."""

_UNTOLD = "cannot be told from the likely range"


# -- what is moved -------------------------------------------------------------------------


def moved_words(varied: Input, asked: AskedAbout) -> str:
    """In which scenarios an input is moved: "in Child alone"."""
    if varied.moved is Moved.ITSELF:
        return f"in {asked.title}, against itself as it stands"
    if varied.moved is Moved.ALONE:
        return f"in {asked.title} alone"
    if varied.moved is Moved.EACH:
        return (
            f"in both where {asked.title} and {asked.against} take it from one place, else in "
            f"{asked.title} alone"
        )
    return f"in both, since {asked.title} and {asked.against} take it from one place"


def compared_words(asked: AskedAbout, outcomes: Iterable[Outcome]) -> str:
    """What says which value is best, where gains do not: they are over what is moved too."""
    if not is_over_now(outcomes):
        return ""
    return (
        f"What brings most is told by the saleable output of {asked.title} over that of "
        f"{asked.against} as it stands; gains are over {asked.against} with the same value."
    )


def over_now_words(asked: AskedAbout) -> str:
    """What a scenario's own output is held against then."""
    return f"saleable output over {asked.against} as it stands"


def is_over_now(outcomes: Iterable[Outcome]) -> bool:
    """Whether what is best is told by the scenario's own output, since gains do not tell it."""
    return any(outcome.itself is not None for outcome in outcomes)


def moved_in_short(varied: Input) -> str:
    """The same for a narrow column."""
    words = {Moved.BOTH: "both", Moved.ALONE: "alone", Moved.ITSELF: "", Moved.EACH: "each"}
    return words[varied.moved]


def worked_from(asked: AskedAbout) -> str:
    """How many weeks, seeded runs and draws it rests on."""
    weeks = f"{asked.weeks} week{'s' if asked.weeks != 1 else ''}"
    runs = "" if asked.of_runs == 1 else f", means of {asked.runs} seeded runs"
    fewer = f" of the study's {asked.of_runs}" if asked.runs < asked.of_runs else ""
    of = ""
    if asked.draws < asked.of_draws:
        of = f" (the sheet's are on {asked.of_draws})"
        if asked.is_answered_now:
            of = f" (as it stands now on {asked.of_draws}, as in the sheet)"
    draws = f"{asked.draws} draw{'s' if asked.draws != 1 else ''}{of}"
    also = "; the sheet's also cover both readings of the hour meters' gap"
    meters = also if asked.is_metered else ""
    return f"It rests on {weeks}{runs}{fewer}, and likely ranges on {draws}{meters}."


def draws_in_short(asked: AskedAbout, room: int) -> str:
    """Why likely ranges are others than those of the strip, in so many cells: fewer draws, no gap.

    "" where they do not, or there is no room. As it stands now it is the strip's own.
    """
    few = asked.draws < asked.of_draws
    but, of_now = ("where moved ", " but that of now") if asked.is_answered_now else ("", "")
    texts = []
    if asked.is_metered:
        gap = "; without the meters' gap"
        texts += [f"{gap}, {but}{asked.draws} draws, not {asked.of_draws}"] * few
        texts += [f"{gap}, which the sheet's have", gap]
    if few:
        texts += [
            f"; ranges{of_now} from {asked.draws} draws, the sheet's from {asked.of_draws}",
            f"; {but}{asked.draws} draws, not {asked.of_draws}",
        ]
    return next((text for text in texts if len(text) <= room), "")


def amount_words(value: Value) -> str:
    """A value with what it counts where nothing else says it: "6500 USD"."""
    is_bare = value.text.replace(".", "", 1).isdigit()
    return f"{value.text} {value.unit}" if is_bare and value.unit else value.text


# -- one try -------------------------------------------------------------------------------


def gain_in_short(outcome: Outcome) -> str:
    """The saleable gain in a narrow column; short where it is none or cannot be told."""
    gain = outcome.leading_gain
    if gain is None:
        return NOTHING
    if outcome.is_clear:
        return bare_percent_text(gain, outcome.likely)
    return SAME if outcome.likely is None or is_nothing(outcome.likely) else UNTOLD


def typed_in_short(outcome: Outcome) -> str:
    """The gain as typed where that lies outside its own range and so does not lead; "" else."""
    gain = outcome.gains.saleable
    if gain is None or not outcome.is_outside:
        return ""
    return f"as typed {percent_text(gain, outcome.likely)}"


def caveat_words(caveats: Iterable[Caveat]) -> str:
    """What a gain rests on that is not so yet, in a few words."""
    return ", ".join(caveat.value for caveat in caveats)


def _resting(caveats: Iterable[Caveat]) -> tuple[str, ...]:
    """The same as a sentence; none where there is nothing to say."""
    words = caveat_words(caveats)
    return (f"The gain rests on what is not so yet: {words}.",) if words else ()


def _of_all(outcomes: Iterable[Outcome]) -> tuple[str, ...]:
    """What any of the tries rests on, as a sentence."""
    held = {caveat for outcome in outcomes for caveat in outcome.caveats}
    return _resting(caveat for caveat in Caveat if caveat in held)


def outcome_words(outcome: Outcome) -> str:
    """What one try brought, in a sentence."""
    if outcome.problem:
        return f"not allowed. {what_is_wrong(outcome.problem)}"
    gain = f"saleable gain {likely_gain_text(outcome.gains.saleable, outcome.likely)}"
    if outcome.itself is not None:
        itself = likely_gain_text(outcome.itself, outcome.likely_itself)
        gain = f"its output {itself} over the reference as it stands; {gain} with the same value"
    said = [gain]
    said.append(f"{number(outcome.spindle_hours)} spindle h a week")
    if outcome.least_met is not None:
        said.append(f"demand met {rounded(outcome.least_met, 0)} %")
    if outcome.money is not None:
        gain = year_gain_texts(outcome.money, outcome.likely_money)[0]
        pays = payback_texts(outcome.money, outcome.likely_money)[0]
        said.append(f"yearly gain {gain}, payback {pays}")
    if outcome.said is not None:
        said.append(f"said {rounded(outcome.said.hours_per_day)} h a day")
    if outcome.caveats:
        said.append(f"it rests on: {caveat_words(outcome.caveats)}")
    if outcome.held_back is not None:
        said.append(limited_by_words(outcome.held_back))
    return "; ".join(said) + "."


# -- curves --------------------------------------------------------------------------------


def marks(curve: Curve, place: int) -> tuple[str, ...]:
    """What is to be marked at a value, in words."""
    at_now = place_of_value([curve.points[place].value], curve.varied.now_value) is not None
    stops = place == curve.knee and curve.stops_paying
    enough = "as good as any" if curve.way[:1] == (place,) else "output grows no more"
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


def curve_lead(curve: Curve, level: BreakEven | None, wanted: BreakEven | None = None) -> str:
    """Where output grows no more, where it breaks even, where demand is met, as short as can be.

    A gain that is wanted, where one is, comes first.
    """
    return _with_level([each.in_short for each in curve_findings(curve)][:2], level, wanted)


def curve_in_full(curve: Curve, level: BreakEven | None, wanted: BreakEven | None = None) -> str:
    """The same with its reasons, and whatever else there is to be said."""
    return _with_level(curve_sentences(curve), level, wanted)


def _with_level(said: Sequence[str], level: BreakEven | None, wanted: BreakEven | None) -> str:
    """What is wanted first; the break-even after the first sentence of the curve."""
    first = [] if wanted is None else [wanted_words(wanted)]
    even = [] if level is None else [level_words(level)]
    return " ".join([*first, *said[:1], *even, *said[1:]])


def point_words(curve: Curve, point: Point) -> str:
    """One value of a curve in words."""
    return f"{curve.varied.label} {point.value.text}: {outcome_words(point.outcome)}"


def curve_sentences(curve: Curve) -> tuple[str, ...]:
    """What is to be said of a curve: what is not allowed, where output grows no more, the rest."""
    refused = [point for point in curve.points if point.outcome.problem]
    found = tuple(finding.text for finding in curve_findings(curve))
    if not refused:
        return found
    which = ", ".join(point.value.text for point in refused)
    return (f"Not allowed: {which}. {what_is_wrong(refused[0].outcome.problem)}", *found)


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
    resting = _of_all(point.outcome for point in curve.points)
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
    if len(curve.way) > 1:
        return [_grows_no_more(curve), *_is_met(curve)]
    nothing = CurveFinding("None of the values is allowed, so there is nothing to show")
    return [] if curve.way else [nothing]


def _grows_no_more(curve: Curve) -> CurveFinding:
    way = curve.way
    begin, end = (curve.points[place].value for place in (way[0], way[-1]))
    first, last = begin.text, end.text
    beyond = "larger" if end.number > begin.number else "smaller"
    until = f"{'up' if beyond == 'larger' else 'down'} to {last}"
    if curve.knee is None:
        if curve.is_flat:
            return CurveFinding(_flat(curve, _span_tried(begin, end)))
        least = f"{last}, the {beyond[:-1]}st value tried"
        short = _short_of_paying(curve, way[-1])
        is_most = all(_reads_less(curve, place, way[-1]) for place in way[:-1])
        each = ": each of the others brings less" if is_most else ""
        but = f"{'; ' if each else ': '}{short}" if short else ""
        return CurveFinding(f"Saleable output is largest at {least}", f"{each}{but}.")
    at = curve.points[curve.knee].value.text
    # The figures that stand beside it say the same, or nothing is said.
    falls = curve.falls and _reads_less(curve, way[-1], curve.knee)
    rises = curve.rises and _reads_less(curve, way[0], curve.knee)
    after = f" At {last} there is less again." if falls else ""
    if not curve.stops_paying:
        return CurveFinding(
            f"What a {beyond} value than {at}, tried {until}, brings {_UNTOLD}",
            f": maybe up to {rounded(curve.beyond)} points, maybe nothing.{after}",
        )
    is_largest = not any((_reads_over(curve, place, curve.knee) or 0.0) > 0 for place in way)
    if falls and rises and is_largest:
        low, high = (first, last) if beyond == "larger" else (last, first)
        return CurveFinding(
            f"Saleable output is largest at {at}", f": both {low} and {high} bring less."
        )
    if curve.knee == way[0]:
        return CurveFinding(
            f"{first} is as good as any, tried {until}",
            f": no {beyond} value {'' if is_largest else 'clearly '}brings more.{after}",
        )
    # Money may go on rising, or have fallen long before: only output is told of here.
    short = _short_of_paying(curve, curve.knee)
    but = f"; {short}" if short else ""
    none = f": no {beyond} value tried brings a difference{but}.{after}"
    return CurveFinding(f"Saleable output grows no more from {at} on, tried {until}", none)


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
    return f"What the values tried, {span}, change in saleable output {_UNTOLD}"


def _is_met(curve: Curve) -> list[CurveFinding]:
    way = curve.way
    reached = {place: curve.points[place].outcome.least_met for place in way}
    known = {place: met for place, met in reached.items() if met is not None}
    if not known:
        return []
    if curve.met is None:
        span = _span_tried(*(curve.points[place].value for place in (way[0], way[-1])))
        if not any(known.values()):
            # One that is not made at all is made with none of them.
            return [CurveFinding(f"With no value tried, {span}, is every part made")]
        nearest = max(known, key=lambda place: known[place])
        reasons = (
            f"; nearest is {curve.points[nearest].value.text}, where the part furthest behind "
            f"reaches {rounded(known[nearest])} %."
        )
        return [CurveFinding(f"No value tried, {span}, meets the demand of every part", reasons)]
    at = curve.points[curve.met].value.text
    if curve.met == way[0] and all(all_met(curve.points[place].outcome) for place in way):
        return [CurveFinding("The demand of every part is met with every value tried")]
    if not curve.met_is_clear:
        reasons = "; the likely range leaves open from which value on."
        return [CurveFinding(f"As entered the demand of every part is first met at {at}", reasons)]
    return [CurveFinding(f"The demand of every part is {_met_where(curve, at)}")]


def _met_where(curve: Curve, at: str) -> str:
    """From which value on it is met throughout, and at which ones it fails in between."""
    way = curve.way
    text = {place: curve.points[place].value.text for place in way}
    missed = [n for n, place in enumerate(way) if not all_met(curve.points[place].outcome)]
    throughout = way[missed[-1] + 1 :] if missed else way
    if not curve.unmet:
        is_from = throughout[:1] == (curve.met,) and len(throughout) > 1
        return f"met from {at} on" if is_from else f"first met at {at}"
    fails = listed([text[place] for place in curve.unmet])
    # A row beside it that reads as less than all is not passed over.
    after = way[way.index(curve.met) + 1 :] if curve.met in way else ()
    doubted = [place for n, place in enumerate(way) if n in missed and place in after]
    doubted = [place for place in doubted if place not in curve.unmet]
    if doubted:
        fails += f", and whether at {listed([text[place] for place in doubted])} {_UNTOLD}"
    if throughout:
        return f"met from {text[throughout[0]]} on. At {at} it is met too, but fails at {fails}"
    if curve.better > 0 and curve.unmet == way[way.index(curve.unmet[0]) :]:
        return f"met at {at}, and no more from {text[curve.unmet[0]]} on"
    return f"met at {at}, but fails at {fails}"


def axis_text(curve: Curve, value: Value) -> str:
    """A value where its unit stands beside all of them; times of day as they are."""
    return value.text if curve.varied.is_clock else f"{value.number:g}"


# -- break-evens -----------------------------------------------------------------------------


TARGET_UNITS = {
    "gain": "%",
    "hours": "h a week",
    "pieces": "a week",
    "met": "%",
    "payback": "years",
    "said": "h a day",
}
"""The unit of a target's amount and of margins."""


def target_words(found: BreakEven) -> str:
    """What is to be reached, as it stands in a sentence."""
    target = found.target
    amount = f"{target.amount:g}"
    return {
        "gain": _gain_words(found),
        "hours": f"{amount} spindle hours a week",
        "pieces": f"{amount} good pieces of {target.part} a week",
        "met": f"{amount} % of the demand of {target.part or 'every part'}",
        "payback": f"a payback of {amount} years or less",
        "said": f"{amount} h a day as said in the meeting",
    }[target.kind]


def _gain_words(found: BreakEven) -> str:
    """A gain to be reached; none is being level."""
    of = f"the saleable output of {found.asked.against}"
    itself = " as it stands" if found.asked.is_reference else ""
    return f"{found.target.amount:g} % more than {of}{itself}" if found.target.amount else of


def wanted_words(found: BreakEven) -> str:
    """From which values on a gain that is wanted is reached, in one sentence."""
    what = f"+{found.target.amount:g} %"
    if found.in_doubt is not None:
        return f"Whether {what} is reached at {found.in_doubt.text} {_UNTOLD}."
    if found.always is True:
        return f"{what} is reached with every value tried, {_span_looked_at(found)}."
    if found.always is False:
        near = ""
        if found.nearest is not None:
            reached = tenths_text(found.target.amount + found.margin)
            near = f"; nearest is {found.nearest.text}, with {reached}"
        return f"{what} is reached with no value tried, {_span_looked_at(found)}{near}."
    clear = [crossing for crossing in found.crossings if crossing.is_clear]
    if not clear:
        return f"Whether {what} is reached near {found.crossings[0].at.text} {_UNTOLD}."
    places = "; ".join(f"from {each.at.text} {_way(each)}{_between(each)}" for each in clear)
    many = f" in {len(clear)} places, it goes both ways:" if clear[1:] else ""
    return f"{what} is reached{many} {places}."


def wanted_then_words(wanted: float) -> str:
    """That a gain that is wanted is looked for once there is a curve."""
    return f"From which value on +{wanted:g} % is reached is told then."


def level_words(found: BreakEven) -> str:
    """Every break-even of the range in one sentence, or that there is none."""
    what = target_words(found)
    if found.target.kind == "gain":
        # The reference moves too: that is not where its output as it stands is met.
        same = " with the same value" if found.varied.moved.is_in_reference else ""
        what = f"{found.asked.against}{same}"
    if found.in_doubt is not None:
        return f"Whether there is a break-even with {what} near {found.in_doubt.text} {_UNTOLD}."
    if found.always is True:
        tried = f"no value tried, {_span_looked_at(found)},"
        return f"No break-even with {what}: {tried} falls below it."
    if found.always is False:
        near = ""
        if found.nearest is not None:
            near = f"; nearest is {found.nearest.text}{_short_of(found)}"
        tried = f"no value tried, {_span_looked_at(found)},"
        return f"No break-even with {what}: {tried} reaches it{near}."
    clear = [crossing for crossing in found.crossings if crossing.is_clear]
    if not clear:
        first = found.crossings[0]
        return f"Whether there is a break-even with {what} near {first.at.text} {_UNTOLD}."
    listed = "; ".join(f"from {each.at.text} {_way(each)}{_between(each)}" for each in clear)
    many = f"in {len(clear)} places, it goes both ways: " if clear[1:] else ""
    return f"Break-even with {what} {many}{listed}."


def _span_looked_at(found: BreakEven) -> str:
    """Between which values it was looked for: no sentence holds beyond them."""
    return _span_tried(found.low, found.high)


def _span_tried(*ends: Value) -> str:
    low, high = sorted(ends, key=lambda value: value.number)
    return f"{low.text} to {high.text}"


def _way(crossing: Crossing) -> str:
    return "up" if crossing.upward else "down"


def _between(crossing: Crossing) -> str:
    """Between which values it cannot be told, where these are not next to each other."""
    below, above = crossing.below, crossing.above
    if below is None or above is None or {below, above} == {crossing.at, crossing.beside}:
        return ""
    return f" (likely between {below.text} and {above.text})"


def break_even_sentences(found: BreakEven) -> tuple[str, ...]:
    """Whether and where the target is reached, and how sure that is."""
    what = target_words(found)
    span = _span_looked_at(found)
    said = []
    if found.in_doubt is not None:
        each = "every value" if found.always else "no value tried"
        said.append(
            f"As entered {each} from {span} reaches {what}; whether {found.in_doubt.text} does "
            f"{_UNTOLD}, so whether there is a break-even is open."
        )
    elif found.always is True:
        said.append(f"Every value from {span} reaches {what}; there is no break-even in between.")
    elif found.always is False and found.nearest is not None:
        said.append(
            f"No value tried from {span} reaches {what}. Nearest is {found.nearest.text}"
            f"{_short_of(found)}."
        )
    elif len(found.crossings) > 1:
        said.append(f"From {span} there are {len(found.crossings)} places, so it goes both ways:")
    said += [_crossing(found, crossing) for crossing in found.crossings]
    if found.jumps:
        said.append(
            f"{found.tried} values were tried. What a cell reaches goes in jumps: between two "
            "values that were tried next to each other there may be more."
        )
    said += _resting(found.caveats)
    said.append(f"Moved {moved_words(found.varied, found.asked)}.")
    return (*said, worked_from(found.asked)) if found.jumps else tuple(said)


def _short_of(found: BreakEven) -> str:
    """What the nearest value reaches, and how much of the target that is short of."""
    if not isfinite(found.margin):
        return ", which never pays back"
    target, short = found.target, rounded(-found.margin)
    reached = rounded(target.amount + found.margin)
    return {
        "gain": (
            f", with {tenths_text(target.amount + found.margin)}: {short} points short"
            if target.amount
            else f", with {tenths_text(found.margin)} of saleable output against it"
        ),
        "hours": f", with {reached} spindle hours a week: {short} short",
        "pieces": f", with {reached} pieces a week: {short} short",
        "met": f", with {reached} % of it met: {short} points short",
        "payback": f", with {rounded(target.amount - found.margin)} years: {short} too many",
        "said": f", with {reached} h a day: {short} short",
    }[target.kind]


def _crossing(found: BreakEven, crossing: Crossing) -> str:
    way = "more" if crossing.upward else "less"
    what = target_words(found)
    if not crossing.is_clear:
        return (
            f"As entered {crossing.at.text} reaches {what} and {crossing.beside.text} does not; "
            f"that {_UNTOLD}, so it is no break-even."
        )
    text = (
        f"With {crossing.at.text} and {way} it reaches {what}; with {crossing.beside.text} it does "
        "not."
    )
    if _between(crossing) and crossing.below and crossing.above:
        text += (
            f" Between {crossing.below.text} and {crossing.above.text} the likely range leaves "
            "open whether it does."
        )
    return text


# -- rankings --------------------------------------------------------------------------------


_NONE_MOVES = "No input makes a clear difference."


def ranking_lead(found: Ranking) -> str:
    """What matters most, and what of that nobody has measured."""
    if not found.moving:
        return _NONE_MOVES
    text = _first(found)
    measure = _only_assumed(found)
    if not measure:
        return f"{text} {_all_entered(found)}"
    listed = ", ".join(measure[:4])
    more = f" and {len(measure) - 4} more" if len(measure) > 4 else ""
    return f"{text} Only assumed, and it matters: {listed}{more}. {_LOOK}"


def ranking_so_far(found: Ranking) -> str:
    """Above a ranking that is still worked out: what is there, and what is not."""
    if any(effect.is_open for effect in found.effects):
        return "So far (grey: its range follows):"
    return "So far:"


def _first(found: Ranking) -> str:
    """What matters most of what is measured or bought, and of the shop's own rules."""
    rules = [effect.input.label for effect in found.moving if effect.input.is_chosen]
    others = [effect.input.label for effect in found.moving if not effect.input.is_chosen]
    if not others:
        return f"What matters most: {rules[0]}, a rule of your own."
    text = f"What matters most: {others[0]}."
    return f"{text} Of your own rules: {rules[0]}." if rules else text


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
    where = (
        ""
        if asked.is_reference
        else (
            f" What {asked.title} and {asked.against} take from one place is moved in both, what "
            f"{asked.title} alone holds in it alone."
        )
    )
    return (
        "Each input is moved by a tenth, in all parts at once where several have it, counts by "
        "one, times of day by half an hour; what nobody has said is tried at values that a shop "
        f"may have. The change is that of {what}.{where} "
        "Rules that the shop gives itself follow what is measured or bought."
    )


def ranking_signs(found: Ranking) -> tuple[str, ...]:
    """How the bars of a list are read, and what stands in the place of some."""
    of = "output" if found.asked.is_reference else "gain"
    bars = (
        f"Bars: to the left the {of} falls, to the right it rises; ▀ with less of the input, ▄ "
        "with more. The smallest piece is any change, however small."
    )
    if not any(map(output_beside, found.effects)):
        return (bars,)
    own = f"{found.asked.title}'s own, with less / more of it, where the gain does not say it"
    return bars, f'"output": {own}.'


def _measure(found: Ranking) -> str:
    """What matters and is only assumed, so that it has to be measured."""
    if not found.moving:
        return _NONE_MOVES
    which = ", ".join(_only_assumed(found)[:5])
    if not which:
        return _all_entered(found)
    return f"Only assumed, and it matters: {which}. {_LOOK}"


_LOOK = "Go and look at these, or measure them, first."


def _all_entered(found: Ranking) -> str:
    if any(effect.input.origin.is_assumed for effect in found.moving):
        return "Of what matters only rules of your own are assumed: decide them."
    return "Every input that matters has been entered; none of them is only assumed."


def _only_assumed(found: Ranking) -> list[str]:
    # A rule of the shop's own is decided, and nothing to be looked at.
    return [
        effect.input.label
        for effect in found.moving
        if effect.input.origin.is_assumed and not effect.input.is_chosen
    ]


def ranking_rest(found: Ranking) -> tuple[str, ...]:
    """What it rests on."""
    return (*_resting(found.caveats), worked_from(found.asked))


def _with_ids(label: str, ids: Sequence[str]) -> str:
    """The name of an input with the things that have it, as long as these are few."""
    if not ids:
        return label
    return f"{label} ({', '.join(ids)})" if len(ids) <= 3 else f"{label} ({len(ids)} of them)"


def unmoved(found: Ranking) -> str:
    """The inputs that make no clear difference, as one list in words; "" where all make one."""
    names: dict[str, list[str]] = {}
    for effect in found.effects:
        if not effect.most:
            ids = names.setdefault(effect.input.key.label, [])
            ids.extend(path[1] for path in effect.input.paths if path[2:])
    return ", ".join(_with_ids(name, things) for name, things in names.items())


def effect_words(found: Ranking, effect: Effect) -> str:
    """What one input does to the gain, in words."""
    source = effect.input.origin
    origin = "assumed: go and measure" if source.is_assumed else input_source_words(effect.input)
    what = "its output" if found.asked.is_reference else "the gain"
    unit = "%" if found.asked.is_reference else "points"
    sides = (effect.down, effect.up)
    said = [_side_words(side, what, unit) for side in sides if side is not None]
    moved = "; ".join(said) or "it cannot be moved from here"
    where = moved_words(effect.input, found.asked)
    rule = ", a rule of your own" if effect.input.is_chosen else ""
    text = f"{effect.input.label}{rule}, {now_words(effect)} ({origin}), moved {where}: {moved}."
    return text + _itself(found, effect)


def _itself(found: Ranking, effect: Effect) -> str:
    """What an input of both moves in the scenario itself; "" for others."""
    if effect.input.moved is not Moved.BOTH:
        return ""
    known = [
        f"{percent_text(side.itself)} at {side.value.text}"
        for side in (effect.down, effect.up)
        if side is not None and side.itself is not None
    ]
    return f" {found.asked.title} itself then makes {' and '.join(known)}." if known else ""


def output_beside(effect: Effect) -> str:
    """What less and more of an input do to the scenario's own output; "" where the gain says it.

    An input of both may help the reference as much, or more: the gain stays as it is though both
    make more, or falls though nobody makes less.
    """
    sides = (effect.down, effect.up)
    known = [side for side in sides if side is not None and side.itself is not None]
    if effect.input.moved is not Moved.BOTH:
        return ""
    if effect.most:
        tells = any(
            side.is_difference and (side.change or 0) * (side.itself or 0) < 0 for side in known
        )
    else:
        tells = not any(side.is_untold for side in known)
    told = [
        NOTHING if side is None or side.itself is None else _own_output(side.itself)
        for side in sides
    ]
    moves = any(text not in (NOTHING, "0") for text in told)
    return f"output {' / '.join(told)} %" if tells and moves else ""


def _own_output(change: float) -> str:
    """A change of it in whole percent; nothing has no sign."""
    return signed(change, 0) if rounded(change, 0) != "0" else "0"


def now_words(effect: Effect) -> str:
    """What holds now, in a sentence."""
    if effect.input.all_of:
        return "now each its own"
    return f"now {effect.input.now_text}" if effect.input.now_text else "not given"


def now_in_short(effect: Effect) -> str:
    """The same in a narrow column; "–" where it is not given, of whom where it is of all."""
    if effect.input.path[-1] == "does":
        return "releases"
    if effect.input.all_of:
        return effect.input.label.removeprefix(name_in_short(effect)).removeprefix(" of ")
    return effect.input.now_text or NOTHING


def name_in_short(effect: Effect) -> str:
    """The input's name beside that: "setup" of all parts, which stands there already."""
    label = effect.input.label
    return label.partition(" of all ")[0] if effect.input.all_of else label


def moved_by(effect: Effect) -> str:
    """By how much an input is moved, or what is tried, in a narrow column: "± 10 %", "to 2 %"."""
    down, up = effect.down, effect.up
    if effect.step is MovedBy.TRIED:
        tried = [side.value.text for side in (down, up) if side is not None]
        if effect.input.path[-1] == "does":
            return "to not"
        return f"to {'/'.join(tried)}"
    return f"± {_STEPS[effect.step]}"


_STEPS: Final = {MovedBy.TENTH: "10 %", MovedBy.ONE: "1", MovedBy.HALF_HOUR: "30 min"}


def _side_words(side: Side, what: str, unit: str) -> str:
    if side.change is None:
        return f"{side.value.text} is not allowed"
    if side.is_untold:
        return f"what {side.value.text} changes {_UNTOLD}"
    if not side.is_difference:
        return f"{side.value.text} makes no difference"
    moves = "rises" if side.change > 0 else "falls"
    if side.likely is not None and lies_outside(side.change, side.likely):
        typed = signed(side.change, digits_of(side.change, side.likely))
        ends = leading_range_text(side.likely, side.change)
        return f"at {side.value.text} {what} changes by likely {ends} {unit} (as typed {typed})"
    digits, likely = digits_of(side.change, side.likely), ""
    if side.is_open:
        likely = " (its likely range follows)"
    elif side.likely is not None:
        likely = f" (likely {range_text(side.likely, gain=side.change)})"
    much = rounded(abs(side.change), digits)
    return f"at {side.value.text} {what} {moves} by {much} {unit}{likely}"


NOT_VALID: Final = "not valid"
"""Of a value that may not be entered, where there is little room."""


def side_text(side: Side | None, not_allowed: str = NOT_VALID) -> str:
    """The change of one side in a narrow column."""
    if side is None:
        return NOTHING
    if side.change is None:
        return not_allowed
    if side.is_difference:
        return bare_percent_text(side.change, side.likely)
    return UNTOLD if side.is_untold else SAME


def sides_in_short(effect: Effect) -> tuple[str, str]:
    """Those of less and of more of an input; a word says why there is none."""
    if not effect.input.key.kind.numeric:
        ends = (NOTHING, NOTHING)
    elif effect.step is MovedBy.TRIED:
        ends = (NOT_TRIED, NOT_TRIED)
    else:
        ends = (LOWEST, HIGHEST)
    less, more = (
        end if side is None else side_text(side)
        for side, end in zip((effect.down, effect.up), ends, strict=True)
    )
    return less, more


LOWEST: Final = "lowest"
HIGHEST: Final = "highest"
"""Of an input that cannot go that way: it stands at its end, or 0 would take the thing out."""

NOT_TRIED: Final = "not tried"
"""Of one that nobody has said, and that is tried at one value alone."""


def pull(side: Side | None) -> float:
    """How far the bar of a side goes, left where it is less than nothing; 0 where none is told."""
    return side.change or 0.0 if side is not None and side.is_difference else 0.0


# -- tables of two ---------------------------------------------------------------------------


def grid_text(outcome: Outcome) -> str:
    """What a cell brings over the reference as it stands."""
    return NOT_VALID if outcome.problem else gain_in_short(outcome.over_now)


def grid_titles(found: Grid) -> tuple[str, ...]:
    """What the cells tell, ever shorter."""
    if not is_over_now(chain.from_iterable(found.outcomes)):
        return ("saleable gain",)
    return over_now_words(found.asked), "output over the reference as it stands", "output over now"


def grid_lead(found: Grid) -> str:
    """Which cell is the best, the first of equals."""
    if found.best is None:
        return _no_best(found)
    best = _best(found)
    if best is None:
        return f"No pair of values clearly brings more than {_held_against(found)}."
    alike = ""
    if found.alike:
        others = f"{found.alike} other{'s' if found.alike > 1 else ''}"
        alike = f" ({others}{_up_to(found, best)} cannot be told from it)"
    held = _held_against(found)
    return f"Best: {_pair(found, *found.best)}, {_gain_of(best)} over {held}{alike}."


def _no_best(found: Grid) -> str:
    if all(outcome.problem for row in found.outcomes for outcome in row):
        return "No pair of values is allowed."
    return "Which pair of values is the best cannot be told from the likely range."


def grid_sentences(found: Grid) -> tuple[str, ...]:
    """The best pair, what is not allowed, and the rest that is to be said of a table of two."""
    return (_grid_best(found), *grid_rest(found))


def _grid_best(found: Grid) -> str:
    if found.best is None:
        return _no_best(found)
    best = _best(found)
    if best is None:
        return f"No pair of values clearly brings more than {_held_against(found)}."
    others = (
        f"; {found.alike} of the others{_up_to(found, best)} cannot be told from it, "
        "and the first of all is named."
        if found.alike
        else "."
    )
    most = f"{_gain_of(best)} over {_held_against(found)}"
    return f"Most saleable output: {_pair(found, *found.best)} ({most}){others}"


def grid_rest(found: Grid) -> tuple[str, ...]:
    """What is to be said beside the best pair."""
    said = []
    problems = [outcome.problem for row in found.outcomes for outcome in row if outcome.problem]
    if problems:
        said.append(f"Not allowed: {len(problems)} of the pairs. {what_is_wrong(problems[0])}")
    if found.asked.is_reference:
        said.append(
            f"{found.asked.title} is the reference: its gains are against itself as it stands."
        )
    moved = (
        f"{each.label} is moved {moved_words(each, found.asked)}."
        for each in (found.down, found.across)
    )
    outcomes = tuple(chain.from_iterable(found.outcomes))
    if compared := compared_words(found.asked, outcomes):
        said.append(compared)
    return (*said, *_of_all(outcomes), *moved, worked_from(found.asked))


def _best(found: Grid) -> Outcome | None:
    """What the best pair brings; None where there is none, or it is no difference."""
    if found.best is None:
        return None
    outcome = found.outcomes[found.best[0]][found.best[1]].over_now
    gain = outcome.leading_gain if outcome.is_clear else None
    # What is clearly less than the reference is no best one either.
    return outcome if gain is not None and gain > 0 else None


def _gain_of(outcome: Outcome) -> str:
    """What leads of a gain that there is, with its unit."""
    return percent_text(outcome.leading_gain or 0.0, outcome.likely)


def _up_to(found: Grid, best: Outcome) -> str:
    """The largest gain of a cell, where it reads larger than the best one's."""
    outcomes = (outcome.over_now for line in found.outcomes for outcome in line)
    most = max(
        (each for each in outcomes if each.leading_gain is not None),
        key=lambda each: each.leading_gain or 0.0,
    )
    is_more = (most.leading_gain or 0.0) > (best.leading_gain or 0.0)
    text = _gain_of(most)
    return f", up to {text}," if is_more and text != _gain_of(best) else ""


def grid_words(found: Grid, row: int, column: int) -> str:
    """One cell in words."""
    outcome = found.outcomes[row][column]
    return f"{_pair(found, row, column)}: {outcome_words(outcome)}"


def _pair(found: Grid, row: int, column: int) -> str:
    """The two values of a cell with their labels."""
    down, across = found.values_down[row].text, found.values_across[column].text
    return f"{found.down.label} {down}, {found.across.label} {across}"


def _held_against(found: Grid) -> str:
    """What a cell is held against: where that is moved too, as it stands without that."""
    if found.asked.is_reference:
        return f"{found.asked.title} as it stands"
    is_moved = is_over_now(chain.from_iterable(found.outcomes))
    return f"{found.asked.against} as it stands" if is_moved else found.asked.against


_SMALL: Final = 5.0
"""Percentage points over which a grid is shaded at least."""


def grid_shares(found: Grid) -> list[list[float | None]]:
    """How far each gain lies from the least, 0, to the largest, 1.

    None where there is none, and where it cannot be told, or no two from each other: a bar would
    tell it all the same. A few points are no whole bar either.
    """
    if found.best is None:
        return [[None for _ in line] for line in found.outcomes]
    gains = [
        [None if grid_text(each) == UNTOLD else each.over_now.leading_gain for each in line]
        for line in found.outcomes
    ]
    known = [gain for line in gains for gain in line if gain is not None]
    least, most = min(known, default=0.0), max(known, default=0.0)
    span = max(most - least, _SMALL)
    return [[None if gain is None else (gain - least) / span for gain in line] for line in gains]


def grid_best(found: Grid) -> tuple[int, int] | None:
    """Row and column of the best pair; None where what it brings is no clear difference."""
    return None if _best(found) is None else found.best


# -- in "metric" or "inch" units, or as typed in any other word --------------------------------


def curve_in(found: Curve, units: str) -> Curve:
    """A curve in the units; what is taken from it into the study stays as typed."""
    varied = found.varied
    points = tuple(
        replace(point, value=varied.value_told_in(point.value, units)) for point in found.points
    )
    return replace(found, varied=varied.told_in(units), points=points)


def level_in(found: BreakEven | None, units: str) -> BreakEven | None:
    """A break-even in the units."""
    if found is None:
        return None
    varied = found.varied

    def told(value: Value) -> Value:
        return varied.value_told_in(value, units)

    return replace(
        found,
        varied=varied.told_in(units),
        low=told(found.low),
        high=told(found.high),
        nearest=None if found.nearest is None else told(found.nearest),
        in_doubt=None if found.in_doubt is None else told(found.in_doubt),
        crossings=tuple(
            replace(
                crossing,
                at=told(crossing.at),
                beside=told(crossing.beside),
                below=crossing.below and told(crossing.below),
                above=crossing.above and told(crossing.above),
            )
            for crossing in found.crossings
        ),
    )


def ranking_in(found: Ranking, units: str) -> Ranking:
    """A ranking in the units."""

    def told(side: Side | None, effect: Effect) -> Side | None:
        return side and replace(side, value=effect.input.value_told_in(side.value, units))

    return replace(
        found,
        effects=tuple(
            replace(
                effect,
                input=effect.input.told_in(units),
                down=told(effect.down, effect),
                up=told(effect.up, effect),
            )
            for effect in found.effects
        ),
    )


def grid_in(found: Grid, units: str) -> Grid:
    """A table of two inputs in the units."""
    return replace(
        found,
        down=found.down.told_in(units),
        across=found.across.told_in(units),
        values_down=tuple(found.down.value_told_in(each, units) for each in found.values_down),
        values_across=tuple(
            found.across.value_told_in(each, units) for each in found.values_across
        ),
    )
