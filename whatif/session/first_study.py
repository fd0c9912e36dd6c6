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
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Final

from whatif.answers.compare import compare
from whatif.answers.figures import Figures
from whatif.answers.running import Simulate
from whatif.study.check.check import check
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.first.questions import QUESTIONS, Answers
from whatif.study.first.shop import USUAL_ORDER, Made, Shop, time_text
from whatif.study.guesses import NOTES, Guesses, default_written, with_guesses, written
from whatif.study.raw import EMPTY, Path, Raw
from whatif.study.schema.kinds import DAY
from whatif.study.schema.models import FIRST_WEEKS
from whatif.study.shifts import Hours, clock
from whatif.telling.first_study import (
    LIKE_PARTS,
    MORE_PALLETS,
    ON_AFTER_HOURS,
    FirstFacts,
    more_tables,
    notes,
    notice,
)

TODAY: Final = "today"
POOL: Final = 6
"""Pallets of a pool that is worth a look; our own reasoning: enough for some hours alone."""

LONGER: Final = 2 * 3600
"""Seconds by which a longer shift is longer; our own reasoning: what overtime commonly is."""

_MOST_TRIES: Final = 12
"""Runs until the length of the orders settles; it does in about five."""

_USUAL_WEEKS: Final = FIRST_WEEKS
"""Weeks measured at least where a study says nothing (rule `results.window`)."""

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
    shop = Shop(answers)
    made = _settled(shop, simulate)
    weeks = _weeks(shop, made)
    wanted = shop.wanted or _output(shop, made.order, weeks, simulate)
    first = _facts(shop, made)
    today = _today(shop, made.order, wanted, notes(first))
    scenarios = ((TODAY, today), *_alternatives(shop, made.order))
    head: dict[str, Raw] = {"format": 1, "title": "First study", "reference": TODAY}
    if weeks > _USUAL_WEEKS:
        head["weeks"] = weeks
    drafts = tuple(
        with_guesses(
            ScenarioDraft(id_, entered),
            {**_guesses(shop, entered), **(_defaults(shop) if id_ == TODAY else {})},
        )
        for id_, entered in scenarios
    )
    return FirstStudy(Draft(head, drafts), notice(first))


def _facts(shop: Shop, made: Made) -> FirstFacts:
    said = shop.changeovers
    return FirstFacts(
        answered=tuple(
            (question.label, shop.text(question.id))
            for question in QUESTIONS
            if shop.raw(question.id) is not None
        ),
        assumed=len(shop.unknown),
        has_breaks=bool(shop.seconds("breaks")),
        has_door=shop.handling is not None,
        most=made.most,
        wanted=None if shop.wanted is None else float(shop.wanted),
        changes_over=shop.changes_over,
        order=made.order,
        tables=shop.tables,
        said=None if said is None else float(said),
        reached=made.pieces / made.order,
    )


def _weeks(shop: Shop, made: Made) -> int:
    """Weeks to measure, so that one order more or less is a fifth of a part's pieces at most."""
    if not shop.changes_over:
        return _USUAL_WEEKS
    longest = made.order * shop.machines * max(POOL, shop.pallets)
    made_of_each = max(1.0, (made.pieces or float(shop.wanted or 1)) / 2)
    return min(_MOST_WEEKS, max(_USUAL_WEEKS, round(5 * longest / made_of_each)))


# -- today ---------------------------------------------------------------------------------


def part_ids(shop: Shop) -> tuple[str, ...]:
    """Two like parts where there are changeovers, else one."""
    return LIKE_PARTS if shop.changes_over else ("piece",)


def _today(shop: Shop, order: int, wanted: Fraction, note: str = "") -> Entered:
    entered: dict[Path, Raw | None] = {
        ("title",): "Today",
        NOTES: note or None,
        ("hour_meters", "switched_on"): shop.raw("switched_on"),
        ("hour_meters", "in_cut"): shop.raw("in_cut"),
        # Who times an open door times the steps to it as well.
        WALK: None if shop.handling is None else _NO_WALK,
        ("sequence", "rule"): "earliest_due_date" if shop.changes_over else None,
        # There is one all the same where nothing is entered for it.
        ("machine", "mill"): EMPTY,
        ("machine", "mill", "count"): shop.raw("machines"),
        ("machine", "mill", "pallets"): shop.raw("pallets"),
    }
    for name, hours in zip(_shift_names(shop), shop.shifts, strict=True):
        entered |= _shift(shop, name, hours)
    for part in part_ids(shop):
        entered |= _part(shop, order, wanted, part)
    return _given(entered)


def _given(values: Mapping[Path, Raw | None]) -> Entered:
    return {path: raw for path, raw in values.items() if raw is not None}


def _guesses(shop: Shop, entered: Entered) -> Guesses:
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
        if path == WALK or (path[-1] in unknown and shop.raw(unknown[path[-1]]) is None)
    }


def _defaults(shop: Shop) -> Guesses:
    """What is left out though it was asked for, so that one list tells all that is assumed."""
    shifts: list[Path] = [("shift", name) for name in _shift_names(shop)]
    parts: list[Path] = [("part", part) for part in part_ids(shop)]
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
    paths = [path for question in shop.unknown for path in stands_in.get(question, ())]
    return {path: default_written(path) for path in paths}


def _shift_names(shop: Shop) -> tuple[str, ...]:
    return ("day",) if len(shop.shifts) == 1 else ("first", "second", "third")[: len(shop.shifts)]


