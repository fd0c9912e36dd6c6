"""The calculating process looks for what nobody needs while nobody asks for anything."""

from __future__ import annotations

import gc
import threading
from collections.abc import Iterator
from multiprocessing import Pipe

import pytest

from whatif.session.calculate import serving
from whatif.session.calculate.garbage import Looking
from whatif.session.calculate.pool import Pool
from whatif.session.calculate.requests import Reply, Request
from whatif.session.calculate.serving import Server
from whatif.study.draft import Draft


class Circle:
    """What only a look through everything finds that nobody needs."""

    gone = 0

    def __init__(self) -> None:
        self.self = self

    def __del__(self) -> None:
        Circle.gone += 1


@pytest.fixture
def unasked() -> Iterator[None]:
    """Nothing is looked for by itself."""
    gc.disable()
    yield
    gc.enable()


@pytest.mark.usefixtures("unasked")
@pytest.mark.long
def test_it_is_looked_for_where_something_has_been_made() -> None:
    looking = Looking()
    gc.collect()
    before = Circle.gone
    Circle()
    looking.look()
    assert Circle.gone == before + 1
    Circle()
    looking.look()
    assert Circle.gone == before + 1, "nothing has been looked at since: there is little to find"


def test_it_is_looked_for_when_nothing_is_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(serving, "RESTED", 0.01)
    ours, theirs = Pipe()
    rested = threading.Event()
    said: list[Reply] = []
    server = Server(theirs, Pool(0), send=said.append, rests=rested.set)
    other = threading.Thread(target=server.serve)
    other.start()
    try:
        assert rested.wait(10)
        rested.clear()
        ours.send(Request(1, Draft()))
        assert rested.wait(10)
        assert [reply.revision for reply in said] == [1]
    finally:
        ours.close()
        other.join()
