"""Which parts are made on which machines: what fits (rule `fit.made`), what is set up once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache

from whatif.cell.fit.fit import Face, Fit, Limit, Piece, fit
from whatif.cell.model import ALL_WORK, Shift, Work
from whatif.cell.model import Part as CellPart
from whatif.plan.model import (
    LoadedFewer,
    NobodyRepairs,
    NotMade,
    SetterGoesAway,
    SetUpByEach,
    SetUpOnce,
)
from whatif.study.check.rules import problem_at
from whatif.study.problem import Problem, ProblemKind
from whatif.study.resolve import Resolved
from whatif.study.schema.models import Machine, Part, Scenario
from whatif.units import Quantity

# A search for a pattern is the slowest step, and most edits leave sizes alone.
_fit = lru_cache(maxsize=2000)(fit)


def fits_of(part: Part, machines: dict[str, Machine]) -> dict[str, Fit]:
    """By machine group in use, whether the part fits; one that is not allowed does not."""
    return {
        group: _not_allowed()
        if part.machines is not None and group not in part.machines
        else _fit(*question(part, group, machine))
        for group, machine in machines.items()
    }


def why_unmade(
    id_: str, part: Part, shifts: tuple[Shift, ...], fits: dict[str, Fit], units: str
) -> NotMade | None:
    """Why a part is not made (rule `orders.made`)."""
    if not fits:
        return NotMade(id_, "no machine")
    if not any(there.fits for there in fits.values()):
        missed = tuple(
            (group, tuple(limit for limit in there.limits if limit.state == "missed"))
            for group, there in fits.items()
        )
        return NotMade(id_, "no fit", missed, units)
    here = [group for group, there in fits.items() if there.fits]
    if any(can_be_done(part, group, shifts) for group in here):
        return None
    return NotMade(id_, "nobody", works=_lacking(part, here[0], shifts))


def unmade_parts(
    wanted: Mapping[str, Part],
    shifts: tuple[Shift, ...],
    fits: Mapping[str, dict[str, Fit]],
    units: str,
) -> dict[str, NotMade]:
    """The wanted parts that are not made, those after one that is not among them."""
    unmade = {
        id_: why
        for id_, part in wanted.items()
        if (why := why_unmade(id_, part, shifts, fits[id_], units))
    }
    is_more = True
    while is_more:
        more = {
            id_: NotMade(id_, "not before", before=part.after)
            for id_, part in wanted.items()
            if part.after is not None and part.after in unmade and id_ not in unmade
        }
        unmade.update(more)
        is_more = bool(more)
    return {id_: unmade[id_] for id_ in wanted if id_ in unmade}


def nobody_repairs(scenario: Scenario, shifts: tuple[Shift, ...]) -> Iterator[NobodyRepairs]:
    """A warning where stops need a person and nobody in any shift may see to them."""
    stops = tuple(
        id_ for id_, stop in scenario.stop.items() if stop.every.seconds and stop.needs_person
    )
    if stops and shifts and not any("repair" in shift.does for shift in shifts):
        yield NobodyRepairs(stops)


def can_be_done(part: Part, group: str, shifts: tuple[Shift, ...]) -> bool:
    """Whether all work that a part needs on a machine may be done by somebody in some shift."""
    return not _lacking(part, group, shifts)


def _lacking(part: Part, group: str, shifts: tuple[Shift, ...]) -> tuple[Work, ...]:
    done = {work for shift in shifts for work in shift.does}
    if not shifts:
        # That nobody is there at all is told by the hours in which nobody is on duty.
        done = set(ALL_WORK) - {"release"}
    return tuple(work for work in _needs(part, group) if work not in done)


def _needs(part: Part, group: str) -> Iterator[Work]:
    """The works without which a part cannot be made on a machine (rule `orders.made`)."""
    yield "load"
    if part.there(group, "setup").seconds:
        yield "setup"
    if part.there(group, "prove_out").seconds:
        yield "prove_out"
    if part.tool_life is not None:
        yield "tools"
    if part.first_piece.seconds:
        yield "release"


def loaded_fewer(fits: Mapping[str, Mapping[str, Fit]]) -> Iterator[LoadedFewer]:
    """A warning for each part and machine where more is entered than there is room for."""
    for part, by_group in fits.items():
        for group, there in by_group.items():
            if there.cut_down and there.fits:
                yield LoadedFewer(part, group, there.per_pallet)


def _not_allowed() -> Fit:
    """The answer for a machine that the part's ``machines`` leaves out."""
    return Fit(
        fits=False,
        per_pallet=0,
        most=None,
        cut_down=False,
        limits=(Limit("machine", "missed"),),
        layout=(),
        standing=2,
        free_face=None,
    )


def question(part: Part, group: str, machine: Machine) -> tuple[Piece, Face]:
    """What :func:`whatif.cell.fit.fit.fit` is asked: the piece and the face it is to stand on."""
    piece = Piece(
        size=None if part.size is None else _three(part.size),
        mass=part.mass.value,
        fixture_mass=part.fixture_mass.value,
        turn=part.turn,
        gap=part.gap.value,
        edge=part.edge.value,
        fixture_height=part.fixture_height.value,
        wanted=part.there(group, "per_pallet"),
    )
    face = Face(
        table=None if machine.table is None else _two(machine.table),
        travel=None if machine.travel is None else _two(machine.travel),
        work_height=None if machine.work_height is None else machine.work_height.value,
        table_load=None if machine.table_load is None else machine.table_load.value,
        faces=machine.faces,
    )
    return piece, face


