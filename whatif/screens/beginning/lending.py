"""What a page before any study asks of the program: somebody who answers."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from whatif.session.calculate.calculator import Calculates
from whatif.session.calculate.requests import Reply


class Lends(Protocol):
    """The program, which has a calculation also where no study is open."""

    def lend(self, deliver: Callable[[Reply], None]) -> Calculates:
        """Somebody who answers."""
