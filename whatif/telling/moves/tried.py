"""What is moved, what it rests on, and what one try brought, in words.

A screen has little room and is told in short; reports, and screens with room, in whole sentences.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from whatif.answers.answer import Answer
from whatif.answers.caveats import Caveat
from whatif.answers.gains import is_nothing
from whatif.answers.moves.held import Moved
from whatif.answers.moves.inputs import Input, Value
from whatif.answers.moves.trial import AskedAbout, Outcome
from whatif.answers.ranks import Range
from whatif.study.resolve import Source
from whatif.telling.amounts import NOTHING, number, rounded
from whatif.telling.gain_texts import (
    NOT_CLEAR,
    bare_percent_text,
    likely_gain_text,
    percent_text,
    range_text,
)
from whatif.telling.limits import limited_by_words, met_percent
from whatif.telling.money.ranges import payback_texts, year_gain_texts
from whatif.telling.problems import what_is_wrong

SAME = "no change"
"""Stands where there is no room for "no difference"."""

UNTOLD = "not clear"
"""Stands where there is no room for "cannot be told from the likely range"."""

CANNOT_BE_TOLD = "cannot be told from the likely range"
"""The same with its reason, where there is room."""


# -- what is moved -------------------------------------------------------------------------


def moved_words(varied: Input, asked: AskedAbout) -> str:
    """In which scenarios an input is moved: "in Child alone"."""
    if varied.moved is Moved.ITSELF:
        return f"in {asked.title}, against itself as it stands"
    if varied.moved is Moved.ALONE:
        return f"in {asked.title} alone"
    if varied.moved is Moved.EACH:
        return (
            f"in both where {asked.title} and {asked.against} have it in common, else in "
            f"{asked.title} alone"
        )
    return f"in both, as {_in_common(varied, asked)}"


def _in_common(varied: Input, asked: AskedAbout) -> str:
    """Why a scenario and the reference have one value: who has it from whom."""
    title, against, from_ = asked.title, asked.against, varied.entered_in
    if from_ == against:
        return f"{title} inherits it from {against}"
    if from_ == title:
        return f"{against} inherits it from {title}"
    if from_:
        return f"{title} and {against} inherit it from {from_}"
    if varied.origin.kind is Source.ASSUMED:
        return f"neither {title} nor {against} enters it"
    return f"{title} and {against} have it in common"


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
    draws = f"{draws_words(asked.draws)}{of}"
    also = "; the sheet's also cover both readings of the hour meters' gap"
    meters = also if asked.is_metered else ""
    return f"It rests on {weeks}{runs}{fewer}, and likely ranges on {draws}{meters}."


def draws_words(draws: int) -> str:
    """So many draws: "1 draw"."""
    return f"{draws} draw{'s' if draws != 1 else ''}"


def draws_in_short(asked: AskedAbout, room: int) -> str:
    """Why likely ranges are others than those of the strip, in so many cells: fewer draws, no gap.

    "" where they do not, or there is no room. As it stands now it is the strip's own.
    """
    few, many = asked.draws < asked.of_draws, draws_words(asked.draws)
    but, sheet = f", not {asked.of_draws}", f"in the sheet {asked.of_draws}"
    if asked.is_answered_now:
        but = f", {asked.of_draws} at now"
        sheet = f"but {asked.of_draws} at the value now, as in the sheet"
    texts = []
    if asked.is_metered:
        gap = f"; {WITHOUT_GAP}"
        texts += [f"{gap}, {many}{but}"] * few
        texts += [f"{gap}, which the sheet's have", gap]
    if few:
        texts += [
            f"; likely ranges: {many}, {sheet}",
            f"; {many}{but}",
        ]
    return next((text for text in texts if len(text) <= room), "")


def draws_sentence(asked: AskedAbout) -> str:
    """The same at the end of a text; "" where likely ranges are those of the strip."""
    text = draws_in_short(asked, _ANY).removeprefix("; ").removeprefix("likely ranges: ")
    return f"Likely ranges: {text}." if text else ""


_ANY: Final = 1000
"""Cells in which any of these texts has room."""

WITHOUT_GAP: Final = "without the hour meters"
"""Of likely ranges that tell nothing of the hours that the meters leave open."""


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


def resting_words(caveats: Iterable[Caveat]) -> tuple[str, ...]:
    """The same as a sentence; none where there is nothing to say."""
    words = caveat_words(caveats)
    return (f"The gain rests on what is not so yet: {words}.",) if words else ()


def resting_of_all(outcomes: Iterable[Outcome]) -> tuple[str, ...]:
    """What any of the tries rests on, as a sentence."""
    held = {caveat for outcome in outcomes for caveat in outcome.caveats}
    return resting_words(caveat for caveat in Caveat if caveat in held)


def without_gap_words(asked: AskedAbout, answer: Answer | None) -> str:
    """Why a likely range is another than the sheet's, where hour meters hold; "" elsewhere.

    Args:
        answer: the study's own, of a try of what stands in it: what the sheet tells then follows.
    """
    if not asked.is_metered:
        return ""
    judged = None if answer is None else answer.judged
    if answer is None or judged is None or asked.is_reference:
        return WITHOUT_GAP
    return f"{WITHOUT_GAP}; the sheet: {range_text(judged, answer.gains.saleable)}"


def outcome_words(outcome: Outcome, without_gap: str = "", *, is_drawn: bool = False) -> str:
    """What one try brought, in a sentence.

    Args:
        without_gap: what stands behind a likely range that leaves out the hour meters' gap.
        is_drawn: whether a gain that is not clear is drawn as typed: then it is told too.
    """

    def told(gain: float | None, likely: Range | None) -> str:
        text = likely_gain_text(gain, likely)
        if likely is None or gain is None or "likely" not in text:
            return text
        behind = f"; as typed {percent_text(gain, likely)}"
        said = behind if is_drawn and text.startswith(NOT_CLEAR) and "as typed" not in text else ""
        said += f", {without_gap}" if without_gap else ""
        return f"{text[:-1]}{said})" if text.endswith(")") else f"{text}{said}"

    if outcome.problem:
        return f"not allowed. {what_is_wrong(outcome.problem)}"
    gain = f"saleable gain {told(outcome.gains.saleable, outcome.likely)}"
    if outcome.itself is not None:
        itself = told(outcome.itself, outcome.likely_itself)
        # At the value that stands both are the same: it is told once.
        if gain != f"saleable gain {itself}":
            over = "over the reference as it stands"
            gain = f"its output {itself} {over}; with the same value in the reference too {gain}"
    said = [gain]
    said.append(f"{number(outcome.spindle_hours)} spindle h a week")
    if outcome.least_met is not None:
        met = met_percent(outcome.least_met)
        said.append(f"demand met, lowest part: {met} % of wanted pieces")
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
