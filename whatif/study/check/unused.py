"""Values that the model does not use in a scenario, each with the reason.

Whoever changes such a value changes no answer of this scenario, nor of any that does not inherit
it (`tests/study/test_unused.py` tries it); warnings and cautions may still speak of it. When a key
is unused its field says (`Says.unused`); here it is found out whether that is so.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from whatif.study.check.holding import Holding
from whatif.study.raw import Path
from whatif.study.resolve import Resolved
from whatif.study.schema.catalogue import TAKES_OUT, key_for
from whatif.study.schema.kinds import DAY, DAYS, WEEK
from whatif.study.schema.models import Study
from whatif.study.schema.says import Condition, NoMachineHas, UnusedWhen


@dataclass(frozen=True, slots=True)
class WhyUnused:
    """Why a value changes no answer, and the things (and keys) in question."""

    when: Condition
    names: tuple[str, ...] = ()


class Unused:
    """What the scenarios of a study do not use."""

    def __init__(self, resolved: Mapping[str, Resolved], study: Study | None) -> None:
        self._resolved = resolved
        self._study = study
        self._uses: dict[str, _Use] = {}

    def why(self, scenario: str, path: Path) -> WhyUnused | None:
        """Why the value at a path changes nothing in a scenario; None where it may."""
        if key_for(path) is None:
            return None
        if scenario not in self._uses:
            self._uses[scenario] = _Use(Holding(self._resolved[scenario]), self)
        return self._uses[scenario].why(path)

    @cached_property
    def contributions(self) -> frozenset[tuple[str, str]]:
        """Scenario and part of every contribution there is."""
        holdings = [Holding(resolved) for resolved in self._resolved.values()]
        return frozenset(
            (here.scenario, part)
            for here in holdings
            for part in here.ids("part")
            if here.value("part", part, "contribution")
        )

    @property
    def in_money(self) -> bool | None:
        """Whether answers are in money; None while the study has problems."""
        return None if self._study is None else bool(self.contributions)

    @property
    def reference(self) -> str | None:
        """The reference; None while the study has problems."""
        if self._study is None:
            return None
        return self._study.reference or next(iter(self._study.scenarios), None)


class _Use:
    """What one scenario does not use."""

    def __init__(self, here: Holding, study: Unused) -> None:
        self.here = here
        self.study = study

    def why(self, path: Path) -> WhyUnused | None:
        """Why the value at a path changes nothing; None where it may."""
        key = key_for(path)
        if key is None:
            return None
        if path[0] in TAKES_OUT and (out := self._out(*path[:3])) is not None:
            return out
        if path[0] == "part":
            part = self.parts.get(path[1])
            if part is None:
                return None
            if path[2] == "on":
                return part.why_not_on(path[3], path[4])
        for when in key.says.unused:
            if isinstance(when, NoMachineHas):
                if self.parts[path[1]].lacks(when, path[2]):
                    return WhyUnused(when)
            elif _HOLDS[when](self, path):
                return WhyUnused(when, self._named(when, path))
        return None

    def _named(self, when: UnusedWhen, path: Path) -> tuple[str, ...]:
        elsewhere = when in (UnusedWhen.HOLDS_THERE, UnusedWhen.HOLDS_THERE_IN_MONEY)
        return self.parts[path[1]].machines if elsewhere else ()

    # -- things ------------------------------------------------------------------------

    def in_use(self, group: str) -> tuple[str, ...]:
        """The things of a group that are not taken out."""
        return tuple(
            id_ for id_ in self.here.ids(group) if not self.here.resolved.is_out(group, id_)
        )

    @cached_property
    def asked(self) -> frozenset[str]:
        """Parts that rush and real orders ask for."""
        return frozenset(
            self.here.value(group, id_, "part")
            for group in ("rush", "order")
            for id_ in self.in_use(group)
        )

    @cached_property
    def parts(self) -> Mapping[str, _PartUse]:
        """What is used of each part that is wanted by the week or asked for."""
        machines = self.in_use("machine")
        return {
            part: _PartUse(self.here, part, machines)
            for part in self.here.ids("part")
            if part in self.asked or not self.here.resolved.is_out("part", part)
        }

    def _out(self, group: str, id_: str, name: str) -> WhyUnused | None:
        if name == TAKES_OUT[group] or not self.here.resolved.is_out(group, id_):
            return None
        if group != "part":
            return WhyUnused(UnusedWhen.TAKEN_OUT, (id_, TAKES_OUT[group]))
        if id_ in self.asked or self._counts_all_the_same(id_, name):
            return None
        return WhyUnused(UnusedWhen.PART_TAKEN_OUT, (id_,))

    def _counts_all_the_same(self, part: str, name: str) -> bool:
        """Of a part that is taken out: what pieces are worth elsewhere may still hang on it."""
        if name == "contribution":
            return not self.study.contributions - {(self.here.scenario, part)}
        of_reference = self.study.reference in (None, self.here.scenario)
        return name == "cycle" and of_reference and not self.study.in_money

    # -- the study ---------------------------------------------------------------------

    @property
    def no_money(self) -> bool:
        """Whether nothing is told in money."""
        return self.study.in_money is False

    @property
    def is_reference(self) -> bool:
        """Whether it is known to be the reference."""
        return self.here.scenario == self.study.reference

    @property
    def is_no_reference(self) -> bool:
        """Whether another one is known to be the reference."""
        return self.study.reference is not None and not self.is_reference

    # -- machines and parts ------------------------------------------------------------

    def one_pallet(self, machine: str) -> bool:
        """Whether there is only the machine's own table."""
        return bool(self.here.value("machine", machine, "pallets") == 1)

    def running_on(self, machine: str) -> list[_PartUse]:
        """The parts that may run on a machine."""
        return [part for part in self.parts.values() if part.may_run_on(machine)]

    # -- the cell as a whole -----------------------------------------------------------

    @cached_property
    def breaks(self) -> bool:
        """Whether any shift has breaks, or may have some."""
        shifts = self.in_use("shift")
        return any(self.here.value("shift", shift, "breaks") != () for shift in shifts)

    @cached_property
    def whole_week(self) -> bool:
        """Whether there are shifts and they cover the whole week: it is never after hours."""
        spans = []
        for shift in self.in_use("shift"):
            days, start, end = (
                self.here.value("shift", shift, key) for key in ("days", "start", "end")
            )
            if days is None or start is None or end is None:
                return False
            length = (end - start) % DAY or DAY
            begins = [DAYS.index(day) * DAY + start for day in days]
            spans += [(begin, begin + length) for begin in begins]
            # What runs on into Monday covers its first hours.
            spans += [(begin - WEEK, begin + length - WEEK) for begin in begins]
        covered = 0
        for begin, stop in sorted(spans):
            if begin > covered:
                return False
            covered = max(covered, stop)
        return covered >= WEEK

    @property
    def no_hours_claimed(self) -> bool:
        """Whether the claim is known to have no unattended hours."""
        hours = self.here.value("claimed", "unattended_hours")
        return hours is not None and not hours.seconds

    @property
    def meters(self) -> tuple[bool, bool]:
        """Whether hours switched on and hours in cut are given."""
        on, cut = (self.here.value("hour_meters", key) for key in ("switched_on", "in_cut"))
        return on is not None, cut is not None

    @property
    def meters_tell_nothing(self) -> bool:
        """Whether a reading is missing, or there are no hours in it."""
        on = self.here.value("hour_meters", "switched_on")
        return not all(self.meters) or not on.seconds


