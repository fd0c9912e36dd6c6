"""How answers have cells run: one run after the other, said ahead of time where that helps.

Answers are plain functions that ask for one run and go on with what it has counted. Where several
processes simulate (:class:`WorksAhead`), they say first which runs and which larger pieces of work
they will ask for, and then take them one by one, in whatever order; where there is one process
alone, saying so does nothing.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from typing import Generic, TypeAlias, TypeVar

from typing_extensions import override

from whatif.cell.model import WEEK, Cell
from whatif.cell.run import Run
from whatif.cell.tally import Tally

Simulate = Callable[[Cell, int, int], Tally]
"""Runs a cell: (cell, weeks to run before measuring, weeks to measure) -> what was counted."""

WindowAsked: TypeAlias = tuple[Cell, int, int]
"""What is asked of :data:`Simulate`."""

Pause = Callable[[], None]
"""Called between pieces of work that are no run; it may raise to give the work up."""

R = TypeVar("R")
T = TypeVar("T")


class Task(ABC, Generic[R]):
    """A piece of work, large enough to be done by another process.

    A small frozen dataclass: it travels there, and what it comes to, picklable too, travels back.
    Two of one ``key`` come to the same, so that one need not be done twice.
    """

    @property
    def key(self) -> Hashable:
        """What it is known by; itself, unless a field of it is a mapping."""
        return self

    @property
    def made_of(self) -> tuple[type, ...]:
        """Dataclasses and enums of which its result is made, beside numbers, texts, tuples, lists.

        Where it says so what it comes to outlives the program, known by the ``repr`` of its key.
        """
        return ()

    @abstractmethod
    def work_out(self, simulate: Simulate, pause: Pause) -> R:
        """Do it; ``pause`` is to be called at least once a week that is run without simulate."""


class WorksAhead(ABC):
    """A :data:`Simulate` that may begin with what it will be asked for later."""

    @property
    @abstractmethod
    def workers(self) -> int:
        """How many tasks are done at once beside what is done here; 0 where none is."""

    @abstractmethod
    def __call__(self, cell: Cell, warm_up: int, weeks: int) -> Tally:
        """See :data:`Simulate`."""

    @abstractmethod
    def ahead(self, windows: Iterable[WindowAsked]) -> None:
        """These runs will be asked for, the first of them first."""

    @abstractmethod
    def tasks_ahead(self, tasks: Iterable[Task[R]]) -> None:
        """These tasks will be asked for, the first of them first."""

    @abstractmethod
    def done(self, task: Task[R], pause: Pause) -> R:
        """What a task comes to, waiting for it; ``pause`` is called where it is done here."""

    @abstractmethod
    def again(self, kind: Hashable, given: object, make: Callable[[], R]) -> R:
        """What was made the last time of the kind, where that was given the same; or it is made."""

    @abstractmethod
    def is_made(self, kind: Hashable, given: object) -> bool:
        """Whether :meth:`again` would make nothing."""

    @abstractmethod
    def enough(self, tasks: Iterable[Task[R]]) -> None:
        """Those of these tasks that nobody has begun will not be asked for."""


def run_anew(cell: Cell, warm_up: int, weeks: int) -> Tally:
    """A :data:`Simulate` that remembers nothing."""
    run = Run(cell)
    run.advance(warm_up * WEEK)
    before = run.tally()
    run.advance((warm_up + weeks) * WEEK)
    return run.tally().since(before)


def shared(simulate: Simulate, items: Sequence[T]) -> list[Sequence[T]]:
    """Items shared out among those who may do them at once, in their order; one share if nobody."""
    many = simulate.workers if isinstance(simulate, WorksAhead) else 0
    size = -(-len(items) // max(1, many)) or 1
    return [items[first : first + size] for first in range(0, len(items), size)]


def ahead(simulate: Simulate, windows: Iterable[WindowAsked]) -> None:
    """Say which runs will be asked for; an iterator is gone through only where that helps."""
    if isinstance(simulate, WorksAhead):
        simulate.ahead(windows)


def tasks_ahead(simulate: Simulate, tasks: Iterable[Task[R]]) -> None:
    """Say which tasks :func:`done` will be asked for."""
    if isinstance(simulate, WorksAhead):
        simulate.tasks_ahead(tasks)


def done(simulate: Simulate, task: Task[R], pause: Pause) -> R:
    """What a task comes to; ``pause`` is called where it is done here."""
    if isinstance(simulate, WorksAhead):
        return simulate.done(task, pause)
    return task.work_out(simulate, pause)


def each_done(simulate: Simulate, tasks: Sequence[Task[R]], pause: Pause) -> Iterator[R]:
    """What each task comes to, in their order."""
    tasks_ahead(simulate, tasks)
    for task in tasks:
        yield done(simulate, task, pause)


def again(simulate: Simulate, kind: Hashable, given: object, make: Callable[[], R]) -> R:
    """What ``make`` makes of what is given, or made of the same before where that is remembered.

    It is compared with what was given the last time for the same kind.
    """
    if isinstance(simulate, WorksAhead):
        return simulate.again(kind, given, make)
    return make()


def is_made(simulate: Simulate, kind: Hashable, given: object) -> bool:
    """Whether :func:`again` would make nothing, so that no run need be said ahead for it."""
    return isinstance(simulate, WorksAhead) and simulate.is_made(kind, given)


def forgetting(simulate: Simulate) -> Simulate:
    """The same runs and tasks, but nothing for :func:`again`: for studies other than the one shown.

    What was made of that one last is compared with what is given next, and so stays what it is.
    """
    return _Forgetting(simulate) if isinstance(simulate, WorksAhead) else simulate


class _Forgetting(WorksAhead):
    """Whoever works ahead, asked by one who makes everything anew."""

    def __init__(self, to: WorksAhead) -> None:
        self._to = to

    @property
    @override
    def workers(self) -> int:
        return self._to.workers

    @override
    def __call__(self, cell: Cell, warm_up: int, weeks: int) -> Tally:
        return self._to(cell, warm_up, weeks)

    @override
    def ahead(self, windows: Iterable[WindowAsked]) -> None:
        self._to.ahead(windows)

    @override
    def tasks_ahead(self, tasks: Iterable[Task[R]]) -> None:
        self._to.tasks_ahead(tasks)

    @override
    def done(self, task: Task[R], pause: Pause) -> R:
        return self._to.done(task, pause)

    @override
    def again(self, kind: Hashable, given: object, make: Callable[[], R]) -> R:
        return make()

    @override
    def is_made(self, kind: Hashable, given: object) -> bool:
        return False

    @override
    def enough(self, tasks: Iterable[Task[R]]) -> None:
        self._to.enough(tasks)


def enough(simulate: Simulate, tasks: Iterable[Task[R]]) -> None:
    """Of these tasks, which were said ahead, no more are wanted."""
    if isinstance(simulate, WorksAhead):
        simulate.enough(tasks)
