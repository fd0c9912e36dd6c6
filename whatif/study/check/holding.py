"""The typed values that hold in a scenario, as far as they can be read."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from whatif.study.problem import Problem, ProblemKind
from whatif.study.raw import Path, shown
from whatif.study.resolve import Resolved, Source
from whatif.study.schema.catalogue import TAKES_OUT, key_for
from whatif.study.schema.kinds import KindError
from whatif.units import Quantity


@dataclass(frozen=True)
class Holding:
    """What rules ask a scenario: typed values, None where not given or not readable."""

    resolved: Resolved

    @property
    def scenario(self) -> str:
        """The scenario's id."""
        return self.resolved.scenario

    def value(self, *path: str) -> Any:
        """The typed value at a path."""
        key, raw = key_for(path), self.resolved.raw(*path)
        if key is None or raw is None:
            return None
        try:
            return key.kind.read(raw)
        except KindError:
            return None

    def is_given(self, *path: str) -> bool:
        """Whether somebody entered the value at a path, here or further up."""
        return self.resolved.origin(*path).kind is not Source.ASSUMED

    def is_in(self, group: str, id_: str) -> bool:
        """Whether a thing is not taken out by a 0."""
        amount = self.value(group, id_, TAKES_OUT[group])
        return bool(amount.value if isinstance(amount, Quantity) else amount)

    def ids(self, group: str) -> Iterator[str]:
        """The things of a group, those taken out among them."""
        yield from self.resolved.ids(group)

    def problem(
        self,
        path: Path,
        kind: ProblemKind,
        *details: str,
        allowed: str = "",
        nearest: str | None = None,
    ) -> Problem:
        """A problem with the value at `path`."""
        raw = self.resolved.raw(*path)
        value = "" if raw is None else shown(raw)
        return Problem(self.scenario, path, value, kind, details, allowed, nearest)