_HOLDS: Mapping[UnusedWhen, Callable[[_Use, Path], bool]] = {
    UnusedWhen.HOLDS_THERE: lambda use, path: use.parts[path[1]].is_hidden(path[2]),
    UnusedWhen.HOLDS_THERE_IN_MONEY: lambda use, path: (
        bool(use.study.in_money) and use.parts[path[1]].is_hidden(path[2])
    ),
    UnusedWhen.ONE_PALLET: lambda use, path: use.one_pallet(path[1]),
    UnusedWhen.ONE_PART: lambda use, _: len(use.parts) == 1,
    UnusedWhen.NO_MONEY: lambda use, _: use.no_money,
    UnusedWhen.OF_REFERENCE: lambda use, _: use.is_reference,
    UnusedWhen.TOLD_BY_REFERENCE: lambda use, _: use.is_no_reference,
    UnusedWhen.REFERENCE_RESALE: lambda use, _: use.is_no_reference,
    UnusedWhen.NO_SIZED_PART: lambda use, path: (
        not any(part.has_size for part in use.running_on(path[1]))
    ),
    UnusedWhen.NOTHING_LAID_OUT: lambda use, path: (
        not any(part.is_laid_on(path[1]) for part in use.running_on(path[1]))
    ),
    UnusedWhen.NO_TOOL_PLACES: lambda use, path: (
        not any(part.given("tools") for part in use.running_on(path[1]))
    ),
    UnusedWhen.NO_SIZE: lambda use, path: not use.parts[path[1]].has_size,
    UnusedWhen.NO_TOOL_LIFE: lambda use, path: not use.parts[path[1]].given("tool_life"),
    UnusedWhen.NO_FIRST_PIECE: lambda use, path: not use.parts[path[1]].waits,
    UnusedWhen.NOTHING_WAITS: lambda use, _: not any(part.waits for part in use.parts.values()),
    UnusedWhen.SHIFT_WITHOUT_BREAKS: lambda use, path: (
        use.here.value("shift", path[1], "breaks") == ()
    ),
    UnusedWhen.NO_BREAKS: lambda use, _: bool(use.in_use("shift")) and not use.breaks,
    UnusedWhen.NEVER_AFTER_HOURS: lambda use, _: use.whole_week,
    UnusedWhen.NO_LIMIT: lambda use, _: use.whole_week and not use.breaks,
    UnusedWhen.NOTHING_CLAIMED: lambda use, _: (
        use.here.value("claimed", "attended_utilization") is None
    ),
    UnusedWhen.NO_HOURS_CLAIMED: lambda use, _: use.no_hours_claimed,
    UnusedWhen.NO_METERS: lambda use, _: use.meters_tell_nothing,
    UnusedWhen.NO_HOURS_IN_CUT: lambda use, _: use.meters == (True, False),
    UnusedWhen.NO_HOURS_ON: lambda use, _: use.meters == (False, True),
}


