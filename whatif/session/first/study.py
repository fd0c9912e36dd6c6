"""A first study from ten answers: today's arrangement, and below it what is worth a look.

Changeovers become two like parts, made by earliest due date, whose orders are as long as the
changeovers say. A shop's own order has ``pieces a week / changeovers a week`` pieces and lies on
one table; the pieces are no more than are wanted, and no more than today can make. Two parts
cannot lie on all tables side by side as a shop's many parts do, and in the model every table
joins in every order and is changed over for it once: so one order of the model is one of the
shop's own on each table. The shop's orders keep their size in every scenario; many parts with a
fixture each, made in orders of that size, come to about the same gains (a test runs them). What
today makes is found by running it, since shorter orders leave less time for pieces.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Final

from whatif.answers.compare import Simulate, compare
from whatif.answers.figures import Figures
from whatif.session.first.notes import makes_more, more_tables, notes_of
from whatif.session.first.questions import Answers
from whatif.session.first.shift_hours import Hours, clock
from whatif.session.first.shop import LIKE_PARTS, USUAL_ORDER, Made, Told, words_of
from whatif.study.check.check import check
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.guesses import NOTES, Guesses, default_written, with_guesses, written
from whatif.study.raw import EMPTY, Entries, Path, Raw
from whatif.study.schema.kinds import DAY

TODAY: Final = "today"
POOL: Final = 6
"""Pallets of a pool that is worth a look; our own reasoning: enough for some hours alone."""

LONGER: Final = 2 * 3600
"""Seconds by which a longer shift is longer; our own reasoning: what overtime commonly is."""

_MOST_TRIES: Final = 12
"""Runs until the length of the orders settles; it does in about five."""

_USUAL_WEEKS: Final = 13
"""Weeks measured where a study says nothing (rule `keys.study`)."""

_MOST_WEEKS: Final = 26
"""So that no first study takes long to answer."""

_PLACEHOLDER: Final = 100
"""Pieces a week of each part while it is being found what today makes; how fast the cell is does
not hang on it, since both parts are wanted alike."""

WALK: Final[Path] = ("handling", "walk")
_NO_WALK: Final = "0 min"

Entered = dict[Path, Raw]


@dataclass(frozen=True, slots=True)
class FirstStudy:
    """A study made from answers, and what its user is to be told first."""

    draft: Draft
    notice: str


def first_study(answers: Answers, simulate: Simulate) -> FirstStudy:
    """The study that faultless answers say; the shop of today is run to find what it makes.

    ``simulate`` may raise to give the work up.
    """
    told = Told(answers)
    made = _settled(told, simulate)
    weeks = _weeks(told, made)
    wanted = told.wanted or _output(told, made.order, weeks, simulate)
    today = _today(told, made.order, wanted, notes_of(told, made))
    scenarios = ((TODAY, today), *_alternatives(told, made.order))
    head: dict[str, Raw] = {"format": 1, "title": "First study", "reference": TODAY}
    if weeks > _USUAL_WEEKS:
        head["weeks"] = weeks
    drafts = tuple(
        with_guesses(
            ScenarioDraft(id_, Entries(entered)),
            {**_guesses(told, entered), **(_defaults(told) if id_ == TODAY else {})},
        )
        for id_, entered in scenarios
    )
    return FirstStudy(Draft(Entries(head), drafts), _notice(told, made))


def _weeks(told: Told, made: Made) -> int:
    """Weeks to measure, so that one order more or less is a fifth of a part's pieces at most."""
    if not told.changes_over:
        return _USUAL_WEEKS
    longest = made.order * told.machines * max(POOL, told.pallets)
    made_of_each = max(1.0, (made.pieces or float(told.wanted or 1)) / 2)
    return min(_MOST_WEEKS, max(_USUAL_WEEKS, round(5 * longest / made_of_each)))


# -- today ---------------------------------------------------------------------------------


def part_ids(told: Told) -> tuple[str, ...]:
    """Two like parts where there are changeovers, else one."""
    return LIKE_PARTS if told.changes_over else ("piece",)


