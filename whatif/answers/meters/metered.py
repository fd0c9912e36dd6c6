"""Hour meters held against the model: the gap, how it can be read, and what that does to gains."""

from __future__ import annotations

from whatif.answers.answer import Comparison
from whatif.answers.figures import Figures
from whatif.answers.gains import gains
from whatif.answers.meters.gap_read import READINGS, all_readings, as_read
from whatif.answers.meters.held import HeldAgainst
from whatif.answers.meters.reading import seconds_laid, told_to_nobody, without_reading
from whatif.answers.progress import Told
from whatif.answers.running import pairs_of
from whatif.answers.simulate import Simulate
from whatif.records import dataclass


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
        held: what the meters say beside the model with the gap laid to nothing.
        laid_to: what the study lays the gap to: "show" (nothing), "people" or "machine".
        assumed: seconds by which every visit, or every load, is now longer; 0 where none are.
        below: the scenarios that the meters hold for.
        left_open: saleable gains by scenario, in percent, with the gap laid to nothing.
        reads: both ways of reading the gap.
    """

    scenario: str
    held: HeldAgainst
    laid_to: str
    assumed: int
    below: tuple[str, ...]
    left_open: dict[str, float | None]
    reads: tuple[Read, ...]

    @property
    def gap(self) -> float | None:
        """What the model finds more than the meters, in points of percent."""
        return self.held.gap


def metered(
    found: Comparison, simulate: Simulate, told: Told = told_to_nobody
) -> tuple[Metered, ...]:
    """Every scenario that has hour meters of its own (rule `meters.share`)."""
    answers = found.answers
    own = [
        id_
        for id_, answer in answers.items()
        if answer.plan.meters is not None and answer.plan.meters.own
    ]
    if not own:
        return ()
    entered = {id_: without_reading(answer.plan) for id_, answer in answers.items()}
    left_open = _saleable(pairs_of(entered, found.reference, simulate))
    # Behind the constants every scenario is run once more with the gap read in each way.
    runs = len(READINGS) * len(answers)
    whole = runs

    def told_of_search(done: int, of: int) -> None:
        nonlocal whole
        whole = of + runs
        told(done, whole)

    by_kind = {}
    constants = all_readings(entered, own, simulate, told_of_search)
    for at, (kind, readings) in enumerate(constants.items()):
        told(whole - runs + at * len(answers), whole)
        by_kind[kind] = as_read(entered, found.reference, readings, simulate), readings
    result = []
    for id_ in own:
        meters, held = answers[id_].plan.meters, answers[id_].metered
        assert meters is not None
        assert held is not None
        result.append(
            Metered(
                scenario=id_,
                held=held,
                laid_to=meters.gap,
                assumed=seconds_laid(answers[id_].plan),
                below=tuple(
                    other
                    for other, answer in answers.items()
                    if answer.plan.meters is not None and answer.plan.meters.scenario == id_
                ),
                left_open=left_open,
                reads=tuple(
                    Read(kind, readings[id_].seconds, _saleable(read))
                    for kind, (read, readings) in by_kind.items()
                ),
            )
        )
    return tuple(result)


def _saleable(pairs: dict[str, tuple[Figures, Figures]]) -> dict[str, float | None]:
    return {id_: gains(*pair).saleable for id_, pair in pairs.items()}