class _PartUse:
    """What is used of one part, among the machines that are in use."""

    def __init__(self, here: Holding, part: str, machines: Sequence[str]) -> None:
        self._here = here
        self._part = part
        self._in_use = machines

    def given(self, *path: str) -> bool:
        """Whether a value is given, by somebody or by a default."""
        return self._here.resolved.raw("part", self._part, *path) not in (None, "")

    @cached_property
    def machines(self) -> tuple[str, ...]:
        """The machines in use on which it may be made."""
        allowed = self._here.value("part", self._part, "machines")
        named = allowed if isinstance(allowed, tuple) else self._in_use
        return tuple(machine for machine in self._in_use if machine in named)

    def may_run_on(self, machine: str) -> bool:
        """Whether it may be made there."""
        return machine in self.machines

    @property
    def has_size(self) -> bool:
        """Whether its size is given."""
        return self.given("size")

    @property
    def waits(self) -> bool:
        """Whether it waits for the release of a first piece."""
        wait = self._here.value("part", self._part, "first_piece")
        return wait is None or wait.seconds != 0

    def is_laid_on(self, machine: str) -> bool:
        """Whether pieces are laid out on the face of a machine."""
        return self.has_size and self._has(machine, "table", "travel")

    def lacks(self, what: NoMachineHas, name: str) -> bool:
        """Whether no machine on which it may be made has what a key of it needs."""
        if what.once_given and not self.given(name):
            return False
        return not any(self._has(machine, *what.keys) for machine in self.machines)

    def _has(self, machine: str, *keys: str) -> bool:
        here = self._here.resolved
        return any(here.raw("machine", machine, key) not in (None, "") for key in keys)

    def is_hidden(self, name: str) -> bool:
        """Whether another value holds on every machine where it may be made."""
        on_all = all(self.given("on", machine, name) for machine in self.machines)
        return bool(self.machines) and on_all

    def why_not_on(self, machine: str, name: str) -> WhyUnused | None:
        """Why what is other on a machine changes nothing; None where it may."""
        if not self.given("on", machine, name):
            return None  # it says as for the part, and may be entered
        if machine not in self._in_use:
            return WhyUnused(UnusedWhen.TAKEN_OUT, (machine, TAKES_OUT["machine"]))
        if machine not in self.machines:
            return WhyUnused(UnusedWhen.NOT_MADE_THERE, (self._part, machine))
        return None
