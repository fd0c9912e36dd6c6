"""From a checked study to plans: one per scenario."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from whatif.cell.calendar import pattern
from whatif.cell.fit.fit import Fit
from whatif.cell.model import DAY, HOUR, Cell, MachineGroup, Making, Part, Shift, StopKind
from whatif.plan.beside import order_plans, prices, real_orders, rush_plans, unpriced
from whatif.plan.making import fits_of, loaded_fewer, set_up_once, why_unmade
from whatif.plan.model import Claim, GroupPlan, Meters, NotMade, PartPlan, Plan
from whatif.study.check.check import Checked
from whatif.study.problem import Problem
from whatif.study.schema.kinds import DAYS
from whatif.study.schema.models import Machine, Scenario, Study
from whatif.study.schema.models import Part as StudyPart
from whatif.study.schema.models import Shift as StudyShift
from whatif.study.shifts import Hours, Span, busiest_day, covered
from whatif.units import Quantity


def plans_of(checked: Checked) -> dict[str, Plan]:
    """A plan for every scenario of a study without problems, in the file's order."""
    study = checked.study
    if study is None:
        raise ValueError("a study with problems has no plans")
    return {
        id_: _plan(study, scenario, checked.resolved[id_].wanted, checked.holding[id_])
        for id_, scenario in study.scenarios.items()
    }


def _plan(
    study: Study, scenario: Scenario, wanted_parts: Sequence[str], odd: Sequence[Problem]
) -> Plan:
    """The plan of one scenario; ``odd`` are the warnings that its texts alone call for."""
    shifts = tuple(_shift(id_, shift) for id_, shift in scenario.shift.items() if shift.people)
    machines = {id_: machine for id_, machine in scenario.machine.items() if machine.count}
    wanted = {id_: scenario.part[id_] for id_ in wanted_parts}
    fits = {id_: fits_of(part, machines) for id_, part in wanted.items()}
    unmade = {
        id_: why_unmade(id_, part, shifts, fits[id_], study.units) for id_, part in wanted.items()
    }
    made = [id_ for id_ in wanted if not unmade[id_]]
    orders = order_plans(scenario, made)
    cell = _cell(scenario, shifts, machines, [(id_, wanted[id_], fits[id_]) for id_ in made])
    cell = replace(cell, orders=real_orders(scenario, made, study.warm_up))
    return Plan(
        scenario=scenario.id,
        title=scenario.title or scenario.id,
        parent=scenario.parent,
        cell=cell if wanted else None,
        weeks=study.weeks,
        warm_up=study.warm_up,
        parts=tuple(
            _part_plan(id_, part, made.index(id_) if id_ in made else None, unmade[id_])
            for id_, part in wanted.items()
        ),
        groups=tuple(_group_plan(id_, machine) for id_, machine in machines.items()),
        fits={id_: by_group for id_, by_group in fits.items() if wanted[id_].weekly},
        orders=orders,
        rush=rush_plans(scenario, made),
        warnings=(
            *odd,
            *filter(None, unmade.values()),
            *loaded_fewer(fits),
            *(set_up_once(scenario, made, fits) if shifts else ()),
            *unpriced(scenario),
        ),
        claim=_claim(scenario, shifts),
        meters=meters_of(study, scenario),
        shift_seconds=sum(end - start for start, end in covered(_spans(shifts))),
        paid_seconds=sum(_paid(shift) for shift in shifts),
        duty_seconds=sum(shift.people * len(shift.days) * _duty(shift) for shift in shifts),
        shift_days=len({day for shift in shifts for day in shift.days}),
        after_shift=bool(shifts) and _after_shift(scenario) != 0,
        notes=scenario.notes,
        cycles={id_: part.cycle.seconds for id_, part in scenario.part.items()},
        contributes=any(part.contribution for part in scenario.part.values()),
        prices=prices(scenario),
        runs=study.runs if cell.stops else 1,
    )


# -- the cell ----------------------------------------------------------------------------


def _cell(
    scenario: Scenario,
    shifts: tuple[Shift, ...],
    machines: dict[str, Machine],
    made: list[tuple[str, StudyPart, dict[str, Fit]]],
) -> Cell:
    return Cell(
        shifts=shifts,
        groups=tuple(_group(id_, machine) for id_, machine in machines.items()),
        parts=tuple(_part(id_, part, fits) for id_, part, fits in made),
        stops=tuple(
            StopKind(id_, stop.every.seconds, stop.repair.seconds, stop.needs_person)
            for id_, stop in scenario.stop.items()
            if stop.every.seconds
        ),
        luck=1,
        walk=scenario.handling.walk.seconds,
        other_duties=scenario.handling.other_duties.value,
        through_breaks=scenario.unattended.through_breaks,
        after_shift=_after_shift(scenario),
        hold=scenario.unattended.at_limit == "hold",
        keep_setup=scenario.sequence.rule == "keep_setup",
        run_ahead=scenario.sequence.run_ahead.seconds,
    )


