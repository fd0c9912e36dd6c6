"""Faults that show only when values or scenarios are seen together."""

from collections.abc import Iterator
from itertools import pairwise

from whatif.study.check.holding import Holding
from whatif.study.check.problem import Problem
from whatif.study.draft import Draft
from whatif.study.raw import Path, shown
from whatif.study.resolve import GIVEN_BACK
from whatif.study.schema.catalogue import closest, dotted, key_for
from whatif.study.schema.kinds import DAY


def rule_problems(here: Holding) -> Iterator[Problem]:
    """Every fault of the values that hold in one scenario, inherited ones among them."""
    yield from _required(here)
    yield from values_together(here)
    yield from _names(here)


def values_together(here: Holding) -> Iterator[Problem]:
    """Faults of values that are there; what a broken line of parents hides makes none of them."""
    yield from _breaks(here)
    yield from _meters(here)


def _required(here: Holding) -> Iterator[Problem]:
    missing = [
        (path, key)
        for path, given in here.resolved.values.items()
        if (key := key_for(path)) is not None and key.required and given.raw is None
    ]
    lacking = {path[:2] for path, _ in missing}
    for path, key in missing:
        # A name that was mistyped begins a thing of its own, which lacks all that it needs.
        whole = tuple(one for one in here.ids(path[0]) if (path[0], one) not in lacking)
        meant = closest(path[1], whole)
        nearest = None if meant is None else dotted((path[0], meant))
        yield here.problem(path, "it is missing", key.kind.allowed, nearest)


def _breaks(here: Holding) -> Iterator[Problem]:
    for shift in here.ids("shift"):
        start, end, breaks = (here.value("shift", shift, key) for key in ("start", "end", "breaks"))
        if start is None or end is None or not breaks:
            continue
        length = (end - start) % DAY or DAY
        # Counted from the start of the shift, so that midnight does not matter.
        spans = sorted(((begin - start) % DAY, (stop - begin) % DAY) for begin, stop in breaks)
        path = ("shift", shift, "breaks")
        hours = f"{_clock(start)}-{_clock(end)}"
        for begin, lasts in spans:
            if begin + lasts > length:
                named = _span(start, begin, lasts)
                message = f"the break {named} is not inside the shift {hours}"
                yield here.problem(path, message, f"breaks within {hours}")
        for (first, lasts), (second, also) in pairwise(spans):
            if first + lasts > second:
                both = f"{_span(start, first, lasts)} and {_span(start, second, also)}"
                yield here.problem(path, f"the breaks {both} overlap", "breaks that do not overlap")


def _clock(seconds: int) -> str:
    minutes = seconds % DAY // 60
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def _span(start: int, begin: int, lasts: int) -> str:
    return f"{_clock(start + begin)}-{_clock(start + begin + lasts)}"


def _meters(here: Holding) -> Iterator[Problem]:
    on, cut = (here.value("hour_meters", key) for key in ("switched_on", "in_cut"))
    if on is not None and cut is not None and cut.value > on.value:
        yield here.problem(
            ("hour_meters", "in_cut"),
            f"it is more than switched_on, {shown(on.text)}",
            f"a time up to {on.text}",
        )


def _names(here: Holding) -> Iterator[Problem]:
    machines, parts = tuple(here.ids("machine")), tuple(here.ids("part"))
    for part in parts:
        path = ("part", part, "machines")
        for machine in here.value(*path) or ():
            if machine not in machines:
                yield _no_such(here, path, "machine", machine, machines)
        for machine in here.resolved.differs_on(part):
            if machine not in machines:
                yield Problem(
                    here.scenario,
                    dotted(("part", part, "on", machine)),
                    shown(machine),
                    f"there is no machine {machine} in this scenario",
                    _one_of("a machine of this scenario", machines),
                    closest(machine, machines),
                )
    for group in ("rush", "order"):
        for one in here.ids(group):
            path = (group, one, "part")
            part = here.value(*path)
            if part is not None and part not in parts:
                yield _no_such(here, path, "part", part, parts)


def _no_such(here: Holding, path: Path, sort: str, named: str, known: tuple[str, ...]) -> Problem:
    return here.problem(
        path,
        f"there is no {sort} {named} in this scenario",
        _one_of(f"a {sort} of this scenario", known),
        closest(named, known),
    )


def _one_of(whose: str, known: tuple[str, ...]) -> str:
    return f"one of {', '.join(known)}" if known else f"the id of {whose}"


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
            _one_of("a scenario", ids),
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
                _one_of("a scenario", others),
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