def _today(told: Told, order: int, wanted: Fraction, notes: str = "") -> Entered:
    entered: Entered = {("title",): "Today"}
    if notes:
        entered[("notes",)] = notes
    for meter in ("switched_on", "in_cut"):
        _put(entered, ("hour_meters", meter), told.raw(meter))
    if told.handling is not None:
        # Who times an open door times the steps to it as well.
        entered[WALK] = _NO_WALK
    for name, hours in zip(_shift_names(told), told.shifts, strict=True):
        entered |= _shift(told, name, hours)
    if told.changes_over:
        entered[("sequence", "rule")] = "earliest_due_date"
    _put(entered, ("machine", "mill", "count"), told.raw("machines"))
    _put(entered, ("machine", "mill", "pallets"), told.raw("pallets"))
    if not any(path[0] == "machine" for path in entered):
        # There is one all the same, with nothing entered for it.
        entered[("machine", "mill")] = EMPTY
    for part in part_ids(told):
        entered |= {("part", part, key): raw for key, raw in _part(told, order, wanted).items()}
    return entered


def _guesses(told: Told, entered: Entered) -> Guesses:
    """What is entered though nobody said it, so that it is marked as assumed."""
    unknown = {
        "start": "shift",
        "end": "shift",
        "days": "days",
        "cycle": "cycle",
        "weekly": "wanted",
        "batch": "changeovers",
    }
    return {
        path: written(path, raw)
        for path, raw in entered.items()
        if path == WALK or (path[-1] in unknown and told.raw(unknown[path[-1]]) is None)
    }


def _defaults(told: Told) -> Guesses:
    """What is left out though it was asked for, so that one list tells all that is assumed."""
    shifts: list[Path] = [("shift", name) for name in _shift_names(told)]
    parts: list[Path] = [("part", part) for part in part_ids(told)]
    stands_in: dict[str, list[Path]] = {
        "breaks": [(*shift, "breaks") for shift in shifts],
        "people": [(*shift, "people") for shift in shifts],
        "machines": [("machine", "mill", "count")],
        "pallets": [("machine", "mill", "pallets")],
        "pieces": [(*part, "per_pallet") for part in parts],
        "door": [WALK, *((*part, key) for key in ("load", "unload") for part in parts)],
        "each": [(*part, "setup") for part in parts],
        "wait": [(*part, "first_piece") for part in parts],
        "switched_on": [("hour_meters", "switched_on")],
        "in_cut": [("hour_meters", "in_cut")],
    }
    paths = [path for question in told.unknown for path in stands_in.get(question, ())]
    return {path: default_written(path) for path in paths}


def _put(entered: Entered, path: Path, raw: Raw | None) -> None:
    if raw is not None:
        entered[path] = raw


def _shift_names(told: Told) -> tuple[str, ...]:
    return ("day",) if len(told.shifts) == 1 else ("first", "second", "third")[: len(told.shifts)]


def _shift(told: Told, name: str, hours: Hours) -> Entered:
    entered: Entered = {
        ("shift", name, "days"): told.days,
        ("shift", name, "start"): clock(hours.start),
        ("shift", name, "end"): clock(hours.end),
    }
    _put(entered, ("shift", name, "people"), told.raw("people"))
    _put(entered, ("shift", name, "breaks"), _breaks(told, hours))
    return entered


def _breaks(told: Told, hours: Hours) -> Raw | None:
    off = told.seconds("breaks")
    if off is None:
        return None
    return (hours.middle(off),) if off else ()


def _part(told: Told, order: int, wanted: Fraction) -> dict[str, Raw]:
    values: dict[str, Raw | None] = {"per_pallet": told.raw("pieces"), "cycle": told.cycle}
    if told.handling is not None:
        values["load"], values["unload"] = (words_of(one) for one in told.handling)
    if told.changes_over:
        values["setup"] = None if told.setup is None else words_of(told.setup)
        values["first_piece"] = told.raw("wait")
        values["batch"] = order * told.tables
    values["weekly"] = _number(wanted / len(part_ids(told)))
    return {key: raw for key, raw in values.items() if raw is not None}


def _number(value: Fraction) -> Raw:
    if value.denominator == 1:
        return value.numerator
    return round(Decimal(value.numerator) / value.denominator, 6).normalize()


def _settled(told: Told, simulate: Simulate) -> Made:
    """Run today until the shop's orders are as long as its changeovers say."""
    changeovers = told.changeovers
    if not changeovers:
        return _run(told, USUAL_ORDER, simulate)
    order, tried = USUAL_ORDER, dict[int, Made]()
    while order not in tried and len(tried) < _MOST_TRIES:
        tried[order] = _run(told, order, simulate)
        order = max(1, int(tried[order].pieces / float(changeovers) + 0.5))
    # Where two lengths take turns, or more is said than the time allows: the nearest one.
    return min(tried.values(), key=lambda one: abs(one.pieces / one.order - float(changeovers)))


