"""Ten minutes before a projector: what it comes to, then a page a scenario."""

from __future__ import annotations

from pathlib import Path

import pytest
from screen import on_start
from typing_extensions import override
from walking import Gains, Walk, likely_gain

from whatif.answers.answer import Comparison
from whatif.answers.meters.gap_read import with_gain_ranges
from whatif.session.opened import demos
from whatif.study.draft import Draft

SIZES = ((120, 32), (200, 50))
PAGES = (
    "Moved, second pallet",
    "Moved, no bench work",
    "Helper, half a shift",
    "Errands taken off",
    "Mills moved together",
    "Two pieces a load",
    "Four each, all night",
    "Second pallet each",
)

SECOND = "Second pallet each"

BY_DAY = "attended machine hours a week "
AT_NIGHT = "The people who load "
"""Where what holds it back is looked for first."""

LITTLE = "likely -0.5 to"
"""What the second pallet brings alone."""


class Metered(Gains):
    """Answers what hour meters leave each gain too: no verdict is given before."""

    @override
    def _compare(self, draft: Draft) -> Comparison | None:
        found = super()._compare(draft)
        return None if found is None else with_gain_ranges(found, self.memory)


@pytest.mark.long
@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
async def test_a_meeting(size: tuple[int, int], tmp_path: Path) -> None:
    assert any(demo.title == "Gate hardware" for demo in demos())
    async with on_start(tmp_path / "state", size, calculator=Metered) as screen:
        walk = Walk(screen)
        walk.sees_in("Gate hardware", " 4 ")
        await walk.keys("4")
        walk.sees("reference")

        # The meeting is found in the list of views, and opens on what all of it comes to.
        await walk.opens("The meeting")
        # By output the one reads 18 to 54 and the other 54 to 77; in no draw are they as good.
        walk.sees("Brings most of these: Moved, second pallet", "most output first")
        walk.sees("in the same draws Moved, no bench work brings")
        walk.sees("Space next page", "Esc back")
        walk.remembers()
        verdict = walk.lines[3]

        # One key from page to page, in the order of the verdict; what stands today is the last.
        for title in PAGES:
            await walk.keys("space")
            walk.sees(f"{title}   against Today: four tables")
            if size[0] == 80:
                # Where there is room, names are as large as figures are, and no text any more.
                walk.sees("saleable output")
            three_sentences(walk, AT_NIGHT if title.endswith("night") else BY_DAY)
            walk.fits()
        await walk.keys("space")
        walk.sees("Today: four tables   the reference")
        three_sentences(walk)
        await walk.keys("space")
        walk.sees(f"{PAGES[0]}   against", "Esc verdict")
        await walk.keys("escape")
        assert walk.lines[3] == verdict

        # Somebody asks: and with a second person? The sheet is two keys away.
        for _ in range(PAGES.index(SECOND) + 1):
            await walk.keys("space")
        walk.sees(f"{SECOND}   against", LITTLE)
        before = walk.lines[:-3]
        await walk.keys("escape", "escape")
        await walk.finds("people")
        await walk.types("2")
        await walk.keys("enter")
        walk.sees("People 1 -> 2 in Second pallet each", "u undoes it")
        assert likely_gain(walk.told("saleable output"))[0] > 20

        # Back in the meeting the page has followed; what is undone there goes from it too.
        await walk.opens("The meeting")
        await walk.keys("enter")
        walk.sees("Second pallet each   against", "People are paid for 85.0 h a week, 42.5 more")
        walk.sees_no(LITTLE)
        walk.fits()
        await walk.keys("escape", "escape")
        walk.sees("1 change not saved")
        await walk.opens("The meeting")
        await walk.keys("enter")
        await screen.press("u")
        walk.sees("Undone: people 1 -> 2", LITTLE)
        await walk.keys("enter", "enter")
        # The notice of what was undone goes with the next key; all above it is as it was.
        assert walk.lines[:-3] == before


def three_sentences(walk: Walk, held: str = BY_DAY) -> None:
    """What it brings, what holds it back, what it takes."""
    walk.sees("The spindles cut ", held, "People are paid for ")
