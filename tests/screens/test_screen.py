"""The main screen as its users work with it: look, type, keep, go back, undo, save, leave."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from lengths import first_of
from looks import Silent
from screen import SCENARIOS, SMALL_FIRST, AtOnce, on_screen
from small_study import PALLETS, STUDY
from syrupy.assertion import SnapshotAssertion
from textual import events

from whatif.screens.desk.palette import Palette
from whatif.screens.dialogs.ask import Ask
from whatif.screens.dialogs.lists import ChooseOne
from whatif.screens.dialogs.reading import ReadText
from whatif.screens.widgets.editor import Editor
from whatif.study.edits import AddScenario
from whatif.study.file.reading import read_file

DEMOS = sorted(SCENARIOS.glob("*.toml"))


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return path


@pytest.mark.parametrize("size", SMALL_FIRST, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("demo", DEMOS, ids=lambda demo: demo.stem)
async def test_the_demos_stand_on_the_screen(
    demo: Path, size: tuple[int, int], snapshot: SnapshotAssertion, tmp_path: Path
) -> None:
    async with on_screen(demo, size, state=tmp_path) as screen:
        assert screen.text == snapshot


@pytest.mark.parametrize("size", SMALL_FIRST, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.long
async def test_an_edit_in_the_middle(
    study: Path, size: tuple[int, int], snapshot: SnapshotAssertion
) -> None:
    async with on_screen(study, size) as screen:
        await screen.go_to("pallets each", 1)
        await screen.type("12")
        assert screen.text == snapshot


@pytest.mark.parametrize("size", SMALL_FIRST, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.long
async def test_a_wrong_text(
    study: Path, size: tuple[int, int], snapshot: SnapshotAssertion
) -> None:
    async with on_screen(study, size) as screen:
        await screen.go_to("cycle")
        await screen.type("7,5 min")
        assert screen.text == snapshot


@pytest.mark.long
async def test_gains_follow_in_every_column_that_depends_on_it(study: Path) -> None:
    async with on_screen(study) as screen:
        before = screen.text
        await screen.go_to("cycle")
        await screen.type("4 min")
        during = screen.text
        assert strip(during) != strip(before)
        await screen.press("escape")
        assert strip(screen.text) == strip(before)
        assert screen.session.is_saved


def strip(text: str) -> list[str]:
    """The lines of results."""
    lines = text.splitlines()
    first = next(i for i, line in enumerate(lines) if "saleable output" in line)
    return lines[first : first + 8]


@pytest.mark.long
async def test_enter_keeps_and_undo_takes_it_back(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.go_to("pallets each", 1)
        await screen.type("6")
        await screen.press("enter")
        assert "Pallets each 4 -> 6 in Pool" in screen.text
        assert "1 change not saved" in screen.text
        await screen.press("u")
        assert "not saved" not in screen.text
        await screen.press("r")
        assert screen.session.draft.scenario("pool").entered[("machine", "mill", "pallets")] == 6


@pytest.mark.long
async def test_escape_throws_nothing_away_for_good(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.go_to("pallets each", 1)
        await screen.type("6")
        await screen.press("escape")
        assert screen.session.is_saved
        await screen.press("r")
        assert screen.session.draft.scenario("pool").entered[("machine", "mill", "pallets")] == 6


@pytest.mark.long
async def test_a_wrong_text_is_not_kept(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.go_to("cycle")
        await screen.type("7,5 min")
        await screen.press("enter")
        assert screen.app.screen.query_one(Editor).is_open
        assert "decimal point" in screen.text or "7.5 min" in screen.text
        await screen.press("escape")
        assert screen.session.is_saved
        assert not screen.app.screen.query_one(Editor).is_open


@pytest.mark.parametrize(("keys", "left"), [(["9"], "9"), (["left", "9"], "97,5 min")])
@pytest.mark.long
async def test_what_is_typed_after_a_refusal_takes_its_place(
    keys: list[str], left: str, study: Path
) -> None:
    async with on_screen(study) as screen:
        await screen.go_to("cycle")
        await screen.type("7,5 min")
        await screen.press("enter", *keys)
        assert screen.app.screen.query_one(Editor).value == left


async def test_looking_at_an_inherited_value_does_not_enter_it(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.go_to("cycle", 1)
        await screen.press("enter", "enter")
        assert screen.session.is_saved


async def test_a_value_is_given_back(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.go_to("pallets each", 1)
        await screen.press("delete")
        assert ("machine", "mill", "pallets") not in screen.session.draft.scenario("pool").entered
        await screen.press("delete")
        assert "not entered" in screen.text


@pytest.mark.long
async def test_attended_and_unattended_hours_stand_side_by_side(study: Path) -> None:
    async with on_screen(study) as screen:
        lines = screen.text.splitlines()
        row = next(i for i, line in enumerate(lines) if "   attended " in line)
        assert "unattended after" in lines[row + 1]
        await screen.go_to("attended", 1)
        await screen.type("10 h")
        await screen.press("enter")
        assert screen.session.draft.scenario("pool").entered[("shift", "day", "end")] == "17:00"
        await screen.go_to("unattended after shift", 1)
        await screen.type("3 h")
        await screen.press("enter")
        after = ("unattended", "after_shift")
        assert screen.session.draft.scenario("pool").entered[after] == "3 h"


@pytest.mark.long
async def test_scenarios_are_added_duplicated_and_removed(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.press("a")
        await screen.type("three mills")
        await screen.press("enter")
        assert screen.session.draft.scenario("three_mills").parent == "now"
        assert screen.app.desk.state.chosen == "three_mills"
        await screen.press("d", "enter")
        assert len(screen.session.draft.ids) == 5
        await screen.press("x")
        assert isinstance(screen.app.screen, Ask)
        await screen.press("n")
        assert len(screen.session.draft.ids) == 5
        await screen.press("x", "y")
        assert len(screen.session.draft.ids) == 4
        await screen.press("u", "u", "u")
        assert screen.session.is_saved


async def test_removing_names_what_goes_with_it(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.press("x")
        assert "Remove Now and what is based on it (Pool)?" in screen.text
        await screen.press("escape")
        assert screen.session.is_saved


@pytest.mark.long
async def test_leaving_asks_where_something_is_not_saved(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.go_to("pallets each", 1)
        await screen.type("6")
        await screen.press("enter", "q")
        assert "1 change is not saved." in screen.text
        await screen.press("escape")
        assert screen.app.is_running
        await screen.press("q", "s")
    again = read_file(study).draft
    assert again.scenario("pool").entered[("machine", "mill", "pallets")] == 6


@pytest.mark.long
async def test_help_is_there_while_typing_and_while_finding(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.go_to("pallets each", 1)
        for keys in (("6",), ("slash", "c")):
            await screen.press(*keys, "f1")
            assert isinstance(screen.app.screen, ReadText)
            await screen.press("escape", "escape")
        assert screen.app.screen is screen.app.desk


@pytest.mark.long
async def test_no_way_out_forgets_to_ask(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.go_to("pallets each", 1)
        await screen.type("6")
        await screen.press("enter", "ctrl+q")
        assert isinstance(screen.app.screen, Ask)
        await screen.press("escape")
        assert screen.app.is_running
        named = {command.title for command in screen.app.get_system_commands(screen.app.screen)}
        assert "Quit" not in named


@pytest.mark.long
async def test_the_editor_goes_along_with_its_value(study: Path) -> None:
    async with on_screen(study, (80, 24)) as screen:
        await screen.go_to("pallets each", 1)
        await screen.type("7")
        for size in ((60, 20), (120, 32), (80, 24)):
            await screen.pilot.resize_terminal(*size)
            await screen.settle()
            (line,) = [line for line in screen.text.splitlines() if "  pallets each " in line]
            assert " 7" in line


async def test_save_tells_of_comments_it_would_drop(tmp_path: Path) -> None:
    path = tmp_path / "noted.toml"
    path.write_text(STUDY.replace("count = 2", "count = 2  # counted twice"), "utf-8")
    async with on_screen(path) as screen:
        await screen.go_to("pallets each", 1)
        await screen.type("6")
        await screen.press("enter", "w")
        assert "Saved noted.toml." in screen.text
        assert "comments" in screen.text
    copies = [one for one in tmp_path.iterdir() if "comments" in one.name]
    assert len(copies) == 1
    assert "# counted twice" in copies[0].read_text("utf-8")


@pytest.mark.long
async def test_a_file_changed_meanwhile_is_not_written_over_unasked(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.go_to("pallets each", 1)
        await screen.type("6")
        await screen.press("enter")
        other = STUDY.replace("weekly = 300", "weekly = 310")
        study.write_text(other, "utf-8")
        await screen.press("w")
        assert isinstance(screen.app.screen, Ask)
        await screen.press("escape")
        assert study.read_text("utf-8") == other
        await screen.press("w", "o")
        assert read_file(study).draft == screen.session.draft


@pytest.mark.long
async def test_keys_that_come_in_a_burst_keep_their_order(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.go_to("pallets each", 1)
        keys = [("6", "6"), ("enter", None), ("down", None), ("9", "9")]
        keys += [("space", " "), ("s", "s"), ("down", None), ("2", "2"), ("escape", None)]
        for key, character in keys:
            screen.app.post_message(events.Key(key, character))
        await screen.settle()
        entered = screen.session.draft.scenario("pool").entered
        assert entered[("machine", "mill", "pallets")] == 6
        assert entered[("machine", "mill", "pallet_change")] == "9 s"
        assert ("machine", "mill", "warm_up") not in entered


@pytest.mark.long
async def test_a_file_changed_meanwhile_is_read_again_or_left_to_its_writer(
    study: Path, tmp_path: Path
) -> None:
    async with on_screen(study) as screen:
        await screen.go_to("pallets each", 1)
        await screen.type("6")
        await screen.press("enter")
        other = STUDY.replace("weekly = 300", "weekly = 310")
        study.write_text(other, "utf-8")
        await screen.press("w", "s", "end")
        await screen.press(*["backspace"] * len("small.toml"))
        await screen.type("mine")
        await screen.press("enter")
        assert study.read_text("utf-8") == other
        mine = read_file(tmp_path / "mine.toml").draft
        assert mine.scenario("pool").entered[("machine", "mill", "pallets")] == 6
        assert screen.session.is_saved
    async with on_screen(study) as screen:
        await screen.go_to("pallets each", 1)
        await screen.type("6")
        await screen.press("enter")
        study.write_text(STUDY, "utf-8")
        await screen.press("w", "r")
        assert screen.session.draft == read_file(study).draft
        assert screen.session.is_saved


@pytest.mark.long
async def test_an_answer_for_another_revision_is_never_shown(study: Path) -> None:
    async with on_screen(study) as screen:
        calculator = screen.app.study.calculator
        assert isinstance(calculator, AtOnce)
        calculator.held = []
        await screen.go_to("cycle")
        for letter in ("4", "space", "m", "i", "n"):
            await screen.pilot.press(letter)
            await screen.drawn()
        await screen.drawn()
        assert "..." in strip(screen.text)[0]
        stale, newest = calculator.held[0], calculator.held[-1]
        assert stale.revision != newest.revision
        calculator.answer(stale)
        await screen.drawn()
        assert "..." in strip(screen.text)[0]
        calculator.held = None
        calculator.answer(newest)
        await screen.settle()
        assert "..." not in strip(screen.text)[0]


@pytest.mark.long
async def test_cautions_fit_and_limits_are_read_with_f2(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.go_to("unattended after shift", 1)
        await screen.type("3 h")
        await screen.press("enter")
        assert "caution" in screen.text
        await screen.press("f2")
        assert isinstance(screen.app.screen, ReadText)
        assert "What limits it" in screen.text
        words = " ".join(screen.text.replace("│", " ").split())
        assert "Saleable output against Now: " in words.partition("What limits it")[0]
        assert "; demand all met." in words.partition("What limits it")[0]
        reading = screen.app.screen
        assert isinstance(reading, ReadText)
        drawn = reading.drawn()
        looks = {line.strip(): style for line, style in drawn}
        assert looks["What limits it"] == looks["The cautions in full"] == "bold $text-primary"
        # A line each, and in full below all else.
        plain = "\n".join(line for line, _ in drawn)
        assert plain.index("Fire, nobody there: ") < plain.index("Figures per week")
        assert plain.index("Figures per week") < plain.index("Fire with nobody there")
        await screen.press("escape")
        assert screen.app.screen is screen.app.desk


async def test_the_summary_has_a_help_of_its_own(study: Path) -> None:
    """What stands on it, and no key or row of the sheet below it; Escape goes back to it."""
    async with on_screen(study) as screen:
        await screen.press("f2")
        summary = screen.app.screen
        assert "F1 help   Esc go back" in screen.text
        await screen.press("f1")
        told = screen.app.screen
        assert isinstance(told, ReadText)
        assert told is not summary
        assert "spindle" in told.text or "reference" in told.text
        assert "Space      open or close" not in told.text
        assert "gain in saleable output" not in told.text
        await screen.press("escape")
        assert screen.app.screen is summary
        await screen.press("f2")
        assert screen.app.screen is screen.app.desk


async def test_only_what_is_said_is_called_so(tmp_path: Path) -> None:
    path = tmp_path / "said.toml"
    path.write_text(
        'format = 1\n[scenario.a]\nsaid.machines = 3\nsaid.with_people.hours = "9 h"\n'
        'said.with_people.cutting = "40 %"\n[scenario.b]\nparent = "a"\n'
        'said.with_nobody.hours = "3 h"\n',
        "utf-8",
    )
    async with on_screen(path) as screen:
        # 3 x 9 x .4 = 10.8 h a day; 3 x 3 more make 19.8: +83 %.
        assert "said +83 %" in screen.text
        assert "Only said" in screen.text


@pytest.mark.long
async def test_problems_are_listed_when_a_file_has_them(tmp_path: Path) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(STUDY.replace('"9 min"', '"9 mm"').replace("count = 2", "cuont = 2"), "utf-8")
    async with on_screen(path) as screen:
        assert isinstance(screen.app.screen, ChooseOne)
        assert "9 mm" in screen.text
        assert "cuont" in screen.text
        await screen.press("escape")
        assert "2 problems: F3" in screen.text
        await screen.go_to("cycle")
        await screen.type("8 min")
        await screen.press("enter")
        assert "1 problem: F3" in screen.text


async def test_what_a_value_means_stays_in_sight_while_it_is_edited(study: Path) -> None:
    async with on_screen(study, (80, 24)) as screen:
        await screen.go_to("load stations each", 1)
        await screen.press("enter")
        assert "Places of each machine where a pallet is loaded" in screen.text


@pytest.mark.long
async def test_what_a_dropped_line_left_is_offered(study: Path, tmp_path: Path) -> None:
    state = tmp_path / "kept"
    state.mkdir()
    async with on_screen(study, state=state) as screen:
        for pallets in "56":
            await screen.go_to("pallets each", 1)
            await screen.type(pallets)
            await screen.press("enter")
        assert screen.session.unsaved == 2
        screen.app.study.recovery.flush()
        text = screen.app.study.recovery.path.read_text("utf-8")
        stem, _, _ = screen.app.study.recovery.path.name.rsplit("-", 2)
    (state / f"{stem}-999999999-1.unsaved.toml").write_text(text, "utf-8")
    async with on_screen(study, state=state) as screen:
        assert isinstance(screen.app.screen, Ask)
        await screen.settle()
        assert "two changes of a value are one." in screen.text
        await screen.press("t")
        assert screen.session.unsaved == 1
        assert screen.session.draft.scenario("pool").entered[("machine", "mill", "pallets")] == 6
        assert not screen.session.is_saved


async def test_a_second_tree_can_be_begun(study: Path) -> None:
    async with on_screen(study) as screen:
        screen.app.desk.controllers.changes.do(AddScenario("apart", None, "Apart"), choose="apart")
        await screen.settle()
        assert screen.session.draft.scenario("apart").parent is None
        assert "Apart" in screen.text


async def test_the_mouse_chooses_and_edits(study: Path) -> None:
    async with on_screen(study) as screen:
        desk = screen.app.desk
        await screen.pilot.click("#strip", offset=(50, 1))
        await screen.settle()
        assert desk.state.chosen == "pool"
        await screen.pilot.click("#tree", offset=(4, 3))
        await screen.settle()
        assert desk.state.chosen == "other"
        await screen.pilot.click("#sheet", offset=(50, 4), times=2)
        await screen.settle()
        assert screen.app.screen.query_one(Editor).is_open


async def test_everything_keys_do_is_in_the_palette(study: Path) -> None:
    async with on_screen(study) as screen:
        named = {command.title for command in screen.app.get_system_commands(screen.app.screen)}
        assert {
            "Undo",
            "Do again",
            "Save",
            "Leave",
            "Add a scenario",
            "Summary of the scenario",
        } <= named


async def test_the_palette_finds_by_what_is_shown(study: Path) -> None:
    async with on_screen(study, (80, 24), calculator=Silent) as screen:
        palette = Palette(screen.app.screen)

        async def found(typed: str) -> list[str]:
            hits = [hit async for hit in palette.search(typed)]
            return [str(hit.match_display) for hit in sorted(hits, key=lambda hit: -hit.score)]

        assert await found("payback") == ["Money"]
        assert await found("present value") == ["Money"]
        assert "Find a row" in await found("lunch")
        # A name that fits comes before words that do.
        assert (await found("night"))[0] == "The night"
        assert await found("no such thing at all") == []


async def test_a_key_that_does_nothing_says_so(study: Path) -> None:
    async with on_screen(study, (80, 24), calculator=Silent) as screen:
        await screen.press("z")
        assert "No key here: z" in screen.text
        await screen.press("down")
        assert "No key here" not in screen.text
        await screen.press("p")
        assert "No key here" not in screen.text
        await screen.press("3")
        await screen.type("z")
        assert "No key here" not in screen.text, "it is typed"


@pytest.mark.long
async def test_a_study_written_by_hand_opens_edits_saves_and_opens_the_same(
    tmp_path: Path,
) -> None:
    path = tmp_path / "hand.toml"
    shutil.copy(DEMOS[0], path)
    async with on_screen(path) as screen:
        title = screen.session.draft.scenarios[0].title
        screen.app.desk.action_run("duplicate")
        await screen.drawn()
        await screen.press("enter", "w")
        kept = screen.session.draft
        assert kept.scenarios[-1].title == f"{title} 2"
    assert read_file(path).draft == kept
    async with on_screen(path) as screen:
        assert screen.session.draft == kept
        assert screen.session.is_saved


# -- small screens by mouse ----------------------------------------------------------------


@pytest.mark.long
async def test_a_click_on_its_last_line_ends_a_small_screen(tmp_path: Path) -> None:
    async with on_screen(SCENARIOS / "one-person.toml", state=tmp_path) as screen:
        for key in ("f1", "f2", "a", "n", "f6"):
            await screen.press(key)
            asked = screen.app.screen
            assert asked is not screen.app.desk
            (back,) = [one for one in asked.query(".answer") if "go back" in str(one.render())]
            await screen.pilot.click(back, offset=(3, 0))
            await screen.settle()
            assert screen.app.screen is screen.app.desk


@pytest.mark.long
async def test_a_bare_number_takes_the_unit_that_stands_there(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.go_to("cycle", 1)
        before = screen.session.draft
        await screen.type("8")
        assert "no unit" not in screen.text
        await screen.press("enter")
        assert "8 min in Pool." in screen.text
        assert screen.session.draft != before
        await screen.type("9 x")
        assert "unit" in screen.text
        await screen.press("escape")


@pytest.mark.long
async def test_typing_over_the_reference_tells_how_to_try_beside_it(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.go_to("cycle", 0)
        await screen.type("8")
        await screen.press("enter")
        assert "in Now, the reference; " in screen.text
        assert ".  (u undoes it; a tries beside it)" in screen.text


@pytest.mark.parametrize(
    ("columns", "lines"), first_of([(40, 10), (60, 14), (60, 18), (80, 20)], 2)
)
@pytest.mark.long
async def test_what_is_typed_is_seen_on_the_smallest_screen(
    columns: int, lines: int, study: Path
) -> None:
    async with on_screen(study, (columns, lines)) as screen:
        await screen.press("down")
        assert any(line.startswith("   unattended") for line in screen.text.splitlines())
        await screen.type("9 h")
        assert any(
            line.startswith("   unattended") and " 9 h" in line for line in screen.text.splitlines()
        )


async def test_without_figures_the_strip_says_why(tmp_path: Path) -> None:
    path = tmp_path / "wrong.toml"
    path.write_text(STUDY.replace('"9 min"', '"nine"'), "utf-8")
    async with on_screen(path) as screen:
        await screen.press("escape")
        assert "No figures before the problems of the file are put right: F3" in screen.text


@pytest.mark.long
async def test_a_click_on_a_view_leaves_the_keys_with_the_line_that_is_typed_in(
    study: Path,
) -> None:
    async with on_screen(study) as screen:
        await screen.put_on(PALLETS, 1)
        await screen.press("f5")
        screen.app.desk.controllers.views.edit_value(PALLETS)
        await screen.settle()
        await screen.press(*["backspace"] * 3, "1")
        await screen.pilot.click("#view", offset=(2, 8))
        await screen.settle()
        await screen.press("2", "enter")
        assert screen.session.draft.scenario("pool").entered[PALLETS] == 12
