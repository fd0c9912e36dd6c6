"""Makes the pictures of this folder from the demo studies: .venv/bin/python screenshots/make.py"""

from __future__ import annotations

import asyncio
import re
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE.parent / "tests"), str(HERE.parent / "tests" / "support")]

from screen import SCENARIOS, AWhile, Settling, on_screen, on_start  # noqa: E402 - after the path is set

PALLETS, PERSON, ORDERS = "pallets-until-demand", "one-person", "small-orders"
WIDE, NARROW = (120, 32), (80, 24)
SIX = ("right",) * 4

PICTURES: dict[str, tuple[str, tuple[int, int], Sequence[str]]] = {
    "pallets-until-demand": (PALLETS, WIDE, ()),
    "summary": (ORDERS, WIDE, ("right", "f2")),
    "start": ("", WIDE, ()),
    "questions": ("", WIDE, ("1",)),
    "typing": (PERSON, NARROW, ("right", "down", "down", "down", "down", "3")),
    "hours": (PALLETS, WIDE, (*SIX, "f5")),
    "week": (PALLETS, WIDE, (*SIX, "f7")),
    "fit": (PALLETS, WIDE, (*SIX, "view fit")),
    "night": (PALLETS, WIDE, (*SIX, "f8")),
    "moves": (PALLETS, WIDE, (*SIX, "f9", "c")),
    "money": (PALLETS, WIDE, (*SIX, "view money", "y")),
    "orders": (ORDERS, WIDE, ("right", "right", "view orders")),
    "meters": (PERSON, WIDE, ("right", "view meters")),
    "account": (PALLETS, WIDE, (*SIX, "f4")),
    "meeting": (PALLETS, WIDE, (*SIX, "view meeting")),
}
"""Per picture the demo ("" for the start), the size in cells, and what is done before it is taken:
keys pressed, or a view opened by name."""


class LongEnough(Settling, AWhile):
    """Works out every curve whole, and of a ranking, which no picture shows, the beginning."""

    items = 16


async def picture(name: str) -> str:
    """One picture as SVG; fonts are left to whoever shows it, so that nothing is fetched."""
    demo, size, keys = PICTURES[name]
    calculator = LongEnough if name == "moves" else Settling
    with tempfile.TemporaryDirectory() as folder:
        state = Path(folder)
        shown = (
            on_screen(SCENARIOS / f"{demo}.toml", size, state=state, calculator=calculator)
            if demo
            else on_start(state, size)
        )
        async with shown as screen:
            for key in keys:
                if key.startswith("view "):
                    screen.app.desk.controllers.views.open(key.removeprefix("view "))
                    await screen.settle()
                else:
                    await screen.press(key)
            drawn = screen.app.export_screenshot()
    return bare(drawn) + "\n"


def bare(drawn: str) -> str:
    """A picture of the screen alone: without a window around it, and nothing to be fetched."""
    for left_out in (
        r"@font-face \{.*?\}\s*",
        r"<!--.*?-->\s*",
        r"\.terminal-\d+-title \{.*?\}\s*",
        r'<g transform="translate\(26,22\)">.*?</g>\s*',
        r'<text class="[^"]*-title".*?</text>\s*',
    ):
        drawn = re.sub(left_out, "", drawn, flags=re.DOTALL)
    inside = re.search(r'<rect x="0" y="0" width="([\d.]+)" height="([\d.]+)" />', drawn)
    assert inside is not None, "the screen's own size"
    width, height = inside.groups()
    drawn = re.sub(r'viewBox="[^"]*"', f'viewBox="0 0 {width} {height}"', drawn, count=1)
    window = f'<rect fill="#121212" width="{width}" height="{height}"/>'
    drawn = re.sub(r'<rect [^>]*rx="8"/>', window, drawn, count=1)
    drawn = drawn.replace('<g transform="translate(9, 41)"', "<g", 1)
    return drawn.replace("Fira Code", "DejaVu Sans Mono")


def main() -> None:
    """Make all pictures."""
    for name in PICTURES:
        (HERE / f"{name}.svg").write_text(asyncio.run(picture(name)), "utf-8")
        print(f"screenshots/{name}.svg")


if __name__ == "__main__":
    main()
