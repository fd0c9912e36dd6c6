"""A title that names a count which was changed says so once, and never wrongly."""

from __future__ import annotations

from pathlib import Path

import pytest
from looks import Silent
from screen import on_screen
from small_study import PALLETS, STUDY
from study_texts import today

from whatif.study.check.check import check
from whatif.telling.titles import title_told

MORE = "machine.borer.pallets = {0}"


@pytest.mark.parametrize(
    ("title", "said"),
    [
        ("Six pallets each", "six"),
        ("With 6 pallets", "6"),
        ("Sixth pallet each", "sixth"),
        # Of something else, of more than one thing, or right as it is.
        ("Six machines", ""),
        ("Six more pallets", ""),
        ("Six pallets, two people", ""),
        ("Eight pallets each", ""),
        ("Pool", ""),
        ("Pallets: six", ""),
        ("6", ""),
    ],
)
def test_a_title_that_says_another_count_is_told(title: str, said: str) -> None:
    here = check(today("machine.mill.pallets = 8")).resolved["today"]
    told = f"the title still says {said}: e renames it" if said else ""
    assert title_told(title, here, PALLETS, 6) == told
    assert title_told(title, here, PALLETS, 8) == ""


def test_it_is_not_told_where_another_machine_has_that_count() -> None:
    for count, is_told in ((6, False), (5, True)):
        here = check(today("machine.mill.pallets = 8", MORE.format(count))).resolved["today"]
        assert bool(title_told("Six pallets each", here, PALLETS, 6)) is is_told


async def test_whoever_types_another_count_is_told_of_the_title_once(tmp_path: Path) -> None:
    study = tmp_path / "small.toml"
    study.write_text(STUDY.replace('title = "Pool"', 'title = "Four pallets each"'), "utf-8")
    async with on_screen(study, (80, 24), calculator=Silent) as screen:
        await screen.go_to("pallets each", 1)
        await screen.type("6")
        await screen.press("enter")
        assert "the title still says four: e renames it" in " ".join(screen.text.split())
        await screen.press("up")
        await screen.type("7")
        await screen.press("enter")
        assert "still says" not in screen.text
