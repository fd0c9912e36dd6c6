"""From a checked study to plans: one per scenario."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from whatif.cell.calendar import pattern
from whatif.cell.fit.fit import Fit
from whatif.cell.model import (
    ALL_DAYS,
    ALL_WORK,
    DAY,
    HOUR,
    Cell,
    MachineGroup,
    Making,
    Part,
    Shift,
    StopKind,
)
from whatif.plan.beside import order_plans, prices, real_orders, rush_plans, unpriced
from whatif.plan.making import (
    can_be_done,
    fits_of,
    loaded_fewer,
    nobody_repairs,
    set_up_by_each,
    set_up_once,
    setter_goes_away,
    too_few_tool_places,
    unmade_parts,
)
from whatif.plan.model import (
    GroupPlan,
    Meters,
    NotMade,
    PartPlan,
    Plan,
    PlanWarning,
    SaidHours,
    SaidInMeeting,
)
from whatif.study.check.check import Checked
from whatif.study.draft import Draft
from whatif.study.edits.edit import title_of
from whatif.study.guesses import is_as_parent
from whatif.study.resolve import Resolved, metered_in
from whatif.study.schema.kinds import DAYS
from whatif.study.schema.models import Machine, Scenario, Study
from whatif.study.schema.models import Part as StudyPart
from whatif.study.schema.models import Shift as StudyShift
from whatif.study.shifts import Hours, Span, busiest_day, covered
from whatif.study.stated import stated
from whatif.units import Quantity


def plans_of(
    checked: Checked,
    before: tuple[Checked, Mapping[str, Plan]] | None = None,
    only: Collection[str] | None = None,
    *,
    made: Mapping[str, Plan] | None = None,
    warned: bool = True,
) -> dict[str, Plan]:
    """A plan for every scenario of a study without problems, in the file's order.

    Args:
        before: plans of an earlier check, which are taken where they are the same.
        only: those wanted where not all are, with those whose hour meters hold in them
            (:func:`with_metered`).
        made: plans of this check that have been made already.
        warned: whether anybody is told the warnings; else there are none.
    """
    study = checked.study if only is None else checked.study_of(only)
    if study is None:
        raise ValueError("a study with problems has no plans")
    known = {} if before is None else _same_plans(checked, *before)
    known.update(made or {})
    return {
        id_: known[id_] if id_ in known else _plan(study, scenario, checked, warned=warned)
        for id_, scenario in study.scenarios.items()
    }


def with_metered(checked: Checked, scenarios: Collection[str]) -> set[str]:
    """Some scenarios, and those whose hour meters hold in them."""
    metered = (metered_in(checked.resolved, id_) for id_ in scenarios)
    return {*scenarios, *(id_ for id_ in metered if id_ is not None)}


def is_in_money(checked: Checked) -> bool:
    """Whether any part of any scenario has a contribution, of a study without problems."""
    return any(here.priced for here in checked.resolved.values())


def _same_plans(now: Checked, then: Checked, plans: Mapping[str, Plan]) -> dict[str, Plan]:
    """The plans of scenarios in which nothing has changed, nor above them."""
    if now.draft.head != then.draft.head:
        return {}
    same = {
        id_
        for id_, resolved in now.resolved.items()
        if id_ in plans and resolved is then.resolved[id_] and now.holding[id_] == then.holding[id_]
        if plans[id_].same_as == (plans[id_].same_as and _same_as(now.draft, id_))
    }
    # The meters that hold may be another scenario's.
    meters = {id_: plans[id_].meters for id_ in same}
    return {
        id_: plans[id_] for id_, each in meters.items() if each is None or each.scenario in same
    }


def _plan(study: Study, scenario: Scenario, checked: Checked, *, warned: bool) -> Plan:
    """The plan of one scenario."""
    resolved = checked.resolved[scenario.id]
    shifts = tuple(_shift(id_, shift) for id_, shift in scenario.shift.items() if shift.people)
    machines = {id_: machine for id_, machine in scenario.machine.items() if machine.count}
    wanted = {id_: scenario.part[id_] for id_ in resolved.wanted}
    weekly = {id_: resolved.weekly(id_) or Fraction(0) for id_ in wanted}
    fits = {id_: fits_of(part, machines) for id_, part in wanted.items()}
    unmade = unmade_parts(wanted, shifts, fits, study.units)
    made = [id_ for id_ in wanted if id_ not in unmade]
    orders = order_plans(scenario, made)
    places = {id_: place for place, id_ in enumerate(made)}
    cell = _cell(
        scenario,
        shifts,
        machines,
        tuple(
            _part(
                id_,
                wanted[id_],
                weekly[id_],
                _groups_for(wanted[id_], machines, fits[id_], shifts),
                fits[id_],
                places,
            )
            for id_ in made
        ),
    )
    cell = replace(cell, orders=real_orders(scenario, made, study.warm_up))
    paid = {shift.id: _paid(scenario.shift[shift.id], shift) for shift in shifts}
    on_duty = {s.id: s.people * len(s.days) * _duty(s) for s in shifts}
    loading = tuple(shift for shift in shifts if "load" in shift.does)
    once = resolved.origin("money", "one_off")
    return Plan(
        scenario=scenario.id,
        title=scenario.title or scenario.id,
        parent=scenario.parent,
        cell=cell if wanted else None,
        weeks=study.first_weeks,
        settled=study.settled,
        warm_up=study.warm_up,
        parts=tuple(
            _part_plan(id_, part, weekly[id_], places.get(id_), unmade.get(id_))
            for id_, part in wanted.items()
        ),
        groups=tuple(_group_plan(id_, machine) for id_, machine in machines.items()),
        fits={id_: by_group for id_, by_group in fits.items() if weekly[id_]},
        orders=orders,
        rush=rush_plans(scenario, made),
        warnings=tuple(_warnings(scenario, checked, cell, fits, unmade)) if warned else (),
        said=_said(scenario, shifts),
        said_of=_said_of(checked, resolved),
        meters=_meters(study, scenario.id, checked.resolved),
        shift_seconds=sum(end - start for start, end in covered(_spans(loading))),
        paid_seconds=sum(paid.values()),
        paid_by_shift=paid,
        duty_seconds=sum(on_duty.values()),
        duty_by_shift=on_duty,
        shift_days=len({day for shift in shifts for day in shift.days}),
        after_shift=_begins_after_hours(cell),
        notes=scenario.notes,
        cycles={id_: part.cycle.seconds for id_, part in scenario.part.items()},
        contributes=any(part.contribution is not None for part in scenario.part.values()),
        prices=prices(
            scenario,
            study.today,
            paid,
            is_open=not scenario.money.one_off and once.guessed,
            one_off_of="" if once.guessed else once.scenario or "",
        ),
        runs=study.runs if cell.stops else 1,
        draws=study.runs,
        scatter=float(scenario.handling.scatter.value),
        stated=stated(resolved),
        accuracy=study.accuracy.value,
        guess_accuracy=study.guess_accuracy.value,
        after={id_: part.after for id_, part in scenario.part.items() if part.after is not None},
        same_as=_same_as(checked.draft, scenario.id),
    )


def _warnings(
    scenario: Scenario,
    checked: Checked,
    cell: Cell,
    fits: Mapping[str, Mapping[str, Fit]],
    unmade: Mapping[str, NotMade],
) -> Iterator[PlanWarning]:
    made = [part.id for part in cell.parts]
    yield from checked.holding[scenario.id]  # what its texts alone call for
    yield from too_few_tool_places(scenario, checked.resolved[scenario.id], cell.parts)
    yield from unmade.values()
    yield from nobody_repairs(scenario, cell.shifts)
    yield from loaded_fewer(fits)
    once = tuple(set_up_once(scenario, made, fits)) if cell.shifts else ()
    yield from once
    set_up = {each.part for each in once}
    yield from set_up_by_each(scenario, cell.parts, set_up)
    yield from setter_goes_away(checked.resolved[scenario.id], cell.parts, cell.shifts, set_up)
    yield from unpriced(scenario)


# -- the cell ----------------------------------------------------------------------------


def _cell(
    scenario: Scenario,
    shifts: tuple[Shift, ...],
    machines: dict[str, Machine],
    parts: tuple[Part, ...],
) -> Cell:
    return Cell(
        shifts=shifts,
        groups=tuple(_group(id_, machine) for id_, machine in machines.items()),
        parts=parts,
        stops=tuple(
            StopKind(id_, stop.every.seconds, stop.repair.seconds, stop.needs_person)
            for id_, stop in scenario.stop.items()
            if stop.every.seconds
        ),
        luck=1,
        walk=scenario.handling.walk.seconds,
        other_duties=scenario.handling.other_duties.value,
        setter_stays=scenario.handling.setter_stays,
        through_breaks=scenario.unattended.through_breaks,
        after_shift=_after_shift(scenario),
        nights=_nights(scenario),
        hold=scenario.unattended.at_limit == "hold",
        keep_setup=scenario.sequence.rule == "keep_setup",
        to_order=scenario.sequence.make == "to_order",
        run_ahead=scenario.sequence.run_ahead.seconds,
    )


def _after_shift(scenario: Scenario) -> int | None:
    """Seconds after a shift's end, None for "until done"."""
    after = scenario.unattended.after_shift
    return after.seconds if isinstance(after, Quantity) else None


