"""Why this figure: any figure of a scenario accounted for, number by number."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import field
from typing import TYPE_CHECKING

from rich.cells import cell_len
from typing_extensions import override

from whatif.answers.account.explain import explain, figures
from whatif.answers.account.moved import first_moved
from whatif.answers.answer import Answer, Comparison
from whatif.records import dataclass
from whatif.screens.views.view import Look, View, ViewHost, ViewKey, no_answer
from whatif.screens.widgets.drawing import (
    EDGE,
    Presses,
    Span,
    SpanRow,
    Tone,
    beside,
    cut,
    left_in,
    paragraph,
    row,
    window,
    wrapped,
)
from whatif.telling.account.pages import (
    ReadLine,
    Section,
    leading,
    likely_words,
    next_theme,
    pending,
    place_of,
    sections,
)
from whatif.telling.account.sentences import figure_in_short, figure_shown, theme
from whatif.telling.rules import Rule, rule, rules

if TYPE_CHECKING:
    from whatif.answers.account.account import Account, Figure
    from whatif.answers.account.origins import See
    from whatif.study.raw import Path

_BESIDE = 100
"""Width from which the list stands beside the account; else it is above it."""

_LIST, _LIST_WIDE = 48, 62
_ABOVE = 3
"""Rows of the list where it stands above the account."""

_FOOT = 12
"""Rows from which the account has a last one with the figure's id, as files have it."""

_AROUND_NAME = 36
"""Cells of what that one says before the id, and of which page it is."""

_TONES: dict[str, Tone] = {"plain": "plain", "lead": "lead", "dim": "dim", "wrong": "loss"}

_KEYS = ("h", "space", "backspace", "plus", "minus", "enter", "b", "m", "slash")

_VALUES = 26
"""Cells that the column of values is at most wide; a longer one pushes its label."""

_WORTH_BEGINNING = 4
"""Rows that must be left on a page for a section to begin there that does not end there."""

_ROOMY = 10
"""Rows of a page from which sections are set apart by an empty row."""

_SEES = "sees:"
"""What the spot of a number that leads on to another figure begins with."""


@dataclass(frozen=True, slots=True)
class _Listed:
    """The figures of the chosen scenario, and the one that is accounted for."""

    found: Comparison
    answer: Answer
    figures: tuple[Figure, ...]
    at: int
    rush_waiting: str = ""

    @property
    def figure(self) -> Figure:
        return self.figures[self.at]


@dataclass(frozen=True, slots=True)
class _Paged:
    """What is said of a figure or a rule: pages, each of them between head and foot."""

    head: list[SpanRow]
    pages: list[list[SpanRow]]
    foot: list[SpanRow] = field(default_factory=list)

    @property
    def count(self) -> int:
        """How many pages there are, one at least."""
        return len(self.pages)

    def place(self, page: int) -> int:
        """The page, or the last one where there are fewer."""
        return min(page, self.count - 1)


_FAR = 10_000
"""More figures than any list has."""