def _shift(shop: Shop, name: str, hours: Hours) -> Entered:
    values: dict[str, Raw | None] = {
        "days": shop.days,
        "start": clock(hours.start),
        "end": clock(hours.end),
        "people": shop.raw("people"),
        "breaks": _breaks(shop, hours),
    }
    return _given({("shift", name, key): raw for key, raw in values.items()})


def _breaks(shop: Shop, hours: Hours) -> Raw | None:
    off = shop.seconds("breaks")
    if off is None:
        return None
    return (hours.middle(off),) if off else ()


def _part(shop: Shop, order: int, wanted: Fraction, part: str) -> Entered:
    values: dict[str, Raw | None] = {"per_pallet": shop.raw("pieces"), "cycle": shop.cycle}
    if shop.handling is not None:
        values["load"], values["unload"] = (time_text(seconds) for seconds in shop.handling)
    if shop.changes_over:
        values["setup"] = None if shop.setup is None else time_text(shop.setup)
        values["first_piece"] = shop.raw("wait")
        values["batch"] = order * shop.tables
    values["weekly"] = _number(wanted / len(part_ids(shop)))
    return _given({("part", part, key): raw for key, raw in values.items()})


def _number(value: Fraction) -> Raw:
    if value.denominator == 1:
        return value.numerator
    return round(Decimal(value.numerator) / value.denominator, 6).normalize()


def _settled(shop: Shop, simulate: Simulate) -> Made:
    """Run today until the shop's orders are as long as its changeovers say."""
    changeovers = shop.changeovers
    if not changeovers:
        return _run(shop, USUAL_ORDER, simulate)
    order, tried = USUAL_ORDER, dict[int, Made]()
    while order not in tried and len(tried) < _MOST_TRIES:
        tried[order] = _run(shop, order, simulate)
        order = max(1, int(tried[order].pieces / float(changeovers) + 0.5))
    # Where two lengths take turns, or more is said than the time allows: the nearest one.
    return min(tried.values(), key=lambda made: abs(made.pieces / made.order - float(changeovers)))


def _run(shop: Shop, order: int, simulate: Simulate) -> Made:
    """What today makes in a week with orders of that length."""
    figures = _figures(shop, order, _USUAL_WEEKS, simulate)
    most = 0.0 if figures is None else sum(figures.pieces.values())
    return Made(most, most if shop.wanted is None else min(most, float(shop.wanted)), order)


def _output(shop: Shop, order: int, weeks: int, simulate: Simulate) -> Fraction:
    """What today makes in whole pieces a week, rounded down, of no part more than of the other.

    So today makes all that it is said to sell, and no scenario sells more.
    """
    figures = _figures(shop, order, weeks, simulate)
    least = 0.0 if figures is None else min(figures.pieces.values())
    return Fraction(max(1, math.floor(least)) * len(part_ids(shop)))


def _figures(shop: Shop, order: int, weeks: int, simulate: Simulate) -> Figures | None:
    wanted = Fraction(_PLACEHOLDER * len(part_ids(shop)))
    # What the cell makes at most, however much is wanted.
    flat_out: Entered = {("sequence", "make"): "flat_out"}
    today = ScenarioDraft(TODAY, {**_today(shop, order, wanted), **flat_out})
    study = Draft({"format": 1, "weeks": weeks}, (today,))
    return compare(check(study), simulate).answers[TODAY].figures


# -- what is worth a look ------------------------------------------------------------------


def _alternatives(shop: Shop, order: int) -> Iterator[tuple[str, Entered]]:
    """Each scenario's id and what it enters."""
    if shop.pallets == 1:
        yield "second_pallet", _pallets(shop, order, 2, "A second pallet")
    if shop.pallets < POOL:
        yield "pool", _pallets(shop, order, POOL, "Six pallets each")
    above = "pool" if shop.pallets < POOL else TODAY
    yield (
        "after_hours",
        {
            ("title",): "... on after hours" if above == "pool" else "On after hours",
            ("notes",): ON_AFTER_HOURS,
            ("parent",): above,
            ("unattended", "after_shift"): "until done",
        },
    )
    yield (
        "machine_more",
        {
            ("title",): "One machine more",
            ("parent",): TODAY,
            ("machine", "mill", "count"): shop.machines + 1,
            **_orders(shop, order, (shop.machines + 1) * shop.pallets),
        },
    )
    yield from _more_hours(shop)


def _pallets(shop: Shop, order: int, pallets: int, title: str) -> Entered:
    entered: Entered = {
        ("title",): title,
        ("parent",): TODAY,
        ("machine", "mill", "pallets"): pallets,
        **_orders(shop, order, shop.machines * pallets),
    }
    orders = entered.get(NOTES)
    entered[NOTES] = f"{MORE_PALLETS}\n{orders}" if orders else MORE_PALLETS
    return entered


def _orders(shop: Shop, order: int, tables: int) -> Entered:
    """As many of the shop's orders at a time as there are tables; none is longer than today's."""
    if not shop.changes_over:
        return {}
    entered: Entered = {("part", part, "batch"): order * tables for part in part_ids(shop)}
    entered[NOTES] = more_tables(order, tables)
    return entered


def _more_hours(shop: Shop) -> Iterator[tuple[str, Entered]]:
    name, last = max(
        zip(_shift_names(shop), shop.shifts, strict=True), key=lambda named: named[1].start
    )
    covered = last.start + last.length - min(shift.start for shift in shop.shifts)
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
    if len(shop.shifts) == 1 and 2 * last.length <= DAY:
        yield (
            "second_shift",
            {
                ("title",): "A second shift",
                ("parent",): TODAY,
                **_shift(shop, "late", last.next()),
            },
        )
