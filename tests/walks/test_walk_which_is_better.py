"""Six pallets or nine, and why: a demo, with the mouse alone."""

from __future__ import annotations

from pathlib import Path

from screen import on_start
from walking import Gains, Walk


async def test_which_is_better_and_why(tmp_path: Path) -> None:
    async with on_start(tmp_path / "state", (120, 32), calculator=Gains) as screen:
        walk = Walk(screen)
        await walk.clicks("Winch housings")

        # The tree beside the sheet tells every gain: six and nine pallets bring the same.
        walk.sees("scenarios", "against: Today: two tables")
        await walk.clicks("+- Six")
        walk.sees(">Six pallets each<")
        assert walk.told("saleable output") == "+94.0 %"
        nobody_buys = float(walk.told("of both nobody buys"))
        await walk.clicks("+- N")
        walk.sees(">Nine pallets each<")
        assert walk.told("saleable output") == "+94.0 %"
        assert float(walk.told("of both nobody buys")) > 4 * nobody_buys

        # Where the hours go: nine cut more.
        await view(walk, "Where the hours go")
        walk.sees("Machine hours a week: the whole week")
        walk.sees_in("█ in cycle", "165.0")
        await walk.clicks("b other hours")
        walk.sees("Machine hours a week: hours with somebody on duty")

        # The night: that is where, and it ends because all is cut.
        await view(walk, "The night")
        walk.sees("the last spindle stops at 23:44 on average")
        walk.sees("What ends it: all that is loaded is cut.")
        walk.sees("Caution. Unattended running")

        # Money: more is laid out, and a year brings less more.
        await view(walk, "Money")
        walk.sees("EUR 317 200 is laid out at once; every year brings EUR 287 336 more")
        await walk.clicks("Six pallets")
        walk.sees("EUR 278 200 is laid out at once; every year brings EUR 288 260 more")

        # What limits, and what the scenario is: in words.
        await walk.clicks("Nine pallets")
        await walk.clicks("F2 in words")
        walk.sees(
            "Nine pallets each",
            "What holds it back",
            "cut 85.8 more, until the work on the pallets runs out",
        )
        walk.sees("Beyond what is sold: the hours are there, the orders are not.")
        await walk.clicks("Esc go back")

        # Why the figure is what it is: only what somebody buys counts.
        await walk.clicks("Esc back")
        await view(walk, "Why this figure")
        walk.sees("gain in saleable output: +94.0 %", "It takes at most the pieces wanted")
        walk.sees("100 × (11960 / 6164 - 1) = 94.0 %")
        await walk.clicks("j next theme")
        walk.sees_no("gain in saleable output: +94.0 %")

        # The sentence that answers.
        await view(walk, "The meeting")
        walk.sees("NINE PALLETS EACH", "for pieces that nobody buys.")
        walk.sees("It takes EUR 317 200 and brings EUR 287 336 a year more")
        await walk.clicks("Six pallets each")
        walk.sees("SIX PALLETS EACH")
        walk.sees(
            "It takes EUR 278 200 and brings EUR 288 260 a year more: paid back in 1.0 years."
        )
        await walk.clicks("Esc back")
        walk.sees("saleable output", ">Six pallets")
        await walk.clicks("q leave")
    assert not screen.app.is_running


async def view(walk: Walk, title: str) -> None:
    """Open a view by the mouse."""
    await walk.clicks("F6 views")
    walk.sees("Which view?")
    await walk.clicks(title)
    walk.sees("Esc back")
