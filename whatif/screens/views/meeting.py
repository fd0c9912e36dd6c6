"""The meeting: a verdict over all alternatives, and a page an alternative in large figures."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from itertools import takewhile, zip_longest
from typing import TYPE_CHECKING, Final

from rich.cells import cell_len
from typing_extensions import override

from whatif.answers.cautions import Danger
from whatif.answers.doubts import to_be_tried
from whatif.answers.takes import buys_of
from whatif.answers.together import not_together
from whatif.answers.verdict import verdict_of
from whatif.records import dataclass
from whatif.screens.views.large import figure_rows, has_names_in_dots
from whatif.screens.views.view import Look, View, ViewHost, ViewKey, caution_rows, no_answer
from whatif.screens.widgets.bars import bar
from whatif.screens.widgets.columns import apart as apart_in
from whatif.screens.widgets.drawing import (
    EDGE,
    SENSES,
    Chooses,
    Presses,
    Span,
    SpanRow,
    Tone,
    left_in,
    paragraph,
    right_in,
    row,
)
from whatif.session.calculate.questions import UnderDoubts
from whatif.study.edits.values import SetValue
from whatif.telling.blocks import LIKELY
from whatif.telling.caveats import MARK
from whatif.telling.meeting.decision import (
    decided_words,
    decision_in,
    decision_text,
    why_decided,
)
from whatif.telling.meeting.doubts import being_tried_words, not_tried_words, tried_words
from whatif.telling.meeting.lines import drawbacks_of, folded_words
from whatif.telling.meeting.page import headline
from whatif.telling.meeting.to_do import to_do_words
from whatif.telling.meeting.verdict import verdict_told
from whatif.telling.money.ranges import NOT_PRICED
from whatif.telling.strip import is_dotted, scale_for

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from whatif.answers.answer import Answer
    from whatif.answers.verdict import Verdict
    from whatif.session.calculate.requests import Question
    from whatif.telling.meeting.lines import AlternativeLine
    from whatif.telling.meeting.page import Headline
    from whatif.telling.meeting.verdict import VerdictTold
    from whatif.telling.said import Said
    from whatif.telling.strip import Scale

_LONGEST = 76
"""Cells of a line of sentences: longer ones are not read from afar."""


class MeetingView(View):
    """First the verdict, a line an alternative; then a page an alternative."""

    name = "meeting"
    reads = """\
First the verdict: a line an alternative, who comes first and why, and what that rests on. "one-off"
(in little room "once") is what it takes at once, "open" what has no price; "costs" is what it costs
more a year, "takes" what it takes of paid hours a week where a wage is missing. "worth today" is
what all its years bring more, less the one-off cost; money counts for less the later it comes: at
8 % a year 108 in a year are worth 100 today. "!" before a gain: it rests on what is not so yet.
In much room "floor" is all that machines and pallets stand on, as entered.
Where a likely range leads the gain, the worth today and the payback are its middle, or that range.
"drawbacks" are what speaks against it, the weightiest first. "at most", "up to" and ≤: with all
priced it will be less; "at least", "from" and ≥: it will be more; "about" and ≈: more or less.
"no-go" is what cannot be done as it is entered; it stands last whatever it is worth.
"again", set in, is the alternative above it again, which has no place of its own: with stops
entered, other scatter of visits, or hour meters read otherwise, which are no choices.
Where there is no room for a line each the last ones stand in one, with why: a shows them.
Where likely ranges overlap the narrowly best is the one that is worth most, costs least or takes
the fewest hours: which of them is said. What is less in the same draws is told apart all the same,
as what both inherit moves both alike there; by how much is said. The rest stand by what they take.
Then a page an alternative, in large figures. "±0" means that the difference is smaller than what a
second more or less of people's times would change. What is counted by other rates than the
reference, or has other demand, stands below the rest, in no order. A shorter cycle that nothing is
laid out for is not priced and never best.
"ranked by the verdict": what is clearly better stands before the rest, each by what is told of it.
A decision that notes hold (d writes one) stands above the table: when, what, against what.
Opened first, or from the reference, the meeting begins with what comes first, so that Enter opens
its page."""
    keys = """\
