"""The meeting: a verdict over all alternatives, and a page an alternative in large figures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.cells import cell_len
from typing_extensions import override

from whatif.answers.cautions import Danger
from whatif.answers.verdict import verdict_of
from whatif.records import dataclass
from whatif.screens.views.large import figure_rows
from whatif.screens.views.view import Look, View, ViewHost, ViewKey, caution_rows, no_answer
from whatif.screens.widgets.drawing import (
    EDGE,
    SENSES,
    Chooses,
    Span,
    SpanRow,
    Tone,
    left_in,
    paragraph,
    right_in,
    row,
)
from whatif.telling.meeting.page import headline
from whatif.telling.meeting.verdict import verdict_told

if TYPE_CHECKING:
    from whatif.telling.meeting.verdict import AlternativeLine, VerdictTold
    from whatif.telling.said import Said

_LONGEST = 76
"""Cells of a line of sentences: longer ones are not read from afar."""


class MeetingView(View):
    """First the verdict, a line an alternative; then a page an alternative."""

    name = "meeting"
    reads = """\
First the verdict: a line an alternative, who comes first and why, and what that rests on. What
cannot be done as it is entered is grey. Where likely ranges overlap there is no single best, and
the cheapest of equals comes first. Then a page an alternative, in large figures. "±0" means that
the difference is smaller than what a second more or less of people's times would change."""
    keys = """\
left right   the scenario before, the one after"""

    def __init__(self) -> None:
        self._is_page = False
        self._kept = _Kept()

    @override
    def own_keys(self, look: Look) -> tuple[ViewKey, ...]:
        """Between the verdict and the pages, and from line to line or page to page."""
        if not look.ids:
            return ()
        turns = ViewKey("space", "Space", "next page", "the next page; after the last the verdict")
        if self._is_page:
            return (ViewKey("enter", "⏎", "verdict", "back to the verdict"), turns)
        return (
            ViewKey("enter", "⏎", "page", "the page of the alternative chosen"),
            turns,
            ViewKey("up,down", "↑↓", "", "the alternative above, below"),
        )

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Turn between the verdict and the pages, and go from line to line, page to page."""
        if not look.ids or look.chosen is None:
            return False
        if key == "enter":
            self._is_page = not self._is_page
        elif key == "space":
            self._turn(look, host)
        elif key in ("up", "down") and not self._is_page:
            self._move(1 if key == "down" else -1, look, host)
        else:
            return False
        return True

    def _turn(self, look: Look, host: ViewHost) -> None:
        """From the verdict to the first page, from page to page, and from the last back."""
        at = look.ids.index(look.chosen or "")
        if not self._is_page:
            self._is_page = True
            host.choose(look.ids[0])
        elif at + 1 < len(look.ids):
            host.choose(look.ids[at + 1])
        else:
            self._is_page = False

    def _move(self, by: int, look: Look, host: ViewHost) -> None:
        told = self._kept.of(look)
        if told is None or not told.lines:
            return
        ids = [line.scenario for line in told.lines]
        at = ids.index(look.chosen) + by if look.chosen in ids else 0
        host.choose(ids[max(0, min(at, len(ids) - 1))])

    @override
    def figure(self, look: Look) -> str:
        """The gain; of the reference its spindle hours."""
        return "spindle_hours.total" if look.chosen == look.reference else ""

    @override
    def cursor(self, look: Look) -> int | None:
        """The chosen alternative's line."""
        told = None if self._is_page else self._kept.of(look)
        if told is None:
            return None
        ids = [line.scenario for line in told.lines]
        if look.chosen not in ids:
            return None
        return len(_above(told, _LONGEST)) + _HEAD_ROWS + ids.index(look.chosen)

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """The verdict, or the chosen scenario's page."""
        if self._is_page:
            return page_rows(look, width, height)
        told = self._kept.of(look)
        return no_answer(look, width) if told is None else verdict_rows(look, told, width, height)


# -- the verdict -------------------------------------------------------------------------------


class _Kept:
    """The verdict as it was told last, kept as long as answers and titles are the same objects."""

    __slots__ = ("_of", "_told")

    def __init__(self) -> None:
        self._of: list[object] = []
        self._told: VerdictTold | None = None

    def of(self, look: Look) -> VerdictTold | None:
        """The verdict on what is on the screen; None where nothing is answered."""
        if look.reference is None or look.base is None:
            return None
        answers = [look.answers.get(id_) for id_ in look.ids]
        of: list[object] = [look.ids, look.titles, look.reference, *answers]
        if len(of) != len(self._of) or not all(map(_is_same, of, self._of)):
            found = verdict_of(look.answers, look.reference, look.ids)
            titles = dict(zip(look.ids, look.titles, strict=True))
            self._of, self._told = of, verdict_told(found, look.answers, titles)
        return self._told


def _is_same(now: object, before: object) -> bool:
    """Whether it is the same answer, or the same names; answers are not compared by content."""
    return now is before or (isinstance(now, str | tuple) and now == before)


def verdict_rows(look: Look, told: VerdictTold, width: int, height: int) -> list[SpanRow]:
    """Who comes first and why, a line an alternative, and what it rests on."""
    room = min(width, _LONGEST)
    above = _above(told, room)
    table = _table(look, told, width)
    below = [paragraph(text, room) for text in told.rests]
    cautions = caution_rows(look, tuple(Danger), width) if told.lines else []
    rows = [*above, *table]
    used = len(rows) + sum(map(len, below)) + len(cautions)
    # As much air as there is room for.
    if table and used < height:
        rows.append(row(""))
    between = used + len(below) < height
    for sentence in below:
        rows += [*sentence, *([row("")] if between else [])]
    return [*rows, *cautions]


