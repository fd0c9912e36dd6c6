"""Does in a process of its own what the bench asks for, and tells the processor's time.

Run by the Python of whatever checkout is measured; an earlier one too, so it asks for no more than
that has. One line of JSON is asked, one line answered.
"""

from __future__ import annotations

import json
import sys
from contextlib import suppress
from pathlib import Path
from time import process_time
from typing import Any

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE.parent), str(HERE)]

import made  # noqa: E402 - after the path is set

from whatif.cell.model import WEEK, Cell  # noqa: E402
from whatif.cell.run import Run  # noqa: E402
from whatif.plan.build import plans_of  # noqa: E402
from whatif.session.calculate.memory import Memory  # noqa: E402
from whatif.study.check.check import check  # noqa: E402
from whatif.study.file.reading import read_file, read_text  # noqa: E402

with suppress(ImportError):  # an earlier one looked for garbage as Python does
    from whatif.session.calculate.garbage import look_rarely

    look_rarely()

_cells: dict[str, Cell] = {}


def cell_of(which: dict[str, Any]) -> Cell:
    """A made cell, or that of a scenario of a study, or of what ten answers make."""
    name = json.dumps(which, sort_keys=True)
    if name not in _cells:
        if "study" in which:
            plan = plans_of(check(read_file(Path(which["study"])).draft))[which["scenario"]]
            assert plan.cell is not None
            _cells[name] = plan.cell
        elif "answers" in which:
            from support.first_answers import ALL

            from whatif.session.first_study import first_study

            draft = first_study({**ALL, **which["answers"]}, Memory()).draft
            made_of_answers = plans_of(check(draft))[which["scenario"]].cell
            assert made_of_answers is not None
            _cells[name] = made_of_answers
        else:
            _cells[name] = made.cell(**which)
    return _cells[name]


def scenarios(study: str) -> dict[str, Any]:
    """Those of a study that have a cell."""
    plans = plans_of(check(read_file(Path(study)).draft))
    return {"scenarios": [id_ for id_, plan in plans.items() if plan.cell is not None]}


def run(cell: dict[str, Any], weeks: int) -> dict[str, Any]:
    """A cell run from its start, week by week, with no memory and no repeating."""
    one = cell_of(cell)
    begun = process_time()
    running = Run(one)
    for week in range(1, weeks + 1):
        running.advance(week * WEEK)
    seconds = process_time() - begun
    return {"seconds": seconds, "cut": sum(running.tally().cut)}


def counted(cell: dict[str, Any], warm_up: int, weeks: int) -> dict[str, Any]:
    """What a window counts, as answers ask for it."""
    one, memory = cell_of(cell), Memory()
    begun = process_time()
    tally = memory(one, warm_up, weeks)
    return {"seconds": process_time() - begun, "cut": sum(tally.cut)}


def simpy(cell: dict[str, Any], weeks: int) -> dict[str, Any]:
    """The same by the independent model."""
    from oracle.model import simulate

    spec = {**made.spec(cell_of(cell)), "weeks": weeks, "warm_up": 0}
    begun = process_time()
    result = simulate(spec)
    seconds = process_time() - begun
    return {"seconds": seconds, "cut": sum(sum(each.cut.values()) for each in result.machines)}


def questions() -> dict[str, Any]:
    """From ten answers to figures."""
    from support.first_answers import ALL

    from whatif.answers.compare import compare
    from whatif.session.first_study import first_study

    memory = Memory()
    begun = process_time()
    compare(check(first_study(ALL, memory).draft), memory)
    return {"seconds": process_time() - begun}


def edit(study: str, stops: bool) -> dict[str, Any]:
    """An edit of the last scenario of a study that is open and answered, as typed."""
    from whatif.answers.compare import compare
    from whatif.study.edits import SetValue

    text = Path(study).read_text("utf-8")
    if stops:
        text += '[scenario.today.stop.jam]\nevery = "6 h"\nrepair = "8 min"\n'
    draft, memory = read_text(text), Memory()
    first = process_time()
    compare(check(draft), memory)
    begun = process_time()
    edited = SetValue(draft.ids[-1], ("handling", "walk"), "77 s").apply(draft)
    compare(check(edited), memory)
    return {"seconds": process_time() - begun, "first": begun - first}


def checked(text: str) -> dict[str, Any]:
    """A study's text read and checked."""
    begun = process_time()
    found = check(read_text(text))
    seconds = process_time() - begun
    return {"seconds": seconds, "problems": len(found.problems)}


def listed(text: str) -> dict[str, Any]:
    """The plans of a study that is checked."""
    found = check(read_text(text))
    begun = process_time()
    plans = plans_of(found)
    return {"seconds": process_time() - begun, "plans": len(plans)}


def fitted(kinds: int, rounds: int) -> dict[str, Any]:
    """Pieces of many sizes on a face, each looked for anew."""
    from whatif.cell.fit.fit import fit

    asked = list(made.pieces_on_faces(kinds))
    begun = process_time()
    for _ in range(rounds):
        for piece, face in asked:
            fit(piece, face)
    return {"seconds": process_time() - begun}


def edited(edits: int, study: str) -> dict[str, Any]:
    """Memory over many edits, see ``memory.py``."""
    import memory

    return memory.edits(edits, Path(study))


DOES = {
    each.__name__: each
    for each in (
        *(scenarios, run, counted, simpy, questions, edit),
        *(checked, listed, fitted, edited),
    )
}

if __name__ == "__main__":
    for line in sys.stdin:
        asked = json.loads(line)
        try:
            answer = DOES[asked.pop("do")](**asked)
        except Exception as fault:  # the bench goes on with what else there is
            answer = {"fault": f"{type(fault).__name__}: {fault}"}
        print(json.dumps(answer), flush=True)