def _nights(scenario: Scenario) -> tuple[int, ...]:
    """The days after whose shifts pieces are begun; where that is never, all are alike."""
    if _after_shift(scenario) == 0:
        return ALL_DAYS
    return tuple(DAYS.index(day) for day in scenario.unattended.nights)


def _begins_after_hours(cell: Cell) -> bool:
    """Whether pieces may be begun after a shift's end at all."""
    starts = {day for shift in cell.shifts if "load" in shift.does for day in shift.days}
    return cell.after_shift != 0 and bool(starts & set(cell.nights))


def _shift(id_: str, shift: StudyShift) -> Shift:
    length = Hours.between(shift.start, shift.end).length
    pauses = (*shift.breaks, *shift.unpaid_breaks)
    breaks = sorted((begin - shift.start) % DAY for begin, _ in pauses)
    ends = sorted((end - shift.start) % DAY or DAY for _, end in pauses)
    return Shift(
        id=id_,
        days=tuple(DAYS.index(day) for day in shift.days),
        start=shift.start,
        length=length,
        people=shift.people,
        breaks=tuple(zip(breaks, ends, strict=True)),
        does=tuple(work for work in ALL_WORK if work in shift.does),
    )


def _group(id_: str, machine: Machine) -> MachineGroup:
    return MachineGroup(
        id=id_,
        count=machine.count,
        pallets=machine.pallets,
        load_stations=machine.load_stations,
        pallet_change=machine.pallet_change.seconds if machine.pallets > 1 else 0,
        warm_up=machine.warm_up.seconds,
        unattended=machine.unattended,
    )


