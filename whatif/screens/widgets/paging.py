"""Lists that have no line to be seen stay where they are when a page is gone on or back.

Textual looks the chosen option up among the lines that are laid out. A terminal of a few cells
leaves none, and looking up what is not there would end the program.
"""

from __future__ import annotations

from typing import Literal

from textual.widgets import OptionList

_move_page = OptionList._move_page


def _move_page_where_seen(self: OptionList, direction: Literal[-1, 1]) -> None:
    if (self.highlighted or 0) in self._index_to_line:
        _move_page(self, direction)


def page_safely() -> None:
    """Have it so in every list, those of Textual's own among them."""
    OptionList._move_page = _move_page_where_seen  # type: ignore[method-assign]  # on purpose
