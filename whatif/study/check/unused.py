"""Values that the model does not use in a scenario, each with the reason in words.

Whoever changes such a value changes no answer of this scenario, nor of any that does not inherit
it (`tests/test_unused.py` tries it); warnings and cautions may still speak of it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from whatif.study.check.holding import Holding
from whatif.study.raw import Path
from whatif.study.resolve import Resolved
from whatif.study.schema.catalogue import TAKES_OUT, key_for
from whatif.study.schema.kinds import DAYS
from whatif.study.schema.models import Study
from whatif.units import Quantity

if TYPE_CHECKING:
    from whatif.study.check.check import Checked

_DAY = 24 * 3600
_WEEK = 7 * _DAY
_NEEDS_PALLETS = {
    "load_stations",
    "pallet_change",
    "pallet_price",
    "pallet_system_price",
    "pallet_floor",
}
_MACHINE_MONEY = {"price", "resale", "pallet_price", "pallet_system_price", "owned"}
_OF_REFERENCE_ALONE = {("money", "currency")}
_NOT_OF_REFERENCE = {("money", "rate"), ("money", "years"), ("money", "one_off")}


def why_unused(checked: Checked, scenario: str, path: Path) -> str:
    """Why the value at a path changes nothing in this scenario; "" where it may."""
    return checked.unused.why(scenario, path)


class Unused:
    """What the scenarios of a study do not use."""

    def __init__(self, resolved: Mapping[str, Resolved], study: Study | None) -> None:
        self._resolved = resolved
        self._study = study
        self._uses: dict[str, _Use] = {}

    def why(self, scenario: str, path: Path) -> str:
        """Why the value at a path changes nothing in a scenario; "" where it may."""
        if key_for(path) is None:
            return ""
        if scenario not in self._uses:
            self._uses[scenario] = _Use(Holding(self._resolved[scenario]), self)
        return self._uses[scenario].why(path)

    @cached_property
    def contributions(self) -> frozenset[tuple[str, str]]:
        """Scenario and part of every contribution there is."""
        holdings = [Holding(one) for one in self._resolved.values()]
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

    def why(self, path: Path) -> str:
        """Why the value at a path changes nothing; "" where it may."""
        group = path[0]
        if group in TAKES_OUT:
            return self._out(path) or self._of_thing(path)
        if group == "money" or group == "claimed":
            return self._money(path) if group == "money" else self._claimed(path[1])
        if group == "hour_meters":
            return self._meters(path[1])
        if group == "unattended":
            return self._unattended(path[1])
        if group == "sequence" and len(self.wanted) == 1:
            return "only one part is made, so there is nothing to choose"
        return ""

    # -- things ------------------------------------------------------------------------

    def is_out(self, group: str, one: str) -> bool:
        """Whether a thing is taken out by a 0."""
        amount = self.here.value(group, one, TAKES_OUT[group])
        amount = amount.value if isinstance(amount, Quantity) else amount
        return amount is not None and not amount

    def in_use(self, group: str) -> tuple[str, ...]:
        """The things of a group that are not taken out."""
        return tuple(one for one in self.here.ids(group) if not self.is_out(group, one))

    @cached_property
    def asked(self) -> frozenset[str]:
        """Parts that rush and real orders ask for."""
        return frozenset(
            self.here.value(group, one, "part")
            for group in ("rush", "order")
            for one in self.in_use(group)
        )

    @cached_property
    def wanted(self) -> tuple[str, ...]:
        """Parts that are wanted by the week or asked for."""
        return tuple(
            one
            for one in self.here.ids("part")
            if one in self.asked or not self.is_out("part", one)
        )

    @cached_property
    def parts(self) -> Mapping[str, PartUse]:
        """What of each part is used."""
        machines = self.in_use("machine")
        return {one: PartUse(self.here, one, machines, self.study.in_money) for one in self.wanted}

    def _out(self, path: Path) -> str:
        group, one, key = path[:3]
        if key == TAKES_OUT[group] or not self.is_out(group, one):
            return ""
        if group != "part":
            return f"{one} is taken out here ({TAKES_OUT[group]} is 0)"
        if one in self.asked or self._counts_all_the_same(one, key):
            return ""
        return f"{one} is taken out here (weekly is 0), and no order asks for it"

    def _counts_all_the_same(self, part: str, key: str) -> bool:
        """Of a part that is taken out: what pieces are worth elsewhere may still hang on it."""
        if key == "contribution":
            return not self.study.contributions - {(self.here.scenario, part)}
        of_reference = self.study.reference in (None, self.here.scenario)
        return key == "cycle" and of_reference and not self.study.in_money

    def _of_thing(self, path: Path) -> str:
        group, one, key = path[:3]
        if group == "part":
            return self.parts[one].why(path[2:]) if one in self.parts else ""
        if group == "machine":
            return self._machine(one, key)
        if group == "shift":
            return self._shift(one, key)
        if group == "rush" and key == "price" and self.study.in_money is False:
            return _NO_MONEY
        return ""

    def _machine(self, one: str, key: str) -> str:
        if key in _NEEDS_PALLETS and self.here.value("machine", one, "pallets") == 1:
            return "there is only the machine's own table (pallets each is 1)"
        if key in _MACHINE_MONEY and self.study.in_money is False:
            return _NO_MONEY
        is_reference = self.here.scenario == self.study.reference
        if key == "resale" and self.study.reference is not None and not is_reference:
            return "what a machine brings that is given up is told by the reference"
        if key in ("pallet_price", "pallet_system_price") and is_reference:
            return _REFERENCE
        sized = [part for part in self.parts.values() if part.has_size and part.may_run_on(one)]
        if key in ("table", "travel", "work_height") and not sized:
            return "no part that may run here has a size"
        if key == "faces" and not any(part.is_laid_on(one) for part in sized):
            return "how many pieces a face holds is not known (size, or table and travel)"
        if key == "pockets" and not any(
            part.may_run_on(one) and part.given("tools") for part in self.parts.values()
        ):
            return "no part that may run here has its tool places given"
        return ""

    def _shift(self, one: str, key: str) -> str:
        if key == "breaks_paid" and self.here.value("shift", one, "breaks") == ():
            return "the shift has no breaks"
        if key == "inspects" and not any(part.waits for part in self.parts.values()):
            return "no part waits for the release of a first piece"
        return ""

    # -- the cell as a whole -----------------------------------------------------------

    @cached_property
    def _breaks(self) -> bool:
        """Whether any shift has breaks, or may have some."""
        shifts = self.in_use("shift")
        return any(self.here.value("shift", one, "breaks") != () for one in shifts)

    @cached_property
    def _whole_week(self) -> bool:
        """Whether the shifts cover the whole week, so that it is never after hours."""
        spans = []
        for one in self.in_use("shift"):
            days, start, end = (
                self.here.value("shift", one, key) for key in ("days", "start", "end")
            )
            if days is None or start is None or end is None:
                return False
            length = (end - start) % _DAY or _DAY
            begins = [DAYS.index(day) * _DAY + start for day in days]
            spans += [(begin, begin + length) for begin in begins]
            # What runs on into Monday covers its first hours.
            spans += [(begin - _WEEK, begin + length - _WEEK) for begin in begins]
        covered = 0
        for begin, stop in sorted(spans):
            if begin > covered:
                return False
            covered = max(covered, stop)
        return covered >= _WEEK

    def _unattended(self, key: str) -> str:
        if not self.in_use("shift"):
            return ""
        if key == "through_breaks" and not self._breaks:
            return "no shift has breaks"
        if key == "after_shift" and self._whole_week:
            return "the shifts cover the whole week, so it is never after hours"
        if key == "at_limit" and self._whole_week and not self._breaks:
            return "somebody is there all week, so there is no limit"
        return ""

    def _claimed(self, key: str) -> str:
        if key == "attended_utilization":
            return ""
        if self.here.value("claimed", "attended_utilization") is None:
            return "nothing is claimed until an attended utilization is entered"
        hours = self.here.value("claimed", "unattended_hours")
        if key == "unattended_utilization" and hours is not None and not hours.seconds:
            return "no unattended hours are claimed"
        return ""

    def _meters(self, key: str) -> str:
        on, cut = (self.here.value("hour_meters", one) for one in ("switched_on", "in_cut"))
        if key == "gap" and (on is None or cut is None or not on.seconds):
            return "no hour meters are entered here; the gap is told where they are"
        if key == "switched_on" and on is not None and cut is None:
            return "the hours in cut are missing"
        if key == "in_cut" and cut is not None and on is None:
            return "the hours switched on are missing"
        return ""

    def _money(self, path: Path) -> str:
        if self.study.in_money is False:
            return _NO_MONEY
        if self.study.reference is None:
            return ""
        is_reference = self.here.scenario == self.study.reference
        if path in _OF_REFERENCE_ALONE and not is_reference:
            return "the reference's currency is shown"
        return _REFERENCE if path in _NOT_OF_REFERENCE and is_reference else ""


_NO_MONEY = "no part of any scenario has a contribution, so nothing is told in money"
_REFERENCE = "the reference is measured against itself, so it lays out nothing"


_ON = {"load", "unload", "setup", "per_pallet", "prove_out"}


class PartUse:
    """One part, among the machines that are in use; ``in_money`` None where it is not known."""

    def __init__(
        self, here: Holding, part: str, machines: Sequence[str], in_money: bool | None
    ) -> None:
        self._here = here
        self._part = part
        self._in_use = machines
        self._in_money = in_money

    def value(self, *path: str) -> object:
        """A typed value of the part."""
        return self._here.value("part", self._part, *path)

    def given(self, *path: str) -> bool:
        """Whether a value is given, by somebody or by a default."""
        return self._here.resolved.raw("part", self._part, *path) not in (None, "")

    @cached_property
    def machines(self) -> tuple[str, ...]:
        """The machines in use on which it may be made."""
        allowed = self.value("machines")
        named = allowed if isinstance(allowed, tuple) else self._in_use
        return tuple(one for one in self._in_use if one in named)

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
        return not self._is_no_time("first_piece")

    def is_laid_on(self, machine: str) -> bool:
        """Whether pieces are laid out on the face of a machine."""
        return self.has_size and self._has(machine, "table", "travel")

    def why(self, path: Path) -> str:
        """Why the value at a path below the part changes nothing; "" where it may."""
        if path[0] == "on":
            return self._on(path[1], path[2])
        key = path[0]
        return self._fit(key) or self._tools(key) or self._money(key) or self._hidden(key)

    def _has(self, machine: str, *keys: str) -> bool:
        here = self._here
        return any(here.resolved.raw("machine", machine, key) not in (None, "") for key in keys)

    def _any_has(self, *keys: str) -> bool:
        return any(self._has(machine, *keys) for machine in self.machines)

    def _is_no_time(self, key: str) -> bool:
        seconds = getattr(self.value(key), "seconds", None)
        return seconds == 0

    def _on(self, machine: str, key: str) -> str:
        if not self.given("on", machine, key):
            return ""  # it says as for the part, and may be entered
        if machine not in self._in_use:
            return f"{machine} is taken out here (count is 0)"
        if machine not in self.machines:
            return f"{self._part} is not to be made on {machine}"
        return ""

    def _fit(self, key: str) -> str:
        if key in ("gap", "edge", "turn", "fixture_height") and not self.has_size:
            return "the size of the part is not given"
        needs = {
            "gap": ("table", "travel"),
            "edge": ("table",),
            "turn": ("table", "travel", "work_height"),
            "size": ("table", "travel", "work_height"),
            "fixture_height": ("work_height",),
        }
        if key in needs and self.has_size and not self._any_has(*needs[key]):
            names = " or ".join(one.replace("_", " ") for one in needs[key])
            return f"no machine that it may run on has its {names} given"
        return ""

    def _tools(self, key: str) -> str:
        if key in ("sister_tools", "tool_change") and not self.given("tool_life"):
            return "no tool life is given"
        if key == "tools" and not self._any_has("pockets"):
            return "no machine that it may run on has its magazine places given"
        if key == "first_piece_every" and not self.waits:
            return "there is no wait for a first piece"
        return ""

    def _money(self, key: str) -> str:
        if key == "fixture_price" and self._in_money is False:
            return "no part of any scenario has a contribution, so nothing is told in money"
        return ""

    def _hidden(self, key: str) -> str:
        """A value that another one hides on every machine where the part may be made."""
        # A cycle also tells what a piece is worth, where that is not told in money.
        if key not in _ON and not (key == "cycle" and self._in_money):
            return ""
        if self.machines and all(self.given("on", one, key) for one in self.machines):
            return f"what is entered for {', '.join(self.machines)} holds there"
        return ""
