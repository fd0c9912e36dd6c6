"""Asks for nights, and on its own for the fewest pallets that last: that search is long."""

from __future__ import annotations

from dataclasses import dataclass

from whatif.answers.night.night import Told, steps
from whatif.answers.night.of_study import StudyNights, nights_alone
from whatif.answers.night.pallets import Fewest, fewest
from whatif.session.calculate.requests import Material, Question


@dataclass(frozen=True, slots=True)
class NightsOf(Question):
    """The nights of some scenarios, without the search for pallets."""

    scenarios: tuple[str, ...]

    def work_out(self, material: Material) -> StudyNights:
        """Nights by scenario, in the order asked."""
        study = material.checked.study
        assert study is not None  # a question is asked of studies without problems only
        plans = {id_: material.found.answers[id_].plan for id_ in self.scenarios}
        of = sum(steps(plan) for plan in plans.values())
        before = 0
        tell = _sparing(material)

        def told(done: int, _of: int) -> None:
            tell(before + done, of)

        found = {}
        for id_, plan in plans.items():
            found[id_] = nights_alone(plan, told)
            before += steps(plan)
        return StudyNights(study.title, found)


@dataclass(frozen=True, slots=True)
class PalletsThatLast(Question):
    """The fewest pallets with which each machine group of a scenario lasts the night."""

    scenario: str

    def work_out(self, material: Material) -> tuple[Fewest, ...]:
        """One entry a machine group and like nights; none where there are no nights."""
        return fewest(material.found.answers[self.scenario].plan, _sparing(material))


def _sparing(material: Material) -> Told:
    """Tell how far it is no more than once a percent: every word of it is drawn."""
    last = -1

    def told(done: int, of: int) -> None:
        nonlocal last
        percent = 100 * done // of if of else 0
        if percent == last:
            material.pause()
        else:
            last = percent
            material.told(done, of)

    return told
