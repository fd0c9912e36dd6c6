"""Warnings that need no simulation: what is allowed, but most likely not meant."""

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Final

from whatif.study.check.rules import problem_at
from whatif.study.draft import ScenarioDraft
from whatif.study.problem import Problem, ProblemKind
from whatif.study.raw import shown
from whatif.study.resolve import Resolved, Source
from whatif.study.schema.catalogue import ON_KEYS, closest, dotted
from whatif.study.shifts import busiest_day, spans_of
from whatif.units import Dimension, show

SHORTEST_METERED: Final = 40 * 3600
"""Seconds switched on, below which hour meters tell little (rule `study.warnings`)."""

_OF_CHANGEOVERS: Final = ("setup", "prove_out", "first_piece")
_NOT_THE_MACHINES: Final = ("batch", "fixtures", "per_pallet")
"""What a comparison of machines, pallets, people and hours is to leave alone."""

_OF_ONE_DAY: Final = ("cycle", "setup")
"""Times that are seldom longer than somebody is there on a day."""

_OF_THE_TABLE: Final = ("table", "work_height", "table_load")


def oddities(here: Resolved, all_scenarios: Mapping[str, Resolved]) -> Iterator[Problem]:
    """Every warning for the values that hold in one scenario, inherited ones among them."""
    yield from _hidden(here)
    yield from _meters(here)
    yield from _mistyped(here)
    for machine in here.in_use("machine"):
        yield from _load_stations(here, machine)
        yield from _pallets_like_tables(here, machine, all_scenarios)
        yield from _yearly_of_some_alone(here, machine)
    yield from _due_too_soon(here)
    yield from _stock(here)
    yield from _nothing_to_work_on(here)
    yield from _out_of_the_mix(here)
    yield from _keep_their_pallets(here)
    yield from _longer_than_a_day(here)


def _hidden(here: Resolved) -> Iterator[Problem]:
    for part in here.ids("part"):
        machines = here.machines_of(part)
        for machine in here.differs_on(part):
            if machine not in machines:
                continue
            for name in ON_KEYS:
                path, on = ("part", part, name), ("part", part, "on", machine, name)
                origin = here.origin(*on)
                entered = here.origin(*path).kind is Source.ENTERED
                if entered and origin.kind is Source.INHERITED:
                    value = shown(here.raw(*on) or "")
                    kind = ProblemKind.HAS_NO_EFFECT
                    if origin.guessed:
                        kind = ProblemKind.HAS_NO_EFFECT_FOR_A_GUESS
                    holds = (dotted(on), value, origin.scenario or "")
                    yield problem_at(here, path, kind, machine, *holds)


def _meters(here: Resolved) -> Iterator[Problem]:
    on, cut = (here.value("hour_meters", key) for key in ("switched_on", "in_cut"))
    if on is not None and on.value < SHORTEST_METERED:
        yield problem_at(here, ("hour_meters", "switched_on"), ProblemKind.SHORT_METERS)
    for given, other, missing in ((on, cut, "in_cut"), (cut, on, "switched_on")):
        if given is not None and other is None and not here.is_given("hour_meters", missing):
            yield problem_at(here, ("hour_meters", missing), ProblemKind.METER_MISSING)


def _mistyped(here: Resolved) -> Iterator[Problem]:
    """A machine that a scenario begins without saying how many, named almost as another one."""
    begun = _begun_here(here)
    others = tuple(machine for machine in here.ids("machine") if machine not in begun)
    for machine in begun:
        meant = closest(machine, others)
        if meant is not None and not here.is_given("machine", machine, "count"):
            path, nearest = ("machine", machine, "count"), dotted(("machine", meant))
            yield problem_at(here, path, ProblemKind.BEGUN_WITHOUT_COUNT, nearest=nearest)


