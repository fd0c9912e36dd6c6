"""Levers that are proposed where a study has none of its own (rule `search.proposals`).

Values and prices are common practice, no source: starting points to be put right. What limits a
scenario decides in which order they stand, not whether they are there.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from math import ceil

from whatif.answers.limits import HeldBack
from whatif.answers.search.had import LONGER, values_left
from whatif.answers.search.options import options_of
from whatif.answers.states import (
    EASED_BY_HANDS,
    EASED_BY_HOURS,
    EASED_BY_PALLETS,
    EASED_BY_SET_UPS,
)
from whatif.study.draft import Draft
from whatif.study.levers import SearchLever, levers_of
from whatif.study.raw import Path, Raw
from whatif.study.resolve import GIVEN_BACK, Resolved, resolve
from whatif.study.schema.catalogue import ANY
from whatif.study.schema.kinds import DAY, Days
from whatif.study.shifts import Hours, clock, hours_of

HALF_SHIFT = 4 * 3600

EASES = {
    "person": EASED_BY_HANDS | {"setup"},
    "helper": EASED_BY_HANDS,
    "half_shift": EASED_BY_HANDS | EASED_BY_HOURS,
    "longer": EASED_BY_HANDS | EASED_BY_HOURS | {"setup"},
    "unattended": EASED_BY_HOURS,
    "nights": EASED_BY_HOURS,
    "pallets": EASED_BY_PALLETS,
    "machine": frozenset({"in_cycle"}),
    "quick_change": EASED_BY_SET_UPS,
    "next_order": EASED_BY_SET_UPS,
    "setter_stays": EASED_BY_SET_UPS,
    "release": frozenset({"first_piece"}),
    "first_piece": frozenset({"first_piece"}),
    "duties": EASED_BY_HANDS,
    "order_size": EASED_BY_SET_UPS | {"first_piece"},
    "walk": EASED_BY_HANDS,
    "bench": EASED_BY_HANDS,
    "per_load": EASED_BY_HANDS,
}
"""The states of a machine that each sort of lever makes less of."""


def sort_of_lever(lever: str) -> str:
    """The sort of a proposed lever by its id: "pallets_mill" is of pallets."""
    return next(
        (sort for sort in sorted(EASES, key=len, reverse=True) if lever.startswith(sort)), ""
    )


def all_levers(
    draft: Draft, scenario: str, held: HeldBack | None = None
) -> tuple[SearchLever, ...]:
    """The levers that a study enters, then those that are proposed, ids that are entered left out.

    Proposed ones that ease what limits the scenario stand first; what is had at its most is none,
    nor is a value that is so already.
    """
    entered = levers_of(draft)
    resolved, today = resolve(draft, scenario), resolve(draft, draft.today_id or scenario)
    state = None if held is None else held.state
    proposed = sorted(
        proposals(draft, scenario), key=lambda lever: state not in EASES[sort_of_lever(lever.id)]
    )
    offered = [
        replace(lever, values=values_left(lever, resolved, today))
        for lever in proposed
        if lever.id not in entered
    ]
    changing = {(each.lever.id, each.value) for each in options_of(draft, scenario, offered)}
    left = (
        replace(lever, values=tuple(each for each in lever.values if (lever.id, each) in changing))
        for lever in offered
    )
    return (*entered.values(), *(lever for lever in left if lever.values))


def proposals(draft: Draft, scenario: str) -> Iterator[SearchLever]:
    """Those that are proposed for a scenario, in the order of a file."""
    resolved = resolve(draft, scenario)
    yield from _of_people(resolved)
    yield from _of_nights(resolved)
    for group in resolved.in_use("machine"):
        yield from _of_machine(draft, resolved, group)
    yield from _of_others(draft, resolved)
    yield from _of_work(resolved)


def _lever(  # what a file has of a lever
    id_: str,
    key: str,
    values: tuple[str, ...],
    also: tuple[tuple[Path, Raw], ...] = (),
    once: int = 0,
    each: int = 0,
) -> SearchLever:
    path = tuple(key.split("."))
    return SearchLever(
        id_,
        path,
        values,
        also,
        price=Fraction(once),
        price_each=Fraction(each),
        assumed=True,
    )


# -- people --------------------------------------------------------------------------------


def _of_people(resolved: Resolved) -> Iterator[SearchLever]:
    shifts = [
        (id_, hours) for id_ in resolved.in_use("shift") if (hours := hours_of(resolved, id_))
    ]
    for id_, _ in shifts:
        yield _lever(_named("person", id_, len(shifts)), f"shift.{id_}.people", ("+1",))
    if not shifts:
        return
    first, _ = min(shifts, key=lambda each: each[1].start)
    start = min(hours.start for _, hours in shifts)
    last, until = max(shifts, key=lambda each: each[1].start + each[1].length)
    end = until.start + until.length
    hours = hours_of(resolved, first)
    if hours is not None and hours.length > HALF_SHIFT:
        # An hour after the first shift begins, when the night's pallets are off.
        begin = hours.start + 3600
        helped = any(there.start == begin and there.length == HALF_SHIFT for _, there in shifts)
        if not helped:
            yield _new_shift(resolved, "helper", first, Hours.between(begin, begin + HALF_SHIFT))
    room = start + DAY - end
    if room >= HALF_SHIFT:
        yield _new_shift(resolved, "half_shift", last, Hours.between(end, end + HALF_SHIFT))
    if room > 0:
        steps = tuple(f"+{more} h" for more in LONGER if more * 3600 <= room)
        yield _lever("longer", f"shift.{last}.end", steps)
    if _some(resolved, "first_piece"):
        for id_, _ in shifts:
            does = resolved.value("shift", id_, "does")
            if "release" not in does:
                words = ", ".join((*does, "release"))
                yield _lever(_named("release", id_, 2), f"shift.{id_}.does", (words,))


def _new_shift(resolved: Resolved, id_: str, like: str, hours: Hours) -> SearchLever:
    name = id_
    while name in resolved.ids("shift"):
        name += "_"
    days = resolved.value("shift", like, "days")
    also: tuple[tuple[Path, Raw], ...] = (
        (("shift", name, "days"), tuple(days)),
        (("shift", name, "start"), clock(hours.start)),
        (("shift", name, "end"), clock(hours.start + hours.length)),
    )
    return _lever(id_, f"shift.{name}.people", ("1",), also)


def _named(sort: str, id_: str, several: int) -> str:
    return sort if several < 2 else f"{sort}_{id_}"


# -- nights --------------------------------------------------------------------------------


def _of_nights(resolved: Resolved) -> Iterator[SearchLever]:
    is_some = resolved.raw("unattended", "nights") not in (None, GIVEN_BACK)
    if resolved.raw("unattended", "after_shift") == "until done":
        if is_some:
            yield _lever("nights", "unattended.nights", ("mon-sun",))
        return
    yield _lever("unattended", "unattended.after_shift", ("2 h", "4 h", "until done"), once=3000)
    days = next(iter(resolved.value("shift", id_, "days") for id_ in resolved.in_use("shift")), ())
    if len(days) > 2:
        # Somebody comes back the next morning: the nights between days of work, or every second.
        some = (Days().written(each) for each in (days[:-1], days[:-1:2]))
        also: tuple[tuple[Path, Raw], ...] = ((("unattended", "after_shift"), "until done"),)
        yield _lever("nights", "unattended.nights", tuple(dict.fromkeys(some)), also, once=3000)


# -- machines ------------------------------------------------------------------------------

_SIZES = ("table", "travel", "work_height", "table_load", "pallet_floor")
"""What a pallet may have other than the table that it replaces."""


def _fixtures() -> tuple[Path, Raw]:
    """As many fixtures as there are pallets and tables: those that more of them need."""
    return ("part", ANY, "fixtures"), GIVEN_BACK


def _of_machine(draft: Draft, resolved: Resolved, group: str) -> Iterator[SearchLever]:
    several = len(resolved.in_use("machine"))
    pallets = int(resolved.value("machine", group, "pallets"))
    has_system = resolved.has("machine", group, "pallet_system_price")
    has_pallets = resolved.has("machine", group, "pallet_price")
    proposed = [more for more in (2, 4, 6, 9, 12) if more > pallets][:3]
    enough = _holding_all(resolved, group)
    if proposed and proposed[-1] < enough <= _MOST_PALLETS:
        proposed.append(enough)
    values = tuple(map(str, proposed))
    # A system that moves pallets is paid once for each machine.
    once = (
        0 if has_system or pallets > 1 else 60_000 * int(resolved.value("machine", group, "count"))
    )
    yield _lever(
        _named("pallets", group, several),
        f"machine.{group}.pallets",
        values,
        (_fixtures(), *_sizes(draft, resolved, group)),
        once=once,
        each=0 if has_pallets else 6000,
    )
    has_price = resolved.has("machine", group, "price")
    yield _lever(
        _named("machine", group, several),
        f"machine.{group}.count",
        ("+1",),
        (_fixtures(),),
        each=0 if has_price else 150_000,
    )


_MOST_PALLETS = 24
"""Pallets of one machine beyond which none are proposed."""


def _holding_all(resolved: Resolved, group: str) -> int:
    """Pallets a machine by which each part number that the group makes keeps one set up for it."""
    numbers = sum(
        int(resolved.value("part", id_, "numbers"))
        for id_ in resolved.in_use("part")
        if group in resolved.machines_of(id_) and _seconds(resolved, id_, "setup") > 0
    )
    return ceil(numbers / int(resolved.value("machine", group, "count")))


def _sizes(draft: Draft, resolved: Resolved, group: str) -> Iterator[tuple[Path, Raw]]:
    """The size of a pallet as another scenario of the study has it: pallets are no tables."""
    for other in draft.ids:
        there = resolve(draft, other)
        if group not in there.in_use("machine") or other == resolved.scenario:
            continue
        if int(there.value("machine", group, "pallets") or 1) <= int(
            resolved.value("machine", group, "pallets")
        ):
            continue
        for name in _SIZES:
            raw = there.raw("machine", group, name)
            if raw not in (None, GIVEN_BACK) and raw != resolved.raw("machine", group, name):
                yield ("machine", group, name), raw
        return


def _of_others(draft: Draft, resolved: Resolved) -> Iterator[SearchLever]:
    """A machine of a group that another scenario of the study has."""
    known = set(resolved.ids("machine"))
    for other in draft.ids:
        there = resolve(draft, other)
        for group in there.in_use("machine"):
            if group in known:
                continue
            known.add(group)
            entered = [
                (path, given.raw)
                for path, given in there.values.items()
                if path[:2] == ("machine", group)
                and path[2] != "count"
                and path[2] != "owned"
                and given.raw not in (None, GIVEN_BACK)
                and not given.origin.is_assumed
            ]
            has_price = there.has("machine", group, "price")
            yield _lever(
                f"machine_{group}",
                f"machine.{group}.count",
                ("1",),
                (*entered, _fixtures()),
                each=0 if has_price else 250_000,
            )


# -- work ----------------------------------------------------------------------------------


def _some(resolved: Resolved, name: str, above: int = 0) -> bool:
    """Whether a time of some part in use is more than so many seconds."""
    return any(_seconds(resolved, id_, name) > above for id_ in resolved.in_use("part"))


def _seconds(resolved: Resolved, part: str, name: str) -> Fraction:
    found: Fraction = getattr(resolved.value("part", part, name), "value", Fraction(0))
    return found


def _of_work(resolved: Resolved) -> Iterator[SearchLever]:
    if _some(resolved, "setup"):
        yield _lever("quick_change", "part.*.setup", ("65 %",), once=8000)
        rule = resolved.raw("sequence", "rule")
        other = "earliest_due_date" if rule == "keep_setup" else "keep_setup"
        if len(resolved.in_use("part")) > 1:
            yield _lever("next_order", "sequence.rule", (other,))
        yield _lever("order_size", "part.*.batch", ("50 %", "150 %", "200 %"))
    if _some(resolved, "prove_out") and resolved.raw("handling", "setter_stays") is not True:
        yield _lever("setter_stays", "handling.setter_stays", ("yes",))
    if _some(resolved, "first_piece", above=300):
        yield _lever("first_piece", "part.*.first_piece", ("5 min",))
    duties = resolved.value("handling", "other_duties").value
    if duties > Fraction(1, 20):
        yield _lever("duties", "handling.other_duties", ("5 %",))
    elif duties:
        yield _lever("duties", "handling.other_duties", ("0 %",))
    if resolved.value("handling", "walk").value > 45:
        yield _lever("walk", "handling.walk", ("30 s",), once=2000)
    if _some(resolved, "bench"):
        yield _lever("bench", "part.*.bench", ("0 min",))
    loads = [
        id_
        for id_ in resolved.in_use("part")
        if resolved.raw("part", id_, "per_pallet") not in (None, GIVEN_BACK)
    ]
    if loads:
        yield _lever("per_load", "part.*.per_pallet", ("200 %",), once=400 * len(loads))