def _part(
    id_: str,
    part: StudyPart,
    weekly: Fraction,
    machines: dict[str, Machine],
    fits: dict[str, Fit],
    places: Mapping[str, int],
) -> Part:
    """A part that is made on some machines; ``places`` are those of all parts in the cell."""
    return Part(
        id=id_,
        making=tuple(
            _making(part, group, there.per_pallet) if group in machines else None
            for group, there in fits.items()
        ),
        weekly=weekly,
        batch=part.batch,
        numbers=part.numbers,
        at_once=part.at_once,
        after=None if part.after is None else places[part.after],
        stock=part.stock,
        bench=part.bench.seconds,
        first_piece=part.first_piece.seconds,
        first_piece_each_order=part.first_piece_every == "order",
        unattended=part.unattended,
        fixtures=_fixtures(part, machines),
        tool_life=part.tool_life,
        sister_tools=part.sister_tools,
        tool_change=part.tool_change.seconds,
        in_cut=part.in_cut.value,
        scrap=part.scrap.value,
    )


def _groups_for(
    part: StudyPart, machines: dict[str, Machine], fits: dict[str, Fit], shifts: tuple[Shift, ...]
) -> dict[str, Machine]:
    """The machines on which a part is made: where it fits, and its work may be done."""
    return {
        id_: machine
        for id_, machine in machines.items()
        if fits[id_].fits and can_be_done(part, id_, shifts)
    }


