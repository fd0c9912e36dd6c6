"""A plan as it may be in truth: every stated time and demand drawn (rule `likely.draw`)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from math import floor
from random import Random
from typing import Final

from whatif.cell.model import Cell, MachineGroup, Making, Part, StopKind
from whatif.plan.model import PartPlan, Plan
from whatif.study.raw import Path
from whatif.study.stated import Stated

MOST_WEEKS: Final = 24
"""Weeks over which a draw is measured at most."""

_NEVER_NOTHING: Final = ("cycle", "every")
"""Times that must be above 0."""


def drawn_plan(plan: Plan, draw: int) -> Plan:
    """The plan of a draw, from 1: its texts and prices as they are, its times and demands drawn."""
    of = _Draw(plan, draw)
    return replace(
        plan,
        cell=None if plan.cell is None else of.cell(plan.cell),
        weeks=min(plan.weeks, MOST_WEEKS),
        parts=tuple(map(of.part_plan, plan.parts)),
        cycles={
            id_: of.seconds(cycle, ("part", id_, "cycle")) for id_, cycle in plan.cycles.items()
        },
        runs=1,
        settled=False,
    )


@lru_cache(maxsize=20_000)
def _factor(draw: int, scenario: str, key: str, wide: float) -> float:
    """The factor of what stands somewhere; tries of the same study ask for the same ones."""
    return Random(f"{draw} {scenario} {key}").uniform(1 - wide, 1 + wide)


class _Draw:
    """The factors of one draw of a plan."""

    def __init__(self, plan: Plan, draw: int) -> None:
        self._plan, self._draw = plan, draw
        self._next: Mapping[str, str] = {before: id_ for id_, before in plan.after.items()}

    def cell(self, cell: Cell) -> Cell:
        groups = [group.id for group in cell.groups]
        return replace(
            cell,
            groups=tuple(map(self._group, cell.groups)),
            parts=tuple(self._part(part, groups) for part in cell.parts),
            stops=tuple(map(self._stop, cell.stops)),
            walk=self.seconds(cell.walk, ("handling", "walk")),
            scatter=self._plan.scatter,
            luck=self._draw,
        )

    def part_plan(self, part: PartPlan) -> PartPlan:
        return replace(
            part,
            weekly=self._weekly(part.id, part.weekly),
            cycle=self.seconds(part.cycle, ("part", part.id, "cycle")),
        )

    def seconds(self, known: int, *paths: Path) -> int:
        """A time drawn, of the first path at which it is stated; as known where it is at none."""
        for path in paths:
            stated = self._plan.stated.get(path)
            if stated is not None:
                break
        else:
            return known
        if not known:
            return 0
        found = floor(float(stated.value) * self._factor(stated) + 0.5)
        return max(1, found) if path[-1] in _NEVER_NOTHING else found

    def _factor(self, stated: Stated) -> float:
        plan = self._plan
        wide = plan.guess_accuracy if stated.is_assumed else plan.accuracy
        return _factor(self._draw, stated.scenario, stated.key, float(wide))

    def _weekly(self, part: str, weekly: Fraction) -> Fraction:
        """A demand drawn; that of an operation before another has the other's factor."""
        while part in self._next:
            part = self._next[part]
        stated = self._plan.stated.get(("part", part, "weekly"))
        return weekly if stated is None else weekly * Fraction(self._factor(stated))

    def _group(self, group: MachineGroup) -> MachineGroup:
        at = ("machine", group.id)
        return replace(
            group,
            pallet_change=self.seconds(group.pallet_change, (*at, "pallet_change")),
            warm_up=self.seconds(group.warm_up, (*at, "warm_up")),
        )

    def _stop(self, stop: StopKind) -> StopKind:
        return replace(
            stop,
            every=self.seconds(stop.every, ("stop", stop.id, "every")),
            repair=self.seconds(stop.repair, ("stop", stop.id, "repair")),
        )

    def _part(self, part: Part, groups: list[str]) -> Part:
        at = ("part", part.id)
        return replace(
            part,
            making=tuple(
                making and self._making(making, at, (*at, "on", group))
                for making, group in zip(part.making, groups, strict=True)
            ),
            weekly=self._weekly(part.id, part.weekly),
            bench=self.seconds(part.bench, (*at, "bench")),
            first_piece=self.seconds(part.first_piece, (*at, "first_piece")),
            tool_change=self.seconds(part.tool_change, (*at, "tool_change")),
        )

    def _making(self, making: Making, at: Path, there: Path) -> Making:
        def seconds(key: str, known: int) -> int:
            return self.seconds(known, (*there, key), (*at, key))

        return replace(
            making,
            cycle=seconds("cycle", making.cycle),
            load=seconds("load", making.load),
            unload=seconds("unload", making.unload),
            setup=seconds("setup", making.setup),
            prove_out=seconds("prove_out", making.prove_out),
        )
