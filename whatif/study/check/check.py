"""All errors (rule `study.errors`) and warnings of a draft at once, and the study without any."""

from collections.abc import Collection, Mapping
from dataclasses import field
from functools import cached_property
from typing import Any
from weakref import WeakKeyDictionary

from whatif.records import dataclass
from whatif.study.check.entries import head_problems
from whatif.study.check.found import FAULTS, ODD, Identity, by_identity, in_texts
from whatif.study.check.levers import lever_problems
from whatif.study.check.odd import other_than_above
from whatif.study.check.rules import (
    Anywhere,
    lacking_anywhere,
    tree_problems,
    values_together,
)
from whatif.study.check.unused import Unused
from whatif.study.draft import Draft
from whatif.study.problem import Problem
from whatif.study.raw import Path, Raw
from whatif.study.resolve import GIVEN_BACK, Resolved, Source, resolve_all
from whatif.study.schema.catalogue import HEAD_KEYS, LEVER, THINGS
from whatif.study.schema.models import Scenario, Study


@dataclass(frozen=True)
class Checked:
    """What a check found in a draft.

    Problems and warnings stand in file order, root keys first. `resolved` has what holds in
    each scenario, for those who show it; `unknown_keys` what is entered under no known key.
    """

    draft: Draft
    problems: tuple[Problem, ...]
    resolved: Mapping[str, Resolved]
    unknown_keys: Mapping[str, Mapping[Path, Raw]] = field(default_factory=dict)

    @cached_property
    def warnings(self) -> tuple[Problem, ...]:
        """What is odd, told once, where it arises; looked for when it is asked for first."""
        warnings: list[Problem] = []
        for id_, here in self._whole.items():
            warnings += ODD.of(here, self._whole).arising
            if id_ in self._others:
                above = self._others.get(self.draft.scenario(id_).parent or "", {})
                found = self._others[id_]
                warnings += [each for place, each in found.items() if place not in above]
        return tuple(warnings)

    @cached_property
    def holding(self) -> Mapping[str, tuple[Problem, ...]]:
        """The warnings that hold in each, those that its parent has too among them."""
        return {
            id_: (*ODD.of(here, self._whole).every, *self._others.get(id_, {}).values())
            for id_, here in self._whole.items()
        }

    @cached_property
    def _whole(self) -> Mapping[str, Resolved]:
        return _whole(self.resolved)

    @cached_property
    def _others(self) -> Mapping[str, Mapping[Identity, Problem]]:
        return _beside_the_reference(self.draft, self._whole)

    @property
    def is_sound(self) -> bool:
        """Whether there is no problem, so that it can be answered."""
        return not self.problems

    def head(self, name: str) -> Any:
        """The typed value of a root key, entered or assumed; there are no problems."""
        if name in ("reference", "today"):
            return self.draft.reference_id if name == "reference" else self.draft.today_id
        key, raw = HEAD_KEYS[name], self.draft.head.get(name, GIVEN_BACK)
        return key.kind.read(key.default if raw == GIVEN_BACK else raw)

    def has_head(self, name: str) -> bool:
        """Whether a root key is entered; else its value is assumed."""
        return self.draft.head.get(name, GIVEN_BACK) != GIVEN_BACK

    @cached_property
    def study(self) -> Study | None:
        """The typed study, built when it is asked for first; None where there are problems."""
        return _build(self.draft, self.resolved) if self.is_sound else None

    def study_of(self, only: Collection[str]) -> Study | None:
        """The same of some scenarios alone, for whoever looks at no other."""
        wanted = {id_: here for id_, here in self.resolved.items() if id_ in only}
        if not self.is_sound or len(wanted) == len(self.resolved):
            return self.study
        return _build(self.draft, wanted)

    @cached_property
    def unused(self) -> Unused:
        """What the scenarios do not use, worked out once."""
        return Unused(self.resolved, self.draft if self.is_sound else None)


def check(draft: Draft) -> Checked:
    """Check everything in `draft`; a fault that is inherited is told once, where it arises.

    What an edit does not touch is not looked at again.
    """
    resolved = resolve_all(draft)
    whole = _whole(resolved)
    problems = [*head_problems(draft), *lever_problems(draft), *tree_problems(draft)]
    anywhere = Anywhere(draft)
    unknown = {}
    for id_, here in resolved.items():
        own = in_texts(here)
        problems += own.problems
        if own.unknown_keys:
            unknown[id_] = own.unknown_keys
        problems += FAULTS.of(here, whole).arising if id_ in whole else _own(here, anywhere)
    return Checked(draft, tuple(problems), resolved, unknown)


def _whole(resolved: Mapping[str, Resolved]) -> dict[str, Resolved]:
    """The scenarios of which all is known that they inherit."""
    return {id_: here for id_, here in resolved.items() if here.is_whole}


def _beside_the_reference(
    draft: Draft, whole: Mapping[str, Resolved]
) -> dict[str, dict[Identity, Problem]]:
    """Of each scenario that has one, the warning that it is other than parent and reference."""
    others = {}
    for id_, here in whole.items():
        found = by_identity(here, other_than_above(here.own, whole, draft.reference_id or ""))
        if found:
            others[id_] = found
    return others


def _own(here: Resolved, anywhere: Anywhere) -> list[Problem]:
    """Faults of what is entered in a scenario of which it is not known what it inherits."""
    return [
        *(
            problem
            for problem in values_together(here)
            if here.origin(*problem.path).scenario == here.scenario
        ),
        *(
            problem
            for problem in lacking_anywhere(here, anywhere)
            if problem.path[1] in here.own.ids(problem.path[0])
        ),
    ]


def _build(draft: Draft, resolved: Mapping[str, Resolved]) -> Study:
    """The study of some scenarios; the draft has been found without errors."""
    # Levers are no input of any answer: whoever searches reads them.
    head = {name: raw for name, raw in draft.head.items() if raw != GIVEN_BACK and name != LEVER}
    head["reference"] = draft.reference_id or ""
    head["today"] = draft.today_id or ""
    scenarios = {id_: _scenario(here) for id_, here in resolved.items()}
    return Study.of({**head, "scenarios": scenarios})


_built: WeakKeyDictionary[Resolved, Scenario] = WeakKeyDictionary()


def _scenario(resolved: Resolved) -> Scenario:
    """The typed scenario, kept for as long as what holds in it."""
    found = _built.get(resolved)
    if found is None:
        found = _built[resolved] = _typed(resolved)
    return found


def _typed(resolved: Resolved) -> Scenario:
    tree: dict[str, Any] = {"title": resolved.scenario}
    for group in THINGS:
        tree[group] = {thing: {} for thing in resolved.ids(group)}
    for path, given in resolved.values.items():
        # What is assumed, the model assumes by itself.
        if given.raw is not None and given.origin.kind is not Source.ASSUMED:
            _put(tree, path, given.raw)
    return Scenario.of({**tree, "id": resolved.scenario})


def _put(tree: dict[str, Any], path: Path, raw: Raw) -> None:
    for part in path[:-1]:
        tree = tree.setdefault(part, {})
    tree[path[-1]] = raw
