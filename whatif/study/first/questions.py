"""The questions of a first study: how each number is found, read, and done without.

An answer is a text as it was typed. A bare number has the unit that its question states; any
other text says its own. Nobody has to know: what is not known is assumed, and said to be.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final

from whatif.records import dataclass
from whatif.study.first.shift_hours import ShiftHours
from whatif.study.raw import Path, Raw
from whatif.study.schema.kinds import Count, Days, Kind, Number, Time
from whatif.units import share_of, share_typed

Answers = Mapping[str, str]
"""Typed texts by the questions' ids; what is missing or empty is not known."""

_NOT_KNOWN = frozenset({"", "?", "-", "don't know", "don’t know", "dont know", "not known"})
_NONE = frozenset({"0", "none", "no", "nothing", "zero", "no breaks", "no pallets"})
_NONE_IS = {
    "breaks": "0",
    "pallets": "1",
    "door": "0",
    "numbers": "1",
    "each": "0",
    "wait": "0",
}
"""What "none" comes to: without pallets there is one table all the same."""

USUAL_NUMBERS: Final = 20
"""Part numbers where nobody says how many: enough that every order is set up anew; common practice,
no source."""

_WEEKS: Final = re.compile(r"\s*(?:wk|weeks?)\s*$", re.IGNORECASE)
"""Behind a number of weeks, which the study holds bare."""

_PAID: Final = re.compile(r"[\s,(]*\b(un|not )?paid\b[\s)]*$", re.IGNORECASE)
"""Behind breaks: whether they are."""

_UNITS = {"minutes": "min", "hours": "h"}


@dataclass(frozen=True, slots=True)
class FirstQuestion:
    """One line of the page.

    Attributes:
        id: names the answer.
        number: "1" to "11", "" on a further line of the same question.
        label: what is asked, short enough for a line.
        unit: what a bare number means: "minutes", "hours", or what is counted.
        kind: what an answer has to be.
        why: why it is asked.
        find: how a shop finds the number.
        assumed: what holds where it is not known, all else not known either.
        allowed: what may be typed.
        keys: the keys of the study that the answer stands under, such as "part.*.cycle".
    """

    id: str
    number: str
    label: str
    unit: str
    kind: Kind[Any]
    why: str
    find: str
    assumed: str
    allowed: str
    keys: tuple[str, ...]

    @property
    def patterns(self) -> tuple[Path, ...]:
        """The keys as the catalogue of keys has them."""
        return tuple(tuple(key.split(".")) for key in self.keys)

    def read(self, text: str) -> Raw | None:
        """What the study holds for an answer, None where it is not known.

        Raises :class:`KindError`.
        """
        if not is_known(text):
            return None
        raw = self.kind.typed(self.with_unit(text))
        self.kind.read(raw)
        return raw

    def typed_over(self, text: str, standing: str) -> str:
        """The answer as typed; a share, such as -20 %, is taken of the answer that stood there."""
        left = share_typed(text) if isinstance(self.kind, Time | Count | Number) else None
        if left is None or left < 0:
            return text
        whole = isinstance(self.kind, Count)
        share = share_of(self.with_unit(standing), self.kind.dimension, left, whole=whole)
        if share and self.id == "breaks" and not are_paid(standing):
            share = f"{share} unpaid"
        return share or text

    def with_unit(self, text: str) -> str:
        """The answer as typed, a bare number with its unit, without words that its kind has not."""
        if self.id == "breaks":
            text = _PAID.sub("", text)
        if " ".join(text.lower().split()) in _NONE:
            text = _NONE_IS.get(self.id, text)
        if self.id == "weeks":
            text = _WEEKS.sub("", text)
        text = text.strip()
        return f"{text} {_UNITS[self.unit]}" if self.is_bare(text) else text

    def is_bare(self, text: str) -> bool:
        """Whether it is a number without a unit, which takes that of the question."""
        return self.unit in _UNITS and not any(sign.isalpha() or sign in "'\"%" for sign in text)


