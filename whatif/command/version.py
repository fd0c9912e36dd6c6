"""``whatif --version``: which version it is, and whether its cell is compiled."""

from __future__ import annotations

from importlib.metadata import PackageNotFoundError
from importlib.metadata import version as installed

from whatif import cell


def version() -> str:
    """As in "whatif 0.1.0, compiled cell"."""
    try:
        name = f"whatif {installed('whatif')}"
    except PackageNotFoundError:
        name = "whatif, not installed"
    return f"{name}, {'compiled' if cell.is_compiled() else 'plain'} cell"