left right   the scenario before, the one after"""

    def __init__(self) -> None:
        self._is_page = False
        self._is_whole = False
        """Whether lines that there is no room for are drawn all the same."""
        self._kept = _Kept()

    @override
    def own_keys(self, look: Look) -> tuple[ViewKey, ...]:
        """Between the verdict and the pages, and from line to line or page to page."""
        if not look.ids:
            return ()
        if self._is_page:
            decide = _KEEP if look.chosen == look.reference else _DECIDE
            return (*_TO_VERDICT, _TURNS, decide)
        return (
            ViewKey("enter", "⏎", "page", "the page of the alternative chosen"),
            _TURNS,
            _DECIDE,
            *([_FEWER if self._is_whole else _ALL] if self._kept.is_folded else []),
            ViewKey("up,down", "↑↓", "", "the alternative above, below"),
        )

    @override
    def question(self, look: Look) -> Question | None:
        """How the verdict ends under doubts, once there is one."""
        ids = self._kept.to_be_tried(look)
        return UnderDoubts(ids) if ids else None

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Turn between the verdict and the pages, and go from line to line, page to page."""
        if not look.ids or look.chosen is None:
            return False
        if key == "enter":
            if not self._is_page:
                self._on_a_line(look, host)
            self._is_page = not self._is_page
        elif key == "escape" and self._is_page:
            self._is_page = False
        elif key == "space":
            self._turn(look, host)
        elif key == "d":
            self._decide(look, host)
        elif key == "a" and not self._is_page and self._kept.is_folded:
            self._is_whole = not self._is_whole
        elif key in ("up", "down") and not self._is_page:
            self._move(1 if key == "down" else -1, look, host)
        else:
            return False
        return True

    @override
    def begins_with(self, look: Look) -> str | None:
        """What comes first, once that is known."""
        told = self._kept.of(look)
        lines = () if told is None else told.lines
        return next((line.scenario for line in lines if line.is_first), None)

    def _on_a_line(self, look: Look, host: ViewHost) -> Look:
        """What is looked at then: where no line is marked yet, what comes first is meant."""
        told = self._kept.of(look)
        is_marked = look.chosen is not None and look.chosen != look.reference
        if is_marked:
            # Also the one that the meeting began with: somebody has taken it up now.
            host.choose(look.chosen or "")
        if told is None or not told.lines or is_marked:
            return look
        host.choose(told.lines[0].scenario)
        return host.look()

    def _decide(self, look: Look, host: ViewHost) -> None:
        """Have a reason typed, and write the decision into the notes of what is chosen."""
        if not self._is_page:
            look = self._on_a_line(look, host)
        told, id_, reference = self._kept.of(look), look.chosen, look.reference
        if told is None or id_ is None or reference is None:
            return
        against = look.title_of(reference)
        raw = look.draft.scenario(id_).entered.get(("notes",))
        before = raw if isinstance(raw, str) else ""

        def take(reason: str) -> None:
            when = date.today().isoformat()
            text = decision_text(told, id_, look.title, against, when, reason)
            host.do(SetValue(id_, ("notes",), "\n\n".join(filter(None, (before.strip(), text)))))
            host.tell("It stands in the verdict and in its notes (e shows them); u takes it out.")

        host.ask_line(why_decided(told, look.title, against), "", take)

    def _turn(self, look: Look, host: ViewHost) -> None:
        """From the verdict to the page of the best, and on in its order; from the last to it."""
        told = self._kept.of(look)
        lines = () if told is None else told.lines
        # What has no line stands behind: the reference.
        pages = list(dict.fromkeys((*(line.scenario for line in lines), *look.ids)))
        at = pages.index(look.chosen or "") + 1 if self._is_page else 0
        self._is_page = True
        host.choose(pages[at % len(pages)])

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
    def page(self, look: Look) -> object:
        """The verdict, or whose page it is."""
        return look.chosen if self._is_page else None

    @override
    def cursor(self, look: Look) -> int | None:
        """The chosen alternative's line."""
        if self._is_page or look.chosen is None:
            return None
        spot = Chooses(look.chosen)
        return next(
            (
                at
                for at, spans in enumerate(self._kept.drawn)
                if any(span.spot == spot for span in spans)
            ),
            None,
        )

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """The verdict, or the chosen scenario's page."""
        told = self._kept.of(look)
        if self._is_page:
            lines = () if told is None else told.lines
            in_dots = self._kept.has_dots(look, lines, width, height)
            return page_rows(look, lines, width, height, in_dots=in_dots)
        if told is None:
            return no_answer(look, width)
        tried = self._kept.tried(look)
        kept = _kept_lines(look, told, width, height)
        self._kept.is_folded = kept < len(told.lines)
        if self._is_whole:
            kept = len(told.lines)
        self._kept.drawn = verdict_rows(look, told, tried, width, height, kept)
        return self._kept.drawn


