"""Cautions below what a view shows: in full, in short or by name, as there is room."""

from __future__ import annotations

from collections.abc import Sequence

from whatif.answers.cautions import Danger, to_be_read
from whatif.screens.views.ink import Row, paragraph
from whatif.screens.views.view import EDGE, Look
from whatif.telling.cautions import NAMES, caution_in_short, caution_text


def heed(
    look: Look, dangers: Sequence[Danger], width: int, room: int, indent: int = EDGE
) -> list[Row]:
    """The chosen scenario's cautions of some dangers; at least a line that names them."""
    answer = look.answer
    all_of_it = () if answer is None else to_be_read(answer.cautions, answer.plan)
    cautions = [caution for caution in all_of_it if caution.of in dangers]
    if not cautions:
        return []
    for tell in (caution_text, caution_in_short):
        rows = [
            line
            for caution in cautions
            for line in paragraph(f"! Caution. {tell(caution)}", width - 1, "caution", indent)
        ]
        if len(rows) <= room:
            return rows
    names = "; ".join(NAMES[caution.of] for caution in cautions)
    them = "it" if len(cautions) == 1 else "them"
    return paragraph(f"! Caution: {names}. F2 reads {them}.", width - 1, "caution", indent)
