"""Values that the model does not use in a scenario, each with the reason.

Whoever changes such a value changes no answer of this scenario, nor of any that does not inherit
it (`tests/study/test_unused.py` tries it); warnings and cautions may still speak of it. When a key
is unused its field says (`Says.unused`); here it is found out whether that is so.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cached_property

from whatif.records import dataclass
from whatif.study.draft import Draft
from whatif.study.raw import Path
from whatif.study.resolve import Resolved
from whatif.study.schema.catalogue import TAKES_OUT, key_for
from whatif.study.schema.kinds import WEEK
from whatif.study.schema.says import Condition, NoMachineHas, UnusedWhen
from whatif.study.shifts import covered, spans_of
from whatif.units import Quantity


@dataclass(frozen=True, slots=True)
class WhyUnused:
    """Why a value changes no answer, and the things (and keys) in question."""

    when: Condition
    names: tuple[str, ...] = ()


class Unused:
    """What the scenarios of a study do not use; ``sound`` is its draft, None with problems."""

    def __init__(self, resolved: Mapping[str, Resolved], sound: Draft | None) -> None:
        self._sound = sound
        self._uses = {scenario: _Use(here, self) for scenario, here in resolved.items()}

    def why(self, scenario: str, path: Path) -> WhyUnused | None:
        """Why the value at a path changes nothing in a scenario; None where it may."""
        return self._uses[scenario].why(path)

    @cached_property
    def contributions(self) -> frozenset[tuple[str, str]]:
        """Scenario and part of every contribution there is."""
        return frozenset(
            (scenario, part) for scenario, use in self._uses.items() for part in use.here.priced
        )

    @property
    def in_money(self) -> bool | None:
        """Whether answers are in money; None while the study has problems."""
        return None if self._sound is None else bool(self.contributions)

    @property
    def reference(self) -> str | None:
        """The reference; None while the study has problems."""
        return None if self._sound is None else self._sound.reference_id

    @property
    def today(self) -> str | None:
        """Id of the scenario that stands in the shop, as far as it is known."""
        return None if self._sound is None else self._sound.today_id


class _Use:
    """What one scenario does not use."""

    def __init__(self, here: Resolved, study: Unused) -> None:
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
            if not self.here.is_wanted(path[1]):
                return None
            if path[2] == "on":
                return self._why_not_on(path[1], path[3], path[4])
        for when in key.says.unused:
            if isinstance(when, NoMachineHas):
                if self._lacks(when, path):
                    return WhyUnused(when)
            elif _HOLDS[when](self, path):
                return WhyUnused(when, self._named(when, path))
        return None

    def _named(self, when: UnusedWhen, path: Path) -> tuple[str, ...]:
        elsewhere = when in (UnusedWhen.HOLDS_THERE, UnusedWhen.HOLDS_THERE_IN_MONEY)
        return self.here.machines_of(path[1]) if elsewhere else ()

    # -- things that are taken out -----------------------------------------------------

    def _out(self, group: str, id_: str, name: str) -> WhyUnused | None:
        if name == TAKES_OUT[group] or not self.here.is_out(group, id_):
            return None
        if (group, name) == ("machine", "owned"):
            return None  # a machine that is kept and not used is not sold
        if group != "part":
            return WhyUnused(UnusedWhen.TAKEN_OUT, (id_, TAKES_OUT[group]))
        if id_ in self.here.asked or self._counts_all_the_same(id_, name):
            return None
        return WhyUnused(UnusedWhen.PART_TAKEN_OUT, (id_,))

    def _counts_all_the_same(self, part: str, name: str) -> bool:
        """Of a part that is taken out: what pieces are worth elsewhere may still hang on it."""
        if name == "contribution":
            return not self.study.contributions - {(self.here.scenario, part)}
        return name == "cycle" and not self.is_no_reference and not self.study.in_money

    @property
    def is_no_reference(self) -> bool:
        """Whether another one is known to be the reference."""
        return self.study.reference not in (None, self.here.scenario)

    # -- parts on machines -------------------------------------------------------------

    def any_on(self, machine: str, name: str) -> bool:
        """Whether a key is given of any part that may run on a machine."""
        return any(
            machine in self.here.machines_of(part) and self.here.has("part", part, name)
            for part in self.here.wanted
        )

    def _machine_has(self, machine: str, *keys: str) -> bool:
        return any(self.here.has("machine", machine, key) for key in keys)

    def lays_out(self, machine: str) -> bool:
        """Whether pieces are laid out on the face of a machine."""
        return self.any_on(machine, "size") and self._machine_has(machine, "table", "travel")

    def _lacks(self, what: NoMachineHas, path: Path) -> bool:
        """Whether no machine on which a part may be made has what a key of it needs."""
        if what.once_given and not self.here.has(*path):
            return False
        machines = self.here.machines_of(path[1])
        return not any(self._machine_has(machine, *what.keys) for machine in machines)

    def is_hidden(self, path: Path) -> bool:
        """Whether another value holds on every machine where the part of a path may be made."""
        machines = self.here.machines_of(path[1])
        on_all = all(self.here.has(*path[:2], "on", machine, path[2]) for machine in machines)
        return bool(machines) and on_all

    def _why_not_on(self, part: str, machine: str, name: str) -> WhyUnused | None:
        """Why what is other on a machine changes nothing; None where it may."""
        if not self.here.has("part", part, "on", machine, name):
            return None  # it says as for the part, and may be entered
        if machine not in self.here.in_use("machine"):
            return WhyUnused(UnusedWhen.TAKEN_OUT, (machine, TAKES_OUT["machine"]))
        if machine not in self.here.machines_of(part):
            return WhyUnused(UnusedWhen.NOT_MADE_THERE, (part, machine))
        return None

    def waits(self, part: str) -> bool:
        """Whether a part waits for the release of a first piece."""
        wait = self.here.value("part", part, "first_piece")
        return wait is None or wait.seconds != 0

    # -- the cell as a whole -----------------------------------------------------------

    @cached_property
    def breaks(self) -> bool:
        """Whether any shift has breaks, or may have some."""
        shifts = self.here.in_use("shift")
        return any(
            self.here.value("shift", shift, key) != ()
            for shift in shifts
            for key in ("breaks", "unpaid_breaks")
        )

    @cached_property
    def whole_week(self) -> bool:
        """Whether there are shifts and they cover the whole week: it is never after hours."""
        spans = spans_of(self.here)
        return spans is not None and covered(spans) == [(0, WEEK)]

    @property
    def meters(self) -> tuple[bool, bool]:
        """Whether hours switched on and hours in cut can be read."""
        on, cut = (self.here.value("hour_meters", key) for key in ("switched_on", "in_cut"))
        return on is not None, cut is not None


def _no_reading(use: _Use, _: Path) -> bool:
    """A reading is missing, or there are no hours in it."""
    return not all(use.meters) or not use.here.value("hour_meters", "switched_on").seconds


def _no_hours_said(use: _Use, _: Path) -> bool:
    hours = use.here.value("said", "with_nobody", "hours")
    return hours is not None and not hours.seconds


def _one_pallet_in_all(use: _Use, _: Path) -> bool:
    """There is one pallet or table in the whole cell."""
    machines = use.here.in_use("machine")
    keys = [("machine", id_, key) for id_ in machines for key in ("count", "pallets")]
    return len(machines) == 1 and all(use.here.value(*key) == 1 for key in keys)


def _nothing_after_shift(use: _Use, _: Path) -> bool:
    after = use.here.value("unattended", "after_shift")
    return isinstance(after, Quantity) and not after.seconds


def _no_scrap(use: _Use, path: Path) -> bool:
    scrap = use.here.value(*path[:2], "scrap")
    return scrap is not None and not scrap.value


def _no_prove_out(use: _Use, _: Path) -> bool:
    """No part that is wanted has a prove-out, as a part or on a machine."""
    for part in use.here.wanted:
        paths: list[Path] = [("part", part, "prove_out")]
        paths += [("part", part, "on", id_, "prove_out") for id_ in use.here.machines_of(part)]
        for path in paths:
            time = use.here.value(*path)
            if time is None and use.here.has(*path):
                return False  # entered, and not readable yet
            if time is not None and time.seconds:
                return False
    return True


_HOLDS: Mapping[UnusedWhen, Callable[[_Use, Path], bool]] = {
    UnusedWhen.HOLDS_THERE: lambda use, path: use.is_hidden(path),
    UnusedWhen.HOLDS_THERE_IN_MONEY: lambda use, path: (
        bool(use.study.in_money) and use.is_hidden(path)
    ),
    UnusedWhen.ONE_PALLET: lambda use, path: use.here.value(*path[:2], "pallets") == 1,
    UnusedWhen.ONE_PALLET_IN_ALL: _one_pallet_in_all,
    UnusedWhen.NOTHING_AFTER_IT: lambda use, path: path[1] not in use.here.operations,
    UnusedWhen.NO_SCRAP: _no_scrap,
    UnusedWhen.NOTHING_AFTER_SHIFT: _nothing_after_shift,
    UnusedWhen.ONE_PART: lambda use, _: (
        len(use.here.wanted) == 1 and use.here.value("part", use.here.wanted[0], "numbers") == 1
    ),
    UnusedWhen.NO_MONEY: lambda use, _: use.study.in_money is False,
    UnusedWhen.OF_REFERENCE: lambda use, _: use.here.scenario == use.study.reference,
    UnusedWhen.TOLD_BY_REFERENCE: lambda use, _: use.is_no_reference,
    UnusedWhen.OF_TODAY: lambda use, _: use.here.scenario == use.study.today,
    UnusedWhen.TODAYS_RESALE: lambda use, _: use.study.today not in (None, use.here.scenario),
    UnusedWhen.NO_SIZED_PART: lambda use, path: not use.any_on(path[1], "size"),
    UnusedWhen.NOTHING_LAID_OUT: lambda use, path: not use.lays_out(path[1]),
    UnusedWhen.NO_TOOL_PLACES: lambda use, path: not use.any_on(path[1], "tools"),
    UnusedWhen.NO_SIZE: lambda use, path: not use.here.has(*path[:2], "size"),
    UnusedWhen.NO_TOOL_LIFE: lambda use, path: not use.here.has(*path[:2], "tool_life"),
    UnusedWhen.NO_FIRST_PIECE: lambda use, path: not use.waits(path[1]),
    UnusedWhen.NO_PROVE_OUT: _no_prove_out,
    UnusedWhen.NO_BREAKS: lambda use, _: bool(use.here.in_use("shift")) and not use.breaks,
    UnusedWhen.NEVER_AFTER_HOURS: lambda use, _: use.whole_week,
    UnusedWhen.NO_LIMIT: lambda use, _: use.whole_week and not use.breaks,
    UnusedWhen.NOTHING_SAID: lambda use, _: (
        use.here.value("said", "with_people", "cutting") is None
    ),
    UnusedWhen.NO_HOURS_SAID: _no_hours_said,
    UnusedWhen.NO_METERS: _no_reading,
    UnusedWhen.NO_HOURS_IN_CUT: lambda use, _: use.meters == (True, False),
    UnusedWhen.NO_HOURS_ON: lambda use, _: use.meters == (False, True),
}