_TURNS = ViewKey(
    "space", "Space", "next page", "the next page, as the verdict has them, the reference last"
)
_TO_VERDICT = (
    ViewKey("escape", "Esc", "verdict", "back to the verdict"),
    ViewKey("enter", "⏎", "", "back to the verdict"),
)
_DECIDE = ViewKey("d", "d", "decide", "write into its notes that this one is decided for, and why")
_ALL = ViewKey("a", "a", "all", "a line of each alternative, also of those that stand last")
_FEWER = ViewKey("a", "a", "fewer", "the last alternatives in one line again")
_KEEP = ViewKey(
    "d", "d", "keep as is", "write into its notes that things are kept as they are, and why"
)


# -- the verdict -------------------------------------------------------------------------------


class _Kept:
    """The verdict as it was told last, kept as long as answers and titles are the same objects.

    Attributes:
        drawn: its rows as they were drawn last.
        is_folded: whether there was no room for all of its lines then.
    """

    __slots__ = ("_dots", "_found", "_of", "_titles", "_told", "drawn", "is_folded")

    def __init__(self) -> None:
        self._of: list[object] = []
        self._found: Verdict | None = None
        self._titles: Mapping[str, str] = {}
        self._told: VerdictTold | None = None
        self._dots: tuple[tuple[object, ...], bool] = (), False
        self.drawn: list[SpanRow] = []
        self.is_folded = False

    def has_dots(
        self, look: Look, lines: Sequence[AlternativeLine], width: int, height: int
    ) -> bool:
        """Whether names are drawn in dots on the pages: on all of them, or on none."""
        of = (self._told, lines, look.ids, width, height)
        if not all(map(_is_same, of, self._dots[0])) or len(of) != len(self._dots[0]):
            has = height >= _TALL and len(look.ids) <= _TRIED
            has = has and all(
                _has_room_for_dots(replace(look, chosen=id_), lines, width, height)
                for id_ in look.ids
            )
            self._dots = of, has
        return self._dots[1]

    def of(self, look: Look) -> VerdictTold | None:
        """The verdict on what is on the screen; None where nothing is answered."""
        if look.reference is None or look.base is None:
            return None
        answers = [look.answers.get(id_) for id_ in look.ids]
        held = look.checked.resolved[look.reference]
        assumed = tuple(key for key in ("rate", "years") if held.origin("money", key).is_assumed)
        asked = (look.ids, look.titles, look.reference, look.result_units, assumed)
        of: list[object] = [*asked, look.checked.resolved, *answers]
        if len(of) != len(self._of) or not all(map(_is_same, of, self._of)):
            found = verdict_of(look.answers, look.reference, look.ids)
            # The reference may be out of sight, and is what the others are held against.
            titles = {each.id: each.title for each in look.checked.draft}
            titles |= zip(look.ids, look.titles, strict=True)
            apart = not_together(found, look.checked.resolved)
            told = verdict_told(found, look.answers, titles, assumed, look.result_units, apart)
            self._of, self._told = of, told
            self._found, self._titles = found, titles
        return self._told

    def to_be_tried(self, look: Look) -> tuple[str, ...]:
        """The alternatives to be tried under doubts; none before there is a verdict."""
        told, found = self.of(look), self._found
        return () if told is None or found is None else to_be_tried(found)

    def tried(self, look: Look) -> str:
        """How the verdict ends under doubts, as far as that is known."""
        if not self.to_be_tried(look) or self._found is None:
            return ""
        if look.fault:
            return not_tried_words(look.fault)
        whole, partly = look.result, look.partly
        known = whole if isinstance(whole, tuple) else partly if isinstance(partly, tuple) else ()
        words = tried_words(known, self._found, self._titles)
        return words if isinstance(whole, tuple) else being_tried_words(words, look.waiting)


