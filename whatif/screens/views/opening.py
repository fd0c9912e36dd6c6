"""The class of a view, loaded when the view is opened first."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, cast

from whatif.screens.views.all import BY_NAME

if TYPE_CHECKING:
    from whatif.screens.views.view import View


def view_class(name: str) -> type[View]:
    """What makes the view of this name."""
    module, _, made_by = BY_NAME[name].made_by.partition(":")
    return cast("type[View]", getattr(import_module(f"whatif.screens.views.{module}"), made_by))
