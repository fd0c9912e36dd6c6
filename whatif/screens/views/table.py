"""The table: every part on every machine, its layout to scale, each limit with its margin."""

from __future__ import annotations

from typing import TYPE_CHECKING

from typing_extensions import override

from whatif.answers.cautions import Danger
from whatif.answers.on_table import OnTable, Pairing, pairings
from whatif.screens.views.view import Look, View, ViewHost, caution_rows, no_answer
from whatif.screens.widgets.drawing import (
    Span,
    SpanRow,
    Tone,
    beside,
    cut,
    key_spans,
    left_in,
    paragraph,
    row,
    window,
)
from whatif.session.calculate.questions import OnTableOf
from whatif.telling.fit import HOLDS, Sign, caption, changes_told, drawn, limits_told, verdict

if TYPE_CHECKING:
    from whatif.session.calculate.requests import Question

_LIST_WIDE, _LIST_NARROW = 36, 26
_WIDE = 100
_EDITED = {"v": "turn", "g": "gap", "b": "edge", "z": "per_pallet"}

_DRAWN = 9
"""Rows kept for a drawing with its caption before a caution is told at length."""

_NO_PAIRING = (
    "No part of this scenario is allowed on one of its machines: n adds a part or a machine."
)

_SIGNS: dict[Sign, Tone] = {"ok": "gain", "no": "loss", "?": "dim"}


class TableView(View):
    """A list of parts and machines at the left, the chosen one's table at the right."""

    name = "table"
    reads = """\
At the left every part on every machine, with the pieces of a load and how many there is room
for. At the right the table to scale, then each limit: "ok" with what is left of it, "no" with by
how much it misses, "?" where it could not be checked because a value is not given. The last lines
say what would have to change for one piece more."""
    keys = """\
up down   choose a part and a machine
v         how the part may be turned
g         the gap between pieces
b         the border left free at the table's edge
z         pieces in a load"""

    def __init__(self) -> None:
        self._at = 0

    def _place(self, found: tuple[Pairing, ...]) -> int:
        """The chosen one's place; there may be fewer than when it was chosen."""
        return max(0, min(self._at, len(found) - 1))

    def _pairing(self, look: Look) -> Pairing | None:
        found = _pairings(look)
        return found[self._place(found)] if found else None

    @override
    def question(self, look: Look) -> Question | None:
        """How the chosen part stands on the chosen machine."""
        pairing = self._pairing(look)
        if pairing is None or look.chosen is None:
            return None
        return OnTableOf(look.chosen, pairing.part, pairing.group)

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Move in the list, or edit what decides the fit."""
        if key in ("up", "down"):
            found = _pairings(look)
            self._at = max(0, self._place(found) + (1 if key == "down" else -1))
            return True
        pairing = self._pairing(look)
        if pairing is None or key not in _EDITED:
            return False
        host.edit_value(("part", pairing.part, _EDITED[key]))
        return True

    @override
    def touch(self, spot: str, look: Look, host: ViewHost) -> None:
        """Choose a line of the list."""
        self._at = int(spot)

    @override
    def figure(self, look: Look) -> str:
        """How the chosen part fits the chosen machine."""
        pairing = self._pairing(look)
        return "fit" if pairing is None else f"fit.{pairing.part}.{pairing.group}"

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """The list beside the drawing, the limits below the drawing."""
        if look.answer is None:
            return no_answer(look, width)
        found = _pairings(look)
        if not found:
            return paragraph(_NO_PAIRING, width, "dim")
        wide = _LIST_WIDE if width >= _WIDE else _LIST_NARROW
        left = self._list(found, wide, height - 2)
        right = self._on_table(look, width - wide - 1, height - 1)
        return [self._head(width), *beside(left, wide, " ", right)]

    def _head(self, width: int) -> SpanRow:
        border = "  b border left free" if width >= _WIDE else "  b border"
        return row(
            Span(" Parts on the table ", "title"),
            *key_spans("  v turning", "  g gap", border, "  z load"),
        )

    def _list(self, found: tuple[Pairing, ...], wide: int, height: int) -> list[Span]:
        """As much of the list as there is room for, the chosen line in it."""
        room = max(3, height - 1)
        at = self._place(found)
        more = f", {len(found)} in all" if len(found) > room else ""
        head = left_in(f" load of room for{more}", wide, "dim")
        shown = window(len(found), room, at)
        return [head, *(self._listed(i, found[i], wide, chosen=i == at) for i in shown)]

    def _listed(self, i: int, pairing: Pairing, wide: int, *, chosen: bool) -> Span:
        name = cut(f"{'>' if chosen else ' '}{pairing.part} on {pairing.group}", wide - 9)
        tone: Tone = "chosen" if chosen else "plain" if pairing.found.fits else "loss"
        return Span(f"{name} {verdict(pairing.found):>7} ", tone, str(i))

    def _on_table(self, look: Look, width: int, height: int) -> list[SpanRow]:
        if not isinstance(look.result, OnTable):
            return no_answer(look, width)
        found, units = look.result, look.result_units
        words = [
            *(
                line
                for sign, text in limits_told(found.found, found.part, found.group, units)
                for line in self._limit(sign, text, width)
            ),
            *paragraph(" ".join(changes_told(found, units)), width, "accent", 0),
            *paragraph(HOLDS, width, "dim", 0),
        ]
        words += caution_rows(look, (Danger.LIFTING,), width)
        drawing = drawn(found, width, max(5, height - len(words) - 1))
        if drawing is None:
            why = "Nothing to draw: enter the part's size and the machine's table."
            return [*paragraph(why, width, "dim", 0), *words]
        lines = [row(line) for line in drawing.lines]
        return [*lines, row(left_in(caption(found, drawing, units), width, "dim")), *words]

    def _limit(self, sign: Sign, text: str, width: int) -> list[SpanRow]:
        lines = paragraph(text, width, indent=3)
        return [row(Span(f"{sign:3}", _SIGNS[sign]), *lines[0][1:]), *lines[1:]]


def _pairings(look: Look) -> tuple[Pairing, ...]:
    return () if look.answer is None else pairings(look.answer.plan)
