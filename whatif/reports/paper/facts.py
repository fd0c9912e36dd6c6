"""All that a report on paper tells, gathered before a word of it is written."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from whatif.answers.answer import Answer, Comparison
from whatif.answers.doubts import Tried, to_be_tried, tried_under_doubts
from whatif.answers.moves.inputs import Unanswerable
from whatif.answers.moves.sensitivity import Ranking, sensitivity
from whatif.answers.night.night import following
from whatif.answers.night.of_study import ScenarioNights, nights_alone
from whatif.answers.night.pallets import fewest
from whatif.answers.progress import Told
from whatif.answers.simulate import Simulate, tasks_ahead
from whatif.answers.verdict import Verdict, verdict_of
from whatif.records import dataclass
from whatif.study.check.check import Checked
from whatif.study.resolve import Resolved


@dataclass(frozen=True, slots=True)
class Imprint:
    """Where, when and by what a report was made.

    Attributes:
        file: the study's name; "" where it came by standard input.
        digest: the beginning of its content's SHA-256.
        command: what makes it again.
        version: of the program.
    """

    file: str
    digest: str
    day: str
    command: str
    version: str


@dataclass(frozen=True, slots=True)
class PaperFacts:
    """A study answered, and the scenario that the report goes into.

    Attributes:
        focus: the one asked for, else the first of the verdict.
        nights: of the reference, and of the focus with the fewest pallets that last.
        tried: how the verdict ends under doubts; none where it was not asked for.
        ranking: None where it was not asked for, or there is no gain to be moved.
        is_quick: whether it was not asked for.
        question: in the owner's own words; "" for those of the program.
    """

    checked: Checked
    found: Comparison
    verdict: Verdict
    focus: str
    nights: Mapping[str, ScenarioNights]
    ranking: Ranking | None
    is_quick: bool
    made: Imprint
    question: str = ""
    tried: tuple[Tried, ...] = ()

    @property
    def answer(self) -> Answer:
        """Of the scenario that the report goes into."""
        return self.found.answers[self.focus]

    @property
    def base(self) -> Answer:
        """Of the reference."""
        return self.found.answers[self.found.reference]

    @property
    def resolved(self) -> Resolved:
        """What holds in the scenario that the report goes into."""
        return self.checked.resolved[self.focus]

    @property
    def titles(self) -> dict[str, str]:
        """Of all scenarios by id."""
        return {id_: answer.plan.title for id_, answer in self.found.answers.items()}


@dataclass(frozen=True, slots=True)
class Asked:
    """What a report is to be of.

    Attributes:
        focus: a scenario; "" for the first of the verdict.
        is_quick: whether the inputs are not to be ranked, which takes longest.
    """

    made: Imprint
    focus: str = ""
    is_quick: bool = False
    question: str = ""


def paper_facts(
    checked: Checked,
    found: Comparison,
    asked: Asked,
    simulate: Simulate,
    told: Callable[[str], Told],
) -> PaperFacts:
    """Find what a comparison does not say yet: nights, and what would change the answer.

    Args:
        told: hears how far the work on "nights", "doubts" or "inputs" is.
    """
    verdict = verdict_of(found.answers, found.reference, tuple(found.answers))
    focus = asked.focus or _first(verdict)
    nights = _nights(found, focus, simulate, told("nights"))
    ranking = None
    tried: tuple[Tried, ...] = ()
    if not asked.is_quick:
        ids = to_be_tried(verdict)
        tried = tried_under_doubts(checked.draft, ids, simulate, told("doubts")) if ids else ()
        try:
            ranking = sensitivity(checked.draft, focus, simulate, told("inputs"))
        except Unanswerable:
            ranking = None
    return PaperFacts(
        checked,
        found,
        verdict,
        focus,
        nights,
        ranking,
        asked.is_quick,
        asked.made,
        asked.question,
        tried,
    )


def _first(verdict: Verdict) -> str:
    """Who comes first, or stands first where nobody does; of no alternatives the reference."""
    alternatives = tuple(each.scenario for each in verdict.alternatives)
    return (*verdict.first, *alternatives, verdict.reference)[0]


def _nights(
    found: Comparison, focus: str, simulate: Simulate, told: Told
) -> dict[str, ScenarioNights]:
    plans = {id_: found.plans[id_] for id_ in dict.fromkeys((found.reference, focus))}
    tasks_ahead(simulate, (run for plan in plans.values() for run in following(plan)))
    nights = {id_: nights_alone(plan, told, simulate) for id_, plan in plans.items()}
    last = fewest(plans[focus], told, simulate)
    return {**nights, focus: replace(nights[focus], fewest=last)}
