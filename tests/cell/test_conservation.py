"""What goes in comes out: accounts of random cells that must close, whatever another model says.

`both_models.the_accounts_close` holds the looser of these on all its cells, where work is
under way at the window's borders. Here cells make what a few orders ask for and then stand, so
that nothing is under way at the end and every account closes to the second.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import pytest
from cells import trying
from hypothesis import given
from hypothesis import strategies as st
from oracle.hours import DAYS, Hours
from oracle.specs import SHORT, Spec, cells, machines, study_text
from oracle.specs_orders import with_orders

from whatif.cell.calendar import MODES
from whatif.cell.codes import NOWHERE, Job
from whatif.cell.model import DAY, WEEK
from whatif.cell.run import Run
from whatif.cell.states import State
from whatif.cell.tally import Tally
from whatif.plan.build import plans_of
from whatif.plan.model import Plan
from whatif.study.check.check import check
from whatif.study.file.reading import read_text


@dataclass(frozen=True)
class Counted:
    plan: Plan
    tally: Tally

    @property
    def parts(self) -> list[str]:
        assert self.plan.cell is not None
        return [part.id for part in self.plan.cell.parts]

    @property
    def cut(self) -> Counter[str]:
        return Counter(dict(zip(self.parts, self.tally.cut, strict=True)))

    def busy(self, job: Job) -> int:
        """Seconds that all people together were at this kind of work."""
        return sum(jobs[job] for jobs in self.tally.busy_by_job)


def counted(spec: Spec) -> Counted:
    checked = check(read_text(study_text(spec)))
    assert not checked.problems
    (plan,) = plans_of(checked).values()
    assert plan.cell is not None
    run = Run(plan.cell)
    run.advance(plan.warm_up * WEEK)
    before = run.tally()
    run.advance((plan.warm_up + plan.weeks) * WEEK)
    return Counted(plan, run.tally().since(before))


# --- cells that make what is ordered and then stand --------------------------------------


@st.composite
def finite_work(draw: st.DrawFn) -> Spec:
    """A few real orders and no endless mix.

    Even if all 60 pieces were cut and tended one after the other and each were a first one, that
    would take no more than 60 x (3,600 + 1,800 + 2,300) s, less than 21 days x 7.5 h.
    """
    groups = ["mill", "borer"][: draw(st.integers(1, 2))]
    parts = ["body", "cover", "flange"][: draw(st.integers(1, 3))]
    length = draw(st.sampled_from((8, 12, 24)))
    spec: Spec = {
        "weeks": 3,
        "warm_up": draw(st.integers(0, 1)),
        "shift": {
            "early": {
                "days": list(DAYS),
                "start": "06:00",
                "end": f"{(6 + length) % 24:02}:00",
                "people": draw(st.integers(1, 3)),
                "breaks": draw(st.sampled_from(([], ["09:00-09:30"]))),
            }
        },
        "unattended": {"after_shift": draw(st.sampled_from((0, 18000, "until done")))},
        "handling": {"walk": draw(st.sampled_from((0, 60, 97)))},
        "machine": {group: draw(machines(True, True, False)) for group in groups},
        "part": {part: draw(ordered_part()) for part in parts},
    }
    spec["order"] = {
        name: {
            "part": draw(st.sampled_from(parts)),
            "pieces": draw(st.integers(1, 20)),
            "arrives": draw(st.sampled_from((0, 43200, 100020))),
            "due": 200040,
        }
        for name in ("first", "second", "third")[: draw(st.integers(1, 3))]
    }
    return spec


def ordered_part() -> st.SearchStrategy[Spec]:
    """A part that only orders ask for."""
    return st.fixed_dictionaries(
        {
            "cycle": st.sampled_from((97, 450, 611, 1801, 3600)),
            "weekly": st.just(0),
            "per_pallet": st.integers(1, 4),
            "load": st.sampled_from(SHORT),
            "unload": st.sampled_from(SHORT),
            "bench": st.sampled_from((0, 45, 97)),
            "setup": st.sampled_from((0, 450)),
            "prove_out": st.sampled_from((0, 97)),
            "first_piece": st.sampled_from((0, 1800)),
            "tool_life": st.sampled_from((None, 4, 10)),
        }
    )


def ordered_pieces(spec: Spec) -> Counter[str]:
    asked: Counter[str] = Counter()
    for order in spec["order"].values():
        asked[order["part"]] += order["pieces"]
    return asked


@trying(80)
@given(finite_work())
def test_what_is_ordered_is_cut_once_and_paid_for_in_time(spec: dict[str, Any]) -> None:
    found, asked = counted(spec), ordered_pieces(spec)
    assert found.cut == asked
    of = spec["part"]
    for place, part in enumerate(found.parts):
        seconds = sum(machine[place] for machine in found.tally.cycle)
        assert seconds == asked[part] * of[part]["cycle"]
    spent = sum(mode[State.IN_CYCLE] for machine in found.tally.spent for mode in machine)
    assert spent == sum(asked[part] * of[part]["cycle"] for part in asked)


@trying(80)
@given(finite_work())
def test_people_are_busy_for_what_their_work_takes(spec: dict[str, Any]) -> None:
    """All pieces are loaded, unloaded and taken to the bench; what is left are walks and setups.

    A pallet's first visit brings no piece off, its last none on, so with N loads on P pallets
    there are from N + 1 to N + P visits, and no more setups than loads.
    """
    found, asked = counted(spec), ordered_pieces(spec)
    of = spec["part"]
    assert found.busy(Job.BENCH) == sum(asked[p] * of[p]["bench"] for p in asked)
    handling = sum(asked[p] * (of[p]["load"] + of[p]["unload"]) for p in asked)
    walks_and_setups = found.busy(Job.VISIT) - handling
    pallets = sum(group["count"] * group.get("pallets", 1) for group in spec["machine"].values())
    fewest = sum(-(-n // of[p]["per_pallet"]) for p, n in asked.items())
    most = sum(asked.values())
    setup = max(of[p]["setup"] for p in asked)
    walk = spec["handling"]["walk"]
    assert (fewest + 1) * walk <= walks_and_setups <= (most + pallets) * walk + most * setup
    if setup == 0 and walk > 0:
        assert walks_and_setups % walk == 0
    assert found.busy(Job.PROVE_OUT) % 97 == 0
    # Every part is put on for a first time somewhere.
    assert found.busy(Job.PROVE_OUT) >= sum(of[p]["prove_out"] for p in asked)
    # The end of a shift leaves all tools new: what was in hand then is dropped.
    assert found.busy(Job.TOOL_CHANGE) % 300 == 0 or is_cut_off(found.plan)
    assert found.busy(Job.REPAIR) == 0
    assert sum(found.tally.busy) == sum(found.busy(job) for job in Job)


def is_cut_off(plan: Plan) -> bool:
    """Whether a tool change is in hand when a shift ends."""
    cell = plan.cell
    assert cell is not None
    (shift,) = cell.shifts
    run = Run(cell)
    for day in range(-1, 7 * (plan.warm_up + plan.weeks)):
        run.advance(max(0, day * DAY + shift.start + shift.length))
        calls = [spindle.tools for spindle in run.floor.spindles]
        if any(call is not None and call.person != NOWHERE for call in calls):
            return True
    return False


# --- the calendar -----------------------------------------------------------------------


def seconds_by_mode(spec: Spec) -> dict[str, int]:
    """Of the weeks measured, from the calendar alone."""
    hours, found = Hours(spec), dict.fromkeys(MODES, 0)
    edges = sorted({0, WEEK, *hours.boundaries()})
    for begin, end in pairwise(edges):
        found[hours.mode(begin)] += (end - begin) * spec["weeks"]
    return found


@pytest.mark.long
@trying(40)
@given(with_orders(cells(stops=False)))
def test_a_machines_states_fill_every_mode_of_the_calendar(spec: dict[str, Any]) -> None:
    tally = counted(spec).tally
    for machine in tally.spent:
        assert [sum(mode) for mode in machine] == list(seconds_by_mode(spec).values())


# --- whole loads ------------------------------------------------------------------------


@st.composite
def whole_loads(draw: st.DrawFn) -> Spec:
    """Cells without first pieces in which every order is a whole number of one size of loads."""
    spec: Spec = draw(cells(first_pieces=False, overrides=False, stops=False))
    for part in spec["part"].values():
        part["batch"] = part["per_pallet"] * draw(st.integers(1, 3))
        part["scrap"] = 0  # or else an order is larger, so that it is made good
    return {**spec, "weeks": 1}


@trying(60)
@given(whole_loads())
def test_pieces_count_when_their_load_is_cut(spec: dict[str, Any]) -> None:
    for part, pieces in counted(spec).cut.items():
        assert pieces % spec["part"][part]["per_pallet"] == 0


@trying(60)
@given(whole_loads())
def test_no_piece_is_cut_in_less_than_its_cycle(spec: dict[str, Any]) -> None:
    """From a cold start nothing is under way before, and at the end at most a load a machine."""
    found = counted({**spec, "warm_up": 0})
    for place, part in enumerate(found.parts):
        of, seconds = spec["part"][part], sum(one[place] for one in found.tally.cycle)
        under_way = seconds - found.cut[part] * of["cycle"]
        assert 0 <= under_way <= of["cycle"] * of["per_pallet"] * found.plan.machines
