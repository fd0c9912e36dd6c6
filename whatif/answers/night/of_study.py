"""The nights of a study's scenarios, with what is to be said and cautioned about them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from whatif.answers.cautions import Caution, of_nights
from whatif.answers.compare import plans_as_read
from whatif.answers.night.night import Nights, following, nights_of
from whatif.answers.night.pallets import Fewest, fewest
from whatif.answers.progress import Told
from whatif.answers.simulate import Simulate, tasks_ahead
from whatif.plan.model import Plan
from whatif.records import dataclass
from whatif.study.check.check import Checked

PARTS = 100
"""As so many items each scenario is told."""


@dataclass(frozen=True, slots=True)
class ScenarioNights:
    """One scenario's nights.

    Attributes:
        nights: None where the scenario has no parts.
        fewest: pallets that last, by machine group and like nights; empty where they have not been
            looked for.
    """

    title: str
    nights: Nights | None
    fewest: tuple[Fewest, ...]
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class StudyNights:
    """Scenarios by id, in the file's order."""

    title: str
    scenarios: Mapping[str, ScenarioNights]


def nights_alone(plan: Plan, told: Told, simulate: Simulate) -> ScenarioNights:
    """A scenario's nights without the search for pallets, which may be long."""
    nights = nights_of(plan, told, simulate)
    is_cut = nights is not None and nights.runs_on
    return ScenarioNights(plan.title, nights, (), tuple(of_nights(plan, is_cut=is_cut)))


def study_nights(
    checked: Checked, simulate: Simulate, told: Told, scenario: str | None = None
) -> StudyNights:
    """The nights of one scenario of a study without problems, or of all.

    ``told`` hears of each scenario in so many `PARTS`.

    Raises:
        KeyError: there is no such scenario.
    """
    plans = plans_as_read(checked, simulate)
    assert checked.study is not None  # or there would be no plans
    wanted = plans if scenario is None else {scenario: plans[scenario]}
    found: dict[str, ScenarioNights] = {}
    whole = PARTS * len(wanted)
    tasks_ahead(simulate, (run for plan in wanted.values() for run in following(plan)))
    for id_, plan in wanted.items():

        def told_of(first: int, before: int = len(found)) -> Told:
            """Tells how far one half of a scenario's work is."""
            at = PARTS * before + first
            return lambda done, of: told(at + PARTS // 2 * done // max(1, done, of), whole)

        alone = nights_alone(plan, told_of(0), simulate)
        found[id_] = replace(alone, fewest=fewest(plan, told_of(PARTS // 2), simulate))
    return StudyNights(checked.study.title, found)
