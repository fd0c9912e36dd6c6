"""All errors (rule `study.errors`) and warnings of a draft at once, and the study without any."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache, partial
from typing import Any, TypeAlias

from whatif.study.check.entries import head_problems, scenario_problems, unknown_keys
from whatif.study.check.holding import Holding
from whatif.study.check.odd import oddities
from whatif.study.check.rules import rule_problems, sound, tree_problems, values_together
from whatif.study.check.unused import Unused
from whatif.study.draft import Draft
from whatif.study.problem import Problem
from whatif.study.raw import Path, Raw
from whatif.study.resolve import GIVEN_BACK, Line, Resolved, Source, line_of, resolve, resolve_line
from whatif.study.schema.catalogue import THINGS
from whatif.study.schema.models import Scenario, Study

_Rule: TypeAlias = Callable[[Holding], Iterator[Problem]]


@dataclass(frozen=True)
class Checked:
    """What a check found: `study` is None where there are problems.

    Both lists stand in file order, root keys first. `resolved` has what holds in
    each scenario, for those who show it; `holding` the warnings that hold in each,
    those that its parent has too among them; `unknown_keys` what is entered under no known key.
    """

    study: Study | None
    problems: tuple[Problem, ...]
    warnings: tuple[Problem, ...]
    resolved: Mapping[str, Resolved]
    holding: Mapping[str, tuple[Problem, ...]]
    unknown_keys: Mapping[str, Mapping[Path, Raw]] = field(default_factory=dict)

    @cached_property
    def unused(self) -> Unused:
        """What the scenarios do not use, worked out once."""
        return Unused(self.resolved, self.study)


def check(draft: Draft) -> Checked:
    """Check everything in `draft`; a fault that is inherited is told once, where it arises."""
    resolved = {id_: resolve(draft, id_) for id_ in draft.ids}
    holdings = {id_: Holding(each) for id_, each in resolved.items() if sound(draft, id_)}
    problems = [*head_problems(draft), *tree_problems(draft)]
    warnings: list[Problem] = []
    faults = _where_they_arise(draft, holdings, rule_problems)
    odd_rule = partial(oddities, all_scenarios=holdings)
    odd = _where_they_arise(draft, holdings, odd_rule)
    for scenario in draft.scenarios:
        problems += scenario_problems(scenario)
        problems += faults.get(scenario.id, [])
        if scenario.id not in holdings:
            problems += _own(Holding(resolved[scenario.id]))
        warnings += odd.get(scenario.id, [])
    study = None if problems else build(draft)
    holding = {id_: tuple(odd_rule(here)) for id_, here in holdings.items()}
    return Checked(
        study,
        tuple(problems),
        tuple(warnings),
        resolved,
        holding,
        {each.id: found for each in draft.scenarios if (found := unknown_keys(each))},
    )


def _own(here: Holding) -> list[Problem]:
    """Faults of the own values of a scenario of which it is not known what it inherits."""
    own = here.resolved.scenario
    return [
        problem
        for problem in values_together(here)
        if here.resolved.origin(*problem.path).scenario == own
    ]


def _where_they_arise(
    draft: Draft, holdings: Mapping[str, Holding], rule: _Rule
) -> dict[str, list[Problem]]:
    """The problems that `rule` finds in each scenario, less those that its parent has too."""
    found = {
        id_: {_identity(here, problem): problem for problem in rule(here)}
        for id_, here in holdings.items()
    }
    parents = {id_: draft.scenario(id_).parent for id_ in holdings}
    return {
        id_: [
            problem
            for identity, problem in problems.items()
            if identity not in found.get(parents[id_] or "", {})
        ]
        for id_, problems in found.items()
    }


def _identity(here: Holding, problem: Problem) -> tuple[object, ...]:
    """The same for a problem and for what a child, entering nothing itself, inherits of it."""
    origin = here.resolved.origin(*problem.path)
    return problem.path, problem.value, problem.kind, problem.details, origin.scenario


def build(draft: Draft) -> Study:
    """The study; `draft` must have been found without errors."""
    head = {name: raw for name, raw in draft.head.items() if raw != GIVEN_BACK}
    head["reference"] = draft.reference_id or ""
    scenarios = {id_: _scenario(line_of(draft, id_)) for id_ in draft.ids}
    return Study.model_validate({**head, "scenarios": scenarios})


@lru_cache(maxsize=64)
def _scenario(line: Line) -> Scenario:
    resolved = resolve_line(line)
    tree: dict[str, Any] = {"title": resolved.scenario}
    for group in THINGS:
        tree[group] = {thing: {} for thing in resolved.ids(group)}
    for path, given in resolved.values.items():
        # What is assumed, the model assumes by itself.
        if given.raw is not None and given.origin.kind is not Source.ASSUMED:
            _put(tree, path, given.raw)
    return Scenario.model_validate({**tree, "id": resolved.scenario})


def _put(tree: dict[str, Any], path: Path, raw: Raw) -> None:
    for part in path[:-1]:
        tree = tree.setdefault(part, {})
    tree[path[-1]] = raw
