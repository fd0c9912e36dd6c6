"""Hour meters held against the model: the gap, how it can be read, and what that does to gains."""

from __future__ import annotations

from dataclasses import dataclass

from whatif.answers.compare import (
    ALL_RUNS,
    READINGS,
    Comparison,
    Simulate,
    as_read,
    powered,
)
from whatif.answers.gains import gains


@dataclass(frozen=True, slots=True)
class Read:
    """The gap read one way.

    Attributes:
        kind: "people" or "machine".
        seconds: by which every visit, or every load, is longer; None where there is no gap.
        gains: saleable, by scenario, in percent.
    """

    kind: str
    seconds: int | None
    gains: dict[str, float | None]


@dataclass(frozen=True, slots=True)
class Metered:
    """A scenario with hour meters of its own.

    Attributes:
        measured, modelled: in-cut share of the powered hours, in percent.
        laid_to: what the study lays the gap to: "show" (nothing), "people" or "machine".
        below: the scenarios that the meters hold for.
        reads: both ways of reading the gap.
    """

    scenario: str
    measured: float
    modelled: float | None
    laid_to: str
    below: tuple[str, ...]
    reads: tuple[Read, ...]

    @property
    def gap(self) -> float | None:
        """What the model finds more than the meters, in points of percent."""
        return None if self.modelled is None else self.modelled - self.measured


def metered(found: Comparison, simulate: Simulate) -> tuple[Metered, ...]:
    """Every scenario that has hour meters of its own (cell model, section 2, measured)."""
    answers = found.answers
    own = [
        id_
        for id_, answer in answers.items()
        if answer.plan.meters is not None and answer.plan.meters.own
    ]
    by_kind = {kind: as_read(found, own, kind, simulate) for kind in READINGS} if own else {}
    result = []
    for id_ in own:
        meters = answers[id_].plan.meters
        assert meters is not None
        result.append(
            Metered(
                scenario=id_,
                measured=100 * float(meters.measured),
                modelled=powered(answers[id_].plan, simulate, ALL_RUNS),
                laid_to=meters.gap,
                below=tuple(
                    other
                    for other, answer in answers.items()
                    if answer.plan.meters is not None and answer.plan.meters.scenario == id_
                ),
                reads=tuple(
                    Read(
                        kind,
                        readings[id_].seconds,
                        {other: gains(*pair).saleable for other, pair in read.items()},
                    )
                    for kind, (read, readings) in by_kind.items()
                ),
            )
        )
    return tuple(result)