class AccountView(View):
    """The list of figures, and the account of one; pages of it where it is long."""

    name = "account"
    reads = """\
The list has every figure of the chosen scenario; / finds one by its name. It begins with the gain
in saleable output where no row has been gone to. Opened on a row of the sheet it begins with the
first figure that the row moves: a part's setup with the hours of changing the work holding, its
cycle with its good pieces, a shift's people with the hours paid; on a heading with the gain. The
account begins with the figure, then says what it means, the numbers that it is made of, how to
check it by hand, and the rules that it follows. A number whose name is bold is a figure itself: +
and - choose one, Enter opens it. At the bottom stands its name for whatif explain."""
    aside = True

    @classmethod
    @override
    def get_ready(cls) -> None:
        rules()

    def __init__(self) -> None:
        self._wanted = ""
        self._trail: list[tuple[str, str]] = []
        self._mark = 0
        self._page = 0
        self._rule: int | None = None

    @override
    def own_keys(self, look: Look) -> tuple[ViewKey, ...]:
        """Ways through the list, the pages of an account, its numbers and its rules."""
        rule_word = "rule" if self._rule is None else "next rule"
        return (
            ViewKey("up,down", "↑ ↓", "", "choose a figure; PgUp PgDn by a page"),
            ViewKey("slash", "/", "find", "find a figure by a part of its name"),
            ViewKey("space", "Space", "", "the next page of a long account"),
            ViewKey("backspace", "Bksp", "", "the page before"),
            ViewKey("h", "h", "", "the first figure under the next heading"),
            ViewKey("plus,minus", "+ -", "mark", "mark a number that is a figure itself"),
            ViewKey("enter", "⏎", "open", "go to the marked figure"),
            ViewKey("b", "b", "back", "go back from there"),
            ViewKey("m", "m", rule_word, "read the rules that make it; Esc comes back"),
        )

    # -- what there is -------------------------------------------------------------------

    def _listed(self, look: Look) -> _Listed | None:
        """None while an answer that the account needs is being worked out."""
        answer = look.answer
        if not look.checked.is_sound or look.reference is None or answer is None:
            return None
        # Whether worth is money is decided by all scenarios, so all must be there.
        if any(id_ not in look.answers for id_ in look.ids):
            return None
        title, today = (look.checked.head(name) for name in ("title", "today"))
        found = Comparison(title, look.reference, look.answers, look.result_units, today)
        those = tuple(figures(found, look.checked, answer.plan.scenario))
        at = place_of(those, self._wanted or leading(answer))
        return _Listed(found, answer, those, at, look.rush_waiting)

    def _account_of(self, look: Look, listed: _Listed) -> Account:
        return explain(listed.found, look.checked, listed.answer.plan.scenario, listed.figure.id)

    def _leads(self, look: Look, listed: _Listed) -> list[See]:
        return _leads(sections(self._account_of(look, listed), listed.figures))

    # -- keys and clicks -----------------------------------------------------------------

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Move in the list, turn a page, follow a number, or read the rules and come back."""
        width, height = host.room
        step = max(1, height - 3) if width >= _BESIDE else 1
        moves = {"up": -1, "down": 1, "pageup": -step, "pagedown": step}
        moves |= {"home": -_FAR, "end": _FAR}
        if key == "escape" and self._rule is not None:
            self._rule, self._page = None, 0
            return True
        if key not in (*moves, *_KEYS):
            return False
        listed = self._listed(look)
        if listed is None:
            return True
        if self._rule is not None and key in ("plus", "minus", "enter", "b"):
            self._rule = None
        if key in moves:
            last = len(listed.figures) - 1
            self._go(listed.figures[max(0, min(last, listed.at + moves[key]))].id)
        elif key == "h":
            self._go(listed.figures[next_theme(listed.figures, listed.at)].id)
        elif key in ("space", "backspace"):
            paged = self._paged(look, listed, *host.room)
            self._page = (paged.place(self._page) + (1 if key == "space" else -1)) % paged.count
        elif key == "slash":
            named = {figure.id: figure.title for figure in listed.figures}
            host.ask_which("Which figure?", named, self._go)
        elif key == "m":
            self._rule, self._page = 0 if self._rule is None else self._rule + 1, 0
        elif key == "b":
            self._back(host)
        else:
            self._lead(key, look, listed, host)
        return True

    @override
    def turn_to(self, figure: str) -> None:
        """Begin with a figure, or the one that is likest where there is none of that id."""
        self._go(figure)

    @override
    def turn_to_input(self, path: Path) -> None:
        """Begin with the first figure that the input moves."""
        self._go(first_moved(path))

    @override
    def figure(self, look: Look) -> str:
        """The one accounted for."""
        return self._wanted

    def _go(self, figure: str) -> None:
        self._wanted, self._mark, self._page, self._rule = figure, 0, 0, None

    def _lead(self, key: str, look: Look, listed: _Listed, host: ViewHost) -> None:
        found = self._leads(look, listed)
        if not found:
            host.tell("No number of this account is another figure.")
        elif key == "enter":
            self._follow(found[min(self._mark, len(found) - 1)], look, listed, host)
        else:
            at = min(self._mark, len(found) - 1)
            self._mark = (at + (1 if key == "plus" else -1)) % len(found)
            marked = _page_of(self._paged(look, listed, *host.room).pages, f"{_SEES}{self._mark}")
            self._page = self._page if marked is None else marked

    def _follow(self, to: See, look: Look, listed: _Listed, host: ViewHost) -> None:
        self._trail.append((listed.answer.plan.scenario, listed.figure.id))
        if to.there and look.reference is not None:
            host.choose(look.reference)
        self._go(to.figure)

    def _back(self, host: ViewHost) -> None:
        if not self._trail:
            host.tell("There is no figure to go back to: Enter goes to one, b comes back.")
            return
        scenario, figure = self._trail.pop()
        host.choose(scenario)
        self._go(figure)

    @override
    def touch(self, spot: str, look: Look, host: ViewHost) -> None:
        """A figure of the list, or a number that is another figure."""
        listed = self._listed(look)
        if not spot.startswith(_SEES):
            self._go(spot)
        elif listed is not None:
            found = self._leads(look, listed)
            self._follow(found[int(spot.removeprefix(_SEES))], look, listed, host)

    # -- drawing -------------------------------------------------------------------------

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """The list beside the account where there is room, else above it."""
        listed = self._listed(look)
        if listed is None:
            return no_answer(look, width)
        paged = self._paged(look, listed, width, height)
        if width < _BESIDE:
            body = [row(" " * EDGE, *spans) for spans in self._page_of(paged, width - EDGE)]
            return [*map(row, self._list(listed, width, _ABOVE)), row(""), *body]
        body = self._page_of(paged, width - _list_width(width) - 2)
        wide = _list_width(width)
        return beside(self._list(listed, wide, height), wide, "  ", body)

    def _page_of(self, paged: _Paged, width: int) -> list[SpanRow]:
        """A page between head and foot, which says which of them it is where there are several."""
        at = paged.place(self._page)
        told = f"page {at + 1} of {paged.count}: Space turns" if paged.count > 1 else ""
        foot = paged.foot
        if told:
            room = width - cell_len(told) - 1
            named = foot[0][0].text.rstrip() if foot else ""
            if cell_len(named) > room:
                # Whose figure it is stands above.
                named = named.removeprefix(_IN_FILES).partition(" ")[0]
            foot = [row(left_in(named, room, "dim"), " ", Span(told, "key", Presses("space")))]
        return [*paged.head, *paged.pages[at], *foot]

    def _list(self, listed: _Listed, width: int, height: int) -> list[Span]:
        """As much of the list as there is room for, the chosen figure in its middle."""
        lines: list[Figure | Span] = []
        at = here = 0
        before = ""
        waiting = listed.rush_waiting or "being tried out ..."
        for i, figure in enumerate(listed.figures):
            about = theme(figure)
            if about != before and height > _ABOVE:
                lines.append(left_in(f" {about}", width, "title", figure.id))
            before = about
            if i == listed.at:
                at = len(lines)
            lines.append(figure)
        if "rush" in pending(listed.answer):
            lines.append(left_in(f" rush jobs: {waiting}", width, "dim"))
        drawn: list[Span] = []
        for i in window(len(lines), height, at):
            each = lines[i]
            if i == at:
                here = len(drawn)
            drawn += [each] if isinstance(each, Span) else self._in_list(listed, each, width)
        # Names of two lines push what is furthest from the chosen figure out of sight.
        return [drawn[i] for i in window(len(drawn), height, here)]

    def _in_list(self, listed: _Listed, figure: Figure, width: int) -> list[Span]:
        chosen = figure is listed.figure
        waits = any(figure.id.startswith(id_) for id_ in pending(listed.answer))
        shown = "being worked out" if waits else figure_in_short(figure)
        # Half of the list: a name may take two lines, a number with its unit should not be cut.
        value = shown if cell_len(shown) <= width // 2 else cut(shown, width // 2)
        title = figure.title
        if width < _LIST_WIDE:
            # The headings say it.
            for said in ("likely range of the gain in ", "likely range of the ", "not cutting: "):
                title = title.removeprefix(said)
        if cell_len(title) + cell_len(value) + 4 > width:
            # What it is of is told whole beside it, and most are of a week.
            value = value.removesuffix(" a week")
        tone: Tone = "chosen" if chosen else "plain"
        room = width - cell_len(value) - 2
        first, rest = wrapped(title, room - 2, 2)
        if not rest:
            return [Span(f"{cut(f'  {first}', room)} {value} ", tone, figure.id)]
        return [
            Span(cut(f"  {first}", width), tone, figure.id),
            Span(f"{cut(f'    {rest}', room)} {value} ", tone, figure.id),
        ]

    def _paged(self, look: Look, listed: _Listed, width: int, height: int) -> _Paged:
        """The account, or the rule that is read in its place, in what the list leaves."""
        if width < _BESIDE:
            width, height = width - EDGE, max(4, height - _ABOVE - 1)
        else:
            width -= _list_width(width) + 2
        figure, answer = listed.figure, listed.answer
        if any(figure.id.startswith(id_) for id_ in pending(answer)):
            return _Paged([row(Span(figure.title, "title"))], [no_answer(look, width, 0)])
        account = self._account_of(look, listed)
        if self._rule is not None and account.rules:
            name = account.rules[self._rule % len(account.rules)]
            return _paged_rule(rule(name), width, height)
        found = sections(account, listed.figures)
        mark = min(self._mark, max(0, len(_leads(found)) - 1))
        head = paragraph(self._headline(answer, figure), width, "lead", 0)
        named = f"{figure.id} in {account.title}"
        named = f"{_IN_FILES}{named}" if cell_len(named) + _AROUND_NAME <= width else named
        foot = [] if height < _FOOT else [left_in(named, width, "dim")]
        room = max(3, height - len(head) - max(1, len(foot)))
        return _Paged(head, _pages(_section_rows(found, width, mark), room), [*map(row, foot)])

    def _headline(self, answer: Answer, figure: Figure) -> str:
        likely = likely_words(answer, figure)
        return f"{figure.title}: {figure_shown(figure)}{f', {likely}' if likely else ''}"


_IN_FILES = "in files: "
"""Before the name that a figure has in files for programs."""


def _list_width(width: int) -> int:
    """Cells of the list where it stands beside the account."""
    return _LIST_WIDE if width >= 160 else _LIST


def _paged_rule(found: Rule, width: int, height: int) -> _Paged:
    """The text of a rule in place of the account that it belongs to."""
    head = paragraph(f"{found.title} ({found.name})", width, "lead", 0)
    lines = [row(Span(line)) for line in found.in_width(width).split("\n")]
    return _Paged(head, _pages([lines], max(3, height - len(head) - 1)))


# -- sections in rows, rows in pages ---------------------------------------------------------


def _leads(found: Sequence[Section]) -> list[See]:
    """Where the numbers of an account lead on to, in reading order."""
    return [line.sees for section in found for line in section.lines if line.sees is not None]


def _section_rows(found: Sequence[Section], width: int, marked: int) -> list[list[SpanRow]]:
    """Each section as rows; numbers that lead on have spots, the marked one its sign."""
    laid: list[list[SpanRow]] = []
    count = 0
    for section in found:
        rows = [row(Span(section.title, "title"))] if section.title else []
        values = [cell_len(line.value) for line in section.lines]
        room = max((long for long in values if long <= _VALUES), default=0)
        for line in section.lines:
            if line.value:
                rows += _number(line, room, width, count, marked)
            else:
                rows += _text(line, width)
            count += line.sees is not None
        laid.append(rows)
    return laid


def _text(line: ReadLine, width: int) -> list[SpanRow]:
    indent = 2 * line.depth
    # What goes over to a next row stands behind its dash or equals sign.
    hang = 2 if line.text[:2] in ("• ", "= ") else 0
    rows = paragraph(line.text, width - hang, _TONES[line.tone], indent)
    return rows[:1] + [row(" " * hang, *spans) for spans in rows[1:]]


def _number(line: ReadLine, room: int, width: int, count: int, marked: int) -> list[SpanRow]:
    spot, tone = "", _TONES[line.tone]
    if line.sees is not None:
        spot = f"{_SEES}{count}"
        tone = "chosen" if count == marked else "key"
    value = _TONES[line.tone]
    head = Span(f"{'  ' * line.depth}{line.value:>{room}}  ", value, spot)
    rows = paragraph(line.text, width, "plain", cell_len(head.text))
    first = row(head, *(Span(span.text, tone, spot) for span in rows[0][1:]))
    return [first, *rows[1:]]


def _pages(laid: Sequence[Sequence[SpanRow]], height: int) -> list[list[SpanRow]]:
    """Rows in pages of at most ``height``; a section may go on on the next."""
    tight = height < _ROOMY
    found: list[list[SpanRow]] = [[]]
    for rows in laid:
        gap = bool(found[-1]) and not tight
        left = height - len(found[-1]) - gap
        if len(rows) > left and left < (2 if tight else _WORTH_BEGINNING):
            found.append([])
            gap = False
        if gap:
            found[-1].append(row(""))
        for spans in rows:
            if len(found[-1]) == height:
                found.append([])
            found[-1].append(spans)
    return found


def _page_of(found: Sequence[Sequence[SpanRow]], spot: str) -> int | None:
    """The page on which a spot stands."""
    for i, page in enumerate(found):
        if any(piece.spot == spot for spans in page for piece in spans):
            return i
    return None