def _above(told: VerdictTold, room: int) -> list[SpanRow]:
    """What stands above the table, a row left free between."""
    lead: Tone = "gain" if told.sense == "good" else "lead"
    return [*paragraph(told.lead, room, lead), *paragraph(told.why, room), row("")]


_HEAD_ROWS = 2


@dataclass(frozen=True, slots=True)
class _Columns:
    """Cells of the table's columns; 0 where one is left out."""

    title: int
    gain: int
    takes: int
    worth: int
    payback: int
    against: int

    def of(self, line: AlternativeLine) -> tuple[tuple[Said, int], ...]:
        """The figures of a line, each with its cells."""
        told = (
            (line.gain, self.gain),
            (line.takes, self.takes),
            (line.worth, self.worth),
            (line.payback, self.payback),
        )
        return tuple((said, cells) for said, cells in told if cells)


def _columns(told: VerdictTold, width: int) -> _Columns:
    """As wide as what they say; without money none for it, and in little room no worth."""
    most = next(each for least, each in _ROOMS if width >= least)
    if not told.currency:
        most = (max(most[0], _ALONE), 0, 0, 0)
    apart = 2 if width >= _ROOMY else 1
    texts = [(line.gain, line.takes, line.worth, line.payback) for line in told.lines]
    heads = (_HEADS[0][:-1], _units(told)[:-1])
    cells = [
        max(*(len(head[at]) for head in heads), *(len(each[at].within(room)) for each in texts))
        + apart
        if room
        else 0
        for at, room in enumerate(most)
    ]
    gain, takes, worth, payback = cells
    longest = max(len(_TITLE), *(cell_len(line.title) for line in told.lines))
    title = min(longest, max(22, width // 4))
    rest = width - EDGE - _MARK - title - gain - takes - worth - payback - 2
    return _Columns(title, gain, takes, worth, payback, max(8, rest))


_ALONE = 28
"""Cells that a gain may take where there is no money beside it."""

_ROOMY = 110
"""Cells from which on columns stand two apart."""

_MARK = 6
"""Cells for the word by which the first ones are marked."""

_ROOMS = ((150, (36, 22, 40, 26)), (110, (28, 12, 12, 12)), (0, (15, 10, 0, 8)))
"""By the width from which on they hold: the most cells of gain, investment, worth and payback."""

_TITLE = "alternative"
_HEADS = (("gain", "investment", "worth today", "payback", "in its way"),)


def _units(told: VerdictTold) -> tuple[str, ...]:
    """What stands below the heads."""
    return ("likely range", told.currency, told.currency, "years", "")


def _heads(told: VerdictTold, columns: _Columns) -> list[SpanRow]:
    cells = (columns.gain, columns.takes, columns.worth, columns.payback)
    return [
        row(
            " " * (EDGE + _MARK),
            left_in("" if at else _TITLE, columns.title, "dim"),
            *(
                right_in(text, room, "dim")
                for text, room in zip(heads, cells, strict=False)
                if room
            ),
            "  ",
            left_in(heads[-1], columns.against, "dim"),
        )
        for at, heads in enumerate((*_HEADS, _units(told)))
    ]


def _line(line: AlternativeLine, columns: _Columns, *, word: str, chosen: bool) -> SpanRow:
    """An alternative's line: grey where it cannot be done."""

    def tone(own: Tone) -> Tone:
        return "chosen" if chosen else own if line.is_feasible else "dim"

    spot = Chooses(line.scenario)
    against = line.against.within(columns.against)
    return row(
        " " * EDGE,
        left_in(word if line.is_first else "", _MARK, tone("gain"), spot),
        left_in(line.title, columns.title, tone("lead" if line.is_first else "plain"), spot),
        *(
            right_in(said.within(cells - 1), cells, tone(SENSES[said.sense]), spot)
            for said, cells in columns.of(line)
        ),
        left_in("", 2, tone("plain"), spot),
        left_in(against, columns.against, tone(SENSES[line.against.sense]), spot),
    )


def _table(look: Look, told: VerdictTold, width: int) -> list[SpanRow]:
    """A line an alternative below its heads."""
    if not told.lines:
        return []
    columns = _columns(told, width)
    word = "first" if sum(line.is_first for line in told.lines) > 1 else "best"
    return [
        *_heads(told, columns),
        *(
            _line(line, columns, word=word, chosen=line.scenario == look.chosen)
            for line in told.lines
        ),
    ]


# -- a page an alternative ---------------------------------------------------------------------


def page_rows(look: Look, width: int, height: int) -> list[SpanRow]:
    """The chosen scenario in large figures and a few sentences."""
    answer, reference = look.answer, look.base
    if answer is None or reference is None or look.reference is None:
        return no_answer(look, width)
    said = headline(answer, reference)
    room = min(width, _LONGEST)
    is_reference = look.chosen == look.reference
    beside = "the reference" if is_reference else f"against {look.title_of(look.reference)}"
    head = row(" " * EDGE, Span(look.title, "lead"), Span(f"   {beside}", "dim"))
    figures = figure_rows(said.figures, width, height)
    sentences = [paragraph(sentence, room) for sentence in said.sentences]
    cautions = caution_rows(look, tuple(Danger), width)
    used = 1 + len(figures) + sum(map(len, sentences)) + len(cautions)
    # As much air as there is room for: nobody scrolls in front of others.
    above = [row("")] if used + 2 <= height else []
    between = [row("")] if used + 2 + len(sentences) <= height else []
    rows = [head, *above, *figures, *(above and [row("")])]
    for sentence in sentences:
        rows += [*sentence, *between]
    return [*rows, *cautions]
