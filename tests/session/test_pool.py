"""The pool of processes that work ahead: the same answers, and nobody left behind."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from multiprocessing import Pipe
from typing import Any

import pytest
from answer_studies import CHILD, TODAY, sound, today
from lengths import first_of
from typing_extensions import override

from whatif.answers.compare import compare, compare_wholly
from whatif.answers.meters.metered import metered
from whatif.answers.moves.break_even import LEVEL, break_even
from whatif.answers.moves.sensitivity import sensitivity
from whatif.answers.moves.vary import grid, vary
from whatif.answers.night.of_study import study_nights
from whatif.answers.progress import Told
from whatif.answers.simulate import Pause, Simulate, Task, each_done
from whatif.cell.model import WEEK, Cell
from whatif.cell.run import Run
from whatif.plan.build import plans_of
from whatif.session.calculate.fanned import Fanned
from whatif.session.calculate.memory import Memory
from whatif.session.calculate.pool import Pool
from whatif.session.calculate.urgency import HELPING
from whatif.study.file.reading import read_text
from whatif.study.raw import Path

SOON = 30
"""Seconds within which what should come at once has come on the busiest machine."""

PAIR = TODAY + CHILD + "machine.mill.count = 2\n"


@pytest.fixture
def pool() -> Iterator[Pool]:
    with Pool(2) as two:
        yield two


def is_gone(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return True
    return False


def soon(holds: Callable[[], bool]) -> bool:
    until = time.monotonic() + SOON
    while not holds():
        if time.monotonic() > until:
            return False
        time.sleep(0.005)
    return True


def cell() -> Cell:
    found = plans_of(sound(PAIR))["today"].cell
    assert found is not None
    return found


@dataclass(frozen=True)
class Said(Task[tuple[str, int]]):
    """Says its word, and which process said it; ``falls`` ends that process, all but ours."""

    word: str
    weeks: int = 0
    falls: bool = False
    ours: int = 0

    @override
    def work_out(self, simulate: Simulate, pause: Pause) -> tuple[str, int]:
        if self.falls and os.getpid() != self.ours:
            os._exit(1)
        for _ in range(self.weeks):
            pause()
            time.sleep(0.001)
        if self.word == "refused":
            raise ValueError("not this one")
        return self.word, os.getpid()


def done(memory: Fanned, task: Said) -> tuple[str, int]:
    return memory.done(task, memory.pause)


# -- the same answers ----------------------------------------------------------------------


@pytest.mark.parametrize("workers", [0, 2])
def test_answers_are_equal_with_and_without_a_pool(workers: int) -> None:
    alone = Memory()
    expected = compare_wholly(sound(PAIR), alone, alone.pause)
    with Pool(workers) as pool:
        memory = Fanned(pool)
        assert compare_wholly(sound(PAIR), memory, memory.pause) == expected
        assert pool.begun == workers
        # Each run is known by now, wherever it was made.
        ran = memory.ran
        assert ran == alone.ran
        assert compare_wholly(sound(PAIR), memory, memory.pause) == expected
        assert memory.ran == ran


METERED = (
    today(
        'hour_meters.gap = "people"',
        'hour_meters.switched_on = "40 h"',
        'hour_meters.in_cut = "30 h"',
        'rush.hot.part = "body"',
        "rush.hot.pieces = 2",
        'rush.soon.part = "body"',
        "rush.soon.pieces = 2",
        'rush.soon.arrives = "tue 10:00"',
        'stop.chip.every = "20 h"',
        'stop.chip.repair = "10 min"',
    )
    + CHILD
    + "machine.mill.count = 2\n"
)
PALLETS: Path = ("machine", "mill", "pallets")
WALK: Path = ("handling", "walk")

ASKED: dict[str, Callable[[Simulate, Told], object]] = {
    "all": lambda simulate, told: compare_wholly(sound(METERED), simulate, lambda: told(0, 1)),
    "ranking": lambda simulate, told: sensitivity(read_text(PAIR), "child", simulate, told),
    "curve": lambda simulate, told: vary(
        read_text(PAIR), "child", PALLETS, ("1", "2", "3"), simulate, told
    ),
    "table": lambda simulate, told: grid(
        read_text(PAIR), "child", PALLETS, ("1", "2"), WALK, ("1 min", "3 min"), simulate, told
    ),
    "break-even": lambda simulate, told: break_even(
        read_text(PAIR), "child", WALK, LEVEL, simulate, told, "1 min..90 min"
    ),
    "nights": lambda simulate, told: study_nights(sound(METERED), simulate, told),
    "meters": lambda simulate, told: metered(compare(sound(METERED), simulate), simulate),
}


@pytest.mark.parametrize("question", first_of(ASKED))
@pytest.mark.long
def test_questions_have_the_same_answer_with_and_without_a_pool(question: str, pool: Pool) -> None:
    ask = ASKED[question]
    alone, told = Memory(), []
    expected = ask(alone, lambda done, of: None)
    memory = Fanned(pool)
    assert ask(memory, lambda done, of: told.append((done, of))) == expected
    assert pool.begun == 2
    assert told == [] or told == sorted(told, key=lambda step: step[0])


def test_a_run_goes_on_where_more_weeks_of_it_are_asked_for(pool: Pool) -> None:
    memory, whole = Fanned(pool), Run(cell())
    memory.ahead([(cell(), 1, 1)])
    memory(cell(), 1, 1)
    memory.ahead([(cell(), 1, 1), (cell(), 1, 2)])
    whole.advance(WEEK)
    before = whole.tally()
    whole.advance(3 * WEEK)
    assert memory(cell(), 1, 2) == whole.tally().since(before)
    assert memory.ran == 1


def test_what_is_made_of_the_same_is_not_made_again() -> None:
    memory = Fanned(Pool(0))
    made: list[int] = []

    def make() -> int:
        made.append(len(made))
        return made[-1]

    assert [memory.again("kind", given, make) for given in (1, 1, 2, 2, 1)] == [0, 0, 1, 1, 2]
    assert memory.again("other", 1, make) == 3


# -- who works, and in which order ---------------------------------------------------------


def test_tasks_are_done_by_others_and_come_in_their_order(pool: Pool) -> None:
    memory = Fanned(pool)
    words = [str(number) for number in range(9)]
    found = list(each_done(memory, [Said(word) for word in words], memory.pause))
    assert [word for word, _ in found] == words
    assert {process for _, process in found} <= set(pool.processes)


def test_what_is_to_be_done_here_goes_to_nobody_and_goes_on_here(
    pool: Pool, monkeypatch: pytest.MonkeyPatch
) -> None:
    memory, put = Fanned(pool), pool.put
    sent: list[object] = []

    def noted(task: Task[Any], home: int | None = None) -> int:
        sent.append(task)
        return put(task, home)

    monkeypatch.setattr(pool, "put", noted)
    with memory.here():
        memory.ahead([(cell(), 1, 1)])
        memory.tasks_ahead([Said("here")])
        first = memory(cell(), 1, 1)
        assert done(memory, Said("here")) == ("here", os.getpid())
    memory.ahead([(cell(), 1, 3)])
    assert memory(cell(), 1, 3) != first
    assert (sent, memory.ran) == ([], 1)
    memory.ahead([(replace(cell(), walk=77), 1, 1)])
    memory(replace(cell(), walk=77), 1, 1)
    assert len(sent) == 1


def test_a_task_that_is_known_is_not_done_again(pool: Pool) -> None:
    memory = Fanned(pool)
    first = done(memory, Said("once"))
    assert first == ("once", os.getpid())  # nobody had said it ahead
    assert list(each_done(memory, [Said("once")], memory.pause)) == [first]


def test_what_a_task_raises_is_raised_where_it_is_asked_for(pool: Pool) -> None:
    memory = Fanned(pool)
    found = each_done(memory, [Said("told"), Said("refused"), Said("after")], memory.pause)
    assert next(found)[0] == "told"
    with pytest.raises(ValueError, match="not this one"):
        next(found)
    assert done(memory, Said("after"))[0] == "after"


def test_nobody_is_started_on_one_core() -> None:
    with Pool(0) as pool:
        memory = Fanned(pool)
        tasks = [Said("here"), Said("too")]
        found = list(each_done(memory, tasks, memory.pause))
        assert found == [("here", os.getpid()), ("too", os.getpid())]
        assert not pool.begun


# -- giving up -----------------------------------------------------------------------------


def test_what_is_taken_back_is_stopped_between_weeks(pool: Pool) -> None:
    memory = Fanned(pool)
    for_long = 1000 * SOON
    memory.tasks_ahead([Said("a", for_long), Said("b", for_long), Said("c", for_long)])
    memory.take_back(stop=True)
    # They are free again at once, for what is wanted now.
    memory.tasks_ahead([Said("d"), Said("e")])
    assert [done(memory, Said(word))[0] for word in "de"] == ["d", "e"]
    assert pool.begun == 2


def test_what_is_begun_goes_on_where_only_the_order_changes(pool: Pool) -> None:
    memory = Fanned(pool)
    slow = Said("slow", 50)
    memory.tasks_ahead([slow, Said("other", 50), Said("later", 50)])
    memory.take_back(stop=False)
    memory.tasks_ahead([Said("first")])
    assert done(memory, slow)[1] in pool.processes
    assert done(memory, Said("first"))[1] in pool.processes
    # Nobody had begun it, and it was not asked for again.
    assert done(memory, Said("later"))[1] == os.getpid()


def test_of_some_tasks_enough_may_be_had(pool: Pool) -> None:
    memory = Fanned(pool)
    at_work = [Said("a", 50), Said("b", 50)]
    tried, wanted = Said("tried"), Said("wanted")
    memory.tasks_ahead([*at_work, tried, wanted])
    memory.enough([*at_work, tried])
    assert done(memory, wanted)[1] in pool.processes
    assert done(memory, at_work[0])[1] in pool.processes
    # Nobody had begun it.
    assert done(memory, tried)[1] == os.getpid()


def test_what_is_newer_is_heard_while_runs_are_said_ahead_and_looked_up(pool: Pool) -> None:
    heard: list[int] = []
    memory = Fanned(pool, within_week=lambda: heard.append(1))
    draws = [replace(cell(), walk=walk) for walk in range(70, 75)]
    memory.ahead((draw, 0, 1) for draw in draws)
    assert len(heard) >= len(draws)
    for draw in draws:
        memory(draw, 0, 1)
    heard.clear()
    for draw in draws:
        memory(draw, 0, 1)
    assert len(heard) >= len(draws), "what is known is no run, and many of them take long too"


def test_who_waits_hears_that_something_newer_is_asked(pool: Pool) -> None:
    ours, theirs = Pipe()

    def heard() -> None:
        if ours.poll():
            raise InterruptedError

    memory = Fanned(pool, between_weeks=heard, hears=(ours,))
    memory.tasks_ahead([Said("for ever", 1000 * SOON)])
    theirs.send("newer")
    with pytest.raises(InterruptedError):
        done(memory, Said("for ever", 1000 * SOON))


# -- deaths --------------------------------------------------------------------------------


@pytest.mark.long
def test_a_dead_worker_is_replaced_and_its_task_done(pool: Pool) -> None:
    memory = Fanned(pool)
    memory.tasks_ahead([Said("a", 200), Said("b", 200)])
    first = pool.processes
    os.kill(first[0], signal.SIGKILL)
    assert [done(memory, Said(word, 200))[0] for word in "ab"] == ["a", "b"]
    assert pool.begun == 3
    assert is_gone(first[0])


def test_what_ends_every_worker_is_done_by_who_asks(pool: Pool) -> None:
    memory = Fanned(pool)
    task = Said("falls", falls=True, ours=os.getpid())
    memory.tasks_ahead([task])
    assert done(memory, task) == ("falls", os.getpid())


def test_closing_leaves_nobody_behind() -> None:
    pool = Pool(2)
    memory = Fanned(pool)
    memory.tasks_ahead([Said("a", 1000 * SOON), Said("b", 1000 * SOON)])
    processes = pool.processes
    pool.close()
    assert len(processes) == 2
    assert all(map(is_gone, processes))
    # Nobody works any more, and who asks does.
    assert done(memory, Said("here"))[1] == os.getpid()


ORPHANS = """
import sys, time
sys.path[:0] = {path!r}
from test_pool import Said
from whatif.session.calculate.fanned import Fanned
from whatif.session.calculate.pool import Pool
from whatif.session.calculate.urgency import HELPING
from whatif.study.file.reading import read_text
from whatif.study.raw import Path
pool = Pool(2)
memory = Fanned(pool)
memory.tasks_ahead([Said("a", 100000), Said("b", 100000), Said("c", 100000)])
print(*pool.processes, flush=True)
time.sleep(1000)
"""


@pytest.mark.long
def test_workers_end_with_their_parent_however_it_ends() -> None:
    parent = subprocess.Popen(
        [sys.executable, "-c", ORPHANS.format(path=sys.path)], stdout=subprocess.PIPE, text=True
    )
    assert parent.stdout is not None
    processes = [int(word) for word in parent.stdout.readline().split()]
    assert len(processes) == 2
    parent.kill()
    parent.wait()
    assert soon(lambda: all(map(has_ended, processes)))
    parent.stdout.close()


@pytest.mark.skipif(not hasattr(os, "getpriority"), reason="nobody can ask for it there")
def test_a_worker_gives_way_to_whoever_asks_it(pool: Pool) -> None:
    memory = Fanned(pool)
    memory.tasks_ahead([Said("a", 1)])
    assert done(memory, Said("a", 1))[0] == "a"
    ours = os.getpriority(os.PRIO_PROCESS, 0)

    def have_given_way() -> bool:
        urgencies = {os.getpriority(os.PRIO_PROCESS, process) for process in pool.processes}
        return urgencies == {min(19, ours + HELPING)}

    # The one that had nothing to do may still be at its birth.
    assert soon(have_given_way)


def has_ended(process: int) -> bool:
    """Whether it has gone, or only waits for whoever looks after orphans to take note of it."""
    try:
        with open(f"/proc/{process}/stat", encoding="ascii") as stat:
            return stat.read().rpartition(")")[2].split()[0] == "Z"
    except FileNotFoundError:
        return is_gone(process)
