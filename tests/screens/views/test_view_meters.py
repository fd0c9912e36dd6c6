"""The view of the hour meters: how the gap is read is chosen from a list, and stays in sight."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from answer_studies import sound
from looks import ONE, Looking
from meter_studies import study
from reading_documents import TABLE
from screen import SMALL_FIRST, AWhile, Screen, on_screen

from whatif.answers.compare import compare
from whatif.answers.meters.metered import Metered, metered
from whatif.screens.dialogs.lists import ChooseOne
from whatif.screens.views.pane import ViewPane
from whatif.screens.widgets.editor import Editor
from whatif.session.calculate.memory import Memory
from whatif.telling.clock import duration_text

GAP = ("hour_meters", "gap")


def found(gap: str, in_cut: int = 500) -> Metered:
    memory = Memory()
    return metered(compare(sound(study(in_cut, gap)), memory), memory)[0]


@pytest.mark.long
def test_what_a_gap_is_laid_to_changes_nothing_of_what_is_known_of_it() -> None:
    shown, people, machine = (found(gap) for gap in ("show", "people", "machine"))
    assert shown.gap is not None
    assert shown.gap > 20
    for one in (people, machine):
        assert (one.held, one.gap, one.reads) == (shown.held, shown.gap, shown.reads)
        assert one.left_open == shown.left_open
    by_kind = {read.kind: read.seconds for read in shown.reads}
    assert shown.assumed == 0
    assert people.assumed == by_kind["people"]
    assert machine.assumed == by_kind["machine"]


async def opened(screen: Screen) -> Screen:
    return await screen.open_view("meters")


def words(screen: Screen) -> str:
    return " ".join(screen.text.split())


@pytest.mark.long
@pytest.mark.parametrize("size", SMALL_FIRST, ids=lambda size: f"{size[0]}x{size[1]}")
async def test_g_chooses_how_the_gap_is_read(size: tuple[int, int], tmp_path: Path) -> None:
    path = tmp_path / "study.toml"
    path.write_text(study())
    async with on_screen(path, size, state=tmp_path / "state") as screen:
        await opened(screen)
        assert "The study shows it and lays it to neither." in words(screen)
        rows = [
            line
            for line in screen.text.splitlines()
            if re.search("left open|people away|machines tied up", line)
        ]
        assert len(rows) == 5
        await screen.press("g")
        assert isinstance(screen.app.screen, ChooseOne)
        assert not screen.app.desk.query_one(Editor).is_open
        assert "people were away" in screen.text
        await screen.press("down", "enter")
        assert screen.session.draft.scenario("now").entered[GAP] == "people"
        assert isinstance(screen.app.focused, ViewPane)
        said = words(screen)
        assert "a visit that nobody entered are now assumed to be the people's: they" in said
        assert "what to go and measure" in said
        assert "no gap to explain" not in said
        for line in rows:
            assert line in screen.text
        await screen.press("g", "down", "enter")
        assert screen.session.draft.scenario("now").entered[GAP] == "machine"
        assert "a load that nobody entered are now assumed to be the machine's" in words(screen)


async def test_where_the_model_finds_no_more_there_is_no_gap(tmp_path: Path) -> None:
    path = tmp_path / "study.toml"
    path.write_text(study(900, "people"))
    async with on_screen(path, state=tmp_path / "state") as screen:
        await opened(screen)
        assert "there is no gap to explain" in words(screen)


@pytest.mark.parametrize("size", [(80, 24), (120, 32), (200, 50)], ids=str)
def test_measured_and_modelled_stand_in_one_grid_with_their_units(size: tuple[int, int]) -> None:
    looking = Looking(ONE, "meters", size, column=0)
    lines = looking.text.splitlines()
    head, hours, on, share = lines[:4]
    assert re.search(r"meters +model +model finds more$", head)
    assert re.search(r"switched on +[\d.]+ % +[\d.]+ % +[+-][\d.]+ points$", share)
    for line in (hours, on):
        assert re.search(r"a week +[\d.]+ h +[\d.]+ h +[+-][\d.]+ h$", line)
    assert len(head) == len(share) == len(hours) == len(on)
    assert not any("…" in line for line in lines)


@pytest.mark.long
def test_how_far_it_is_is_shown_while_it_is_worked_out(tmp_path: Path) -> None:
    path = tmp_path / "study.toml"
    path.write_text(study())
    words = Looking(path, "meters", column=0, calculator=AWhile).words
    assert re.search(r"Being worked out: \d+ of \d\d+.* s stops it\.", words)


def test_what_concludes_the_view_is_seen_without_scrolling() -> None:
    """Of a gap it is told how large it is, and not what else was tried on the way."""
    looking = Looking(ONE, "meters", (80, 24), column=0)
    assert looking.text.rstrip().endswith("a gain's likely range covers both.")
    assert len(looking.rows) <= looking.height
    assert "too little" not in looking.text


def test_long_times_are_told_in_minutes() -> None:
    """22 min 27 s are 1347 s."""
    assert duration_text(1347) == "22 min 27 s"
    assert not re.search(r"\d{3} s\b", Looking(ONE, "meters", column=0).text)


@pytest.mark.long
async def test_readings_are_read_entered_and_held_against_what_was_foretold(
    tmp_path: Path,
) -> None:
    path, table = tmp_path / "study.toml", tmp_path / "meters.csv"
    path.write_text(study())
    table.write_text(TABLE, "utf-8")
    async with on_screen(path, (80, 24), state=tmp_path / "state") as screen:
        await opened(screen)
        await screen.press("f", *str(table), "enter")
        assert "260.0 h switched on, 130.0 h of them in cut" in words(screen)
        await screen.press("e")
        entered = screen.session.draft.scenario("now").entered
        assert entered["hour_meters", "switched_on"] == "260.0 h"
        await screen.press("u")
        assert screen.session.draft.scenario("now").entered != entered
        await screen.press("d", *"2025-03-01", "enter")
        assert "done on 2025-03-01, and afterwards" in words(screen)
        assert "The largest difference" in words(screen)
        first, _, last = TABLE.rstrip().rpartition("\n")
        head, rows = TABLE.split("\n")[0], (tmp_path / "first.csv", tmp_path / "last.csv")
        rows[0].write_text(first, "utf-8")
        rows[1].write_text(f"{head}\n{last}", "utf-8")
        await screen.press("f", "ctrl+u", *"; ".join(map(str, rows)), "enter")
        assert "Readings of first.csv and last.csv" in words(screen)
        assert "260.0 h switched on, 130.0 h of them in cut" in words(screen)
        await screen.press("f", "ctrl+u", *str(tmp_path / "none.xml"), "enter")
        assert "there is no such file" in words(screen)
        await screen.press("b")
        assert "model finds more" in words(screen)