def _fixtures(part: StudyPart, machines: dict[str, Machine]) -> int:
    """Fixtures of each of its numbers, by default those for all its machines (`fixtures.free`)."""
    if part.fixtures is not None:
        return part.fixtures
    return sum(
        machine.count * (1 if part.numbers > 1 else machine.pallets)
        for machine in machines.values()
    )


def _making(part: StudyPart, group: str, per_pallet: int) -> Making:
    times = ("cycle", "load", "unload", "setup", "prove_out")
    seconds = {key: part.there(group, key).seconds for key in times}
    return Making(**seconds, per_pallet=per_pallet)


# -- what stands beside the physics ------------------------------------------------------


def _part_plan(
    id_: str, part: StudyPart, weekly: Fraction, place: int | None, unmade: NotMade | None
) -> PartPlan:
    return PartPlan(
        id=id_,
        place=place,
        weekly=weekly,
        batch=part.batch,
        unmade=unmade,
        cycle=part.cycle.seconds,
        in_cut=part.in_cut.value,
        scrap=part.scrap.value,
        contribution=part.contribution or Fraction(0),
        is_contribution_given=part.is_entered("contribution"),
        mass=part.mass.value,
        fixture_mass=part.fixture_mass.value,
        fixtures=part.fixtures,
    )


def _group_plan(id_: str, machine: Machine) -> GroupPlan:
    return GroupPlan(
        id=id_,
        count=machine.count,
        pallets=machine.pallets,
        floor=None if machine.floor is None else machine.floor.value,
        pallet_floor=machine.pallet_floor.value,
        pallet_change=machine.pallet_change.seconds,
    )


def _same_as(draft: Draft, scenario: str) -> str:
    """The title of the scenario that it is based on, where it is as that one; "" where not."""
    own = draft.scenario(scenario)
    return title_of(draft, own.parent) if is_as_parent(own) else ""


def _said_of(checked: Checked, resolved: Resolved) -> str:
    """The title of the scenario above that says it; "" where none above does."""
    by = resolved.origin("said", "with_people", "cutting").scenario
    return "" if by in (None, resolved.scenario) else checked.draft.scenario(by).title


def _said(scenario: Scenario, shifts: tuple[Shift, ...]) -> SaidInMeeting | None:
    said = scenario.said
    people, nobody = said.with_people, said.with_nobody
    if people.cutting is None:
        return None
    machines = said.machines
    if machines is None:
        machines = sum(machine.count for machine in scenario.machine.values())
    seconds = busiest_day(_spans(shifts)) if people.hours is None else people.hours.seconds
    return SaidInMeeting(
        machines=machines,
        with_people=SaidHours(Fraction(seconds, HOUR), people.cutting.value),
        with_nobody=SaidHours(Fraction(nobody.hours.seconds, HOUR), nobody.cutting.value),
    )


def _meters(study: Study, own: str, resolved: Mapping[str, Resolved]) -> Meters | None:
    """The nearest hour meters, the scenario's own or above it."""
    at = metered_in(resolved, own)
    if at is None:
        return None
    meters = study.scenarios[at].hour_meters
    assert meters.switched_on is not None
    assert meters.in_cut is not None
    on, cut = meters.switched_on.seconds, meters.in_cut.seconds
    return Meters(
        scenario=at,
        own=at == own,
        measured=Fraction(cut, on),
        gap=meters.gap,
        switched_on=Fraction(on, HOUR),
        in_cut=Fraction(cut, HOUR),
        weeks=meters.weeks,
    )


def _spans(shifts: tuple[Shift, ...]) -> list[Span]:
    return [(day * DAY + shift.start, shift.length) for shift in shifts for day in shift.days]


def _duty(shift: Shift) -> int:
    return sum(to - since for since, to in pattern(shift).duty)


def _paid(entered: StudyShift, shift: Shift) -> int:
    """Paid seconds a week of all people of a shift (rule `results.people`)."""
    unpaid = sum((end - begin) % DAY for begin, end in entered.unpaid_breaks)
    return shift.people * len(shift.days) * (shift.length - unpaid)
