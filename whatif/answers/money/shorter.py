"""What takes less time than before with nothing laid out for it (rule `money.shorter`)."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from whatif.plan.model import Plan, Prices
from whatif.records import dataclass

if TYPE_CHECKING:
    from whatif.cell.model import Making

Shortened = Literal[
    "cycle", "set-up", "prove-out", "loading", "loads", "bench work", "walk", "other duties"
]

SHORTENED_BY: Final[Mapping[str, Shortened]] = {
    "cycle": "cycle",
    "setup": "set-up",
    "prove_out": "prove-out",
    "load": "loading",
    "unload": "loading",
    "per_pallet": "loads",
    "bench": "bench work",
    "walk": "walk",
    "other_duties": "other duties",
}
"""By the key of the study that says how long it takes."""

SHORTENED: Final = tuple(dict.fromkeys(SHORTENED_BY.values()))

_OF_MAKING: Final[Mapping[Shortened, Callable[[Making], int]]] = {
    "set-up": lambda making: making.setup,
    "prove-out": lambda making: making.prove_out,
    "loading": lambda making: making.load + making.unload,
    # More pieces in each are fewer loads, and take a fixture that holds them.
    "loads": lambda making: -making.per_pallet,
}
"""What may differ from one machine group to the next."""

_LEAST: Final = 1.0
"""Of the currency, from which on something is laid out."""


@dataclass(frozen=True, slots=True)
class Shorter:
    """One kind of time that is shorter: of which parts, none where it is of all work of people.

    ``by`` is how much by in all, in seconds, in pieces of a load or as a share of one, to tell more
    from less.
    """

    what: Shortened
    parts: tuple[str, ...]
    by: float


_Times: TypeAlias = Mapping[tuple[str, str], float]
"""By part and machine group, either "" where it is of all."""


def shorter_times(here: Plan, reference: Plan, today: Plan) -> tuple[Shorter, ...]:
    """What takes less time than in the reference, and than in the shop today.

    Of parts, and on machines, that only one of two has nothing is shorter. To go back to what the
    shop has today takes nothing.
    """
    found = ((what, tuple(_less(what, here, reference, today))) for what in SHORTENED)
    return tuple(
        Shorter(
            what,
            tuple(dict.fromkeys(part for part, _ in less if part)),
            sum(by for _, by in less),
        )
        for what, less in found
        if less
    )


def _less(what: Shortened, here: Plan, reference: Plan, today: Plan) -> Iterator[tuple[str, float]]:
    there, now = _times(what, reference), _times(what, today)
    for at, time in _times(what, here).items():
        if at in there and time < min(there[at], now.get(at, there[at])):
            yield at[0], there[at] - time


def _times(what: Shortened, plan: Plan) -> _Times:
    cell = plan.cell
    if what == "cycle":
        return {(part.id, ""): part.cycle for part in plan.parts}
    if cell is None:
        return {}
    if what == "other duties":
        return {("", ""): float(cell.other_duties)}
    if what == "walk":
        return {("", ""): cell.walk}
    if what == "bench work":
        return {(part.id, ""): part.bench for part in cell.parts}
    return {
        (part.id, group.id): _OF_MAKING[what](making)
        for part in cell.parts
        for group, making in zip(cell.groups, part.making, strict=True)
        if making is not None
    }


def is_paid_for(more_capital: float, here: Prices, there: Prices) -> bool:
    """Whether anything is laid out, or paid a year, that may have made it shorter.

    What that buys is not told apart. A one-off cost that a scenario enters itself says that too,
    be it 0.
    """
    more = max(more_capital, float(here.one_off - there.one_off), float(here.yearly - there.yearly))
    return more >= _LEAST or here.one_off_of not in ("", here.today, there.one_off_of)
