"""What a frozen record of the cell needs beside its fields, plain or compiled."""

from __future__ import annotations

from dataclasses import fields
from typing import Any


class Frozen:
    """A record that never changes, and goes as it is from one process to another.

    Compiled, a frozen dataclass refuses the values that a pickle would set: it is made anew.
    """

    __slots__ = ()

    def __reduce__(self) -> tuple[Any, ...]:
        made_of: Any = self
        return type(self), tuple(getattr(self, field.name) for field in fields(made_of))
