"""Hour meters: measured against simulated, and the gap read as people or as machines."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from typing_extensions import override

from whatif.screens.views.view import Look, View, ViewHost, across, across_said, no_answer
from whatif.screens.widgets.columns import apart
from whatif.screens.widgets.drawing import Span, SpanRow, Tone, key_spans, paragraph, row
from whatif.session.calculate.questions import MetersOfStudy
from whatif.telling.meters import NO_METERS, gain_rows, gap_in_words, shares_line, weeks_line

if TYPE_CHECKING:
    from whatif.answers.meters.metered import Metered
    from whatif.session.calculate.requests import Question


class MetersView(View):
    """What the meters say, how the gap may be read, and the gains under each reading."""

    name = "meters"
    in_columns = True
    reads = """\
What the machines' own meters say, beside what the model finds for the same scenario. Where the
model finds more, something that costs time has not been entered: it may lie with people, or with
the machines. The rows say what the gains would be under either, so that one sees whether it
matters."""
    keys = """\
b    edit the hours switched on
g    edit the hours in cut
v    edit how the gap is read: shown, laid to people, or to machines"""

    _edits: ClassVar[dict[str, str]] = {"b": "switched_on", "g": "in_cut", "v": "gap"}

    @override
    def question(self, look: Look) -> Question | None:
        """Both readings of every scenario that has meters."""
        return MetersOfStudy()

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Edit what the chosen scenario's meters say."""
        if key not in self._edits:
            return False
        host.edit_value(("hour_meters", self._edits[key]))
        return True

    @override
    def figure(self, look: Look) -> str:
        """The meters' own account."""
        return "hour_meters"

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """A block for each scenario with meters."""
        head = row(
            Span(" Hour meters against the model ", "title"),
            *key_spans("  b switched on", "  g in cut", "  v the gap is read as"),
        )
        if not isinstance(look.result, tuple):
            return [head, *no_answer(look, width)]
        if not look.result:
            return [head, *paragraph(NO_METERS, width, "dim")]
        blocks = [line for metered in look.result for line in self._block(look, metered, width)]
        return [head, *blocks]

    def _block(self, look: Look, metered: Metered, width: int) -> list[SpanRow]:
        rows = [
            row(Span(f" {look.title_of(metered.scenario)}", "title")),
            row(f"   {shares_line(metered)}"),
            *([row(f"   {weeks_line(metered)}")] if weeks_line(metered) else []),
            *paragraph(gap_in_words(metered), width, "accent", indent=3),
        ]
        if metered.gap is None or metered.gap <= 0:
            return rows
        titles = apart([look.title_of(id_) for id_ in look.shown], look.columns.width - 1)
        heads: list[tuple[str, Tone]] = [(title, "dim") for title in titles]
        gains = gain_rows(metered, look.shown, look.answers, look.reference)
        return [
            *rows,
            across(look, "   saleable output if", heads, "dim"),
            *(across_said(look, f"   {line.label}", line.cells) for line in gains),
            row(""),
        ]
