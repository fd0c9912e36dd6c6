"""Tiny cells for the plain second model, reckoned with pencil and paper.

Times in the comments of such tests are seconds from Monday 06:00, when the first shift starts,
21,600 s into the week; the week has 604,800 s. Unless a test says otherwise a visit to an empty
table takes 60 (walk) + 120 (load) = 180 s, one to a cut piece 60 + 60 (unload) + 120 = 240 s, and
one that only takes a piece off 60 + 60 = 120 s.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from oracle.results import MachineResult, Result

BEFORE = 6 * 3600  # Monday's first six hours: everything asks, nobody is on duty


def shift(start: str = "06:00", end: str = "07:00", **keys: Any) -> dict[str, Any]:
    return {"days": ["mon"], "start": start, "end": end, **keys}


def part(**keys: Any) -> dict[str, Any]:
    return {"cycle": 600, "load": 120, "unload": 60, "weekly": 1000, **keys}


def week(**tables: Any) -> dict[str, Any]:
    """One week from a cold start: one table, one part, Monday's first hour with one person."""
    return {
        "weeks": 1,
        "warm_up": 0,
        "shift": {"early": shift()},
        "machine": {"mill": {}},
        "part": {"body": part()},
        **tables,
    }


def only(result: Result) -> MachineResult:
    assert len(result.machines) == 1
    return result.machines[0]


def spent(machine: MachineResult) -> dict[str, Fraction]:
    """The states that occurred."""
    return {state: seconds for state, seconds in machine.states.items() if seconds}


TWO_PALLETS: dict[str, Any] = {"mill": {"pallets": 2, "pallet_change": 30}}
