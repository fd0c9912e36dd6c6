"""What a search had found, held while a scenario is made of it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from whatif.records import dataclass

if TYPE_CHECKING:
    from collections.abc import Collection

    from whatif.answers.search.search import NextSteps
    from whatif.study.draft import Draft


@dataclass(frozen=True, slots=True)
class FoundBefore:
    """What had been found when a scenario was made of it, from which scenario on and for what.

    A study with one scenario more is another one, and a search of it would begin anew.

    Attributes:
        made: the scenarios that were made, ``rest`` the study without them.
        is_whole: whether the search had come to its end.
    """

    found: NextSteps
    scenario: str
    goal: str
    made: frozenset[str]
    rest: Draft
    is_whole: bool

    def holds(self, draft: Draft, scenario: str | None, goal: str) -> bool:
        """Whether it is still that of a study, in which nothing else is new."""
        is_asked = (scenario, goal) == (self.scenario, self.goal)
        return is_asked and without(draft, self.made) == self.rest


def without(draft: Draft, scenarios: Collection[str]) -> Draft:
    """A study without some scenarios."""
    kept = tuple(each for each in draft.scenarios if each.id not in scenarios)
    return replace(draft, scenarios=kept)
