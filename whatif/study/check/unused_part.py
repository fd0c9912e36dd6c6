"""What the model does not use of a part that is wanted in a scenario."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from whatif.study.check.holding import Holding
from whatif.study.raw import Path

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
