"""What moves a scenario, in whole sentences: of curves, tables, rankings and break-evens."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite

from whatif.answers.gains import is_difference
from whatif.answers.moves.break_even import BreakEven, Crossing
from whatif.answers.moves.changing import AskedAbout
from whatif.answers.moves.sensitivity import Ranking
from whatif.answers.moves.targets import Target
from whatif.answers.moves.vary import Curve, Grid, all_met
from whatif.telling.problems import what_is_wrong
from whatif.telling.table import percent_text

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
