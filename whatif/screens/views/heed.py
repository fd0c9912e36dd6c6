"""Cautions below what a view shows: in full, in short or by name, as there is room."""

from __future__ import annotations

from collections.abc import Sequence

from whatif.answers.cautions import Sort, in_short, sort_of, to_be_read
from whatif.screens.views.ink import Row, paragraph
from whatif.screens.views.view import EDGE, Look


def heed(look: Look, sorts: Sequence[Sort], width: int, room: int, indent: int = EDGE) -> list[Row]:
    """The chosen scenario's cautions of some sorts; at least a line that names them."""
    answer = look.answer
    said = () if answer is None else to_be_read(answer.cautions, answer.plan)
    texts = [one for one in said if sort_of(one) in sorts]
    if not texts:
        return []
    for form in (texts, [in_short(one) for one in texts]):
        rows = [
            line
            for one in form
            for line in paragraph(f"! Caution. {one}", width - 1, "caution", indent)
        ]
        if len(rows) <= room:
            return rows
    names = "; ".join(sort_of(one).value for one in texts)
    them = "it" if len(texts) == 1 else "them"
    return paragraph(f"! Caution: {names}. F2 reads {them}.", width - 1, "caution", indent)
