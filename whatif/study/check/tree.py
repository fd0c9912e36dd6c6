"""Faults of the tree of scenarios: parents that are missing or go in a circle."""

from collections.abc import Iterator

from whatif.study.check.problem import Problem
from whatif.study.draft import Draft
from whatif.study.raw import shown
from whatif.study.resolve import GIVEN_BACK
from whatif.study.schema.catalogue import closest


def tree_problems(draft: Draft) -> Iterator[Problem]:
    """Missing parents, loops, a missing reference, a study without scenarios."""
    if not draft.scenarios and "scenario" not in draft.head:
        yield Problem(
            None, "scenario", "", "there is no scenario", "at least one table [scenario.<id>]"
        )
    ids = draft.ids
    reference = draft.head.get("reference")
    if isinstance(reference, str) and reference and reference not in ids:
        yield Problem(
            None,
            "reference",
            shown(reference),
            "there is no such scenario",
            _one_of(ids),
            closest(reference, ids),
        )
    for each in draft.scenarios:
        if each.parent is not None and each.parent not in ids:
            others = tuple(one for one in ids if one != each.id)
            yield Problem(
                each.id,
                "parent",
                shown(each.parent),
                "there is no such scenario",
                _one_of(others),
                closest(each.parent, others),
            )
    yield from _loops(draft)


def _loops(draft: Draft) -> Iterator[Problem]:
    told: set[str] = set()
    for each in draft.scenarios:
        ring = _ring(draft, each.id)
        if ring and not told & set(ring):
            told |= set(ring)
            way = " -> ".join((*ring, ring[0]))
            message = (
                "it is its own parent"
                if len(ring) == 1
                else f"the parents go in a circle ({way}); one of these scenarios needs another"
            )
            yield Problem(
                each.id,
                "parent",
                shown(each.parent or ""),
                message,
                "a scenario that does not inherit from this one",
            )


def _ring(draft: Draft, scenario: str) -> tuple[str, ...]:
    """The circle of parents that `scenario` is a part of, beginning with it; else nothing."""
    ring = (scenario, *draft.ancestors(scenario))
    return ring if draft.scenario(ring[-1]).parent == scenario else ()


def sound(draft: Draft, scenario: str) -> bool:
    """Whether the parents of `scenario` end in a root, so that all it inherits is known."""
    oldest = (scenario, *draft.ancestors(scenario))[-1]
    return draft.scenario(oldest).entered.get(("parent",), GIVEN_BACK) == GIVEN_BACK


def _one_of(ids: tuple[str, ...]) -> str:
    return f"one of {', '.join(ids)}" if ids else "the id of a scenario"
