"""Texts that do nothing to a terminal but stand there."""

from __future__ import annotations

import json
import unicodedata
from typing import Final


def harmless(text: str) -> str:
    """A text with a \\u escape in the place of each character that is more than a sign.

    Such move a terminal's cursor, set its colours and title, or turn the text round (Unicode
    Standard Annex 9); lone halves of a pair come from names of files that are no UTF-8. Ends of
    lines and tabs stay. Within JSON it says the same as before.
    """
    return "\r\n".join(line.translate(_HARMLESS) for line in text.split("\r\n"))


class _Harmless(dict[int, str]):
    """What stands for a character; each is looked up once."""

    def __missing__(self, number: int) -> str:
        sign = chr(number)
        is_sign = sign.isprintable() or sign in "\n\t" or unicodedata.category(sign) == "Zs"
        self[number] = sign if is_sign else json.dumps(sign)[1:-1]
        return self[number]


_HARMLESS: Final = _Harmless()
