"""A scenario and a key in words, how far long work is, and what went wrong with it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from whatif.answers.per import Per
from whatif.study.schema.catalogue import key_for

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.answers.progress import Progress, Stage
    from whatif.study.check.check import Checked
    from whatif.study.raw import Path


def key_words(path: Path) -> str:
    """A value's key in the file, its default and what is allowed."""
    key = key_for(path)
    if key is None:
        return ""
    allowed = key.kind.allowed
    return f"In the file: {key.dotted}\nDefault: {key.default_words}\nAllowed: {allowed}"


def progress_words(progress: Progress) -> str:
    """How far long work is, and how long the rest may take: "3 of 10, about 5 s left"."""
    left = "" if progress.left is None else f", about {_left(progress.left)} left"
    return f"{progress.done} of {progress.of}{left}"


def stage_words(stage: Stage, progress: Progress) -> str:
    """How far a stage of an answer is: "likely ranges: 40 %, about 5 s left"."""
    from whatif.answers.progress import Stage

    what = {
        Stage.AS_TYPED: "as typed",
        Stage.COULD_MAKE: "what could be made at most",
        Stage.LIKELY: "likely ranges",
        Stage.METERS: "what hour meters leave open",
        Stage.RUSH: "rush orders",
    }[stage]
    if not progress.of:
        weeks = "1 week" if progress.done == 1 else f"{progress.done} weeks"
        return f"{what}: {weeks} simulated"
    left = "" if progress.left is None else f", about {_left(progress.left)} left"
    return f"{what}: {progress.percent} %{left}"


def _left(seconds: float) -> str:
    """A time that nobody knows to the second: minutes where it is long."""
    from whatif.cell.model import MINUTE

    if seconds < _LONG:
        return f"{max(1, round(seconds))} s"
    return f"{round(seconds / MINUTE)} min"


_LONG = 90
"""Seconds from which on minutes are told."""


def fault_words(fault: Exception) -> str:
    """A fault of the program's own; it names itself, for who can mend it."""
    return f"{type(fault).__name__}: {fault}"


def question_fault_words(fault: Exception) -> str:
    """The same where only the answer to a view's question is missing."""
    return f"{fault_words(fault)}. Any edit has it tried again."


def no_reply_words(fault: Exception) -> str:
    """Why nothing more comes of a calculation, from what was raised while it was waited for."""
    ended = isinstance(fault, EOFError | OSError)
    why = "it has stopped" if ended else f"a reply cannot be read ({fault!r})"
    return f"{why}; the next edit starts it again"


def scenario_title(checked: Checked, scenario: str) -> str:
    """What to call a scenario."""
    raw = checked.resolved[scenario].raw("title")
    return raw if isinstance(raw, str) and raw else scenario


