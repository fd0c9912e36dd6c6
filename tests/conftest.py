"""Which tests are run, and how long the tests of the screens wait after a key.

``--long`` asks for the long sets, see ``support/lengths.py``.

Textual's pilot waits until the processor idles, some tenths of a second for every key and longer
on a busy machine, and takes what has happened by then for all there is. The program knows better:
``screen.Screen`` goes on when every widget has done what it was asked and no key and no answer is
outstanding. So the pilot's own waits are no more than a turn of the event loop.
"""

from __future__ import annotations

import asyncio

import lengths
import pytest

_TURNS = 3


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--long", action="store_true", help="run the long sets, and only these")


def pytest_configure(config: pytest.Config) -> None:
    lengths.is_long = bool(config.getoption("--long"))


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    wanted, left_out = [], []
    for item in items:
        long, random = (item.get_closest_marker(name) for name in ("long", "examples"))
        (
            wanted if bool(long or (random and lengths.is_long)) == lengths.is_long else left_out
        ).append(item)
    items[:] = wanted
    config.hook.pytest_deselected(items=left_out)


@pytest.fixture(autouse=True)
def no_waiting_for_an_idle_processor(monkeypatch: pytest.MonkeyPatch) -> None:
    async def a_few_turns(min_sleep: float = 0.0, max_sleep: float = 1.0) -> None:
        for _ in range(_TURNS):
            await asyncio.sleep(0)

    for module in ("textual.app", "textual.pilot"):
        monkeypatch.setattr(f"{module}.wait_for_idle", a_few_turns)
