"""What is found in one scenario by itself, kept for as long as what holds in it.

Faults are looked for at once, what is odd when somebody asks for it.

An edit of a scenario changes what holds there and in all that is based on it. Most values nothing
looks at beside others: after such an edit what was found in the scenarios below holds as it was.
"""

from collections.abc import Callable, Iterable, Mapping
from typing import Final, TypeAlias
from weakref import WeakKeyDictionary, WeakValueDictionary, ref

from whatif.records import dataclass
from whatif.study.check.entries import scenario_problems, unknown_keys
from whatif.study.check.odd import oddities
from whatif.study.check.rules import rule_problems
from whatif.study.draft import ScenarioDraft
from whatif.study.problem import TOLD_ONCE, Problem
from whatif.study.raw import Path, Raw
from whatif.study.resolve import GIVEN_BACK, Resolved
from whatif.study.schema.catalogue import key_for

Identity: TypeAlias = tuple[object, ...]
"""The same for a problem and for what a child, entering nothing itself, inherits of it."""

_NONE: Final[frozenset[Path]] = frozenset()

_TOGETHER: Final = frozenset(
    {"parent", "notes", "machine", "shift", "stop", "order", "rush", "hour_meters"}
)
"""Groups of which rules look at values beside others; notes tell which values are guesses."""

_OF_PARTS: Final = frozenset(
    {
        *("after", "first_piece", "machines", "numbers", "prove_out", "scrap", "setup", "stock"),
        "weekly",
    }
)
"""The same of parts, of which they look at no other value but those on a machine."""


@dataclass(frozen=True, slots=True)
class InTexts:
    """What is found in the texts of a scenario, each by itself."""

    problems: tuple[Problem, ...]
    unknown_keys: Mapping[Path, Raw]


@dataclass(frozen=True, slots=True)
class Findings:
    """What is found in a scenario that is whole, and in none but those that it inherits from.

    Attributes:
        every: in the order in which it was found.
        by_place: each once, those that its parent has too among them.
        arising: those that its parent has not.
    """

    every: tuple[Problem, ...]
    by_place: Mapping[Identity, Problem]
    arising: tuple[Problem, ...]


_texts: WeakKeyDictionary[ScenarioDraft, InTexts] = WeakKeyDictionary()


def in_texts(here: Resolved) -> InTexts:
    """What is found in the texts that a scenario itself enters."""
    known = _texts.get(here.own)
    if known is None:
        known = InTexts(tuple(scenario_problems(here.own)), unknown_keys(here.own))
        _texts[here.own] = known
    return known


Looks: TypeAlias = Callable[[Resolved, Mapping[str, Resolved]], Iterable[Problem]]
"""What looks at the values of a scenario; beside it are all that can be looked at so."""


class _Finding:
    """What one sort of looking has found, in scenarios that somebody still has."""

    def __init__(self, looks: Looks) -> None:
        self._looks = looks
        self._known: WeakKeyDictionary[Resolved, Findings] = WeakKeyDictionary()
        self._latest: WeakValueDictionary[str, Resolved] = WeakValueDictionary()
        """What held in a scenario of an id when it was looked at last."""
        self._since: WeakKeyDictionary[Resolved, tuple[ref[Resolved], frozenset[Path]]] = (
            WeakKeyDictionary()
        )
        """Where what was found was taken over: from what, and the paths that are other there."""

    def of(self, here: Resolved, whole: Mapping[str, Resolved]) -> Findings:
        """What is found in a scenario; ``whole`` are all that can be looked at so."""
        known = self._known.get(here)
        if known is not None:
            return known
        line: list[Resolved] = []
        at: Resolved | None = here
        while at is not None and at not in self._known:
            line.append(at)
            at = at.above
        for each in reversed(line):
            above = None if each.above is None else self._known[each.above]
            known = self._taken_over(each) or self._looked_at(each, above, whole)
            self._known[each] = known
            self._latest[each.scenario] = each
        assert known is not None
        return known

    def _looked_at(
        self, here: Resolved, above: Findings | None, whole: Mapping[str, Resolved]
    ) -> Findings:
        every = tuple(self._looks(here, whole))
        by_place = by_identity(here, every)
        there = {} if above is None else above.by_place
        arising = tuple(each for place, each in by_place.items() if place not in there)
        return Findings(every, by_place, arising)

    def _taken_over(self, here: Resolved) -> Findings | None:
        """What was found before, where nothing of that hangs on what is other since."""
        before = self._latest.get(here.scenario)
        if before is None or before.things != here.things:
            return None
        known, above = self._known.get(before), self._changed_above(before, here)
        own = _changed(before.own, here.own)
        if known is None or above is None or own is None:
            return None
        changed = above | own
        if any(problem.path in changed for problem in known.every):
            return None
        self._since[here] = ref(before), changed
        return known

    def _changed_above(self, before: Resolved, now: Resolved) -> frozenset[Path] | None:
        """The paths of which another value is inherited; None where more is other than values."""
        if before.above is now.above:
            return _NONE
        if before.above is None or now.above is None:
            return None
        since = self._since.get(now.above)
        return since[1] if since is not None and since[0]() is before.above else None


FAULTS: Final = _Finding(lambda here, whole: rule_problems(here))
ODD: Final = _Finding(lambda here, whole: oddities(here, whole))


def _changed(before: ScenarioDraft, now: ScenarioDraft) -> frozenset[Path] | None:
    """The paths at which another value is entered; None where rules may see it."""
    if before is now or before.entered == now.entered:
        return _NONE
    if before.entered.keys() != now.entered.keys():
        return None
    changed = set()
    for path, raw in now.entered.items():
        old = before.entered[path]
        if raw is old:
            continue
        if GIVEN_BACK in (raw, old) or not stands_alone(path):
            return None
        changed.add(path)
    return frozenset(changed)


def stands_alone(path: Path) -> bool:
    """Whether no rule looks at the value at a path beside others."""
    if key_for(path) is None or path[0] in _TOGETHER:
        return False
    return path[0] != "part" or (len(path) == 3 and path[2] not in _OF_PARTS)


def by_identity(here: Resolved, problems: Iterable[Problem]) -> dict[Identity, Problem]:
    """Problems of a scenario, each once."""
    return {_identity(here, problem): problem for problem in problems}


def _identity(here: Resolved, problem: Problem) -> Identity:
    if problem.kind in TOLD_ONCE:
        return (problem.kind,)
    origin = here.origin(*problem.path)
    return problem.path, problem.value, problem.kind, problem.details, origin.scenario
