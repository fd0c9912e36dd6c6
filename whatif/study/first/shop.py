"""The shop that the answers describe: its values, and what cannot be true of it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any, Final, Literal

from whatif.records import dataclass
from whatif.study.first.questions import (
    BY_ID,
    QUESTIONS,
    USUAL_NUMBERS,
    Answers,
    FirstQuestion,
    are_paid,
)
from whatif.study.raw import Raw
from whatif.study.schema.kinds import DAY, DAYS, KindError, Time
from whatif.study.schema.models import Handling, Part
from whatif.study.shifts import Hours
from whatif.units import Dimension, Quantity, show

_USUAL_SHIFT: Final = Hours(7 * 3600, 8 * 3600 + 1800)
"""A day shift of eight hours with half an hour off; common practice, no source."""

_USUAL_CYCLE: Final = "10 min"
"""For want of any number: between the minutes and the half hours of milled parts; common
practice, no source."""

USUAL_ORDER: Final[int] = Part.assumed("batch")
"""Pieces in an order where nobody says how many (rule `keys.part`)."""

_WALK, _LOAD, _UNLOAD = (
    Time().read(model.assumed(key)).seconds
    for model, key in ((Handling, "walk"), (Part, "load"), (Part, "unload"))
)

WEEK: Final = 7 * DAY
"""Seconds for which a machine can be switched on in a week."""


class Shop:
    """The shop as the answers describe it. Of :func:`faults` there must be none.

    A property is None where the answer is not known and the study leaves the value out, so that
    it stands as assumed; what a study cannot leave out is assumed here.
    """

    def __init__(self, answers: Answers) -> None:
        self._texts = answers
        self._raw = {
            question.id: question.read(answers.get(question.id, "")) for question in QUESTIONS
        }

    def text(self, question: str) -> str:
        """The answer as it was typed, with its unit."""
        text = BY_ID[question].with_unit(self._texts.get(question, ""))
        return text if question != "breaks" or self.are_breaks_paid else f"{text} unpaid"

    def raw(self, question: str) -> Raw | None:
        """The value as the study holds it, None where it is not known."""
        return self._raw[question]

    def _read(self, question: str) -> Any:
        raw = self._raw[question]
        return None if raw is None else BY_ID[question].kind.read(raw)

    def seconds(self, question: str) -> int | None:
        """A time in whole seconds."""
        time: Quantity | None = self._read(question)
        return None if time is None else time.seconds

    @property
    def unknown(self) -> tuple[str, ...]:
        """The questions whose answers are assumed."""
        return tuple(
            question.id
            for question in QUESTIONS
            if self._raw[question.id] is None and question.id not in self.beside
        )

    @property
    def beside(self) -> tuple[str, ...]:
        """The questions that by other answers mean nothing."""
        alone = () if self._count("people") > 1 and self.changes_over else ("setters",)
        return alone if self.changes_over else (*alone, "each", "wait")

    @property
    def shifts(self) -> tuple[Hours, ...]:
        """The shifts of a day."""
        shifts: tuple[Hours, ...] = self._read("shift") or (_USUAL_SHIFT,)
        return shifts

    @property
    def loaders(self) -> int:
        """People on a shift who only load; 0 where everybody may change over, or nothing is."""
        if not self.changes_over or self._raw["setters"] is None:
            return 0
        return self._count("people") - self._count("setters")

    @property
    def setters(self) -> Raw | None:
        """The others on a shift as the study holds them, None where nobody says how many."""
        return self._count("setters") if self.loaders else self._raw["people"]

    @property
    def days(self) -> tuple[str, ...]:
        """The days as the study holds them."""
        days: tuple[str, ...] = self._read("days") or DAYS[:5]
        return days

    @property
    def cycle(self) -> Raw:
        """The cycle of a piece as the study holds it."""
        return self._raw["cycle"] or _USUAL_CYCLE

    @property
    def are_breaks_paid(self) -> bool:
        """Whether the breaks are, of all shifts alike."""
        return are_paid(self._texts.get("breaks", ""))

    @property
    def machines(self) -> int:
        """How many there are."""
        return self._count("machines")

    @property
    def pallets(self) -> int:
        """On each machine."""
        return self._count("pallets")

    @property
    def tables(self) -> int:
        """Faces on which work is held and changed over: all tables and pallets."""
        return self.machines * self.pallets

    def _count(self, question: str, unknown: int = 1) -> int:
        raw = self._raw[question]
        return raw if isinstance(raw, int) else unknown

    @property
    def numbers(self) -> int:
        """Part numbers a year; what is assumed where nobody knows."""
        return self._count("numbers", USUAL_NUMBERS)

    @property
    def order(self) -> int:
        """Pieces in an order; what is assumed where nobody knows."""
        return self._count("order", USUAL_ORDER)

    @property
    def changes_over(self) -> bool:
        """Whether there is more than one part to make."""
        return self.numbers > 1

    @property
    def wanted(self) -> Fraction | None:
        """Pieces a week."""
        wanted: Fraction | None = self._read("wanted")
        return wanted

    @property
    def handling(self) -> tuple[int, int] | None:
        """Seconds to load and to unload a piece: two thirds and one third of the door's time.

        So the assumed times stand to each other (rule `keys.part`).
        """
        door = self.seconds("door")
        if door is None:
            return None
        pieces = self._count("pieces")
        both = _rounded(Fraction(door, pieces))
        load = _rounded(Fraction(2 * door, 3 * pieces))
        return load, both - load

    @property
    def door_assumed(self) -> int:
        """Seconds of the door at one load where nobody says: the walk, then each piece on and off.

        What a study without `load`, `unload` and `walk` holds (rules `keys.part`, `people.visit`).
        """
        return _WALK + self._count("pieces") * (_LOAD + _UNLOAD)

    @property
    def measured(self) -> Fraction | None:
        """In-cut over switched-on, a share of one."""
        on, cut = self.seconds("switched_on"), self.seconds("in_cut")
        return Fraction(cut, on) if on and cut is not None else None

    @property
    def weeks(self) -> Fraction | None:
        """Between the readings of the hour meters."""
        weeks: Fraction | None = self._read("weeks")
        return weeks

    @property
    def most_switched_on(self) -> int | None:
        """Seconds that all machines together have between the readings; None where not known."""
        return None if self.weeks is None else math.floor(self.machines * self.weeks * WEEK)

    @property
    def setup(self) -> int | None:
        """Seconds of a person's work at a changeover, the wait for the first piece left out."""
        each = self.seconds("each")
        return None if each is None else each - (self.seconds("wait") or 0)


