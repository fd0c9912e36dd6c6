"""The kinds of quantity a study file holds, and the error for a text that is none."""

from enum import Enum


class Dimension(Enum):
    """A kind of quantity (the cell model, section 1).

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
    """A text that is no quantity of the wanted kind; the message says what to type."""
