"""The page of readings: what a document has, a bar a day, and what was predicted beside it."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from typing_extensions import override

from whatif.readings.understood import to_enter
from whatif.screens.views.view import Look, View, ViewHost, ViewKey, no_answer
from whatif.screens.widgets.drawing import Span, SpanRow, paragraph, row
from whatif.session.calculate.questions import ReadingsFound, ReadingsOf
from whatif.study.edits.metering import enter_meters
from whatif.telling.afterwards import NO_WEEK, afterwards_rows, afterwards_sentences
from whatif.telling.amounts import listed
from whatif.telling.readings import (
    READ_LEGEND,
    bar_families,
    day_texts,
    in_all_sentences,
    left_out_words,
    machine_words_read,
    note_words,
    nothing_to_enter,
    period_words,
    source_name,
)

if TYPE_CHECKING:
    from whatif.answers.meters.afterwards import Afterwards
    from whatif.readings.facts import MachineRead
    from whatif.readings.understood import Understood
    from whatif.session.calculate.requests import Question

_SENTENCE = 101
"""Cells in which sentences are broken, the free one at the left included."""


class ReadingsPage(View):
    """What was understood of documents that are read together.

    Attributes:
        sources: files or addresses, as they were typed.
    """

    def __init__(self, sources: str, number: int) -> None:
        self.sources = sources
        self._number = number

    @override
    def own_keys(self, look: Look) -> tuple[ViewKey, ...]:
        """Enter the hours, and go back."""
        return (
            ViewKey("e", "e", "enter", "enter the hours as the chosen scenario's hour meters"),
            ViewKey("b", "b", "back", "back to the hour meters"),
        )

    @override
    def question(self, look: Look) -> Question | None:
        """The documents, for the chosen scenario."""
        if look.chosen is None:
            return None
        return ReadingsOf(sources_in(self.sources), look.chosen, self._number)

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Enter the hours as one edit, which can be undone."""
        if key != "e":
            return False
        result = look.result
        if isinstance(result, ReadingsFound) and result.understood and look.chosen is not None:
            found = to_enter(result.understood)
            if found is None:
                host.tell(nothing_to_enter(result.understood))
            else:
                host.do(enter_meters(look.chosen, found.on, found.cut, found.weeks))
        return True

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """What it comes to first, then afterwards, then machine by machine."""
        result = look.result
        if not isinstance(result, ReadingsFound):
            return no_answer(look, width)
        room = min(width, _SENTENCE)
        if result.understood is None:
            return [line for text in result.fault for line in paragraph(text, room, "loss")]
        rows = _in_all(result.understood, room)
        rows += _afterwards(look, result.afterwards, room)
        for machine in result.understood.machines:
            rows += _machine(result.understood, machine, room)
        return [*rows, row(""), *paragraph(READ_LEGEND, room, "dim")]


def sources_in(typed: str) -> tuple[str, ...]:
    """The files and addresses of a line in which ";" stands between several."""
    return tuple(each for text in typed.split(";") if (each := text.strip()))


def _in_all(understood: Understood, room: int) -> list[SpanRow]:
    found = to_enter(understood)
    rows = paragraph(
        f"Readings of {listed(list(map(source_name, understood.sources)))}", room, "title"
    )
    if found is None or understood.period is None:
        return [*rows, *paragraph(nothing_to_enter(understood), room)]
    texts = [period_words(understood, *understood.period), *in_all_sentences(found)]
    texts += filter(None, [left_out_words(understood)])
    return [*rows, *(line for text in texts for line in paragraph(text, room))]


def _afterwards(look: Look, found: Afterwards | None, room: int) -> list[SpanRow]:
    done_on = look.checked.resolved[look.chosen].value("done_on") if look.chosen else None
    if done_on is None:
        return []
    head = row(Span(f" {look.title}: done on {done_on.isoformat()}, and afterwards", "title"))
    if found is None:
        return [row(""), head, *paragraph(NO_WEEK.format(done_on.isoformat()), room)]
    first, *others = afterwards_rows(found)
    rows = [row(""), head, row(Span(f" {first}", "title")), *(row(f" {line}") for line in others)]
    return rows + [line for text in afterwards_sentences(found) for line in paragraph(text, room)]


def _machine(understood: Understood, machine: MachineRead, room: int) -> list[SpanRow]:
    texts = [machine_words_read(machine)]
    texts += [note_words(note, understood.zone) for note in machine.notes]
    rows = [row(""), row(Span(f" {machine.name}", "title"))]
    rows += [line for text in texts for line in paragraph(text, room, "dim")]
    for day in understood.days(machine):
        name, bar, hours = day_texts(day)
        runs = (Span(sign * len(list(those)), bar_families(sign)) for sign, those in groupby(bar))
        rows.append(row(f" {name}  ", *runs, hours))
    return rows
