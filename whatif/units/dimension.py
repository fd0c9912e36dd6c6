"""The kinds of quantity a study file holds, and what is raised for a text that is none."""

from enum import Enum

from typing_extensions import override


class Dimension(Enum):
    """A kind of quantity (rule `study.values`).

    Members carry `noun` ("time"), `a_noun` ("a time") and `example` (a text that
    reads as this kind, for messages).
    """

    TIME = ("time", "a time", "12 min")
    LENGTH = ("length", "a length", "27 in")
    MASS = ("mass", "a mass", "40 lb")
    AREA = ("area", "an area", "2.5 m²")
    PERCENT = ("percentage", "a percentage", "85 %")

    def __init__(self, noun: str, a_noun: str, example: str) -> None:
        self.noun = noun
        self.a_noun = a_noun
        self.example = example


class UnitsError(ValueError):
    """What is no quantity of the wanted kind: the `reason`, and the `cure` to type.

    `text` is as it is to be shown; `instead` has the texts that may have been meant, which the cure
    names; none where it names no more than the example of the kind.
    """

    def __init__(self, text: str, reason: str, cure: str, instead: tuple[str, ...] = ()) -> None:
        super().__init__(text, reason, cure)
        self.text = text
        self.reason = reason
        self.cure = cure
        self.instead = instead

    @override
    def __str__(self) -> str:
        return f'"{self.text}": {self.reason}; {self.cure}'


class Unread(Exception):
    """Why a text is no quantity, and texts that may have been meant.

    `fixes` are whole texts to type instead; those that do not read themselves
    are dropped before the user sees them. With none left, `example` is shown, or
    else the example of the dimension.
    """

    def __init__(self, reason: str, fixes: tuple[str, ...] = (), example: str = "") -> None:
        super().__init__(reason)
        self.reason = reason
        self.fixes = fixes
        self.example = example
