"""Hour meters against the model: the gap laid to people or to machines (rule `meters.gap`)."""

from __future__ import annotations

from answer_studies import sound
from meter_studies import study

from whatif.answers.compare import compare, compare_wholly
from whatif.answers.meters.reading import find_reading, with_reading
from whatif.plan.build import plans_of
from whatif.plan.model import Plan
from whatif.session.calculate.memory import Memory
from whatif.telling.warnings import warnings_of

MEMORY = Memory()


def powered(plan: Plan) -> float:
    assert plan.cell is not None
    tally = MEMORY(plan.cell, plan.warm_up, plan.weeks)
    cut = sum(sum(parts) for parts in tally.cycle)
    on = plan.machines * plan.shift_seconds * plan.weeks
    # States 0, 1 and 2 are in cycle, pallet change and warm-up; mode 2 is after hours.
    on += sum(machine[2][state] for machine in tally.spent for state in (0, 1, 2))
    return 100 * cut / on


def test_the_constant_is_the_smallest_that_is_enough() -> None:
    plan = plans_of(sound(study(500, "people")))["now"]
    for kind in ("people", "machine"):
        reading = find_reading(plan, kind, powered)
        assert reading.seconds is not None
        # 50 % is 10 of 20 minutes: about 6 more than the 14 that the model needs.
        assert 330 <= reading.seconds <= 390
        assert powered(with_reading(plan, reading)) <= 50
        less = type(reading)(kind, reading.seconds - 1)
        assert powered(with_reading(plan, less)) > 50


def test_a_gap_laid_to_machines_is_stopped_and_inherited() -> None:
    found = compare(sound(study(500, "machine")), MEMORY)
    for id_ in ("now", "pair"):
        figures = found.answers[id_].figures
        assert figures is not None
        assert figures.by_state["stopped"] > 0
    now = found.answers["now"].figures
    assert now is not None
    assert now.utilization.of_powered is not None
    assert 49 < now.utilization.of_powered <= 50


def test_a_gap_laid_to_people_takes_their_time() -> None:
    as_it_is = compare(sound(study(500, "show")), MEMORY).answers["pair"].figures
    laid = compare(sound(study(500, "people")), MEMORY).answers["pair"].figures
    assert as_it_is is not None
    assert laid is not None
    assert laid.by_state["stopped"] == 0
    assert laid.people.busy > as_it_is.people.busy


def test_what_is_only_shown_leaves_a_range_of_gains() -> None:
    found = compare_wholly(sound(study()), MEMORY, MEMORY.pause)
    pair = found.answers["pair"]
    assert pair.gain_range is not None
    low, high = pair.gain_range
    # With people away a second pallet hides their time; with machines tied up it cannot.
    assert low < high
    assert found.answers["now"].gain_range == (0.0, 0.0)
    laid = {
        kind: compare(sound(study(500, kind)), MEMORY).answers["pair"].gains.saleable
        for kind in ("people", "machine")
    }
    assert {low, high} == set(laid.values())


def test_where_the_model_finds_less_there_is_no_gap() -> None:
    for kind in ("people", "machine"):
        now = compare(sound(study(900, kind)), MEMORY).answers["now"]
        assert any("no gap" in text for text in warnings_of(now))
        assert now.figures == compare(sound(study(900)), MEMORY).answers["now"].figures


def test_meters_of_its_own_end_what_is_inherited() -> None:
    text = study(500, "machine").replace(
        'parent = "now"',
        'parent = "now"\nhour_meters.switched_on = "1000 h"\nhour_meters.in_cut = "990 h"',
    )
    figures = compare(sound(text), MEMORY).answers["pair"].figures
    assert figures is not None
    assert figures.by_state["stopped"] == 0