def _run(told: Told, order: int, simulate: Simulate) -> Made:
    """What today makes in a week with orders of that length."""
    figures = _figures(told, order, _USUAL_WEEKS, simulate)
    most = 0.0 if figures is None else sum(figures.pieces.values())
    return Made(most, most if told.wanted is None else min(most, float(told.wanted)), order)


def _output(told: Told, order: int, weeks: int, simulate: Simulate) -> Fraction:
    """What today makes in whole pieces a week, rounded down, of no part more than of the other.

    So today makes all that it is said to sell, and no scenario sells more.
    """
    figures = _figures(told, order, weeks, simulate)
    least = 0.0 if figures is None else min(figures.pieces.values())
    return Fraction(max(1, math.floor(least)) * len(part_ids(told)))


def _figures(told: Told, order: int, weeks: int, simulate: Simulate) -> Figures | None:
    wanted = Fraction(_PLACEHOLDER * len(part_ids(told)))
    today = ScenarioDraft(TODAY, Entries(_today(told, order, wanted)))
    head = Entries({"format": 1, "weeks": weeks})
    return compare(check(Draft(head, (today,))), simulate).answers[TODAY].figures


# -- what is worth a look ------------------------------------------------------------------


def _alternatives(told: Told, order: int) -> Iterator[tuple[str, Entered]]:
    """Each scenario's id and what it enters."""
    if told.pallets == 1:
        yield "second_pallet", _pallets(told, order, 2, "A second pallet")
    if told.pallets < POOL:
        yield "pool", _pallets(told, order, POOL, "Six pallets each")
    above = "pool" if told.pallets < POOL else TODAY
    yield (
        "after_hours",
        {
            ("title",): "... on after hours" if above == "pool" else "On after hours",
            ("notes",): "Until every loaded pallet is cut. First read the cautions (F2).",
            ("parent",): above,
            ("unattended", "after_shift"): "until done",
        },
    )
    yield (
        "machine_more",
        {
            ("title",): "One machine more",
            ("parent",): TODAY,
            ("machine", "mill", "count"): told.machines + 1,
            **_orders(told, order, (told.machines + 1) * told.pallets),
        },
    )
    yield from _more_hours(told)


def _pallets(told: Told, order: int, pallets: int, title: str) -> Entered:
    seldom = (
        "Pallets are seldom as large as a table: count again how many pieces one of them takes."
    )
    entered: Entered = {
        ("title",): title,
        ("parent",): TODAY,
        ("machine", "mill", "pallets"): pallets,
        **_orders(told, order, told.machines * pallets),
    }
    orders = entered.get(NOTES)
    entered[NOTES] = f"{seldom}\n{orders}" if orders else seldom
    return entered


def _orders(told: Told, order: int, tables: int) -> Entered:
    """As many of the shop's orders at a time as there are tables; none is longer than today's."""
    if not told.changes_over:
        return {}
    entered: Entered = {("part", part, "batch"): order * tables for part in part_ids(told)}
    entered[NOTES] = more_tables(order, tables)
    return entered


def _more_hours(told: Told) -> Iterator[tuple[str, Entered]]:
    name, last = max(
        zip(_shift_names(told), told.shifts, strict=True), key=lambda one: one[1].start
    )
    covered = last.start + last.length - min(one.start for one in told.shifts)
    if covered + LONGER <= DAY:
        longer = last.longer(LONGER)
        yield (
            "longer",
            {
                ("title",): "Two hours longer",
                ("parent",): TODAY,
                ("shift", name, "end"): clock(longer.end),
            },
        )
    if len(told.shifts) == 1 and 2 * last.length <= DAY:
        yield (
            "second_shift",
            {
                ("title",): "A second shift",
                ("parent",): TODAY,
                **_shift(told, "late", last.next()),
            },
        )


# -- words ---------------------------------------------------------------------------------


def _notice(told: Told, made: Made) -> str:
    """What stands below the sheet when the study opens; two lines of 80 columns at most."""
    unknown = len(told.unknown)
    text = "Your first study, not saved yet."
    if unknown:
        text += f" {unknown} answer{'s are' if unknown > 1 else ' is'} assumed: F2 says which."
    if told.wanted is None:
        text += " Nothing beyond today's output sells until you enter the pieces wanted."
    elif makes_more(told, made):
        text += f" Today could make {made.most:.0f} a week; if in fact fewer, something is missing."
    elif told.changes_over:
        text += " piece_a and piece_b stand for all your parts, half each."
    return text
