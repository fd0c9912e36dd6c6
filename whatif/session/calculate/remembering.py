"""A memory of runs that remembers what larger tasks came to as well."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterable, Iterator
from contextlib import contextmanager
from typing import Any, TypeVar

from typing_extensions import override

from whatif.answers.simulate import Pause, Task, WindowAsked, WorksAhead
from whatif.session.calculate.memory import Kept, Memory

R = TypeVar("R")

MOST_RESULTS = 4000
"""Results of tasks that are remembered."""

MOST_MADE = 20_000
"""Kinds of things made of which the last one is remembered: a dozen of each of many scenarios."""


class Remembering(Memory, WorksAhead):
    """Simulates and does tasks in this process, each when it is asked for."""

    def __init__(
        self,
        *,
        between_weeks: Callable[[], None] = lambda: None,
        going: int = 512,
        kept: Kept | None = None,
        within_week: Callable[[], None] = lambda: None,
    ) -> None:
        super().__init__(
            between_weeks=between_weeks, going=going, kept=kept, within_week=within_week
        )
        self._results: OrderedDict[Hashable, Any] = OrderedDict()
        self._made: OrderedDict[Hashable, tuple[object, Any]] = OrderedDict()
        self._unkept_tasks: OrderedDict[Hashable, Task[Any]] = OrderedDict()
        """Tasks whose results are to outlive the program, once they are there."""

    @property
    @override
    def workers(self) -> int:
        return 0

    @contextmanager
    def here(self) -> Iterator[None]:
        """What is asked for meanwhile is done here, as all is."""
        yield

    @override
    def ahead(self, windows: Iterable[WindowAsked]) -> None:
        """Nobody is there who could begin."""

    @override
    def tasks_ahead(self, tasks: Iterable[Task[R]]) -> None:
        """Nobody is there who could begin."""

    @override
    def is_made(self, kind: Hashable, given: object) -> bool:
        then = self._made.get(kind)
        return then is not None and then[0] == given

    @override
    def again(self, kind: Hashable, given: object, make: Callable[[], R]) -> R:
        then = self._made.get(kind)
        if then is None or then[0] != given:
            then = self._made[kind] = given, make()
        self._made.move_to_end(kind)
        if len(self._made) > MOST_MADE:
            self._made.popitem(last=False)
        found: R = then[1]
        return found

    @override
    def enough(self, tasks: Iterable[Task[R]]) -> None:
        """Nothing was begun."""

    @override
    def done(self, task: Task[R], pause: Pause) -> R:
        key = key_of(task)
        if not self._knows(key, task):
            self._results[key] = task.work_out(self, pause)
        latest(self._results, key)
        found: R = self._results[key]
        return found

    @override
    def keep(self, most: int | None = None) -> bool:
        there = [key for key in self._unkept_tasks if key in self._results][:most]
        found = [(self._unkept_tasks.pop(key), self._results[key]) for key in there]
        if self._kept is not None and found:
            self._kept.keep_results(found)
        return super().keep(most) and not there

    def _knows(self, key: Hashable, task: Task[Any]) -> bool:
        """Whether it is known what a task comes to, from an earlier program maybe."""
        if key in self._results:
            return True
        if self._kept is None or not task.made_of or key in self._unkept_tasks:
            return False
        found = self._kept.result(task)
        if found is None:
            self._unkept_tasks[key] = task
            latest(self._unkept_tasks, key)
            return False
        self._results[key] = found
        latest(self._results, key)
        return True


def key_of(task: Task[Any]) -> Hashable:
    """By what the result of a task is remembered."""
    return type(task), task.key


def latest(kept: OrderedDict[Any, Any], key: Hashable) -> None:
    """Make one of what is kept the latest, and forget the earliest where there are many."""
    kept.move_to_end(key)
    if len(kept) > MOST_RESULTS:
        kept.popitem(last=False)