FaultSort = Literal[
    "not read",
    "no whole minutes",
    "nothing left of a shift",
    "more than the people",
    "more than the changeover",
    "more than switched on",
    "more than the weeks have",
    "nothing sells",
]


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong with an answer; `whatif.telling.first_study` makes a sentence of it.

    ``details`` has the answer and why it is not read, or the time that the answer may not exceed.
    """

    question: FirstQuestion
    sort: FaultSort
    details: tuple[str, ...] = ()


def faults(answers: Answers) -> Mapping[str, Fault]:
    """What is wrong with each answer, by the questions' ids."""
    by_id: dict[str, Fault] = {}
    for question in QUESTIONS:
        text = answers.get(question.id, "")
        try:
            question.read(text)
        except KindError as fault:
            by_id[question.id] = Fault(question, "not read", (text.strip(), fault.why))
    for id_, sort, *details in _together(Shop({**answers, **dict.fromkeys(by_id, "")})):
        by_id.setdefault(id_, Fault(BY_ID[id_], sort, tuple(details)))
    return by_id


def _together(shop: Shop) -> Iterator[tuple[str, FaultSort, *tuple[str, ...]]]:
    """Answers that cannot all be true, and what cannot be made a study of."""
    off, shortest = shop.seconds("breaks") or 0, min(shift.length for shift in shop.shifts)
    if off % 60:
        yield "breaks", "no whole minutes"
    elif off >= shortest:
        yield "breaks", "nothing left of a shift", time_text(shortest)
    people, setters = shop.raw("people") or 1, shop.raw("setters")
    if isinstance(people, int) and isinstance(setters, int) and setters > people:
        yield "setters", "more than the people", str(people)
    each, wait = shop.seconds("each"), shop.seconds("wait")
    if each is not None and wait is not None and wait > each:
        yield "wait", "more than the changeover", time_text(each)
    on, cut = shop.seconds("switched_on"), shop.seconds("in_cut")
    if on is not None and cut is not None and cut > on:
        yield "in_cut", "more than switched on", time_text(on)
    most = shop.most_switched_on
    if on is not None and most is not None and on > most:
        has = str(shop.machines), shop.text("weeks"), metered_text(most)
        # Where it is seen first, whichever of them is typed last.
        yield "switched_on", "more than the weeks have", *has
        yield "weeks", "more than the weeks have", *has
    if shop.wanted == 0:
        yield "wanted", "nothing sells"


def time_text(seconds: int) -> str:
    """A time as a short text, which a study file can hold as well."""
    return show(seconds, Dimension.TIME, "metric")


def metered_text(seconds: int) -> str:
    """Hours as meters count them, in whole ones or with a digit."""
    return f"{seconds / 3600:.1f}".removesuffix(".0") + " h"


def _rounded(value: Fraction) -> int:
    """To a whole number, halves up."""
    return math.floor(value + Fraction(1, 2))
