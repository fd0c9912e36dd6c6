"""Which tests are run, and how long the tests of the screens wait after a key.

``--long`` asks for the long sets, see ``support/lengths.py``; ``--cell compiled`` makes sure that
the tests run with a compiled cell.

Textual's pilot waits until the processor idles, some tenths of a second for every key and longer
on a busy machine, and takes what has happened by then for all there is. The program knows better:
``screen.Screen`` goes on when every widget has done what it was asked and no key and no answer is
outstanding. So the pilot's own waits are no more than a turn of the event loop.
"""

from __future__ import annotations

import asyncio
import gc
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import lengths
import pytest
from shared_runs import SharedWeeks
from textual.cache import LRUCache
from textual.css.stylesheet import Stylesheet
from textual.screen import Screen as TextualScreen

from whatif import cell
from whatif.session.calculate import memory
from whatif.session.kept import places, results

_TURNS = 3


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--long", action="store_true", help="run the long sets, and only these")
    parser.addoption("--cell", choices=("compiled", "plain"), help="run no test with another cell")


def pytest_configure(config: pytest.Config) -> None:
    # No test reads or fills the user's own cache; the processes that a test starts neither.
    os.environ[results.SWITCH] = results.OFF[0]
    lengths.is_long = bool(config.getoption("--long"))
    runs = "compiled" if cell.is_compiled() else "plain"
    if config.getoption("--cell") not in (None, runs):
        raise pytest.UsageError(f"the {runs} cell of {Path(cell.__file__).parent} would run")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if config.getoption("update_snapshots"):
        return  # snapshots of tests that are left out would be thrown away as nobody's
    wanted, left_out = [], []
    for item in items:
        long, random = (item.get_closest_marker(name) for name in ("long", "examples"))
        is_long = bool(long or (random and lengths.is_long))
        (wanted if is_long == lengths.is_long else left_out).append(item)
    items[:] = wanted
    config.hook.pytest_deselected(items=left_out)


def pytest_collection_finish() -> None:
    # What is there by now stays; of the rest little goes round in circles.
    gc.freeze()
    gc.set_threshold(100_000, 20, 50)


_parsed: dict[frozenset[tuple[str, str]], Any] = {}
"""Rules of style sheets by the colours they were read with; each app would read them anew."""


@pytest.fixture(autouse=True, scope="session")
def for_all_tests(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """What holds in every test, put in its place once."""
    with pytest.MonkeyPatch.context() as patch:
        _run_no_cell_twice(patch)
        _draw_on_no_terminal(patch)
        _wait_for_no_idle_processor(patch)
        # Nor is anything left among the user's own temporary files.
        own = (tmp_path_factory.getbasetemp() / "own",)
        patch.setattr(places, "temporary_folders", lambda: own)
        yield


def _run_no_cell_twice(patch: pytest.MonkeyPatch) -> None:
    """Take what a cell counts from whichever test has simulated it, in whichever process."""
    patch.setattr(memory, "Weeks", SharedWeeks)


def _draw_on_no_terminal(patch: pytest.MonkeyPatch) -> None:
    """Leave out what is sent to a terminal that is not there.

    What a screen says is read from its widgets when a test asks for it.
    """
    draw, set_variables = TextualScreen._compositor_refresh, Stylesheet.set_variables

    def forget(self: TextualScreen[Any]) -> None:
        if self is not self.app.screen:
            draw(self)
            return
        self._compositor._dirty_regions.clear()
        self._dirty_widgets.clear()
        self.app._update_mouse_over(self)

    def share(self: Stylesheet, variables: dict[str, str]) -> None:
        self._parse_cache = LRUCache(1)  # it empties the one that it has, which others share
        set_variables(self, variables)
        self._parse_cache = _parsed.setdefault(frozenset(variables.items()), LRUCache(256))

    patch.setattr(TextualScreen, "_compositor_refresh", forget)
    patch.setattr(Stylesheet, "set_variables", share)


def _wait_for_no_idle_processor(patch: pytest.MonkeyPatch) -> None:
    async def a_few_turns(min_sleep: float = 0.0, max_sleep: float = 1.0) -> None:
        for _ in range(_TURNS):
            await asyncio.sleep(0)

    for module in ("textual.app", "textual.pilot"):
        patch.setattr(f"{module}.wait_for_idle", a_few_turns)
