"""The verdict as it is drawn: who comes first and why, the table, and what it rests on."""

from __future__ import annotations

from dataclasses import replace
from itertools import zip_longest
from typing import TYPE_CHECKING, Final

from rich.cells import cell_len

from whatif.answers.cautions import Danger
from whatif.screens.views.large import figure_rows
from whatif.screens.views.meeting.page import LONGEST
from whatif.screens.views.meeting.table import HEAD_ROWS, alternatives_table, columns_for, is_parted
from whatif.screens.views.view import Look, caution_rows
from whatif.screens.widgets.drawing import EDGE, Span, SpanRow, paragraph, row
from whatif.telling.meeting.decision import decided_words, decision_in
from whatif.telling.meeting.page import headline

if TYPE_CHECKING:
    from collections.abc import Sequence

    from whatif.telling.meeting.lines import AlternativeLine
    from whatif.telling.meeting.verdict import VerdictTold


def verdict_rows(
    look: Look, told: VerdictTold, tried: str, width: int, height: int, kept: int | None = None
) -> list[SpanRow]:
    """Who comes first and why, a line an alternative, and what it rests on.

    As much air, and as much drawn, as there is room for: nobody scrolls in front of others.

    Args:
        tried: how it ends under doubts.
        kept: how many lines are drawn, the others in one; all where none is said.
    """
    room = min(width, LONGEST)
    above = _above(told, room, _decided(look, told))
    cautions = _cautions(look, told, width)
    decides = [paragraph(text, room) for text in _decides(told, width)]
    in_two = width >= 2 * LONGEST + EDGE
    rests = _rests(told, told.rests_with(tried), room)
    shown = _shown(told, look.chosen, len(told.lines) if kept is None else kept)
    table = alternatives_table(look, told, width, 0, shown)
    used = len(above) + len(table) + len(cautions) + _long(decides, rests, in_two=in_two)
    # Rather no air above the table than one line below that nobody sees.
    is_whole = used <= height + 1
    large = _first_large(look, told, width) if height >= TALL else []
    # They are read from afar: rather no air between lines than none of them.
    if used + len(large) > height + 1:
        large = []
    # A row left free between lines of the table, where all is seen even so.
    if used + len(large) + len(shown) + len(decides) + len(rests) <= height:
        table = alternatives_table(look, told, width, 1, shown)
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
        (*here, Span(" " * (LONGEST + EDGE - sum(cell_len(span.text) for span in here))), *there)
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
    if told.floor_beside and columns_for(told, width).floor:
        amounts = (*amounts[:-1], told.floor_beside)
    return tuple(filter(None, (told.alone, *amounts)))


def lines_kept(look: Look, told: VerdictTold, width: int, height: int) -> int:
    """How many lines of the table are drawn, so that what decides is seen without scrolling.

    All, where that gains nothing: where what decides is not seen with fewer either, and the
    table alone has room.
    """
    count, room = len(told.lines), min(width, LONGEST)
    above = len(_above(told, room, _decided(look, told))) + len(_cautions(look, told, width))
    head = above + HEAD_ROWS + is_parted(told.lines)
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


TALL = 36
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


_FIVE_HIGH: Final = 30
"""Rows for which a figure is drawn five rows high."""


def _decided(look: Look, told: VerdictTold) -> str:
    """What has been decided, where some notes say so, and whether that still holds."""
    reference = next((it.title for it in look.checked.draft if it.id == look.reference), "")
    return decided_words(decision_in(look.draft), told, reference)


def _above(told: VerdictTold, room: int, decided: str) -> list[SpanRow]:
    """What stands above the table, a row left free between."""
    was = paragraph(decided, room, "lead") if decided else []
    return [*paragraph(told.lead, room, "lead"), *paragraph(told.why, room), *was, row("")]