def _two(sides: tuple[Quantity, ...]) -> tuple[Fraction, Fraction]:
    return sides[0].value, sides[1].value


def _three(sides: tuple[Quantity, ...]) -> tuple[Fraction, Fraction, Fraction]:
    return sides[0].value, sides[1].value, sides[2].value


def set_up_once(
    scenario: Scenario, made: Sequence[str], fits: Mapping[str, Mapping[str, Fit]]
) -> Iterator[SetUpOnce]:
    """A warning for each part with changeovers entered that no other part ever calls for.

    ``made`` are the parts that the cell makes; those that real and rush orders alone ask for too.
    A fixture changes only where another part is taken (rule `orders.once`), so that a part
    alone on its machines keeps it from its first visit on.
    """
    groups = {id_: {group for group, there in fits[id_].items() if there.fits} for id_ in made}
    parts = Counter(group for here in groups.values() for group in here)
    for id_, here in groups.items():
        if any(parts[group] > 1 for group in here):
            continue
        part = scenario.part[id_]
        if part.numbers > 1:
            continue
        silent = tuple(key for key, is_entered in _of_setups(part, here) if is_entered)
        if silent and _stays(scenario, id_, part):
            yield SetUpOnce(id_, silent, among_others=len(groups) > 1)


def set_up_by_each(
    scenario: Scenario, parts: Sequence[CellPart], once: Collection[str]
) -> Iterator[SetUpByEach]:
    """A warning for each part whose orders several pallets set up for (rule `orders.at-once`).

    Args:
        once: parts that are set up once and for all, of which setups do not multiply.
    """
    counts = [(machine.count, machine.pallets) for machine in scenario.machine.values()]
    places = [count * pallets for count, pallets in counts if count]
    asked: dict[str, int] = {}
    for order in scenario.order.values():
        asked[order.part] = max(asked.get(order.part, 0), order.pieces)
    for part in parts:
        if part.at_once == 1 or part.id in once:
            continue
        made = [
            (making, there)
            for making, there in zip(part.making, places, strict=True)
            if making is not None
        ]
        seconds = max((making.setup for making, _ in made), default=0)
        if not seconds:
            continue
        most = max(part.batch if part.weekly else 0, asked.get(part.id, 0))
        loads = -(-most // min(making.per_pallet for making, _ in made))
        setups = min(part.at_once, loads, sum(there for _, there in made))
        if part.fixtures is not None:
            setups = min(setups, part.fixtures)
        if setups > 1:
            yield SetUpByEach(part.id, setups, seconds)


def setter_goes_away(
    resolved: Resolved,
    parts: Sequence[CellPart],
    shifts: Sequence[Shift],
    once: Collection[str],
) -> Iterator[SetterGoesAway]:
    """A warning where prove-outs follow setups, and nobody has said whether the setter stays.

    Args:
        once: parts that are set up once and for all, whose prove-outs count at the start only.
    """
    if not resolved.origin("handling", "setter_stays").is_assumed:
        return
    sets_up = any("setup" in shift.does for shift in shifts)
    makings = (way for part in parts if part.id not in once for way in part.making)
    if sets_up and any(way is not None and way.setup and way.prove_out for way in makings):
        yield SetterGoesAway()


def too_few_tool_places(
    scenario: Scenario, resolved: Resolved, parts: Sequence[CellPart]
) -> Iterator[Problem]:
    """A warning for each machine whose magazine holds fewer tools than its parts take.

    ``parts`` are those that the cell makes, so that one that does not fit there takes no place.
    """
    in_use = [id_ for id_, machine in scenario.machine.items() if machine.count]
    for at, id_ in enumerate(in_use):
        pockets = scenario.machine[id_].pockets
        needed = 0
        for made in parts:
            part = scenario.part[made.id]
            if made.making[at] is not None and part.tools is not None:
                needed += part.tools + part.sister_tools
        if pockets is not None and needed > pockets:
            path = ("machine", id_, "pockets")
            yield problem_at(resolved, path, ProblemKind.TOO_FEW_TOOL_PLACES, str(needed))


def _of_setups(part: Part, groups: set[str]) -> Iterator[tuple[str, bool]]:
    """What comes with a setup only, and whether it takes any time on one of the machines."""
    for key in ("setup", "prove_out"):
        yield key, any(part.there(group, key).seconds for group in groups)
    yield "first_piece", bool(part.first_piece.seconds) and part.first_piece_every == "setup"


def _stays(scenario: Scenario, id_: str, part: Part) -> bool:
    """Whether a pallet keeps the part's fixture; a resting one may give up one of a few."""
    ordered = any(order.part == id_ and order.pieces for order in scenario.order.values())
    return bool(part.weekly) or (ordered and part.fixtures is None)
