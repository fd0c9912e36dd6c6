"""Hour meters: measured against simulated, and the gap read as people or as machines."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, ClassVar

from typing_extensions import override

from whatif.screens.views.readings import ReadingsPage, sources_in
from whatif.screens.views.view import (
    Look,
    View,
    ViewHost,
    ViewKey,
    across_said,
    no_answer,
    nothing_yet,
)
from whatif.screens.widgets.drawing import Span, SpanRow, left_in, paragraph, row
from whatif.session.calculate.questions import MetersOfStudy
from whatif.telling.caveats import gap_by_demand_words
from whatif.telling.meters import (
    DECIDES_HERE,
    METERS_STEPS,
    NO_METERS,
    gain_rows,
    gap_in_words,
    held_rows,
    may_be_rows,
)

if TYPE_CHECKING:
    from whatif.answers.meters.metered import Metered
    from whatif.session.calculate.requests import Question
    from whatif.study.raw import Path

_LABEL, _MEASURED, _MODELLED, _MORE = 40, 10, 10, 18
"""Cells of the columns: what is measured, by the meters, by the model, and the difference."""

_LONGER = 2
"""Cells more that a length of time takes than a figure."""

_SENTENCE = 101
"""Cells in which sentences are broken, the free one at the left included."""


class MetersView(View):
    """What the meters say, how the gap may be read, and the gains under each reading."""

    name = "meters"
    in_columns = True
    reads = """\
What the machines' own meters say, beside what the model finds for the same scenario. Where the
model finds more, something that costs time has not been entered: it may lie with people, or with
the machines. The rows say what the gains would be under either, so that one sees whether it
matters. f reads files or addresses of readings (; between several) and shows a bar a day; e enters
their hours for the chosen scenario; where that one has a day on which it was done (d), the weeks
since stand beside what was predicted."""
    _edits: ClassVar[dict[str, Path]] = {
        "o": ("hour_meters", "switched_on"),
        "c": ("hour_meters", "in_cut"),
        "w": ("hour_meters", "weeks"),
        "g": ("hour_meters", "gap"),
        "d": ("done_on",),
    }

    def __init__(self) -> None:
        self._page: ReadingsPage | None = None
        self._asked = 0

    @override
    def own_keys(self, look: Look) -> tuple[ViewKey, ...]:
        """What the meters say, and how the gap is read; on its page what to do with readings."""
        if self._page is not None:
            return (_FILE, _DONE, *self._page.own_keys(look))
        return (
            ViewKey("o", "o", "hours on", "the hours switched on, as the meters have them"),
            ViewKey("c", "c", "in cut", "the hours in cut, as the meters have them"),
            ViewKey("g", "g", "gap", "how the gap is read: shown, laid to people, or to machines"),
            _FILE,
            _DONE,
            ViewKey("w", "w", "weeks", "the weeks between the two readings"),
        )

    @override
    def question(self, look: Look) -> Question | None:
        """Both readings of every scenario that has meters, or a document of readings."""
        return MetersOfStudy() if self._page is None else self._page.question(look)

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Edit what the chosen scenario's meters say, or turn to readings and back."""
        page = self._page
        if key == "f":
            text = "" if page is None else page.sources
            host.ask_line(_WHICH, text, partial(self._read, host))
        elif key in self._edits and (page is None or key == "d"):
            host.edit_value(self._edits[key])
        elif page is not None and key == "b":
            self._page = None
            host.repaint()
        else:
            return page is not None and page.press(key, look, host)
        return True

    def _read(self, host: ViewHost, typed: str) -> None:
        if sources_in(typed):
            self._asked += 1
            self._page = ReadingsPage(typed.strip(), self._asked)
        host.repaint()

    @override
    def figure(self, look: Look) -> str:
        """The meters' own account."""
        return "hour_meters"

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """A block for each scenario with meters, or the page of readings."""
        if self._page is not None:
            return self._page.draw(look, width, height)
        if not isinstance(look.result, tuple):
            return no_answer(look, width)
        if not look.result:
            return nothing_yet(NO_METERS, METERS_STEPS, width)
        rows = [line for metered in look.result for line in _block(look, metered, width)]
        return _closer(rows, len(rows) - height)


_WHICH = 'Files or addresses of readings, with ";" between several'

_FILE = ViewKey("f", "f", "read file", "read readings from files or addresses")
_DONE = ViewKey("d", "d", "done on", "the day from which on the shop is as the scenario has it")


def _closer(rows: list[SpanRow], too_many: int) -> list[SpanRow]:
    """Without as many of the blank rows as there are too many of all: the last row concludes."""
    kept = []
    for line in rows:
        if too_many > 0 and not any(span.text.strip() for span in line):
            too_many -= 1
        else:
            kept.append(line)
    return kept


def _block(look: Look, metered: Metered, width: int) -> list[SpanRow]:
    label = min(_LABEL, width - 1 - _MEASURED - _MODELLED - _MORE)
    heads = f"{'meters':>{_MEASURED}}{'model':>{_MODELLED}}{'model finds more':>{_MORE}}"
    rows = [
        row(
            left_in(f" {look.title_of(metered.scenario)}", label + 1, "title"), Span(heads, "title")
        )
    ]
    for line in held_rows(metered):
        figures = f"{line.measured:>{_MEASURED}}{line.modelled:>{_MODELLED}}"
        figures += f"{line.more:>{_MORE}}"
        rows.append(row(left_in(f" {line.label}", label + 1), figures))
    may_be = may_be_rows(metered)
    if may_be:
        rows += [row(""), row(Span(" What the difference may be", "title"))]
    for text, much in may_be:
        # However long it is, it stands apart from what it is of.
        told = f"{f'  {much}':>{_MEASURED + _LONGER}}"
        rows.append(row(left_in(f" {text}", label + 1 - _LONGER), told))
    rows += [row(""), *paragraph(gap_in_words(metered), min(width, _SENTENCE))]
    answer = look.answers.get(metered.scenario)
    by_demand = "" if answer is None else gap_by_demand_words(answer)
    rows += [*(paragraph(by_demand, min(width, _SENTENCE)) if by_demand else []), row("")]
    if metered.gap is None or metered.gap <= 0:
        return rows
    rows.append(row(Span(" Gain in saleable output, the difference read as", "title")))
    gains = gain_rows(metered, look.shown, look.answers, look.reference)
    rows += [across_said(look, f" {line.label}", line.cells) for line in gains]
    return [*rows, *paragraph(DECIDES_HERE, min(width, _SENTENCE))]
