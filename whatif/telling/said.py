"""One scenario's text in a row: shorter where there is little room, and how what it says is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Final, Literal

from whatif.records import dataclass
from whatif.telling.amounts import NOTHING, in_millions, in_thousands
from whatif.telling.gain_texts import short_gain_texts

if TYPE_CHECKING:
    from whatif.answers.ranks import Range

Sense = Literal["plain", "good", "bad", "beware", "unsure", "none"]
"""How what a text says is.

``beware`` rests on what is not so yet; ``unsure`` is a figure that is no clear difference, or
words in place of one that is not known; ``none`` is no figure, or one that comes second.
"""


MARK: Final = "! "
"""Before a gain that rests on what is not so yet."""

_FEWER_LETTERS: Final = {"at most ": "up to ", "at least ": "from "}
_SIGNS_FOR: Final = {"up to ": "≤", "from ": "≥", "about ": "≈"}


@dataclass(frozen=True, slots=True)
class Said:
    """One scenario's text in a row.

    Attributes:
        sense: whether it is as it should be.
        shorter: the same for fewer cells, each shorter than the one before.
        is_marked: whether a sign stands before it, for which it may stand beyond the room of
            figures rather than lose its likely range.
    """

    text: str
    sense: Sense = "plain"
    shorter: tuple[str, ...] = ()
    is_marked: bool = False

    def within(self, cells: int) -> str:
        """The first text that takes no more cells.

        Where none does, the last one in words of fewer letters, then with its amounts in thousands
        or millions, then with signs for those words, or else without what there is no room for: a
        number is never cut, since what is left of it would be read as another one.
        """
        texts = (self.text, *self.shorter)
        words = _instead(texts[-1], _FEWER_LETTERS)
        signs = _instead(words, _SIGNS_FOR)
        last = (words, in_thousands(words), signs, in_thousands(signs), in_millions(signs))
        found = next((text for text in (*texts, *last) if len(text) <= cells), None)
        if found is not None:
            return found
        kept = signs[: max(0, cells - 1)]
        while kept and any(sign.isdigit() for sign in kept.split(" ")[-1]):
            kept = " ".join(kept.split(" ")[:-1])
        return f"{kept.rstrip()}…"


def _instead(text: str, others: Mapping[str, str]) -> str:
    for word, other in others.items():
        text = text.replace(word, other)
    return text


NOTHING_SAID = Said(NOTHING, "none")
"""In place of what a scenario does not have."""


@dataclass(frozen=True, slots=True)
class SaidRow:
    """A row over all scenarios: what it is, and a text for each."""

    label: str
    cells: tuple[Said, ...]


def alike_within(cells: Sequence[Said], room: int) -> tuple[Said, ...]:
    """The texts of a row in one notation: all in full, or all in thousands, or in millions.

    All of them have the same ``shorter`` ones; the first way in which each has room is taken.
    """
    ways = 1 + min((len(said.shorter) for said in cells), default=0)
    texts = [[(said.text, *said.shorter)[way] for said in cells] for way in range(ways)]
    fits = (found for found in texts if all(len(text) <= room for text in found))
    found = next(fits, texts[-1])
    return tuple(
        Said(text, said.sense, said.shorter) for said, text in zip(cells, found, strict=True)
    )


def gain_said(gain: float | None, likely: Range | None, before: str = "") -> Said:
    """A gain with its likely range, ``before`` it what is to be known of it.

    Good or bad where it is a difference; which of them its range says where there is one.
    """
    from whatif.answers.gains import is_difference

    sense: Sense = "none" if gain is None else "unsure"
    if gain is not None and is_difference(gain, likely):
        sense = "good" if (gain if likely is None else likely[1]) > 0 else "bad"
    first, *shorter = (before + text for text in short_gain_texts(gain, likely))
    return Said(first, sense, tuple(shorter))