def _begun_here(here: Resolved) -> dict[str, None]:
    """The machines of which something is entered and nothing inherited."""
    inherited = set()
    begun: dict[str, None] = {}
    for path, given in here.values.items():
        if path[0] == "machine":
            if given.origin.kind is Source.INHERITED:
                inherited.add(path[1])
            elif given.origin.kind is Source.ENTERED:
                begun[path[1]] = None
    return {machine: None for machine in begun if machine not in inherited}


def _load_stations(here: Resolved, machine: str) -> Iterator[Problem]:
    path = ("machine", machine, "load_stations")
    if here.is_given(*path) and here.value("machine", machine, "pallets") == 1:
        yield problem_at(here, path, ProblemKind.NO_MEANING_WITH_ONE_PALLET)


def _pallets_like_tables(
    here: Resolved, machine: str, all_scenarios: Mapping[str, Resolved]
) -> Iterator[Problem]:
    if (here.value("machine", machine, "pallets") or 1) == 1:
        return
    taken_over: dict[str, list[str]] = {}
    for name in _OF_THE_TABLE:
        origin = here.origin("machine", machine, name)
        if origin.kind is Source.INHERITED and origin.scenario is not None:
            there = all_scenarios[origin.scenario]
            if there.value("machine", machine, "pallets") == 1:
                taken_over.setdefault(origin.scenario, []).append(name)
    for scenario, names in taken_over.items():
        yield problem_at(
            here,
            ("machine", machine, "pallets"),
            ProblemKind.PALLETS_LIKE_TABLES,
            scenario,
            *names,
        )


def _yearly_of_some_alone(here: Resolved, machine: str) -> Iterator[Problem]:
    """Machines that seem to cost nothing a year, since nobody has entered it beside the others'."""
    path = ("machine", machine, "yearly")
    if not here.value("machine", machine, "count") or here.value(*path) is not None:
        return
    others = [of for of in here.in_use("machine") if here.value("machine", of, "yearly")]
    if others:
        yield problem_at(here, path, ProblemKind.YEARLY_OF_SOME_ALONE, others[0])


def _due_too_soon(here: Resolved) -> Iterator[Problem]:
    for order in here.ids("order"):
        due, arrives = (here.value("order", order, key) for key in ("due", "arrives"))
        if due is not None and arrives is not None and due <= arrives:
            yield problem_at(here, ("order", order, "due"), ProblemKind.DUE_BEFORE_IT_ARRIVES)


def _stock(here: Resolved) -> Iterator[Problem]:
    for part in here.ids("part"):
        path = ("part", part, "stock")
        if here.value(*path) and part not in here.operations:
            yield problem_at(here, path, ProblemKind.STOCK_OF_NO_USE)


def _nothing_to_work_on(here: Resolved) -> Iterator[Problem]:
    """Operations that are wanted, and nothing makes the pieces that they begin with.

    Where an order alone asks for one, `weekly` of the operation before follows its 0. What lies
    in stock lasts for orders of no more pieces, and for no endless mix.
    """
    for part in here.wanted:
        before = here.value("part", part, "after")
        if (
            before is None
            or not here.is_wanted(before)
            or before in here.asked
            or here.weekly(before) != 0
        ):
            continue
        stock = here.value("part", before, "stock") or 0
        if here.weekly(part) or stock < here.asked_for(part):
            path, kind = ("part", before, "weekly"), ProblemKind.NOTHING_MAKES_IT
            yield problem_at(here, path, kind, before, part, str(stock))


def _out_of_the_mix(here: Resolved) -> Iterator[Problem]:
    """Real orders for an operation, whose pieces the one before makes for the endless mix.

    Orders do not raise what is wanted of the operation before by the week, so that the mix lacks
    what they take, unless that one is ordered too, or made in plenty.
    """
    for part in here.in_use("part"):
        before, weekly = here.value("part", part, "after"), here.weekly(part)
        if before is None or not here.is_wanted(before) or not weekly or not here.weekly(before):
            continue
        scrap = here.value("part", part, "scrap")
        needed = weekly / (1 - (scrap.value if scrap is not None else 0))
        asked, beside = (here.asked_for(id_, "order") for id_ in (part, before))
        if asked > beside and (here.weekly(before) or 0) <= needed:
            order = next(
                id_ for id_ in here.in_use("order") if here.value("order", id_, "part") == part
            )
            path, kind = ("order", order, "part"), ProblemKind.OUT_OF_THE_MIX
            yield problem_at(here, path, kind, before, str(asked), str(beside))


