"""The class of a view, loaded when the view is opened first.

That takes several frames of the screen, so it is done in a thread of its own: the event loop goes
on between one module and the next, and within them.
"""

from __future__ import annotations

import asyncio
import sys
from importlib import import_module
from typing import TYPE_CHECKING, cast

from whatif.records import compile_records
from whatif.screens.views.all import BY_NAME

if TYPE_CHECKING:
    from whatif.screens.views.view import View


def view_class(name: str) -> type[View]:
    """What makes the view of this name."""
    made_by = BY_NAME[name].made_by.partition(":")[2]
    return cast("type[View]", getattr(import_module(_module(name)), made_by))


async def load_view(name: str) -> None:
    """Have the view of this name at hand."""
    if _module(name) not in sys.modules:
        await asyncio.to_thread(_load, name)


def _load(name: str) -> None:
    before = set(sys.modules)
    view_class(name).get_ready()
    compile_records(sys.modules.keys() - before)


def _module(name: str) -> str:
    return f"whatif.screens.views.{BY_NAME[name].made_by.partition(':')[0]}"
