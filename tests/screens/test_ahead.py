"""What the next keys may need is loaded ahead, while nobody presses one."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from importlib import import_module

import pytest

from whatif.screens import ahead
from whatif.screens.ahead import Ahead, modules


class Keys:
    """A program whose keys rest, or do not."""

    rested = 0.0


def test_commands_and_dialogs_are_among_what_is_loaded_and_no_view_is() -> None:
    found = list(modules())
    assert {"whatif.screens.dialogs.forms", "whatif.screens.desk.entering"} <= {*found}
    assert not [name for name in found if name.startswith("whatif.screens.views")]
    for name in found:
        import_module(name)


def test_what_is_seldom_needed_and_large_is_left_to_the_key_that_asks() -> None:
    """Each would hold a third of a megabyte in every session."""
    script = """
import sys
from importlib import import_module
from whatif.screens.ahead import modules
for name in modules():
    import_module(name)
print({"whatif.study.table", "textual.widgets._text_area"} & {*sys.modules} or "neither")
"""
    said = subprocess.run((sys.executable, "-c", script), capture_output=True, text=True)
    assert said.stdout == "neither\n"


def test_nothing_is_loaded_while_keys_come(monkeypatch: pytest.MonkeyPatch) -> None:
    loaded: list[str] = []
    looks: list[float] = []
    keys = Keys()

    def wait(seconds: float) -> None:
        looks.append(seconds)
        if len(looks) == 5:
            assert not loaded
            keys.rested = 10.0

    monkeypatch.setattr(ahead, "sleep", wait)
    monkeypatch.setattr(ahead, "import_module", loaded.append)
    for name in modules():
        monkeypatch.delitem(sys.modules, name, raising=False)
    load: Callable[[], None] = Ahead(keys)._load  # type: ignore[arg-type] # all that it asks
    load()
    assert loaded == list(modules())