def _keep_their_pallets(here: Resolved) -> Iterator[Problem]:
    """There are pallets enough for every part to keep one, so that changeovers hardly come.

    Told only of parts that share a machine, and where some of them has a changeover: one alone is
    told of when it is set up once (rule `orders.once`).
    """
    machines = {part: frozenset(here.machines_of(part)) for part in here.wanted}
    numbers = {part: here.value("part", part, "numbers") or 1 for part in here.wanted}
    made = Counter(machine for own in machines.values() for machine in own)
    shared = [
        part
        for part, own in machines.items()
        if numbers[part] > 1 or any(made[machine] > 1 for machine in own)
    ]
    amounts = [
        (here.value("machine", id_, "count"), here.value("machine", id_, "pallets"))
        for id_ in frozenset().union(*(machines[part] for part in shared))
    ]
    changed = [part for part in shared if _changes_over(here, part)]
    if not changed or any(None in each for each in amounts):
        return
    held = sum(count * pallets for count, pallets in amounts)
    total = sum(numbers[part] for part in shared)
    if held >= total:
        path = ("part", changed[0], "numbers")
        kind = ProblemKind.EVERY_PART_KEEPS_ITS_PALLET
        yield problem_at(here, path, kind, str(held), str(total))


def _changes_over(here: Resolved, part: str) -> bool:
    """Whether any work or wait comes with a setup of a part."""
    times = [here.value("part", part, key) for key in _OF_CHANGEOVERS]
    for machine in here.differs_on(part):
        times += [here.value("part", part, "on", machine, key) for key in ("setup", "prove_out")]
    return any(time is not None and time.seconds for time in times)


def _longer_than_a_day(here: Resolved) -> Iterator[Problem]:
    """A cycle or a setup for which no attended day is long enough: most likely of another unit."""
    spans = spans_of(here)
    if not spans:
        return
    day = busiest_day(spans)
    for part in here.in_use("part"):
        on = ((part, "on", machine) for machine in here.differs_on(part))
        for place in ((part,), *on):
            for name in _OF_ONE_DAY:
                path = ("part", *place, name)
                time = here.value(*path)
                if time is not None and time.seconds > day:
                    text = show(day, Dimension.TIME, "metric")
                    yield problem_at(here, path, ProblemKind.LONGER_THAN_A_DAY, text)


def other_than_above(
    scenario: ScenarioDraft, all_scenarios: Mapping[str, Resolved], reference: str
) -> Iterator[Problem]:
    """Order sizes, fixtures and pieces a load that a scenario changes beside all else.

    Told where they are neither its parent's nor the reference's: a gain may then come of them
    alone. Not of fixtures that come with other machines or pallets, each of which takes one.
    """
    here, above = all_scenarios[scenario.id], all_scenarios.get(scenario.parent or "")
    there = all_scenarios.get(reference)
    if above is None:
        return
    has_other_pallets = any(path[-1:] in (("count",), ("pallets",)) for path in scenario.entered)
    odd = [name for name in _NOT_THE_MACHINES if not (name == "fixtures" and has_other_pallets)]
    others = [
        path
        for path in scenario.entered
        if path[:1] == ("part",)
        and path[-1] in odd
        and path in above.values
        and here.is_wanted(path[1])
        and above.is_wanted(path[1])
        and here.meant(path)
        not in (above.meant(path), here.meant(path) if there is None else there.meant(path))
    ]
    if others:
        # One line for all of them: it is one thing to know of the scenario.
        named = (name for path in others for name in (path[-1], path[1]))
        yield problem_at(here, others[0], ProblemKind.OTHER_THAN_ABOVE, above.scenario, *named)
