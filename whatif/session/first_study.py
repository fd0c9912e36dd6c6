"""A first study from ten answers: today's arrangement, and below it what is worth a look.

Changeovers become two like parts, made by earliest due date, whose orders are as long as the
changeovers say: every table joins in every order and is changed over for it once, so that orders
of ``pieces a week x tables / changeovers a week`` bring just so many. What today makes is found
by running it, since shorter orders leave less time for pieces.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Final

from whatif.answers.compare import Simulate, compare
from whatif.session.first_questions import Answers
from whatif.session.first_told import USUAL_BATCH, Told, words_of
from whatif.session.shift_hours import Hours, clock
from whatif.study.check import check
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.guesses import Guesses, with_guesses, written
from whatif.study.kinds import DAY
from whatif.study.raw import EMPTY, Entries, Path, Raw

TODAY: Final = "today"
POOL: Final = 6
"""Pallets of a pool that is worth a look; our own reasoning: enough for some hours alone."""

LONGER: Final = 2 * 3600
"""Seconds by which a longer shift is longer; our own reasoning: what overtime commonly is."""

_MOST_TRIES: Final = 12
"""Runs until the length of the orders settles; it does in about five."""

_USUAL_WEEKS: Final = 13
"""Weeks measured where a study says nothing (cell model, section 1)."""

_MOST_WEEKS: Final = 26
"""So that no first study takes long to answer."""

_PLACEHOLDER: Final = 100
"""Pieces a week of each part while it is being found what today makes; how fast the cell is does
not hang on it, since both parts are wanted alike."""

Entered = dict[Path, Raw]


@dataclass(frozen=True, slots=True)
class FirstStudy:
    """A study made from answers, and what its user is to be told first."""

    draft: Draft
    notice: str


@dataclass(frozen=True, slots=True)
class _Made:
    """What today makes a week, and with orders of how many pieces (None: not entered)."""

    pieces: float
    batch: int | None


def first_study(answers: Answers, simulate: Simulate) -> FirstStudy:
    """The study that faultless answers say; the shop of today is run to find what it makes.

    ``simulate`` may raise to give the work up.
    """
    told = Told(answers)
    made = _settled(told, simulate)
    # Rounded down: what today makes must not fall short of what it is said to sell.
    wanted = told.wanted or Fraction(max(1, math.floor(made.pieces)))
    notes = "\n".join(_notes(told, made, wanted))
    entered = _today(told, made.batch, wanted, notes)
    today = with_guesses(ScenarioDraft(TODAY, Entries(entered)), _guesses(told, entered))
    others = tuple(
        ScenarioDraft(id_, Entries(entered)) for id_, entered in _alternatives(told, made.batch)
    )
    head: dict[str, Raw] = {"format": 1, "title": "First study", "reference": TODAY}
    weeks = _weeks(told, made, wanted)
    if weeks > _USUAL_WEEKS:
        head["weeks"] = weeks
    return FirstStudy(Draft(Entries(head), (today, *others)), _notice(told))


def _weeks(told: Told, made: _Made, wanted: Fraction) -> int:
    """Weeks to measure, so that one order more or less is a fifth of a part's pieces at most."""
    if not told.changes_over:
        return _USUAL_WEEKS
    longest = _in_step(told, made.batch, told.machines * max(POOL, told.pallets))
    made_of_each = max(1.0, min(float(wanted), made.pieces or float(wanted)) / 2)
    return min(_MOST_WEEKS, max(_USUAL_WEEKS, round(5 * longest / made_of_each)))


# -- today ---------------------------------------------------------------------------------


def part_ids(told: Told) -> tuple[str, ...]:
    """Two like parts where there are changeovers, else one."""
    return ("piece_a", "piece_b") if told.changes_over else ("piece",)


def _today(told: Told, batch: int | None, wanted: Fraction, notes: str = "") -> Entered:
    entered: Entered = {("title",): "Today"}
    if notes:
        entered[("notes",)] = notes
    for meter in ("switched_on", "in_cut"):
        _put(entered, ("hour_meters", meter), told.raw(meter))
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
        entered |= {("part", part, key): raw for key, raw in _part(told, batch, wanted).items()}
    return entered


def _guesses(told: Told, entered: Entered) -> Guesses:
    """What a study cannot do without and nobody knew, so that it is marked as assumed."""
    unknown = {
        "start": "shift",
        "end": "shift",
        "days": "days",
        "cycle": "cycle",
        "weekly": "wanted",
    }
    return {
        path: written(path, raw)
        for path, raw in entered.items()
        if path[-1] in unknown and told.raw(unknown[path[-1]]) is None
    }


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


def _part(told: Told, batch: int | None, wanted: Fraction) -> dict[str, Raw]:
    values: dict[str, Raw | None] = {"per_pallet": told.raw("pieces"), "cycle": told.cycle}
    if told.handling is not None:
        values["load"], values["unload"] = (words_of(one) for one in told.handling)
    if told.changes_over:
        values["setup"] = None if told.setup is None else words_of(told.setup)
        values["first_piece"] = told.raw("wait")
        values["batch"] = batch
    values["weekly"] = _number(wanted / len(part_ids(told)))
    return {key: raw for key, raw in values.items() if raw is not None}


def _number(value: Fraction) -> Raw:
    if value.denominator == 1:
        return value.numerator
    return round(Decimal(value.numerator) / value.denominator, 6).normalize()