def is_known(text: str) -> bool:
    """Whether an answer says anything but "don't know"."""
    return " ".join(text.lower().split()) not in _NOT_KNOWN


def are_paid(breaks: str) -> bool:
    """Whether breaks that were answered are paid; they are where nobody says that they are not."""
    found = _PAID.search(breaks)
    return found is None or not found[1]


_MINUTES = "minutes, such as 11 or 7.5, or a time with its unit, such as 45 s"
_HOURS = "hours, such as 1.5, or a time with its unit, such as 50 min"

QUESTIONS: tuple[FirstQuestion, ...] = (
    FirstQuestion(
        "shift",
        "1",
        "Shift, from - to",
        "",
        ShiftHours(),
        "These are the hours that people are paid for, and in which machines are loaded.",
        "The shift plan, or the time clock. More than one shift: with a comma between them, such "
        "as 06:00-14:00, 14:00-22:00.",
        "07:00-15:30",
        "from-to, such as 06:00-14:30, or more shifts with a comma between them",
        ("shift.*.start", "shift.*.end"),
    ),
    FirstQuestion(
        "days",
        "",
        "on these days",
        "",
        Days(),
        "They make the hours of a week.",
        "The shift plan: the days on which the shift begins.",
        "mon-fri",
        "days, such as mon-fri, or mon wed sat",
        ("shift.*.days",),
    ),
    FirstQuestion(
        "breaks",
        "2",
        "Breaks, in all",
        "minutes",
        Time(),
        "Nobody loads in them, so a machine that ends its load stands.",
        "The shift plan: all breaks of one shift together. They are put in its middle; their "
        "own hours can be typed later. Not paid: 45 unpaid.",
        "no breaks",
        "whole minutes, such as 45, or 45 unpaid; fewer than the shift has, or none",
        ("shift.*.breaks", "shift.*.unpaid_breaks"),
    ),
    FirstQuestion(
        "people",
        "3",
        "People on a shift",
        "people",
        Count(1, 200),
        "Machines wait for each other where few people load many.",
        "Those who load these machines, on one shift. Somebody who is there half of the time: "
        "count only whom you can rely on.",
        "1 person",
        "a whole number from 1 to 200, such as 2",
        ("shift.*.people",),
    ),
    FirstQuestion(
        "setters",
        "",
        "of them may change over",
        "people",
        Count(1, 200),
        "Where few may change over, machines wait for them while others stand free.",
        "Those who may change the work holding and prove a part out; the others on the shift only "
        "load.",
        "all of them",
        "a whole number from 1 to the people on a shift, such as 1",
        ("shift.*.does",),
    ),
    FirstQuestion(
        "machines",
        "4",
        "Machines",
        "machines",
        Count(1, 200),
        "Their hours are what all is measured in.",
        "Count the machines that make these parts and are much alike. Machines of another sort "
        "are added later in the sheet: n, then m.",
        "1 machine",
        "a whole number from 1 to 200, such as 2",
        ("machine.*.count",),
    ),
    FirstQuestion(
        "pallets",
        "5",
        "Pallets on a machine",
        "pallets",
        Count(1, 200),
        "A pallet that is loaded while another is cut saves the spindle that time.",
        "Count those that can be loaded while another is cut. 1: there is only the machine's own "
        "table, and loading happens in the machine.",
        "1: its own table",
        "a whole number from 1 to 200, such as 2",
        ("machine.*.pallets",),
    ),
    FirstQuestion(
        "cycle",
        "6",
        "Cycle of one piece",
        "minutes",
        Time(above_zero=True),
        "Long cycles let people go away; short ones keep calling them.",
        "A stop-watch from start to end, divided by the pieces in the load. Enter one typical "
        "part; more follow later in the sheet: n, then p (from a table: n, then f).",
        "10 min",
        _MINUTES,
        ("part.*.cycle",),
    ),
    FirstQuestion(
        "pieces",
        "7",
        "Pieces a load",
        "pieces",
        Count(1, 10_000),
        "Pieces in a load times their cycle is how long a machine runs by itself.",
        "Count the pieces that are clamped at one time on the table, or on one pallet.",
        "1 piece",
        "a whole number, 1 or more, such as 4",
        ("part.*.per_pallet",),
    ),
    FirstQuestion(
        "door",
        "8",
        "Door open between cycles",
        "minutes",
        Time(),
        "With one table this is lost to the spindle at every load.",
        "A stop-watch from the door's opening to its closing, the middle one of ten loads. With "
        "pallets: the time at one pallet.",
        "4 min a load",
        _MINUTES,
        ("handling.walk", "part.*.load", "part.*.unload"),
    ),
    FirstQuestion(
        "numbers",
        "9",
        "Part numbers a year",
        "in all",
        Count(1, 10_000),
        "Each number wants its own work holding, changed before its order.",
        "Count the different parts among last year's work orders for these machines. Each is set "
        "up anew. 1: the same part all the time.",
        f"{USUAL_NUMBERS} part numbers",
        "a whole number from 1 to 10000, such as 30",
        ("part.*.numbers",),
    ),
    FirstQuestion(
        "order",
        "",
        "order size",
        "pieces",
        Count(1, 100_000),
        "Small orders mean many changes.",
        "Last month's work orders: all their pieces, divided by the number of orders. One order is "
        "one changeover, where it is of another part than the one before.",
        "20 pieces",
        "a whole number, 1 or more, such as 40",
        ("part.*.batch",),
    ),
    FirstQuestion(
        "each",
        "",
        "changeover, wait included",
        "hours",
        Time(),
        "All that time the spindle makes nothing that sells.",
        "From the last good piece of one order to the first released piece of the next: the setup "
        "sheet, the time clock, or a stop-watch at three of them.",
        "0 h",
        _HOURS,
        ("part.*.setup",),
    ),
    FirstQuestion(
        "wait",
        "",
        "of that, wait for release",
        "minutes",
        Time(),
        "Others may work meanwhile, but this machine stands.",
        "How long the first piece is away being measured while the machine waits: the gauge "
        "room's book, or a stop-watch.",
        "0 min",
        _MINUTES,
        ("part.*.first_piece",),
    ),
    FirstQuestion(
        "switched_on",
        "10",
        "Hour meters: switched on",
        "hours",
        Time(),
        "With the next answer it shows what your answers do not explain.",
        "Read the control's hour meters of all machines at the start and the end of some weeks, "
        "and add up the differences, without machines that had no work.",
        "no reading",
        _HOURS,
        ("hour_meters.switched_on",),
    ),
    FirstQuestion(
        "in_cut",
        "",
        "in cut, same weeks",
        "hours",
        Time(),
        "It is held against what the model finds.",
        "The same meters, the same weeks: the hours in which metal was cut. What the model finds "
        "more than that is a gap that your answers do not explain.",
        "no reading",
        _HOURS,
        ("hour_meters.in_cut",),
    ),
    FirstQuestion(
        "weeks",
        "",
        "weeks between readings",
        "weeks",
        Number(above_low=True),
        "They turn the two readings into hours a week.",
        "The weeks from the first reading to the last, those in which the machines stood too. No "
        "machine is switched on for more than 168 hours a week.",
        "not given",
        "a number above 0, such as 4",
        ("hour_meters.weeks",),
    ),
    FirstQuestion(
        "wanted",
        "11",
        "Pieces wanted a week",
        "if known",
        Number(),
        "More machines bring nothing that nobody buys.",
        "The order book: all good pieces that somebody would buy, in a usual week, of all part "
        "numbers together. More than that is not made.",
        "today's output",
        "a number above 0, such as 250",
        ("part.*.weekly",),
    ),
)
"""The lines of the page in their order."""

BY_ID: Mapping[str, FirstQuestion] = {question.id: question for question in QUESTIONS}
