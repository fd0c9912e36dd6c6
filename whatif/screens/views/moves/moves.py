"""What matters most: inputs ranked, the answer over one of them, and over two."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.cells import cell_len
from typing_extensions import override

from whatif.answers.moves.held import Moved
from whatif.screens.views.moves.curve import CurvePage
from whatif.screens.views.moves.grid import GridPage
from whatif.screens.views.moves.ranked import RankedPage
from whatif.screens.views.view import Look, View, ViewHost, no_answer
from whatif.screens.widgets.drawing import Presses, Span, SpanRow, key_spans, left_in, row

if TYPE_CHECKING:
    from whatif.session.calculate.requests import Question

_OWN = frozenset({"f", "F", "o", "O", "v", "V", "y"})
"""Letters of some page; on another they do nothing, and never what they do elsewhere."""


class MovesView(View):
    """Three pages, each with a question of its own."""

    name = "moves"
    reads = """\
Ranked: the inputs that change the answer most stand first, each with what a little more and a
little less of it does. The curve: the answer over one input, with the value at which more of it
stops paying. Two inputs: a table of the answer over both."""
    keys = """\
j     the inputs ranked; up and down choose one, Enter opens its curve
b     the curve over one input
g     the table of two inputs
o O   choose the input, of the columns and of the rows
f F   the range that is tried, of the columns and of the rows
v V   another figure
y     take the value under the cursor into the study"""

    def __init__(self) -> None:
        self._ranked, self._curve, self._grid = RankedPage(), CurvePage(), GridPage()
        self._pages: dict[str, View] = {"j": self._ranked, "b": self._curve, "g": self._grid}
        self._page = "j"
        self._seen_row = False

    @override
    def question(self, look: Look) -> Question | None:
        """That of the page that is open; none of a study with problems."""
        if not self._seen_row:
            # The row under the cursor when the view was opened, wherever it goes then.
            self._seen_row = True
            self._ranked.begin(look)
            self._curve.begin(look)
        return self._pages[self._page].question(look) if look.checked.is_sound else None

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Turn to a page, or do what the open one does."""
        if key in self._pages:
            self._page = key
        elif key == "enter" and self._page == "j":
            path = self._ranked.path(look)
            if path is not None:
                self._curve.show(path)
                self._page = "b"
        elif not self._pages[self._page].press(key, look, host):
            return key in _OWN
        return True

    @override
    def touch(self, spot: str, look: Look, host: ViewHost) -> None:
        """A click is the open page's."""
        self._pages[self._page].touch(spot, look, host)

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """The line of pages, then the open one."""
        words = {"j": "j ranked", "b": "b curve", "g": "g two inputs"}
        spans: list[Span] = []
        for key, text in words.items():
            open_now = key == self._page
            shown = f"  {'>' if open_now else ' '}{text}"
            spans.append(Span(shown, "accent" if open_now else "dim", Presses(key)))
        if self._page == "j":
            spans += key_spans("   Enter its curve")
        title = f" What moves {look.title}?"
        room = width - sum(cell_len(span.text) for span in spans)
        spans.insert(0, left_in(title, min(room, cell_len(title) + 1), "title"))
        if look.chosen is None:
            return no_answer(look, width)
        room = width - sum(cell_len(span.text) for span in spans)
        offers = [f"   {text}" for text in self._moved(look)]
        spans.append(left_in(next((text for text in offers if cell_len(text) <= room), ""), room))
        return [row(*spans), *self._pages[self._page].draw(look, width, height - 1)]

    def _moved(self, look: Look) -> tuple[str, ...]:
        """In which scenarios the inputs of the page are moved, the longest words first.

        The ranking says it in each row.
        """
        choices = {"b": (self._curve.choice,), "g": (self._grid.down, self._grid.across)}
        inputs = [choice.input(look) for choice in choices.get(self._page, ())]
        how = list(dict.fromkeys(each.moved for each in inputs if each is not None))
        if len(how) != 1 or how[0] is Moved.ITSELF:
            return ("each as said below",) if len(how) > 1 else ()
        if how[0] is Moved.ALONE:
            return (f"moved in {look.title} alone", "moved alone", "alone")
        reference = look.title_of(look.reference or "")
        return (
            f"moved in {look.title} and {reference}",
            f"in {reference} too",
            "moved in both",
            "in both",
        )
