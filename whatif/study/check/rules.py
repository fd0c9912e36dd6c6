"""Faults that show only when values or scenarios are seen together."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cached_property
from itertools import pairwise
from typing import Final

from whatif.study.draft import Draft
from whatif.study.problem import Problem, ProblemKind
from whatif.study.raw import Path, Raw, shown
from whatif.study.resolve import GIVEN_BACK, Resolved
from whatif.study.schema.catalogue import KEYS, closest, dotted, key_for
from whatif.study.schema.kinds import DAY
from whatif.study.shifts import clock, hours_of

_NAMING: Final = {(key.group, key.name): key.says.names for key in KEYS if key.says.names}
"""The sort of thing whose ids stand in a value, by group and name of its key."""

MOST_RUSH: Final = 50
"""Rush orders of a scenario: each is tried for itself, at each hour of a week and in each draw."""

_MOST_NAMED: Final = 50
"""Names that may stand in one place, as a problem lists them."""


def problem_at(
    here: Resolved,
    path: Path,
    kind: ProblemKind,
    *details: str,
    allowed: str = "",
    nearest: str | None = None,
) -> Problem:
    """A problem with the value that holds at `path`."""
    raw = here.raw(*path)
    value = "" if raw is None else shown(raw)
    return Problem(here.scenario, path, value, kind, details, allowed, nearest)


def rule_problems(here: Resolved) -> Iterator[Problem]:
    """Every fault of the values that hold in one scenario, inherited ones among them."""
    yield from _required(here)
    yield from values_together(here)
    yield from _names(here)
    yield from _operations(here)


def values_together(here: Resolved) -> Iterator[Problem]:
    """Faults of values that are there; what a broken line of parents hides makes none of them."""
    yield from _breaks(here)
    yield from _works(here)
    yield from _meters(here)
    yield from _rush(here)


class Anywhere:
    """What is entered in any scenario of a study."""

    def __init__(self, draft: Draft) -> None:
        self.draft = draft

    @cached_property
    def paths(self) -> frozenset[Path]:
        """Where something is entered."""
        return frozenset(path for each in self.draft for path in each.entered)

    @cached_property
    def things(self) -> frozenset[Path]:
        """The sort and id of each thing."""
        return frozenset(path[:2] for path in self.paths)

    @cached_property
    def followed(self) -> frozenset[Raw]:
        """The parts after which another one is named to come."""
        return frozenset(
            raw
            for each in self.draft
            for path, raw in each.entered.items()
            if path[:1] == ("part",) and path[-1] == "after"
        )


def lacking_anywhere(here: Resolved, anywhere: Anywhere) -> Iterator[Problem]:
    """What is missing, or named and not there, in a circle of parents and in all other scenarios.

    Whichever of them becomes the parent, none has it. A parent that is not there might have it.
    """
    draft = anywhere.draft
    if not draft.has(draft.scenario(here.eldest).parent or ""):
        return
    for problem in (*_required(here), *_names(here)):
        path = problem.path
        if problem.kind is ProblemKind.NO_SUCH_THING:
            if problem.details[:2] not in anywhere.things:
                yield problem
        elif path not in anywhere.paths and not (
            path[-1] == "weekly" and path[1] in anywhere.followed
        ):
            yield problem


def _required(here: Resolved) -> Iterator[Problem]:
    missing = [
        (path, key)
        for path, given in here.values.items()
        if given.raw is None and here.must_have(path) and (key := key_for(path)) is not None
    ]
    lacking = {path[:2] for path, _ in missing}
    # A name that was mistyped begins a thing of its own, which lacks all that it needs.
    whole = {
        group: tuple(id_ for id_ in here.ids(group) if (group, id_) not in lacking)
        for group in {group for group, *_ in lacking}
    }
    for path, key in missing:
        meant = closest(path[1], whole[path[0]])
        nearest = None if meant is None else dotted((path[0], meant))
        yield problem_at(here, path, ProblemKind.MISSING, allowed=key.kind.allowed, nearest=nearest)


def _breaks(here: Resolved) -> Iterator[Problem]:
    """Breaks outside their shift, and any two that overlap, paid or not."""
    for shift in here.ids("shift"):
        hours = hours_of(here, shift)
        if hours is None:
            continue
        start, words = hours.start, f"{clock(hours.start)}-{clock(hours.end)}"
        # Counted from the start of the shift, so that midnight does not matter.
        spans = sorted(
            ((begin - start) % DAY, (stop - begin) % DAY, path)
            for path in (("shift", shift, "breaks"), ("shift", shift, "unpaid_breaks"))
            for begin, stop in here.value(*path) or ()
        )
        for begin, lasts, path in spans:
            if begin + lasts > hours.length:
                named = _span(start, begin, lasts)
                kind = ProblemKind.BREAK_OUTSIDE
                yield problem_at(here, path, kind, named, words, allowed=f"breaks within {words}")
        for (first, lasts, path), (second, also, other) in pairwise(spans):
            if first + lasts > second:
                both = _span(start, first, lasts), _span(start, second, also)
                at = max(path, other)
                if path != other:
                    paid = both if path[-1] == "breaks" else both[::-1]
                    yield problem_at(here, at, ProblemKind.BREAK_PAID_AND_UNPAID, *paid)
                    continue
                kind = ProblemKind.BREAKS_OVERLAP
                yield problem_at(here, at, kind, *both, allowed="breaks that do not overlap")


def _span(start: int, begin: int, lasts: int) -> str:
    return f"{clock(start + begin)}-{clock(start + begin + lasts)}"


def _works(here: Resolved) -> Iterator[Problem]:
    """Who sets up loads too: a setup is a part of a visit."""
    for shift in here.ids("shift"):
        path = ("shift", shift, "does")
        does = here.value(*path) or ()
        if "setup" in does and "load" not in does:
            kind = ProblemKind.SETS_UP_WITHOUT_LOADING
            yield problem_at(here, path, kind, allowed='"load" beside "setup"')


def _operations(here: Resolved) -> Iterator[Problem]:
    """Circles of parts after each other, and two parts after one (rule `orders.made`)."""
    taken: dict[str, str] = {}
    rings = _rings({part: here.value("part", part, "after") for part in here.ids("part")})
    for part in here.ids("part"):
        path, before = ("part", part, "after"), here.value("part", part, "after")
        if before is None or not here.has_thing("part", before):
            continue
        ring = rings.get(part, ())
        if ring:
            kind = ProblemKind.AFTER_ITSELF if len(ring) == 1 else ProblemKind.AFTER_EACH_OTHER
            yield problem_at(here, path, kind, *ring, allowed="a part that does not come after it")
        if before in taken and before != part:
            kind = ProblemKind.TWO_AFTER_ONE
            yield problem_at(
                here, path, kind, before, taken[before], allowed="a part after which no other comes"
            )
        taken.setdefault(before, part)


def _rings(above: Mapping[str, str | None]) -> dict[str, tuple[str, ...]]:
    """The circles among what follows each other, each by its member that stands first.

    Args:
        above: what each follows, None where it follows nothing.
    """
    places = {id_: place for place, id_ in enumerate(above)}
    rings: dict[str, tuple[str, ...]] = {}
    followed: set[str] = set()
    for first in above:
        line: dict[str, None] = {}
        at: str | None = first
        while at is not None and at in above and at not in followed:
            followed.add(at)
            line[at] = None
            at = above.get(at)
        if at in line:
            ring = list(line)[list(line).index(at) :]
            begin = ring.index(min(ring, key=places.__getitem__))
            rings[ring[begin]] = (*ring[begin:], *ring[:begin])
    return rings


def _meters(here: Resolved) -> Iterator[Problem]:
    on, cut = (here.value("hour_meters", key) for key in ("switched_on", "in_cut"))
    if on is not None and cut is not None and cut.value > on.value:
        yield problem_at(
            here,
            ("hour_meters", "in_cut"),
            ProblemKind.MORE_THAN_SWITCHED_ON,
            shown(on.text),
            allowed=f"a time up to {on.text}",
        )


def _rush(here: Resolved) -> Iterator[Problem]:
    many = here.ids("rush")
    if len(many) > MOST_RUSH:
        kind, allowed = ProblemKind.TOO_MANY_RUSH, f"{MOST_RUSH} of them in a scenario"
        yield problem_at(here, ("rush", many[MOST_RUSH]), kind, str(len(many)), allowed=allowed)


def _names(here: Resolved) -> Iterator[Problem]:
    for path in here.values:
        sort = _NAMING.get((path[0], path[-1]), "")
        if not sort:
            continue
        value, known = here.value(*path), here.ids(sort)
        for named in value if isinstance(value, tuple) else (value,):
            if named is not None and not here.has_thing(sort, named):
                yield _no_such(here, path, sort, named, known)
        if sort == "machine":
            yield from _differs_on(here, path[1], known)


def _differs_on(here: Resolved, part: str, machines: tuple[str, ...]) -> Iterator[Problem]:
    for machine in here.differs_on(part):
        if not here.has_thing("machine", machine):
            path = ("part", part, "on", machine)
            told = _no_such(here, path, "machine", machine, machines)
            yield replace(told, value=shown(machine))


def _no_such(here: Resolved, path: Path, sort: str, named: str, known: tuple[str, ...]) -> Problem:
    return problem_at(
        here,
        path,
        ProblemKind.NO_SUCH_THING,
        sort,
        named,
        allowed=_one_of(f"a {sort} of this scenario", known),
        nearest=closest(named, known),
    )


def _one_of(whose: str, known: tuple[str, ...], but: str = "") -> str:
    """The known names, less one; of very many the first."""
    named = [id_ for id_ in known[: _MOST_NAMED + 1] if id_ != but][:_MOST_NAMED]
    if not named:
        return f"the id of {whose}"
    more = len(known) - len(named) - bool(but)
    return f"one of {', '.join(named)}" + (f" and {more} more" if more > 0 else "")


def tree_problems(draft: Draft) -> Iterator[Problem]:
    """Missing parents, loops, a missing reference or today, a study without scenarios."""
    if not draft.scenarios and "scenario" not in draft.head:
        yield Problem(
            None,
            ("scenario",),
            "",
            ProblemKind.NO_SCENARIO,
            allowed="at least one table [scenario.<id>]",
        )
    ids = draft.ids
    for name in ("reference", "today"):
        named = draft.head.get(name)
        if isinstance(named, str) and named and not draft.has(named):
            yield Problem(
                None,
                (name,),
                shown(named),
                ProblemKind.NO_SUCH_SCENARIO,
                (),
                _one_of("a scenario", ids),
                closest(named, ids),
            )
    for each in draft.scenarios:
        if each.parent is not None and not draft.has(each.parent):
            yield Problem(
                each.id,
                ("parent",),
                shown(each.parent),
                ProblemKind.NO_SUCH_SCENARIO,
                (),
                _one_of("a scenario", ids, but=each.id),
                closest(each.parent, ids, but=each.id),
            )
    yield from _loops(draft)


def _loops(draft: Draft) -> Iterator[Problem]:
    rings = _rings({each.id: each.parent for each in draft})
    for first in draft.ids:
        if first in rings:
            ring = rings[first]
            alone = len(ring) == 1
            yield Problem(
                first,
                ("parent",),
                shown(draft.scenario(first).parent or ""),
                ProblemKind.OWN_PARENT if alone else ProblemKind.PARENTS_IN_CIRCLE,
                ring,
                "a scenario that does not inherit from this one",
            )


def sound(draft: Draft, scenario: str) -> bool:
    """Whether the parents of `scenario` end in a root, so that all it inherits is known."""
    oldest = (scenario, *draft.ancestors(scenario))[-1]
    return draft.scenario(oldest).entered.get(("parent",), GIVEN_BACK) == GIVEN_BACK
