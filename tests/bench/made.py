"""Cells and studies of any size, made for the bench; numbers are invented."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from whatif.cell.model import (
    ALL_WORK,
    WEEK,
    Cell,
    MachineGroup,
    Making,
    Part,
    RealOrder,
    Shift,
)

BIG: dict[str, Any] = {"machines": 8, "pallets": 6, "parts": 20, "people": 4}
"""A big cell: 8 machines, 48 pallets, 20 parts."""

_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def cell(
    *,
    machines: int = 4,
    pallets: int = 4,
    parts: int = 5,
    people: int = 0,
    flat_out: bool = True,
    fixtures: int | None = None,
    numbers: int = 1,
    orders: int = 0,
) -> Cell:
    """A cell of two shifts, by default with a person for two machines, one piece a load."""
    people = people or max(1, machines // 2)
    group = MachineGroup("mill", machines, pallets, pallet_change=30 if pallets > 1 else 0)
    cycles = [1800 + 60 * (place % 7) for place in range(parts)]
    weekly = Fraction(machines * 40, parts)
    if not flat_out:
        weekly = Fraction(machines * WEEK * 9, sum(cycles) * 10)
    day = (0, 1, 2, 3, 4)
    pause = ((2 * 3600, 2 * 3600 + 900),)
    return Cell(
        shifts=(
            Shift("early", day, 6 * 3600, 8 * 3600, people, pause),
            Shift("late", day, 14 * 3600, 8 * 3600, people, pause),
        ),
        groups=(group,),
        parts=tuple(
            Part(
                f"p{place}",
                (Making(cycle, 120, 60, 600),),
                weekly,
                fixtures=fixtures,
                numbers=numbers,
            )
            for place, cycle in enumerate(cycles)
        ),
        orders=tuple(
            RealOrder(
                f"o{place}",
                part=place % parts,
                pieces=5,
                arrives=place * 6 * WEEK // orders,
                due=place * 6 * WEEK // orders + WEEK,
            )
            for place in range(orders)
        ),
        after_shift=None,
        to_order=not flat_out,
    )


def spec(one: Cell) -> dict[str, Any]:
    """A cell without orders as the independent model takes it."""
    return {
        "shift": {
            shift.id: {
                "days": [_DAYS[day] for day in shift.days],
                "start": _clock(shift.start),
                "end": _clock(shift.start + shift.length),
                "people": shift.people,
                "breaks": [
                    f"{_clock(shift.start + since)}-{_clock(shift.start + to)}"
                    for since, to in shift.breaks
                ],
                "does": [work for work in ALL_WORK if work in shift.does],
            }
            for shift in one.shifts
        },
        "unattended": {
            "through_breaks": one.through_breaks,
            "after_shift": "until done" if one.after_shift is None else one.after_shift,
            "at_limit": "hold" if one.hold else "finish_piece",
            "nights": [_DAYS[day] for day in one.nights],
        },
        "handling": {"walk": one.walk, "scatter": 0, "other_duties": one.other_duties * 100},
        "sequence": {
            "rule": "keep_setup" if one.keep_setup else "earliest_due_date",
            "run_ahead": one.run_ahead,
            "make": "to_order" if one.to_order else "flat_out",
        },
        "machine": {
            group.id: {
                "count": group.count,
                "pallets": group.pallets,
                "load_stations": group.load_stations,
                "pallet_change": group.pallet_change,
                "warm_up": group.warm_up,
                "unattended": group.unattended,
            }
            for group in one.groups
        },
        "part": {part.id: _part(one, part) for part in one.parts},
    }


def _part(one: Cell, part: Part) -> dict[str, Any]:
    made = {
        group.id: {
            name: getattr(making, name)
            for name in ("cycle", "load", "unload", "setup", "prove_out", "per_pallet")
        }
        for group, making in zip(one.groups, part.making, strict=True)
        if making is not None
    }
    entry: dict[str, Any] = {
        **next(iter(made.values())),
        "machines": list(made),
        "on": made,
        "weekly": part.weekly,
        "batch": part.batch,
        "bench": part.bench,
        "first_piece": part.first_piece,
        "first_piece_every": "order" if part.first_piece_each_order else "setup",
        "unattended": part.unattended,
        "numbers": part.numbers,
        "at_once": part.at_once,
        "stock": part.stock,
        "fixtures": part.fixtures,
        "tool_life": part.tool_life,
        "sister_tools": part.sister_tools,
        "tool_change": part.tool_change,
        "scrap": part.scrap * 100,
    }
    if part.after is not None:
        entry["after"] = one.parts[part.after].id
    return entry


def _clock(second: int) -> str:
    minute = second // 60
    return f"{minute // 60 % 24:02d}:{minute % 60:02d}"


# -- studies -----------------------------------------------------------------------------

_ROOT = """
format = 1
reference = "today"
weeks = 4
[scenario.today.shift.day]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "06:00"
end = "14:00"
[scenario.today.machine.mill]
count = 2
pallets = 2
"""


def study(scenarios: int, parts: int = 2, *, deep: bool = False) -> str:
    """Scenarios of one reference, or each based on the one before."""
    text = _ROOT + "".join(
        f'[scenario.today.part.p{place}]\ncycle = "{5 + place % 20} min"\nweekly = 50\n'
        for place in range(parts)
    )
    for place in range(1, scenarios):
        parent = f"s{place - 1}" if deep and place > 1 else "today"
        text += (
            f'[scenario.s{place}]\nparent = "{parent}"\nmachine.mill.pallets = {1 + place % 7}\n'
        )
    return text


def pieces_on_faces(kinds: int) -> Iterator[tuple[Any, Any]]:
    """Many sizes of pieces, each with a face to stand on."""
    from whatif.cell.fit.fit import Face, Piece

    for kind in range(kinds):
        length, width = 37 + kind * 13 % 211, 23 + kind * 7 % 97
        piece = Piece(
            size=(Fraction(length), Fraction(width), Fraction(20)),
            mass=Fraction(1),
            fixture_mass=Fraction(0),
            turn="flat",
            gap=Fraction(5),
            edge=Fraction(10),
            fixture_height=Fraction(0),
            wanted=None,
        )
        table = Fraction(630), Fraction(500)
        yield piece, Face(table, table, Fraction(500), Fraction(800), 1 + kind % 4)
