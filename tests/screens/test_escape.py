"""Escape and a key at once are two keys, however a terminal sends them."""

from __future__ import annotations

import pytest
from textual import events

from whatif.screens.escape import EscapeApart


def keys(sent: str) -> list[tuple[str, str | None]]:
    found = EscapeApart().feed(sent)
    return [(key.key, key.character) for key in found if isinstance(key, events.Key)]


@pytest.mark.parametrize(
    ("sent", "read"),
    [
        ("\x1bx", [("escape", "\x1b"), ("x", "x")]),
        # What some terminals send for a word to the left and to the right.
        ("\x1bb", [("escape", "\x1b"), ("b", "b")]),
        ("\x1bf", [("escape", "\x1b"), ("f", "f")]),
        ("\x1b1", [("escape", "\x1b"), ("1", "1")]),
        ("\x1b.", [("escape", "\x1b"), ("full_stop", ".")]),
        ("\x1b\r", [("escape", "\x1b"), ("enter", "\r")]),
        ("\x1b\x1b[A", [("escape", "\x1b"), ("up", None)]),
        ("\x1b[A", [("up", None)]),
        ("\x1bOP", [("f1", None)]),
        ("\x1b[21~", [("f10", None)]),
    ],
)
def test_the_key_behind_it_is_not_lost(sent: str, read: list[tuple[str, str | None]]) -> None:
    assert keys(sent) == read


def test_nothing_of_a_burst_behind_it_is_lost() -> None:
    typed = "12 min and what else somebody types without a rest"
    assert [character for _, character in keys(f"\x1b{typed}")] == ["\x1b", *typed]