def _is_same(now: object, before: object) -> bool:
    """Whether it is the same answer, or the same names; answers are not compared by content."""
    return now is before or (isinstance(now, str | tuple | int) and now == before)


def verdict_rows(
    look: Look, told: VerdictTold, tried: str, width: int, height: int, kept: int | None = None
) -> list[SpanRow]:
    """Who comes first and why, a line an alternative, and what it rests on.

    As much air, and as much drawn, as there is room for: nobody scrolls in front of others.

    Args:
        tried: how it ends under doubts.
        kept: how many lines are drawn, the others in one; all where none is said.
    """
    room = min(width, _LONGEST)
    above = _above(told, room, _decided(look, told))
    cautions = _cautions(look, told, width)
    decides = [paragraph(text, room) for text in _decides(told, width)]
    in_two = width >= 2 * _LONGEST + EDGE
    rests = _rests(told, told.rests_with(tried), room)
    shown = _shown(told, look.chosen, len(told.lines) if kept is None else kept)
    table = _table(look, told, width, 0, shown)
    used = len(above) + len(table) + len(cautions) + _long(decides, rests, in_two=in_two)
    # Rather no air above the table than one line below that nobody sees.
    is_whole = used <= height + 1
    large = _first_large(look, told, width) if height >= _TALL else []
    # They are read from afar: rather no air between lines than none of them.
    if used + len(large) > height + 1:
        large = []
    # A row left free between lines of the table, where all is seen even so.
    if used + len(large) + len(shown) + len(decides) + len(rests) <= height:
        table = _table(look, told, width, 1, shown)
        used += len(shown)
    air = [] if is_whole and used + len(large) == height + 1 else above[-1:]
    rows = [*above[:-1], *large, *air, *table]
    free = height - used - len(large)
    rows += [row("")] if table and free > 0 else []
    # The cautions of the first one are seen before what it rests on.
    rows += [*cautions, *([row("")] if cautions and free > 1 else [])]
    below = [decides, rests] if in_two else [[*decides, *rests]]
    # Air between all of them, or none.
    air = [row("")] if free > 1 + max(map(len, below)) else []
    columns = [[line for text in texts for line in (*text, *air)] for texts in below]
    return [*rows, *(_beside(*columns) if in_two else columns[0])]


def _long(decides: Sequence[list[SpanRow]], rests: Sequence[list[SpanRow]], *, in_two: bool) -> int:
    """Rows that sentences take, side by side where there is room for two of them."""
    left, right = (sum(map(len, each)) for each in (decides, rests))
    return max(left, right) if in_two else left + right


def _beside(left: Sequence[SpanRow], right: Sequence[SpanRow]) -> list[SpanRow]:
    """Two columns of sentences, each no wider than what is read from afar."""
    pairs = zip_longest(left, right, fillvalue=row(""))
    return [
        (*here, Span(" " * (_LONGEST + EDGE - sum(cell_len(span.text) for span in here))), *there)
        if there != row("")
        else here
        for here, there in pairs
    ]


def _rests(told: VerdictTold, rests: Sequence[str], room: int) -> list[list[SpanRow]]:
    """What was not tried, and what the verdict rests on."""
    return [paragraph(text, room) for text in (told.untried, *rests) if text]


def _cautions(look: Look, told: VerdictTold, width: int) -> list[SpanRow]:
    """Those of the first one."""
    return caution_rows(_first_of(look, told), tuple(Danger), width) if told.lines else []


def _decides(told: VerdictTold, width: int) -> tuple[str, ...]:
    """What is read beside the table before one decides: what is in the way, sold, and the floor.

    Of floor that has a column only the reference's, which has no line there.
    """
    amounts = told.amounts
    if told.floor_beside and _columns(told, width).floor:
        amounts = (*amounts[:-1], told.floor_beside)
    return tuple(filter(None, (told.alone, *amounts)))


