"""A first study from the answers: today's arrangement, and below it what is worth a look.

One part stands for all part numbers (rule `orders.due`): it has the pieces of a shop's usual
order and as many numbers as are made in a year, each with a setup and fixtures of its own. So what
the answers make is what the same values make when they are typed on the sheet. An order lies on one
table, as long as a week's orders are enough for half of the tables; where orders are longer than
that, it lies on several, so that no table waits weeks for an order of its own.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from whatif.answers.compare import compare
from whatif.answers.ranks import range_of
from whatif.answers.running import figures_once
from whatif.answers.simulate import ahead
from whatif.answers.states import IN_CYCLE
from whatif.plan.draws import drawn_plan
from whatif.plan.model import worth
from whatif.session.first_made import FirstStudy
from whatif.study.check.check import check
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.first.questions import BY_ID, QUESTIONS, Answers
from whatif.study.first.shop import Shop, time_text
from whatif.study.guesses import NOTES, Guesses, default_written, with_guesses, written
from whatif.study.raw import EMPTY, Path, Raw
from whatif.study.schema.catalogue import ANY
from whatif.study.schema.kinds import DAY
from whatif.study.shifts import Hours, clock
from whatif.telling.first_found import FirstLook
from whatif.telling.first_study import (
    ON_AFTER_HOURS,
    SAME_BREAKS,
    FirstFacts,
    more_pallets,
    notes,
    notice,
    one_machine_more,
    quicker,
)

if TYPE_CHECKING:
    from whatif.answers.ranks import Range
    from whatif.answers.simulate import Simulate
    from whatif.plan.model import Plan

TODAY: Final = "today"
MACHINE: Final = "mill"
"""Stands for all machines of the shop."""

PART: Final = "piece"
"""Stands for all that the shop makes."""

POOL: Final = 6
"""Pallets of a pool that is worth a look; our own reasoning: enough for some hours alone."""

LONGER: Final = 2 * 3600
"""Seconds by which a longer shift is longer; our own reasoning: what overtime commonly is."""

_PLACEHOLDER: Final = 100
"""Pieces a week while it is being found what today makes at most, which does not hang on it."""

_MOST_TRIES: Final = 4
"""Runs until today makes all that it is said to sell; it mostly does at once."""

WALK: Final[Path] = ("handling", "walk")
ONE_OFF: Final[Path] = ("money", "one_off")
_NO_WALK: Final = "0 min"

Entered = dict[Path, Raw]


def first_study(answers: Answers, simulate: Simulate) -> FirstStudy:
    """The study that faultless answers say; the shop of today is run to find what it makes.

    ``simulate`` may raise to give the work up.
    """
    shop = Shop(answers)
    wanted = shop.wanted or _output(shop, simulate)
    most = _most(shop, wanted, simulate)
    first = _facts(shop, most)
    today = _today(shop, wanted, notes(first, PART))
    scenarios = ((TODAY, today), *_alternatives(shop, wanted))
    head: dict[str, Raw] = {"format": 1, "title": "First study", "reference": TODAY}
    drafts = tuple(
        with_guesses(
            ScenarioDraft(id_, entered),
            {**_guesses(shop, entered), **(_defaults(shop, entered) if id_ == TODAY else {})},
        )
        for id_, entered in scenarios
    )
    return FirstStudy(
        Draft(head, drafts),
        notice(first),
        is_wanted_known=shop.wanted is not None,
        has_paid_breaks=first.has_breaks and shop.are_breaks_paid,
        assumed=len(shop.unknown),
    )


def first_look(answers: Answers, simulate: Simulate, *, is_ranged: bool) -> FirstLook:
    """Where the hours of today go by faultless answers, some of them not given yet.

    The range is that of the spindle hours with people there, over the draws that make every other
    likely range (rule `likely.draw`). ``simulate`` may raise to give the work up.
    """
    shop = Shop(answers)
    wanted = shop.wanted or _output(shop, simulate)
    draft = Draft({"format": 1, "reference": TODAY}, (ScenarioDraft(TODAY, _today(shop, wanted)),))
    answer = compare(check(draft), simulate).answers[TODAY]
    likely = _likely_hours(answer.plan, simulate) if is_ranged else None
    asked = len(QUESTIONS) - len(shop.beside)
    return FirstLook(answer.held_back, likely, len(shop.unknown), asked)


def _likely_hours(plan: Plan, simulate: Simulate) -> Range | None:
    """Between what the spindle hours with people there lie."""
    if plan.cell is None:
        return None
    drawn = [drawn_plan(plan, draw) for draw in range(1, plan.draws + 1)]
    ahead(simulate, ((of.cell, of.warm_up, of.weeks) for of in drawn if of.cell is not None))
    value = worth({plan.scenario: plan}, plan.scenario, plan.scenario, paid=False)
    return range_of([figures_once(of, simulate, value).attended[IN_CYCLE] for of in drawn])


def _facts(shop: Shop, most: float) -> FirstFacts:
    return FirstFacts(
        answered=tuple(
            (question.label, shop.text(question.id))
            for question in QUESTIONS
            if shop.raw(question.id) is not None
        ),
        assumed=len(shop.unknown),
        has_breaks=bool(shop.seconds("breaks")),
        has_door=shop.handling is not None,
        most=most,
        wanted=None if shop.wanted is None else float(shop.wanted),
        numbers=shop.numbers,
        loaders=shop.loaders,
    )


# -- today ---------------------------------------------------------------------------------


def _today(shop: Shop, wanted: Fraction, note: str = "") -> Entered:
    entered: dict[Path, Raw | None] = {
        ("title",): "Today",
        NOTES: note or None,
        ("hour_meters", "switched_on"): shop.raw("switched_on"),
        ("hour_meters", "in_cut"): shop.raw("in_cut"),
        ("hour_meters", "weeks"): shop.raw("weeks"),
        # Who times an open door times the steps to it as well.
        WALK: None if shop.handling is None else _NO_WALK,
        # There is one all the same where nothing is entered for it.
        ("machine", MACHINE): EMPTY,
        ("machine", MACHINE, "count"): shop.raw("machines"),
        ("machine", MACHINE, "pallets"): shop.raw("pallets"),
    }
    for name, hours in zip(_shift_names(shop), shop.shifts, strict=True):
        entered |= _shift(shop, name, hours)
    return _given(entered | _part(shop, wanted) | _at_once(shop, wanted, shop.tables))


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
        "numbers": "numbers",
    }
    return {
        path: written(path, raw)
        for path, raw in entered.items()
        if path in (WALK, ONE_OFF)
        or path[-1] in {"at_once", "fixtures"}
        or (path[-1] in unknown and shop.raw(unknown[path[-1]]) is None)
    }


def _defaults(shop: Shop, entered: Entered) -> Guesses:
    """What is left out though it was asked for, so that one list tells all that is assumed."""
    ids = {"shift": _shift_names(shop), "machine": (MACHINE,), "part": (PART,)}
    paths = (
        tuple(thing if part == ANY else part for part in pattern)
        for question in shop.unknown
        for pattern in BY_ID[question].patterns
        for thing in ids.get(pattern[0], ("",))
    )
    # Who enters breaks says by it that the others are none: one line of the list is enough.
    return {
        path: default_written(path)
        for path in paths
        if path not in entered and path[-1] != "unpaid_breaks"
    }


def _shift_names(shop: Shop) -> tuple[str, ...]:
    return ("day",) if len(shop.shifts) == 1 else ("first", "second", "third")[: len(shop.shifts)]


def _shift(shop: Shop, name: str, hours: Hours) -> Entered:
    values: dict[str, Raw | None] = {
        "days": shop.days,
        "start": clock(hours.start),
        "end": clock(hours.end),
        "people": shop.setters,
        "breaks" if shop.are_breaks_paid else "unpaid_breaks": _breaks(shop, hours),
    }
    shifts = {name: values}
    if shop.loaders:
        # Of the same hours; what its people may do is all that tells it from the other.
        shifts[_loading(name)] = {**values, "people": shop.loaders, "does": ("load",)}
    return _given(
        {("shift", id_, key): raw for id_, of in shifts.items() for key, raw in of.items()}
    )


def _loading(name: str) -> str:
    """The shift of those who only load beside others."""
    return f"{name}-loaders"


def _breaks(shop: Shop, hours: Hours) -> Raw | None:
    off = shop.seconds("breaks")
    if off is None:
        return None
    return (hours.middle(off),) if off else ()


def _part(shop: Shop, wanted: Fraction) -> Entered:
    values: dict[str, Raw | None] = {"per_pallet": shop.raw("pieces"), "cycle": shop.cycle}
    if shop.handling is not None:
        values["load"], values["unload"] = (time_text(seconds) for seconds in shop.handling)
    if shop.changes_over:
        values["setup"] = None if shop.setup is None else time_text(shop.setup)
        values["first_piece"] = shop.raw("wait")
    values["batch"] = shop.raw("order")
    values["numbers"] = shop.numbers
    values["weekly"] = _number(wanted)
    return _given({("part", PART, key): raw for key, raw in values.items()})


def _at_once(shop: Shop, wanted: Fraction, tables: int) -> Entered:
    """On how many tables an order lies, where a week's orders are too few for one on each.

    Beside the orders of a week there is one begun before it (rule `orders.open`).
    """
    orders = 1 + wanted / shop.order
    at_once = math.floor(tables / orders)
    return {("part", PART, "at_once"): at_once} if at_once > 1 else {}


def _number(value: Fraction) -> Raw:
    if value.denominator == 1:
        return value.numerator
    return round(Decimal(value.numerator) / value.denominator, 6).normalize()


def _whole(pieces: float) -> Fraction:
    """In whole pieces, rounded down, so that today makes all that it is said to sell."""
    return Fraction(max(1, math.floor(pieces)))


def _output(shop: Shop, simulate: Simulate) -> Fraction:
    """What today makes when no more is wanted than it could make: in the end all of it."""
    wanted = Fraction(_PLACEHOLDER)
    for _ in range(2):
        # On how many tables an order lies hangs on the pieces wanted, a little.
        wanted = _whole(_most(shop, wanted, simulate))
    for _ in range(_MOST_TRIES):
        # Orders much longer than a week leave tables without one at times.
        makes = _makes(_today(shop, wanted), simulate)
        if makes >= wanted:
            break
        wanted = _whole(makes)
    return wanted


def _most(shop: Shop, wanted: Fraction, simulate: Simulate) -> float:
    """Pieces a week that today makes at most, however many are wanted."""
    return _makes({**_today(shop, wanted), ("sequence", "make"): "flat_out"}, simulate)


def _makes(today: Entered, simulate: Simulate) -> float:
    draft = Draft({"format": 1}, (ScenarioDraft(TODAY, today),))
    figures = compare(check(draft), simulate).answers[TODAY].figures
    return 0.0 if figures is None else sum(figures.pieces.values())


# -- what is worth a look ------------------------------------------------------------------


def _alternatives(shop: Shop, wanted: Fraction) -> Iterator[tuple[str, Entered]]:
    """Each scenario's id and what it enters."""
    if shop.pallets == 1:
        yield "second_pallet", _pallets(shop, wanted, 2, "A second pallet")
        # What unattended hours bring by themselves, and what it takes pallets for.
        yield "two_after_hours", _after_hours("Two, on after hours", "second_pallet")
    else:
        yield "after_hours", _after_hours("On after hours", TODAY)
    if shop.pallets < POOL:
        yield "pool", _pallets(shop, wanted, POOL, "Six pallets each")
        yield "pool_after_hours", _after_hours("Six, on after hours", "pool")
    machines = shop.machines + 1
    yield (
        "machine_more",
        {
            ("title",): "One machine more",
            NOTES: one_machine_more(PART, shop.numbers, machines * shop.pallets),
            ("parent",): TODAY,
            ("machine", MACHINE, "count"): machines,
            **_tables(shop, wanted, machines * shop.pallets),
        },
    )
    yield from _before_buying(shop)
    yield from _more_hours(shop)


