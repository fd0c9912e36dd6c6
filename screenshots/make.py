"""Makes the pictures of this folder from the demo studies: .venv/bin/python screenshots/make.py"""

from __future__ import annotations

import asyncio
import re
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent / "tests"))

from screen import SCENARIOS, on_screen  # noqa: E402 - after the path is set

PICTURES: dict[str, tuple[str, tuple[int, int], Sequence[str]]] = {
    "pallets-until-demand": ("pallets-until-demand", (120, 32), ()),
    "typing": ("one-person", (80, 24), ("right", "down", "down", "down", "down", "3")),
    "in-words": ("small-orders", (120, 32), ("right", "f2")),
}
"""Per picture the demo, the size in cells, and the keys pressed before it is taken."""


async def picture(name: str) -> str:
    """One picture as SVG; fonts are left to whoever shows it, so that nothing is fetched."""
    demo, size, keys = PICTURES[name]
    with tempfile.TemporaryDirectory() as state:
        async with on_screen(SCENARIOS / f"{demo}.toml", size, state=Path(state)) as screen:
            await screen.press(*keys)
            drawn = screen.app.export_screenshot(title="whatif")
    drawn = re.sub(r"@font-face \{.*?\}\s*", "", drawn, flags=re.DOTALL)
    drawn = re.sub(r"<!--.*?-->\s*", "", drawn, flags=re.DOTALL)
    return drawn.replace("Fira Code", "DejaVu Sans Mono") + "\n"


def main() -> None:
    """Make all pictures."""
    for name in PICTURES:
        (HERE / f"{name}.svg").write_text(asyncio.run(picture(name)), "utf-8")
        print(f"screenshots/{name}.svg")


if __name__ == "__main__":
    main()