def _kept_lines(look: Look, told: VerdictTold, width: int, height: int) -> int:
    """How many lines of the table are drawn, so that what decides is seen without scrolling.

    All, where that gains nothing: where what decides is not seen with fewer either, and the
    table alone has room.
    """
    count, room = len(told.lines), min(width, _LONGEST)
    above = len(_above(told, room, _decided(look, told))) + len(_cautions(look, told, width))
    head = above + _HEAD_ROWS + _is_parted(told.lines)
    beside = sum(len(paragraph(text, room)) for text in _decides(told, width))
    if head + count + beside <= height + 1:
        return count
    # The line that stands for the others takes room too.
    if (kept := height - head - beside - 1) >= _FEWEST:
        return kept
    return count if head + count <= height + 1 else max(_FEWEST, height - head - 1)


_FEWEST: Final = 5
"""Lines of the table that are always drawn, where there are as many."""


def _shown(told: VerdictTold, chosen: str | None, kept: int) -> tuple[AlternativeLine, ...]:
    """The lines that are drawn: the first ones, and the chosen one wherever it stands."""
    first, others = told.lines[:kept], told.lines[kept:]
    own = next((line for line in others if line.scenario == chosen), None)
    return first if own is None else (*first[:-1], own)


_TALL = 36
"""Rows from which on the first one's figures are drawn large."""


def _first_of(look: Look, told: VerdictTold) -> Look:
    """What is looked at, as of the first one where there is one."""
    first = next((line.scenario for line in told.lines if line.is_first), look.chosen)
    return replace(look, chosen=first)


def _first_large(look: Look, told: VerdictTold, width: int) -> list[SpanRow]:
    """The figures of the first one where it stands alone."""
    if sum(line.is_first for line in told.lines) != 1 or look.base is None:
        return []
    answer = _first_of(look, told).answer
    if answer is None:
        return []
    return [row(""), *figure_rows(headline(answer, look.base).figures, width, _FIVE_HIGH)]


_FIVE_HIGH, _THREE_HIGH = 30, 20
"""Rows for which a figure is drawn five rows high, and three."""


def _is_parted(lines: Iterable[AlternativeLine]) -> bool:
    """Whether some lines stand apart below the others, or alone, below a head of their own."""
    return not all(line.is_ranked for line in lines)


def _decided(look: Look, told: VerdictTold) -> str:
    """What has been decided, where some notes say so, and whether that still holds."""
    reference = next((it.title for it in look.checked.draft if it.id == look.reference), "")
    return decided_words(decision_in(look.draft), told, reference)


def _above(told: VerdictTold, room: int, decided: str) -> list[SpanRow]:
    """What stands above the table, a row left free between."""
    was = paragraph(decided, room, "lead") if decided else []
    return [*paragraph(told.lead, room, "lead"), *paragraph(told.why, room), *was, row("")]


_HEAD_ROWS = 2


@dataclass(frozen=True, slots=True)
class _Columns:
    """Cells of the table's columns; 0 where one is left out."""

    title: int
    gain: int
    one_off: int
    more: int
    worth: int
    payback: int
    floor: int
    bar: int
    against: int

    @property
    def figures(self) -> tuple[int, ...]:
        """Of the figures, in their order."""
        return self.gain, self.one_off, self.more, self.worth, self.payback, self.floor

    def of(self, line: AlternativeLine) -> tuple[tuple[Said, int], ...]:
        """The figures of a line, each with its cells."""
        return tuple(
            (said, cells) for said, cells in zip(_figures(line), self.figures, strict=True) if cells
        )


def _figures(line: AlternativeLine) -> tuple[Said, ...]:
    return line.gain, line.one_off, line.more, line.worth, line.payback, line.floor


