"""Figures in large signs, to be read across a room; drawn for this program."""

from __future__ import annotations

_SIGNS = {
    "0": ("████", "█  █", "█  █", "█  █", "████"),
    "1": ("  █ ", " ██ ", "  █ ", "  █ ", " ███"),
    "2": ("████", "   █", "████", "█   ", "████"),
    "3": ("████", "   █", " ███", "   █", "████"),
    "4": ("█  █", "█  █", "████", "   █", "   █"),
    "5": ("████", "█   ", "████", "   █", "████"),
    "6": ("████", "█   ", "████", "█  █", "████"),
    "7": ("████", "   █", "  █ ", " █  ", " █  "),
    "8": ("████", "█  █", "████", "█  █", "████"),
    "9": ("████", "█  █", "████", "   █", "████"),
    "+": ("    ", " █  ", "███ ", " █  ", "    "),
    "-": ("    ", "    ", "███ ", "    ", "    "),
    "±": (" █  ", "███ ", " █  ", "    ", "███ "),
    "%": ("█  █", "  █ ", " ██ ", " █  ", "█  █"),
    ".": ("  ", "  ", "  ", "  ", "█ "),
    "h": ("█   ", "█   ", "████", "█  █", "█  █"),
    " ": ("  ", "  ", "  ", "  ", "  "),
}
HIGH = 5


def large(text: str, times: int = 1) -> list[str]:
    """A text of figures in rows; each sign 5 rows high, ``times`` as large in both directions.

    Raises KeyError for a sign that is no part of a figure.
    """
    rows = []
    for line in range(HIGH):
        row = " ".join(_SIGNS[sign][line] for sign in text)
        wide = "".join(cell * times for cell in row)
        rows += [wide.rstrip()] * times
    return rows