def scenario_words(
    answer: Answer,
    reference: str,
    per: Per = Per.WEEK,
    units: str = "metric",
    against: str = "the reference",
    base: Answer | None = None,
) -> str:
    """A scenario's summary: first what it brings in a sentence, then what limits it, warnings,
    cautions in a line each, every figure, fit, and the cautions in full. What belongs to a heading
    stands a little to the right below it.

    ``per`` is the time that hours and pieces are told for, ``units`` what areas and
    sizes are shown in, ``against`` the reference's title, ``base`` its answer, for the hours alone
    and unattended that stand below their cautions.
    """
    from whatif.answers.cautions import alone_in, to_be_read
    from whatif.study.guesses import in_words
    from whatif.telling.cautions import (
        WHO_DECIDES,
        caution_in_a_line,
        caution_text,
        hours_of_caution,
    )
    from whatif.telling.caveats import out_of_step_sentence
    from whatif.telling.fit import (
        HOLDS,
        ON_TABLES_SIZE,
        as_large_as_tables,
        limits_told,
        table_taken_sentence,
    )
    from whatif.telling.gain_texts import same_as_sentence
    from whatif.telling.limits import held_back_per, limit_text
    from whatif.telling.meters import gain_by_meters
    from whatif.telling.warnings import warnings_of

    lead = _lead(answer, reference, against)
    said = [lead] if lead else []
    said += [text for text in (out_of_step_sentence(answer),) if text]
    said += [same_as_sentence(answer.plan.same_as)] if answer.plan.same_as else []
    said += [""] if said else []
    said += [in_words(answer.plan.notes.strip()), ""] if answer.plan.notes else []
    by_meters = gain_by_meters(answer, "the gain in saleable output")
    if by_meters and answer.plan.scenario != reference:
        said += ["Hour meters", f"  {by_meters}", ""]
    if answer.held_back is not None:
        held, time = held_back_per(answer, per)
        said += ["What limits it", f"  {limit_text(held, answer.could_make, time)}", ""]
    warned = warnings_of(answer)
    if warned:
        said += ["Warnings", *(f"  {text}" for text in warned), ""]
    cautions = to_be_read(answer.cautions, answer.plan)
    alone = alone_in(answer.plan, answer.figures)
    is_base = base is None or base.plan.scenario == answer.plan.scenario
    there = None if is_base or base is None else alone_in(base.plan, base.figures)
    for heading, stand in (("Cautions", False), ("Cautions that today calls for already", True)):
        told = []
        for each in (each for each in cautions if each.stands is stand):
            hours = hours_of_caution(each, alone, there, against)
            told += [f"  {caution_in_a_line(each)}", *([f"    {hours}"] if hours else [])]
        said += [heading, *told, f"  {WHO_DECIDES}", ""] if told else []
    said += [f"Figures per {per.value}", *_figures(answer, reference, per, units)]
    said += [*(f"  {text}" for text in _by_meters_alone(answer, reference)), ""]
    taken = as_large_as_tables(answer.plan)
    for part, by_group in answer.plan.fits.items():
        for group, fit in by_group.items():
            is_checked = any(limit.state != "unchecked" for limit in fit.limits)
            fits = "fits" if is_checked else "not checked"
            verdict = f"{fits}, {fit.per_pallet} a load" if fit.fits else "does not fit"
            if fit.fits and is_checked and group in taken:
                verdict = f"{fits} {ON_TABLES_SIZE}, {fit.per_pallet} a load"
            said += [f"{part} on {group}: {verdict}"]
            said += [f"  {text}" for _, text in limits_told(fit, part, group, units)]
    if answer.plan.fits:
        of_fits = {group for by in answer.plan.fits.values() for group in by if by[group].fits}
        said += [f"  {table_taken_sentence(group)}" for group in taken if group in of_fits]
        said += [f"  {HOLDS}"]
    if cautions:
        said += [
            "",
            "The cautions in full",
            *(f"  {caution_text(each, units)}" for each in cautions),
        ]
    return "\n".join(said) if said else "There is nothing to say of it yet."


def _lead(answer: Answer, reference: str, against: str) -> str:
    """The one sentence that matters: what it brings, and what limits it."""
    from whatif.telling.gain_texts import CHANGES_NOTHING, likely_gain_text
    from whatif.telling.limits import limited_by_words
    from whatif.telling.strip import changes_nothing, leading_gain

    gain, likely, _ = leading_gain(answer)
    if answer.plan.scenario == reference:
        brings = "What the others are measured against"
    elif gain is None:
        return ""
    else:
        text = CHANGES_NOTHING if changes_nothing(answer) else likely_gain_text(gain, likely)
        brings = f"Saleable output against {against}: {text}"
    held = "" if answer.held_back is None else f"; {limited_by_words(answer.held_back)}"
    return f"{brings}{held}."


def _by_meters_alone(answer: Answer, reference: str) -> list[str]:
    """Why the saleable gain's range is another one than that of the output below it."""
    drawn = None if answer.likely is None else answer.likely.saleable
    if answer.plan.scenario == reference or answer.range_of("saleable") == drawn:
        return []
    return [BY_METERS_ALONE]


BY_METERS_ALONE = (
    "The likely range of the gain in saleable output, alone of these, holds both readings of the "
    "hours that meters and model differ by."
)


def _figures(answer: Answer, reference: str, per: Per, units: str) -> list[str]:
    """Every figure of one scenario, a line each, as the reports have them."""
    from whatif.answers.answer import Comparison
    from whatif.telling.table import table_rows

    alone = Comparison("", reference, {answer.plan.scenario: answer}, units)
    return [
        f"  {row.label + (', ' + row.unit if row.unit else ''):42} {row.cells[0]}"
        for row in table_rows(alone, per)
    ]