def _settled(told: Told, simulate: Simulate) -> _Made:
    """Run today until its orders are as long as its changeovers say."""
    changeovers = told.changeovers
    if not changeovers:
        pieces = 0.0 if told.wanted else _run(told, None, simulate)
        return _Made(pieces, None)
    batch, tried = USUAL_BATCH, dict[int, float]()
    while batch not in tried and len(tried) < _MOST_TRIES:
        tried[batch] = _run(told, batch, simulate)
        fitting = tried[batch] * told.tables / float(changeovers)
        batch = max(1, int(fitting + 0.5))
    # Where two lengths take turns, or more is said than the time allows: the nearest one.
    best = min(tried, key=lambda one: abs(_changeovers(told, one, tried[one]) - float(changeovers)))
    return _Made(tried[best], best)


def _run(told: Told, batch: int | None, simulate: Simulate) -> float:
    """Good pieces that today makes in a week."""
    wanted = Fraction(_PLACEHOLDER * len(part_ids(told)))
    today = ScenarioDraft(TODAY, Entries(_today(told, batch, wanted)))
    checked = check(Draft(Entries({"format": 1}), (today,)))
    figures = compare(checked, simulate).answers[TODAY].figures
    return 0.0 if figures is None else sum(figures.pieces.values())


def _changeovers(told: Told, batch: int, pieces: float) -> float:
    """Changeovers a week that orders of this length bring where so many pieces are made."""
    return pieces * told.tables / batch


# -- what is worth a look ------------------------------------------------------------------


def _alternatives(told: Told, batch: int | None) -> Iterator[tuple[str, Entered]]:
    """Each scenario's id and what it enters."""
    if told.pallets == 1:
        yield "second_pallet", _pallets(told, batch, 2, "A second pallet")
    if told.pallets < POOL:
        yield "pool", _pallets(told, batch, POOL, "Six pallets each")
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
            **_orders(told, batch, (told.machines + 1) * told.pallets),
        },
    )
    yield from _more_hours(told)


def _pallets(told: Told, batch: int | None, pallets: int, title: str) -> Entered:
    return {
        ("title",): title,
        ("notes",): "Pallets are seldom as large as a table: count again how many pieces one "
        "of them takes.",
        ("parent",): TODAY,
        ("machine", "mill", "pallets"): pallets,
        **_orders(told, batch, told.machines * pallets),
    }


def _orders(told: Told, batch: int | None, tables: int) -> Entered:
    """Orders longer in step with the tables, so that a piece brings no more changeovers."""
    if not told.changes_over:
        return {}
    longer = _in_step(told, batch, tables)
    return {("part", part, "batch"): longer for part in part_ids(told)}


def _in_step(told: Told, batch: int | None, tables: int) -> int:
    """As many times today's pieces an order as there are today's tables."""
    now = USUAL_BATCH if batch is None else batch
    return max(1, math.floor(Fraction(now * tables, told.tables) + Fraction(1, 2)))


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


def _notes(told: Told, made: _Made, wanted: Fraction) -> Iterator[str]:
    """What the scenario's notes say of how the study came about; every own assumption in it."""
    yield "Made from ten questions."
    if told.ours:
        yield f"Nobody knew, so assumed: {', '.join(told.ours)}."
    if told.wanted is None:
        yield (
            f"Nobody knew how many pieces are wanted, so assumed: {wanted} a week, what today "
            "makes. No scenario can sell more than that until the number is entered (weekly)."
        )
    if told.left_out:
        yield f"Not known, so the usual value holds (marked ~): {', '.join(told.left_out)}."
    if told.raw("breaks") is not None and told.seconds("breaks"):
        yield "The breaks are put together in the middle of the shift."
    if told.handling is not None:
        yield "Of the time the door is open two thirds are for loading, one third for unloading."
    yield from _order_notes(told, made)
    yield (
        "A machine with more fixture faces is not looked at: that takes the sizes of parts and "
        "table. Enter them, then add a scenario with faces."
    )


def _order_notes(told: Told, made: _Made) -> Iterator[str]:
    if not told.changes_over:
        return
    yield (
        "Two like parts stand for all that are made. Where a scenario has more tables, orders are "
        "longer in step, so that a piece brings no more changeovers than today."
    )
    said = told.changeovers
    if said is None or made.batch is None:
        return
    reached = _changeovers(told, made.batch, made.pieces)
    if abs(reached - float(said)) > float(said) / 10:
        yield (
            f"There is not enough time for {float(said):g} changeovers a week of that length: the "
            f"model reaches {reached:.0f}. Look again at their number and their hours."
        )
        return
    tables = f"{told.tables} table{'s' if told.tables > 1 else ''}"
    yield (
        f"Orders of {made.batch} pieces on {tables} bring the {float(said):g} changeovers a week "
        "that were said."
    )


def _notice(told: Told) -> str:
    """What stands below the sheet when the study opens."""
    unknown = len(told.ours) + len(told.left_out) + (told.wanted is None)
    text = "Your first study, not saved yet."
    if unknown:
        text += f" {unknown} answer{'s are' if unknown > 1 else ' is'} assumed: F2 says which."
    if told.wanted is None:
        text += " Nothing beyond today's output sells until you enter the pieces wanted."
    return text