def _after_shift(scenario: Scenario) -> int | None:
    """Seconds after a shift's end, None for "until done"."""
    after = scenario.unattended.after_shift
    return after.seconds if isinstance(after, Quantity) else None


def _shift(id_: str, shift: StudyShift) -> Shift:
    length = Hours.between(shift.start, shift.end).length
    breaks = sorted((begin - shift.start) % DAY for begin, _ in shift.breaks)
    ends = sorted((end - shift.start) % DAY or DAY for _, end in shift.breaks)
    return Shift(
        id=id_,
        days=tuple(DAYS.index(day) for day in shift.days),
        start=shift.start,
        length=length,
        people=shift.people,
        breaks=tuple(zip(breaks, ends, strict=True)),
        breaks_paid=shift.breaks_paid,
        inspects=shift.inspects,
    )


def _group(id_: str, machine: Machine) -> MachineGroup:
    return MachineGroup(
        id=id_,
        count=machine.count,
        pallets=machine.pallets,
        load_stations=machine.load_stations,
        pallet_change=machine.pallet_change.seconds if machine.pallets > 1 else 0,
        warm_up=machine.warm_up.seconds,
    )


def _part(id_: str, part: StudyPart, fits: dict[str, Fit]) -> Part:
    return Part(
        id=id_,
        making=tuple(
            _making(part, group, there.per_pallet) if there.fits else None
            for group, there in fits.items()
        ),
        weekly=part.weekly,
        batch=part.batch,
        bench=part.bench.seconds,
        first_piece=part.first_piece.seconds,
        first_piece_each_order=part.first_piece_every == "order",
        unattended=part.unattended,
        fixtures=part.fixtures,
        tool_life=part.tool_life,
        sister_tools=part.sister_tools,
        tool_change=part.tool_change.seconds,
        in_cut=part.in_cut.value,
        scrap=part.scrap.value,
    )


def _making(part: StudyPart, group: str, per_pallet: int) -> Making:
    times = ("cycle", "load", "unload", "setup", "prove_out")
    seconds = {key: part.there(group, key).seconds for key in times}
    return Making(**seconds, per_pallet=per_pallet)


# -- what stands beside the physics ------------------------------------------------------


def _part_plan(id_: str, part: StudyPart, place: int | None, unmade: NotMade | None) -> PartPlan:
    return PartPlan(
        id=id_,
        place=place,
        weekly=part.weekly,
        batch=part.batch,
        unmade=unmade,
        cycle=part.cycle.seconds,
        in_cut=part.in_cut.value,
        scrap=part.scrap.value,
        contribution=part.contribution,
        is_contribution_given="contribution" in part.model_fields_set,
        mass=part.mass.value,
        fixture_mass=part.fixture_mass.value,
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


def _claim(scenario: Scenario, shifts: tuple[Shift, ...]) -> Claim | None:
    said = scenario.claimed
    if said.attended_utilization is None:
        return None
    machines = said.machines
    if machines is None:
        machines = sum(machine.count for machine in scenario.machine.values())
    hours = said.attended_hours
    return Claim(
        machines=machines,
        attended_hours=Fraction(busiest_day(_spans(shifts)), HOUR)
        if hours is None
        else Fraction(hours.seconds, HOUR),
        attended_utilization=said.attended_utilization.value,
        unattended_hours=Fraction(said.unattended_hours.seconds, HOUR),
        unattended_utilization=said.unattended_utilization.value,
    )


def meters_of(study: Study, scenario: Scenario) -> Meters | None:
    """The nearest hour meters, the scenario's own or above it."""
    at: Scenario | None = scenario
    while at is not None:
        on, cut = at.hour_meters.switched_on, at.hour_meters.in_cut
        if on is not None and cut is not None and on.seconds:
            measured = Fraction(cut.seconds, on.seconds)
            return Meters(at.id, at.id == scenario.id, measured, at.hour_meters.gap)
        at = study.scenarios[at.parent] if at.parent is not None else None
    return None


def _spans(shifts: tuple[Shift, ...]) -> list[Span]:
    return [(day * DAY + shift.start, shift.length) for shift in shifts for day in shift.days]


def _duty(shift: Shift) -> int:
    return sum(to - since for since, to in pattern(shift).duty)


def _paid(shift: Shift) -> int:
    a_day = shift.length if shift.breaks_paid else _duty(shift)
    return shift.people * len(shift.days) * a_day
