"""How a text that is read is laid out in the room that there is."""

from __future__ import annotations

import pytest

from whatif.screens.desk.help import KEYS
from whatif.screens.dialogs.reading import Laid


@pytest.mark.parametrize(
    ("line", "width", "laid"),
    [
        ("Esc  back to the sheet", 14, ["Esc  back to", "     the sheet"]),
        ("w F10      write it down", 23, ["w F10      write it", "           down"]),
        ("  a sentence that goes on", 14, ["  a sentence", "  that goes on"]),
        ("a sentence that goes on", 14, ["a sentence", "that goes on"]),
        # A figure far at the right leaves no room below it.
        ("  spindle hours      72.8 h", 20, ["  spindle hours", "  72.8 h"]),
        ("", 14, [""]),
    ],
)
def test_a_line_goes_on_where_its_text_begins(line: str, width: int, laid: list[str]) -> None:
    assert Laid([(line, "")]).laid(width).plain.split("\n") == laid


@pytest.mark.parametrize("width", [60, 71, 95])
def test_all_keys_are_told_and_none_of_their_lines_begins_at_the_edge(width: int) -> None:
    """A word of what a key does stood at the left, as if it were a key."""
    text = Laid([(line, "") for line in KEYS.splitlines()]).laid(width).plain
    assert " ".join(text.split()) == " ".join(KEYS.split())
    at_the_edge = [line for line in text.split("\n") if not line.startswith(" ")]
    assert len(at_the_edge) == len(KEYS.splitlines())
