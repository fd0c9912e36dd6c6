"""What comes at once from a terminal that does not mark what is pasted.

Where letters are commands a pasted text would run a row of them. Somebody who types over a slow
line is read at once too, a whole name and its Enter maybe; so several lines of letters in one read
are a text, and one is not.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from textual import events
from textual.message import Message

_AS_TEXT: Final = {"enter": "\n", "ctrl+j": "\n", "tab": "\t"}
_LEAST: Final = 3
"""Letters of a line of text; fewer may be commands."""

_LINES: Final = 2
"""Lines of text that nobody types within one read."""


class Burst(events.Paste):
    """A text that has come as keys; ``keys`` are handed on one by one where a line takes them."""

    def __init__(self, keys: Sequence[events.Key]) -> None:
        super().__init__(_text(keys))
        self.keys = tuple(keys)


def as_burst(came: Sequence[Message]) -> Burst | None:
    """What has come with one read, where that is a text and not keys."""
    keys = [event for event in came if isinstance(event, events.Key)]
    if len(keys) < max(_LEAST, len(came)):
        return None
    if not all(key.is_printable or key.key in _AS_TEXT for key in keys):
        return None
    text = _text(keys)
    lines = sum(map(_is_text, text.splitlines()))
    is_text = not text.startswith("\n") and (lines >= _LINES or _is_row(text))
    return Burst(keys) if is_text else None


def _text(keys: Sequence[events.Key]) -> str:
    return "".join(_AS_TEXT.get(key.key) or key.character or "" for key in keys)


def _is_row(text: str) -> bool:
    """Whether it is a name and its value, as they are copied from a column."""
    name, tab, value = text.partition("\t")
    return bool(tab and value.strip()) and _is_text(name)


def _is_text(line: str) -> bool:
    """Whether a line is none that is typed; one key that is held down is none either."""
    begins = line.strip()
    is_word = begins[:1].isalpha() or (begins[:1] in ("-", "–") and begins[1:2].isdigit())
    return is_word and len(begins) >= _LEAST and len(set(begins)) > 1
