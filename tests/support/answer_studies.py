"""Studies and made-up tallies with which tests of the answers begin."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from whatif.answers.answer import Comparison
from whatif.answers.compare import compare_wholly
from whatif.answers.figures import Figures, figures_of
from whatif.cell.calendar import MODES
from whatif.cell.codes import Job
from whatif.cell.look import Why
from whatif.cell.model import HOUR, WEEK
from whatif.cell.states import STATES, State
from whatif.cell.tally import Tally
from whatif.plan.build import plans_of
from whatif.plan.model import Plan, worth
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import Checked, check
from whatif.study.file.reading import read_text

Ends = Mapping[Why, tuple[int, float]]
"""Nights of the first machine by what ends them, and the hours that it then stands."""

Spent = Mapping[tuple[int, State], float]
"""Hours by mode and state of the first machine."""

TODAY = """\
format = 1
title = "Two ways"
weeks = 2
warm_up = 0
runs = 3
[scenario.today]
unattended.at_limit = "hold"
unattended.through_breaks = false
machine.mill.count = 1
part.body.cycle = "12 min"
part.body.weekly = 100
[scenario.today.shift.early]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "06:00"
end = "14:00"
people = 2
breaks = ["09:00-09:30"]
"""
CHILD = '[scenario.child]\nparent = "today"\n'


def sound(text: str) -> Checked:
    checked = check(read_text(text))
    assert checked.problems == ()
    return checked


def wholly(checked: Checked) -> Comparison:
    """Everything that is answered of a study, likely ranges and rush orders included."""
    memory = Memory()
    return compare_wholly(checked, memory, memory.pause)


def today(*lines: str, head: str = TODAY) -> str:
    """The study with more lines in its first scenario; one that names a known key replaces it."""
    known = head.splitlines()
    for line in lines:
        key = line.split(" = ")[0]
        known = [other for other in known if not other.startswith(f"{key} ")]
    at = next(i for i, line in enumerate(known) if line.startswith("[scenario.today]")) + 1
    return "\n".join([*known[:at], *lines, *known[at:], ""])


def plan_of(text: str, scenario: str = "today") -> Plan:
    return plans_of(sound(text))[scenario]


def counted(
    plan: Plan,
    cut: Sequence[int] = (),
    spent: Spent | None = None,
    busy: float = 0,
    free: float = 0,
    ends: Ends | None = None,
    closed: float = 0,
) -> Tally:
    """A tally of the plan's window: pieces by part, all hours on the first machine and part."""
    assert plan.cell is not None
    cell, machines = plan.cell, plan.machines
    modes = [[[0] * len(STATES) for _ in MODES] for _ in range(machines)]
    for (mode, state), hours in (spent or {}).items():
        modes[0][mode][state] = round(hours * HOUR)
    cycle = [[0] * len(cell.parts) for _ in range(machines)]
    if cell.parts and machines:
        cycle[0][0] = sum(mode[State.IN_CYCLE] for mode in modes[0])
    return Tally(
        seconds=plan.weeks * WEEK,
        spent=tuple(tuple(tuple(mode) for mode in one) for one in modes),
        cycle=tuple(tuple(one) for one in cycle),
        cut=(*cut, *[0] * (len(cell.parts) - len(cut))),
        busy=(round(busy * HOUR),),
        busy_by_job=((0,) * len(Job),),
        free_stretches=(round(free * HOUR),),
        most_held=(0,) * len(cell.parts),
        nights=(tuple((ends or {}).get(why, (0, 0))[0] for why in Why),),
        stood=(tuple(round((ends or {}).get(why, (0, 0))[1] * HOUR) for why in Why),),
        closed=(round(closed * HOUR),),
    )


def figured(
    text: str,
    cut: Sequence[int] = (),
    spent: Spent | None = None,
    ends: Ends | None = None,
    **hours: float,
) -> Figures:
    plans = plans_of(sound(text))
    plan = plans["today"]
    tally = counted(plan, cut, spent, ends=ends, **hours)
    return figures_of(plan, tally, worth(plans, "today", "today"))


FLOOR = 'machine.mill.floor = "10 m^2"'
