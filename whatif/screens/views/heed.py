"""Cautions below what a view shows: in full, in short or by name, as there is room."""

from __future__ import annotations

from collections.abc import Sequence

from whatif.answers.cautions import LOCKING_OUT, Sort, in_short, sort_of
from whatif.screens.views.ink import Row, paragraph
from whatif.screens.views.view import EDGE, Look


def heed(look: Look, sorts: Sequence[Sort], width: int, room: int, indent: int = EDGE) -> list[Row]:
    """The chosen scenario's cautions of some sorts; at least a line that names them."""
    answer = look.answer
    texts = [] if answer is None else [one for one in answer.cautions if sort_of(one) in sorts]
    cell = None if answer is None else answer.plan.cell
    stops = () if cell is None else cell.stops
    if Sort.LOCKING_OUT in sorts and any(one.needs_person for one in stops):
        texts.append(LOCKING_OUT)
    if not texts:
        return []
    for said in (texts, [in_short(one) for one in texts]):
        rows = [
            line
            for one in said
            for line in paragraph(f"! Caution. {one}", width - 1, "caution", indent)
        ]
        if len(rows) <= room:
            return rows
    names = "; ".join(sort_of(one).value for one in texts)
    them = "it" if len(texts) == 1 else "them"
    return paragraph(f"! Caution: {names}. F2 reads {them}.", width - 1, "caution", indent)
