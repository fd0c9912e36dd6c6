"""What was changed, to be undone and done again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from whatif.records import dataclass

if TYPE_CHECKING:
    from whatif.study.draft import Draft
    from whatif.study.raw import Path

MOST = 5000
"""Changes remembered; a draft shares all that did not change, so each costs little."""


@dataclass(frozen=True, slots=True)
class Step:
    """One change: its name, and the draft on both sides of it."""

    says: str
    before: Draft
    after: Draft


def changed_place(step: Step) -> tuple[str, Path] | None:
    """The scenario and the path of the first value that a step changes, None where it has none.

    In a scenario that only one side has nothing is told: it is there or gone as a whole.
    """
    before = {scenario.id: scenario for scenario in step.before}
    for scenario in step.after:
        old = before.get(scenario.id)
        if old is None or old is scenario or old.entered == scenario.entered:
            continue
        for path in (*scenario.entered, *old.entered):
            if scenario.entered.get(path) != old.entered.get(path):
                return scenario.id, path
    return None


def taking_after(step: Step) -> tuple[str, ...]:
    """Titles of the scenarios that inherit the first value that a step changes."""
    from whatif.study.schema.catalogue import key_for

    place = changed_place(step)
    key = None if place is None else key_for(place[1])
    if place is None or key is None or not key.says.inherited:
        return ()
    changed, path = place
    found = []
    for scenario in step.after:
        for above in step.after.ancestors(scenario.id):
            if path in scenario.entered:
                break
            if above == changed:
                found.append(scenario.id)
                break
            if path in step.after.scenario(above).entered:
                break
    return tuple(step.after.scenario(id_).title for id_ in found)


@dataclass(frozen=True, slots=True)
class History:
    """Changes done, and changes undone that may be done again; immutable."""

    done: tuple[Step, ...] = ()
    undone: tuple[Step, ...] = ()

    def having(self, step: Step) -> History:
        """With one more change done; what was undone is gone."""
        return History((*self.done, step)[-MOST:], ())

    @property
    def steps(self) -> tuple[Step, ...]:
        """All changes, the first one first, those undone last."""
        return (*self.done, *self.undone)

    def at(self, done: int) -> History:
        """With so many of all changes done, the others undone; in one jump."""
        steps = self.steps
        return History(steps[:done], steps[done:])
