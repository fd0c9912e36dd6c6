"""Memory is tidied up while nobody presses a key, and only then."""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable, Iterator

import pytest

from whatif.screens.tidying import Tidying


class Resting:
    """A program of which it is told how long its keys have rested."""

    def __init__(self) -> None:
        self.rested = 0.0
        self.look: Callable[[], None] = lambda: None

    def set_interval(self, seconds: float, look: Callable[[], None]) -> None:
        self.look = look


class Ring:
    """What only a collection finds to be of no use."""

    def __init__(self) -> None:
        self.itself = self


@pytest.fixture
def app() -> Iterator[Resting]:
    thresholds, turn = gc.get_threshold(), sys.getswitchinterval()
    app = Resting()
    Tidying(app).begin()  # type: ignore[arg-type] # all that it asks of the program
    yield app
    gc.unfreeze()
    gc.set_threshold(*thresholds)
    sys.setswitchinterval(turn)


def rings() -> int:
    return sum(isinstance(each, Ring) for each in gc.get_objects())


def test_only_at_rest(app: Resting) -> None:
    for _ in range(100):
        Ring()
        gc.collect(0)
    # Keys come: what is of no use may stay for a while.
    kept = [Ring() for _ in range(5)]
    gc.collect(1)
    kept.clear()
    app.rested = 0.5
    app.look()
    assert rings() == 5
    app.rested = 10.0
    app.look()
    assert rings() == 0


def test_not_again_where_little_has_been_made(
    app: Resting, monkeypatch: pytest.MonkeyPatch
) -> None:
    app.rested = 10.0
    app.look()
    collected: list[int] = []
    monkeypatch.setattr(gc, "collect", lambda *_: collected.append(1))
    app.look()
    assert not collected


@pytest.mark.usefixtures("app")
def test_the_newest_are_looked_at_a_few_at_a_time() -> None:
    looks: list[int] = []

    def noted(phase: str, info: dict[str, int]) -> None:
        if phase == "start":
            looks.append(info["generation"])

    gc.callbacks.append(noted)
    kept = [Ring() for _ in range(4_000)]
    gc.callbacks.remove(noted)
    kept.clear()
    assert len(looks) >= 3
    assert not any(looks), "older ones are left to a time of rest"
