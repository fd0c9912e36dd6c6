"""The meeting: one scenario at a time, its gain in large figures and a few sentences."""

from __future__ import annotations

from rich.cells import cell_len
from typing_extensions import override

from whatif.answers.cautions import Danger
from whatif.screens.views.view import Look, View, ViewHost, caution_rows, no_answer
from whatif.screens.widgets.drawing import SENSES, Chooses, Span, SpanRow, Tone, paragraph, row
from whatif.telling.meeting import Headline, headline

_EDGE = 4


class MeetingView(View):
    """A page a scenario; left and right turn the pages."""

    name = "meeting"
    reads = """\
A page a scenario: its gain in large figures, then what it brings, what limits it, and what
it takes. "±0" means that the difference is smaller than what a second more or less of people's
times would change."""
    keys = """\
left right   the scenario before, the one after
Space        the next one; after the last the first"""

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Space turns the page, from the last to the first."""
        if key != "space" or not look.ids or look.chosen is None:
            return False
        at = look.ids.index(look.chosen)
        host.choose(look.ids[(at + 1) % len(look.ids)])
        return True

    @override
    def figure(self, look: Look) -> str:
        """The gain; of the reference its spindle hours."""
        return "spindle_hours.total" if look.chosen == look.reference else ""

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """The chosen scenario's page."""
        answer, reference = look.answer, look.base
        if answer is None or reference is None or look.reference is None:
            return no_answer(look, width, _EDGE)
        said = headline(answer, reference, look.title_of(look.reference))
        rows: list[SpanRow] = []
        # As much air as there is room for: nobody scrolls in front of others.
        for gap, between in ((2, 2), (1, 1), (1, 0), (0, 0)):
            rows = self._page(look, said, (width, height), (gap, between))
            if len(rows) <= height:
                break
        return rows

    def _page(
        self, look: Look, said: Headline, size: tuple[int, int], gaps: tuple[int, int]
    ) -> list[SpanRow]:
        """All of a page, with so many rows left free about the figure and between sentences."""
        (width, height), (gap, between) = size, ([row("")] * free for free in gaps)
        times = 2 if height >= 34 and width >= 150 else 1
        words: list[SpanRow] = []
        for sentence in said.sentences:
            words += [*paragraph(sentence, width - _EDGE, indent=_EDGE), *between]
        return [
            *([row("")] if height >= 24 else []),
            row(" " * _EDGE, Span(look.title.upper(), "title")),
            *gap,
            *self._figure(said, width, times),
            *gap,
            *paragraph(said.caption, width - _EDGE, "title", indent=_EDGE),
            *gap,
            *words,
            *([] if between else gap),
            *caution_rows(look, tuple(Danger), width - _EDGE, _EDGE),
            *self._pages(look, width),
        ]

    def _figure(self, said: Headline, width: int, times: int) -> list[SpanRow]:
        lines = large(said.figure, times)
        if max(map(len, lines)) > width - _EDGE:
            lines = large(said.figure)
        tone = "title" if said.sense == "none" else SENSES[said.sense]
        return [row(" " * _EDGE, Span(line, tone)) for line in lines]

    def _pages(self, look: Look, width: int) -> list[SpanRow]:
        """Where one is: every scenario by its title, the chosen one marked."""
        rows: list[list[Span]] = [[]]
        room = width - 2 * _EDGE
        used = 0
        for id_, title in zip(look.ids, look.titles, strict=True):
            text = f">{title}<" if id_ == look.chosen else f" {title} "
            if used and used + cell_len(text) > room:
                rows.append([])
                used = 0
            used += cell_len(text) + 1
            tone: Tone = "chosen" if id_ == look.chosen else "dim"
            rows[-1] += [Span(text, tone, Chooses(id_)), Span(" ")]
        return [row(" " * _EDGE, *spans) for spans in rows]


_SIGNS = {
    "0": ("████", "█  █", "█  █", "█  █", "████"),
    "1": ("  █ ", " ██ ", "  █ ", "  █ ", " ███"),
    "2": ("████", "   █", "████", "█   ", "████"),
    "3": ("████", "   █", " ███", "   █", "████"),
    "4": ("█  █", "█  █", "████", "   █", "   █"),
    "5": ("████", "█   ", "████", "   █", "████"),
    "6": ("████", "█   ", "████", "█  █", "████"),
    "7": ("████", "   █", "  █ ", " █  ", " █  "),
    "8": ("████", "█  █", "████", "█  █", "████"),
    "9": ("████", "█  █", "████", "   █", "████"),
    "+": ("    ", " █  ", "███ ", " █  ", "    "),
    "-": ("    ", "    ", "███ ", "    ", "    "),
    "±": (" █  ", "███ ", " █  ", "    ", "███ "),
    "%": ("█  █", "  █ ", " ██ ", " █  ", "█  █"),
    ".": ("  ", "  ", "  ", "  ", "█ "),
    "h": ("█   ", "█   ", "████", "█  █", "█  █"),
    " ": ("  ", "  ", "  ", "  ", "  "),
}


def large(text: str, times: int = 1) -> list[str]:
    """A text of figures in rows; each sign 5 rows high, ``times`` as large in both directions.

    Raises KeyError for a sign that is no part of a figure.
    """
    rows: list[str] = []
    for cells in zip(*(_SIGNS[sign] for sign in text), strict=True):
        wide = "".join(cell * times for cell in " ".join(cells))
        rows += [wide.rstrip()] * times
    return rows