def _after_hours(title: str, above: str) -> Entered:
    return {
        ("title",): title,
        NOTES: ON_AFTER_HOURS,
        ("parent",): above,
        ("unattended", "after_shift"): "until done",
    }


def _before_buying(shop: Shop) -> Iterator[tuple[str, Entered]]:
    """What a shop may try where its people limit it, without buying a machine."""
    name, setters = _shift_names(shop)[0], shop.setters
    yield (
        "person_more",
        {
            ("title",): "One person more",
            ("parent",): TODAY,
            # Where nobody says how many there are, one is assumed.
            ("shift", name, "people"): 1 + (setters if isinstance(setters, int) else 1),
        },
    )
    if shop.changes_over and shop.setup:
        yield (
            "quicker",
            {
                ("title",): "Set up in half the time",
                NOTES: quicker(PART),
                ("parent",): TODAY,
                ("part", PART, "setup"): time_text(shop.setup // 2),
                # What it costs is not known, and is not taken for nothing.
                ONE_OFF: 0,
            },
        )


def _pallets(shop: Shop, wanted: Fraction, pallets: int, title: str) -> Entered:
    tables = shop.machines * pallets
    return {
        ("title",): title,
        NOTES: more_pallets(PART, shop.numbers, tables),
        ("parent",): TODAY,
        ("machine", MACHINE, "pallets"): pallets,
        **_tables(shop, wanted, tables),
    }


def _tables(shop: Shop, wanted: Fraction, tables: int) -> Entered:
    """What more tables take: a fixture on each of them for every part number (rule `keys.part`)."""
    return {("part", PART, "fixtures"): tables, **_at_once(shop, wanted, tables)}


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
                **({("shift", _loading(name), "end"): clock(longer.end)} if shop.loaders else {}),
            },
        )
    if len(shop.shifts) == 1 and 2 * last.length <= DAY:
        yield (
            "second_shift",
            _given(
                {
                    ("title",): "A second shift",
                    NOTES: SAME_BREAKS if shop.seconds("breaks") else None,
                    ("parent",): TODAY,
                    **_shift(shop, "late", last.next()),
                }
            ),
        )