def _columns(told: VerdictTold, width: int) -> _Columns:
    """As wide as what they say; without money none for it, and in little room no worth.

    Where long titles leave too little for the drawbacks, ranges give way first, then the bars, and
    a title is cut last.
    """
    longest = max(
        len(_TITLE), len(told.order), *(cell_len(_name(line, width)) for line in told.lines)
    )
    # In the least room a few letters of a title give way to figures.
    title = min(longest, max(22, width // 2 if width >= _ROOMY else width // 4))
    drawbacks = (min(map(len, (it.against.text, *it.against.shorter))) for it in told.lines)
    wanted = min(_DRAWBACKS, max((len(_DRAWBACKS_HEAD), *drawbacks)))
    rooms = [each for least, each in _ROOMS if width >= least]
    if width >= _ROOMY:
        rooms.pop()
    of_bar = _BAR if width >= _WIDE else 0
    tried = [(most, of_bar) for most in rooms] + [(rooms[-1], 0)] * (of_bar > 0)
    for most, of_bar in tried:
        cells = _cells(told, width, most)
        rest = width - EDGE - _MARK - title - sum(cells) - of_bar - 2
        if rest >= wanted:
            break
    # What is lacking is taken off the title, what is left over it has.
    fitted = min(longest, max(22, title + rest - wanted))
    gain, one_off, more, worth, payback, floor = cells
    against = max(8, rest + title - fitted)
    return _Columns(fitted, gain, one_off, more, worth, payback, floor, of_bar, against)


def _cells(told: VerdictTold, width: int, most: Sequence[int]) -> list[int]:
    """Cells of the figures, each as wide as what it says in at most so many."""
    if not told.is_money:
        most = (max(most[0], _ALONE), max(most[1], len(NOT_PRICED)), most[2], 0, 0, most[5])
    if not told.floor_beside:
        most = (*most[:5], 0)
    apart = 2 if width >= _ROOMY else 1
    heads = _head_texts(told, width)
    # Of a thousand alternatives many say the same.
    texts = [set(each) for each in zip(*map(_figures, told.lines), strict=True)]
    return [
        max(*(len(head[at + 1]) for head in heads), *(len(said.within(room)) for said in texts[at]))
        + apart
        if room
        else 0
        for at, room in enumerate(most)
    ]


_DRAWBACKS_HEAD, _DRAWBACKS = "drawbacks", 24
"""The head of the last column, and the cells from which on it takes no more from others."""

_ALONE = 16
"""Cells that a gain may take at least where there is no money beside it."""

_ROOMY, _WIDE, _WIDEST = 110, 150, 190
"""Cells from which on columns stand two apart, gains are drawn as bars, worth has a range,
and floor a column."""

_BAR = 26
"""Cells of a bar, what parts it from its neighbours included."""

_MARK = 6
"""Cells for the word by which the first ones are marked."""

_ROOMS = (
    (_WIDEST, (36, 14, 28, 42, 18, 12)),
    (_WIDE, (36, 14, 28, 12, 18, 0)),
    (_ROOMY, (26, 12, 14, 12, 12, 0)),
    (0, (15, 5, 6, 0, 5, 0)),
)
"""By the width from which on they hold: the most cells of each figure."""

_TITLE = "alternative"


def _head_texts(told: VerdictTold, width: int) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What stands above the columns, and what they are in."""
    once, back = ("one-off", "payback") if width >= _ROOMY else ("once", "back")
    # What a year costs beside it is no gain, and is not to be read as one.
    takes, per = ("takes", "a week") if told.is_by_hours else ("costs", "a year")
    return (
        (_TITLE, "gain", once, takes, "worth today", back, "floor", _DRAWBACKS_HEAD),
        (told.order, "likely range", told.currency, per, told.currency, "years", "", ""),
    )


def _heads(told: VerdictTold, columns: _Columns, scale: Scale | None, width: int) -> list[SpanRow]:
    dotted = is_dotted(line.drawn for line in told.lines)
    of_bar = f"  {LIKELY} likely range" if dotted else ""
    drawn = ("", "") if scale is None else (of_bar, f"  scale {scale.text}")
    below = ""
    if _leaves_drawbacks_out(told, columns):
        below = next(text for text in _ALL_OF_THEM if cell_len(text) <= columns.against)
    return [
        row(
            " " * (EDGE + _MARK),
            left_in(heads[0], columns.title, "dim"),
            *(
                right_in(text, room, "dim")
                for text, room in zip(heads[1:-1], columns.figures, strict=True)
                if room
            ),
            *([left_in(of_bar, columns.bar, "dim")] if columns.bar else []),
            "  ",
            left_in(heads[-1] or below, columns.against, "dim"),
        )
        for heads, of_bar in zip(_head_texts(told, width), drawn, strict=True)
    ]


_ALL_OF_THEM: Final = ("⏎ all of them", "⏎ all")
"""Below the head of the drawbacks where there is no room for each: the page has them."""


def _leaves_drawbacks_out(told: VerdictTold, columns: _Columns) -> bool:
    return any(
        cell_len(line.against.text) > columns.against and ";" in line.against.text
        for line in told.lines
    )


def _line(
    line: AlternativeLine,
    name: str,
    columns: _Columns,
    scale: Scale | None,
    *,
    word: str,
    chosen: bool,
) -> SpanRow:
    """An alternative's line: grey where it cannot be done, but for what is to beware of."""

    def tone(own: Tone) -> Tone:
        return "chosen" if chosen else own if line.is_feasible or own == "caution" else "dim"

    spot = Chooses(line.scenario)
    named: Tone = "lead" if line.is_first else "dim" if line.is_again else "plain"
    against = line.against.within(columns.against)
    drawn = bar(line.drawn, scale, columns.bar - 2, tone(SENSES[line.gain.sense]))
    return row(
        " " * EDGE,
        left_in(line.mark(word), _MARK, tone("lead" if line.is_first else "dim"), spot),
        left_in(name, columns.title, tone(named), spot),
        *(
            right_in(said.within(cells - 1), cells, tone(SENSES[said.sense]), spot)
            for said, cells in columns.of(line)
        ),
        *([Span("  ", tone("plain"), spot), *drawn] if columns.bar else []),
        left_in("", 2, tone("plain"), spot),
        left_in(against, columns.against, tone(SENSES[line.against.sense]), spot),
    )


def _name(line: AlternativeLine, cells: int) -> str:
    """Its title, set in where it is the one above again, so that it is not read as the next."""
    room = max(0, cells - cell_len(line.title)) if line.is_again else 0
    return f"{' ' * min(_SET_IN, room)}{line.title}"


_SET_IN = 3
"""Cells by which it is, where there is room for them."""


def _table(
    look: Look, told: VerdictTold, width: int, apart: int, shown: Sequence[AlternativeLine]
) -> list[SpanRow]:
    """A line an alternative below its heads, and one for those that are not shown."""
    if not told.lines:
        return []
    columns = _columns(told, width)
    names = dict(
        zip(
            (line.scenario for line in told.lines),
            apart_in([_name(line, columns.title) for line in told.lines], columns.title),
            strict=True,
        )
    )
    scale = scale_for(line.drawn for line in told.lines) if columns.bar else None
    between = [row("")] * apart
    rows = _heads(told, columns, scale, width)
    ranked = True
    for line in shown:
        if ranked and not line.is_ranked:
            rows.append(row(" " * EDGE, left_in(told.apart, width - EDGE, "dim")))
        ranked = line.is_ranked
        chosen = line.scenario == look.chosen
        name = names[line.scenario]
        rows += [_line(line, name, columns, scale, word=told.word, chosen=chosen), *between]
    drawn = {line.scenario for line in shown}
    others = [line for line in told.lines if line.scenario not in drawn]
    return [*rows, *([_folded(others, width)] if others else [])]


def _folded(lines: Sequence[AlternativeLine], width: int) -> SpanRow:
    """The line that stands for others: how many, why these, and the key that shows them."""
    key = Span("   a shows all", "key", Presses("a"))
    room = width - EDGE - _MARK - cell_len(key.text)
    words = folded_words(lines)
    if cell_len(words) > room:
        words = f"{len(lines)} more"
    return row(" " * (EDGE + _MARK), Span(words, "plain", Presses("a")), key)


# -- a page an alternative ---------------------------------------------------------------------


_TRIED: Final = 30
"""Pages of which it is tried whether all have room for names in dots."""


def _has_room_for_dots(
    look: Look, lines: Sequence[AlternativeLine], width: int, height: int
) -> bool:
    """Whether a page is seen whole with the names of its figures in dots."""
    if look.answer is None or look.base is None:
        return True
    said, texts = _page_told(look, look.answer, look.base, lines)
    if not has_names_in_dots(said.figures, width, height):
        return False
    figures = figure_rows(said.figures, width, height, in_dots=True)
    below = [*_paragraphs(texts, min(width, _LONGEST)), caution_rows(look, tuple(Danger), width)]
    return 1 + len(figures) + sum(map(len, below)) <= height


def _page_told(
    look: Look, answer: Answer, base: Answer, lines: Sequence[AlternativeLine]
) -> tuple[Headline, list[str]]:
    """What is said on a page, and its sentences, all its drawbacks the last of them."""
    said = headline(answer, base, _to_do(look))
    return said, [*said.sentences, *filter(None, [drawbacks_of(lines, look.chosen)])]


def page_rows(
    look: Look,
    lines: Sequence[AlternativeLine],
    width: int,
    height: int,
    *,
    in_dots: bool = False,
) -> list[SpanRow]:
    """The chosen scenario in large figures and a few sentences, all its drawbacks among them.

    Args:
        lines: of the verdict.
        in_dots: whether what its figures are is drawn in dots too.
    """
    answer, reference = look.answer, look.base
    if answer is None or reference is None or look.reference is None:
        return no_answer(look, width)
    said, texts = _page_told(look, answer, reference, lines)
    drawbacks = drawbacks_of(lines, look.chosen)
    long = min(width, _LONGEST)
    is_reference = look.chosen == look.reference
    beside = "the reference" if is_reference else f"against {look.title_of(look.reference)}"
    head = row(" " * EDGE, Span(look.title, "lead"), Span(f"   {beside}", "dim"))
    figures = figure_rows(said.figures, width, height, in_dots=in_dots)
    sentences = _paragraphs(texts, long)
    cautions = caution_rows(look, tuple(Danger), width)
    used = 1 + len(figures) + sum(map(len, sentences)) + len(cautions)
    for room in (height, _THREE_HIGH):
        if used > height:
            # Rather smaller names, and then smaller figures, than a page that scrolls.
            smaller = figure_rows(said.figures, width, min(height, room))
            used, figures = used - len(figures) + len(smaller), smaller
    rest = used - sum(map(len, sentences))
    for many in range(2, min(_JOINED, len(texts)) + 1) if used > height else ():
        # And rather sentences in one paragraph, where that is enough.
        joined = _paragraphs([*texts[:-many], " ".join(texts[-many:])], long)
        if any(map(_is_marked, texts[-many:])):
            break
        if rest + sum(map(len, joined)) <= height:
            sentences, used = joined, rest + sum(map(len, joined))
            break
    if used > height and drawbacks:
        # Where it scrolls all the same, what speaks against it is read before what it is about.
        marked = len(list(takewhile(_is_marked, texts)))
        texts = [*texts[:marked], drawbacks, *texts[marked:-1]]
        sentences = _paragraphs(texts, long)
    # As much air as there is room for: nobody scrolls in front of others.
    above = [row("")] if used + 2 <= height else []
    between = [row("")] if used + 2 + len(sentences) <= height else []
    rows = [head, *above, *figures, *(above and [row("")])]
    for sentence in sentences:
        rows += [*sentence, *between]
    return [*rows, *cautions]


def _is_marked(text: str) -> bool:
    """Whether it is a caution, or what the gain rests on that is not so yet."""
    return text.startswith(MARK)


_JOINED: Final = 4
"""Sentences that may stand in one paragraph."""


def _paragraphs(texts: Iterable[str], width: int) -> list[list[SpanRow]]:
    """A paragraph each; of cautions in their colour."""
    return [paragraph(text, width, "caution" if _is_marked(text) else "plain") for text in texts]


def _to_do(look: Look) -> str:
    """What has to be bought and changed for the chosen scenario against what stands today."""
    today, resolved = look.answers.get(look.draft.today_id or ""), look.checked.resolved
    here, there = resolved.get(look.chosen or ""), resolved.get(look.draft.today_id or "")
    if look.answer is None or today is None or here is None or there is None or look.is_today:
        return ""
    return to_do_words(buys_of(look.answer, today), here, there)
