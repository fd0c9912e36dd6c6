"""What matters most: inputs ranked, the answer over one of them, and over two."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from rich.cells import cell_len
from typing_extensions import override

from whatif.answers.moves.held import Moved
from whatif.screens.views.moves.curve import CurvePage
from whatif.screens.views.moves.grid import GridPage
from whatif.screens.views.moves.input import InputChoice
from whatif.screens.views.moves.ranked import RankedPage
from whatif.screens.views.view import Look, View, ViewHost, ViewKey, no_answer
from whatif.screens.widgets.drawing import Presses, Span, SpanRow, Tone, right_in, row
from whatif.telling.sheet_cell import meaning_words

if TYPE_CHECKING:
    from whatif.session.calculate.requests import Question
    from whatif.study.raw import Path

_OWN = frozenset({"f", "F", "o", "O", "v", "V", "k", "K", "w"})
"""Letters of some page; on another they do nothing, and never what they do elsewhere."""

_PAGES = {"m": "What matters most", "c": "Curve", "g": "Grid of two inputs"}
_TURN = {
    "m": ViewKey("m", "m", "", "the inputs, those that matter most first"),
    "c": ViewKey("c", "c", "", "the answer over the row you came from, or what is marked since"),
    "g": ViewKey("g", "g", "", "the answer over two inputs"),
}


_MOVED_BELOW: Final = "below stands in which scenarios each input is moved"


class MovesView(View):
    """Three pages, each with a question of its own."""

    name = "moves"
    reads = """\
First the inputs, those that change the answer most above the others, each with what a little more
and a little less of it does. The curve is the answer over one input, with the value from which on
output grows no more. The grid is the answer over two inputs: the fuller a cell's bar, the more.
Likely ranges are those of draws: in each all times and demands are a little off. The list may rest
on fewer draws than curve and grid: where the middle of a range leads, the same change may read a
little otherwise there. "not valid" is a value that may not be entered there."""

    @override
    def own_keys(self, look: Look) -> tuple[ViewKey, ...]:
        """Those of the open page; the letters of the others stand beside their names."""
        turns = (key for page, key in _TURN.items() if page != self._page)
        return (*self._pages[self._page].own_keys(look), *turns)

    @override
    def named(self, look: Look, drawn: str) -> list[tuple[str, str]]:
        """The inputs that are in sight, each as the sheet explains it."""
        if self._page == "m":
            inputs = self._ranked.in_sight(look, drawn)
        else:
            inputs = [each for each in (which.input(look) for which in self._choices()) if each]
        paths = {each.key.label: each.paths[0] for each in inputs}
        return [(label, meaning_words(path, brief=True)) for label, path in paths.items()]

    def _choices(self) -> tuple[InputChoice, ...]:
        """Of which inputs the open page is, where it is of one or two."""
        choices = {"c": (self._curve.choice,), "g": (self._grid.down, self._grid.across)}
        return choices.get(self._page, ())

    def __init__(self) -> None:
        self._ranked, self._curve, self._grid = RankedPage(), CurvePage(), GridPage()
        self._pages: dict[str, View] = {"m": self._ranked, "c": self._curve, "g": self._grid}
        self._page = "m"
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
    def input_looked_at(self, look: Look) -> Path | None:
        """What the curve is over, or what was chosen in the list; None where nothing was."""
        if self._page == "m":
            return self._ranked.path(look) if self._ranked.is_chosen else None
        return self._curve.choice.path

    @override
    def come_back_to(self, path: Path) -> None:
        """Begin where one has been, and not on the sheet's row."""
        self._seen_row = True
        self._ranked.put_on(path)
        self._curve.show(path)

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Turn to a page, or do what the open one does."""
        if key in self._pages and not (key == "c" and self._page == "m"):
            shown = self._curve.choice.path
            if self._page == "c" and shown is not None:
                # Whoever goes back to the list finds there what the curve was over.
                self._ranked.put_on(shown)
            self._page = key
        elif key in ("enter", "c") and self._page == "m":
            # What is marked in the list is what is meant, once a key has marked it.
            path = self._ranked.path(look)
            if path is not None and not (key == "c" and self._ranked.stands_for_row()):
                # From a heading nobody comes for a curve of its own: the list's line is meant.
                instead = key == "c" and not self._ranked.is_chosen and self._ranked.has_row
                self._ranked.put_on(path)
                self._curve.show(path, instead_of_row=instead)
            if path is not None or key == "c":
                self._page = "c"
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
        if look.chosen is None:
            return no_answer(look, width)
        spans: list[Span] = [Span(" ")]
        for key, text in _PAGES.items():
            here = key == self._page
            tone: Tone = "chosen" if here else "dim"
            letter = Span(f" {key}", "chosen" if here else "key", Presses(key))
            spans += [letter, Span(f" {text} ", tone, Presses(key)), Span(" ")]
        room = width - sum(cell_len(span.text) for span in spans)
        said = next((text for text in self._moved(look) if cell_len(text) < room), "")
        spans.append(right_in(said, room, "dim"))
        return [row(*spans), *self._pages[self._page].draw(look, width, height - 1)]

    def _moved(self, look: Look) -> tuple[str, ...]:
        """In which scenarios the inputs of the page are moved, the longest words first.

        The ranking says it in each row.
        """
        inputs = [choice.input(look) for choice in self._choices()]
        how = list(dict.fromkeys(each.moved for each in inputs if each is not None))
        if len(how) != 1 or how[0] in (Moved.ITSELF, Moved.EACH):
            return (_MOVED_BELOW, "below: what is moved where") if len(how) > 1 else ()
        if how[0] is Moved.ALONE:
            return (f"moved in {look.title} alone", "moved alone", "alone")
        reference = look.title_of(look.reference or "")
        return (
            f"moved in {look.title} and {reference}",
            f"moved in {reference} too",
            "moved in reference too",
        )
