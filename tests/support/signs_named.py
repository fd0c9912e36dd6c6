"""Which signs and colours of what is drawn the help does not name."""

from __future__ import annotations

import re

from whatif.screens.widgets.drawing import Seen
from whatif.telling.signs import COLOURS, SAID_BY_ITSELF, SIGNS, UNCOLOURED, signs_told

_DOTS = {chr(code) for code in range(0x2801, 0x2900)}
"""Lines of plots are drawn with them; a likely range has one that is a sign."""

_WORDS = {"so far", "not clear", "as typed", " reference", "<1"}
"""Short words that stand for more."""


def unnamed(seen: Seen, view: str) -> set[str]:
    """The signs, short words and tones that no line of the help names where they are drawn."""
    told = signs_told(seen.text, seen.tones, view)
    shown = {sign for sign, _ in told}
    letters = set("".join(shown))
    signs = {
        sign
        for sign in seen.text
        if not (sign.isspace() or sign.isascii() or sign.isalnum()) and sign not in letters
    }
    signs |= {"~"} & set(re.findall(r"~(?!/)", seen.text)) - letters
    lines = set() if "⢕" in letters else {"⢕"}
    words = {word for word in _WORDS if word in seen.text and word.strip() not in told_of(view)}
    tones = {tone for each in COLOURS if not each.only or view in each.only for tone in each.tones}
    return (signs - SAID_BY_ITSELF - (_DOTS - lines)) | words | (seen.tones - tones - UNCOLOURED)


def told_of(view: str) -> set[str]:
    """All that the help can name of a view."""
    return {each.shown for each in SIGNS if not each.only or view in each.only}
