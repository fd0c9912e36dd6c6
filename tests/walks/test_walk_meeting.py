"""Ten minutes before a projector: a page a scenario, one key from one to the next."""

from __future__ import annotations

from pathlib import Path

import pytest
from screen import on_start
from walking import Gains, Walk, likely_gain

from whatif.session.opened import demos

SIZES = ((120, 32), (200, 50))
PAGES = (
    "SECOND PALLET EACH",
    "FOUR EACH, ALL NIGHT",
    "MILLS MOVED TOGETHER",
    "MOVED, NO BENCH WORK",
    "MOVED, SECOND PALLET",
    "ERRANDS TAKEN OFF",
    "TWO PIECES A LOAD",
    "HELPER, HALF A SHIFT",
)

BY_DAY = "attended machine hours a week the spindles are in cycle "
AT_NIGHT = "The people who load "
"""Where what holds it back is looked for first."""

LITTLE = "saleable output against Today: four tables, likely -0."
"""What the second pallet brings alone."""


@pytest.mark.long
@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
async def test_a_meeting(size: tuple[int, int], tmp_path: Path) -> None:
    assert any(demo.title == "Gate hardware" for demo in demos())
    async with on_start(tmp_path / "state", size, calculator=Gains) as screen:
        walk = Walk(screen)
        walk.sees_in("Gate hardware", " 4 ")
        await walk.keys("4")
        walk.sees("reference")

        # The meeting is found in the list of views, and says itself how it is gone through.
        await walk.opens("The meeting")
        walk.sees("TODAY: FOUR TABLES", "spindle hours a week: the reference")
        walk.sees("left right the scenario before", "Space the next one", "Esc goes back")
        walk.remembers()
        three_sentences(walk)

        # One key from page to page, and round to the first again.
        for title in PAGES:
            await walk.keys("space")
            assert walk.lines[2].strip() == title
            walk.sees("saleable output against Today: four tables")
            walk.chooses(title.capitalize()[:5])
            three_sentences(walk, AT_NIGHT if title.endswith("NIGHT") else BY_DAY)
            walk.fits()
        await walk.keys("space")
        walk.sees("TODAY: FOUR TABLES")

        # Somebody asks: and with a second person? The sheet is one key away.
        await walk.keys("right")
        walk.sees("SECOND PALLET EACH", LITTLE)
        before = walk.text
        await walk.keys("escape")
        await walk.finds("people")
        await walk.types("2")
        await walk.keys("enter")
        walk.sees("People 1 -> 2 in Second pallet each.", "u undoes it")
        assert likely_gain(walk.told("saleable output"))[0] > 20

        # Back in the meeting the page has followed; what is undone there goes from it too.
        await walk.opens("The meeting")
        walk.sees("SECOND PALLET EACH", "People are paid for 85.0 h a week, 42.5 more")
        walk.sees_no(LITTLE)
        walk.fits()
        await walk.keys("escape")
        walk.sees("*1 unsaved")
        await walk.opens("The meeting")
        await screen.press("u")
        walk.sees("Undone: people 1 -> 2", LITTLE)
        await walk.keys("right", "left")
        assert walk.text == before


def three_sentences(walk: Walk, held: str = BY_DAY) -> None:
    """What it brings, what holds it back, what it takes."""
    walk.sees("The spindles cut ", held, "People are paid for ")
