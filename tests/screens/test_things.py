"""Things on the screen: added, copied, renamed, taken out, brought back, by keys and mouse."""

from __future__ import annotations

from pathlib import Path

import pytest
from lengths import first_of
from looks import Silent
from screen import Screen, on_screen
from small_study import STUDY
from textual.widgets import Input, OptionList, Static

from whatif.screens.desk.commands import COMMANDS
from whatif.screens.desk.help import KEYS
from whatif.screens.dialogs.ask import Ask, AskShortName
from whatif.screens.dialogs.lists import ChooseOne
from whatif.session.things import judge_new, judge_renamed, thing_at
from whatif.study.file.reading import read_text
from whatif.study.schema.catalogue import THINGS
from whatif.telling.edits import called

NARROW, WIDE = (80, 24), (120, 32)
COUNT = ("machine", "mill", "count")
PALLETS = ("machine", "mill", "pallets")
CYCLE = ("part", "plate", "cycle")


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return path


def ids(screen: Screen, group: str, scenario: str = "now") -> tuple[str, ...]:
    return screen.session.checked.resolved[scenario].ids(group)


def raw(screen: Screen, *path: str, scenario: str = "now") -> object:
    return screen.session.checked.resolved[scenario].raw(*path)


def asked(screen: Screen) -> str:
    """What the dialog asks."""
    return str(screen.app.screen.query(Static).first().render())


# -- adding ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("letter", "group", "id_", "first"),
    first_of(
        [
            ("m", "machine", "mill_2", "count"),
            ("s", "shift", "late", "start"),
            ("p", "part", "part_1", "cycle"),
            ("t", "stop", "stop_1", "every"),
            ("r", "rush", "rush_1", "pieces"),
            ("o", "order", "order_1", "pieces"),
        ],
        2,
    ),
)
@pytest.mark.long
async def test_every_sort_of_thing_is_added_by_its_letter(
    study: Path, letter: str, group: str, id_: str, first: str
) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.press("n", letter, "enter")
        desk = screen.app.desk
        assert id_ in ids(screen, group)
        assert desk.state.line is not None
        assert desk.state.line.path == (group, id_, first)
        assert screen.session.checked.problems == ()
        assert len(screen.session.history.done) == 1
        assert screen.session.history.done[0].says == f"new {group} {id_} in Now"
        await screen.press("u")
        assert id_ not in ids(screen, group)


@pytest.mark.long
async def test_several_shifts_can_be_told_apart(study: Path) -> None:
    """By their names, by hours in a heading that stays in sight, and by what is said of each."""
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        assert "people: day  (" not in screen.text
        await screen.press("n", "s", "enter")
        assert "New shift late, 15:00-23:00, no breaks yet" in screen.text
        assert "people: late  (15:00-23:00)" in screen.text
        await screen.press("down", "down", "down")
        assert "people: late  (15:00-23:00)" in screen.text
        await screen.press("n", "d", "enter")
        assert "Shift late_2 works the same hours as late: change its start" in screen.text


@pytest.mark.long
async def test_what_is_only_assumed_is_marked_until_it_is_entered(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.press("n", "p")
        await screen.type("cover")
        await screen.press("enter")
        assert "what is marked ~ is only assumed" in screen.text
        assert "10 min ~" in screen.text
        await screen.press("up", "down")
        assert "cycle: 10 min, assumed when it was added: measure it." in screen.text
        await screen.type("12 min")
        await screen.press("enter", "up")
        assert "12 min  " in screen.text
        assert raw(screen, "part", "cover", "cycle") == "12 min"


@pytest.mark.long
async def test_the_menu_stands_where_the_cursor_is(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.put_on(CYCLE)
        await screen.press("n")
        menu = screen.app.screen
        assert isinstance(menu, ChooseOne)
        assert menu.query_one(OptionList).highlighted == list(THINGS).index("part")
        assert "duplicate part plate" in screen.text
        assert "restore" not in screen.text
        await screen.press("enter", "enter")
        assert ids(screen, "part") == ("plate", "part_1")


async def test_a_thing_goes_to_the_chosen_scenario_and_those_below(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.put_on(COUNT, 1)
        await screen.press("n", "m", "enter")
        assert ids(screen, "machine", "now") == ("mill",)
        assert ids(screen, "machine", "pool") == ("mill", "mill_2")
        assert screen.app.desk.state.chosen == "pool"


@pytest.mark.long
async def test_a_bad_name_is_told_and_a_taken_one_is_turned(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.press("n", "m")
        field = screen.app.screen.query_one(Input)
        await screen.type("?")
        assert "has no letter" in screen.text
        await screen.press("enter")
        assert isinstance(screen.app.screen, AskShortName)
        field.value = ""
        await screen.press("enter")
        assert "Type a short name for the machine" in screen.text
        await screen.type("mill")
        assert "There is a machine mill already" in screen.text
        await screen.press("enter")
        assert "There is a machine mill already. Enter takes mill_2." in screen.text
        assert field.value == "mill_2"
        field.value = ""
        await screen.type("Big mill")
        assert "Its name will be big_mill." in screen.text
        await screen.press("enter")
        assert ids(screen, "machine") == ("mill", "big_mill")


@pytest.mark.long
async def test_escape_adds_nothing(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.press("n", "escape", "n", "p", "escape")
        assert screen.session.is_saved
        assert screen.app.screen is screen.app.desk


async def test_an_order_without_a_part_says_what_to_do(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.put_on(COUNT, 2)
        await screen.press("n", "o")
        assert "An order asks for a part, and there is none yet" in screen.text
        assert screen.session.is_saved


@pytest.mark.long
async def test_an_empty_study_is_filled_with_the_menu_alone(tmp_path: Path) -> None:
    path = tmp_path / "empty.toml"
    path.write_text("format = 1\n\n[scenario.today]\n", "utf-8")
    async with on_screen(path, NARROW) as screen:
        for letter in "msp":
            await screen.press("n", letter, "enter")
        answer = screen.app.desk.controllers.calculation.current()["today"]
        assert answer.figures is not None
        assert answer.figures.pieces["part_1"] > 0


async def test_without_a_scenario_there_is_nothing_to_add_to(tmp_path: Path) -> None:
    path = tmp_path / "none.toml"
    path.write_text("format = 1\n", "utf-8")
    async with on_screen(path, NARROW, calculator=Silent) as screen:
        await screen.press("escape", "n")
        assert "There is no scenario to add to yet: press a" in screen.text


# -- the thing under the cursor --------------------------------------------------------------


@pytest.mark.long
async def test_a_copy_is_made_beside_the_first(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.put_on(PALLETS, 1)
        await screen.press("n", "d", "enter")
        assert raw(screen, "machine", "mill_2", "pallets", scenario="pool") == 4
        assert raw(screen, "machine", "mill_2", "count", scenario="pool") == 2
        assert screen.app.desk.state.spot.path == ("machine", "mill_2", "pallets")
        assert screen.session.history.done[-1].says == "machine mill_2, a copy of mill, in Pool"


@pytest.mark.long
async def test_a_name_changes_in_the_whole_study(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.put_on(PALLETS)
        await screen.press("n", "n")
        await screen.type("lathe")
        await screen.press("enter")
        assert ids(screen, "machine", "now") == ("lathe",)
        assert ids(screen, "machine", "pool") == ("lathe",)
        assert screen.app.desk.state.spot.path == ("machine", "lathe", "pallets")
        await screen.press("u")
        assert ids(screen, "machine", "pool") == ("mill",)


@pytest.mark.long
async def test_enter_does_what_is_marked_and_that_is_the_way_back(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.put_on(("machine", "mill"))

        def marked() -> list[str]:
            return [str(each.render()).strip() for each in screen.app.screen.query(".answer.here")]

        await screen.press("n", "x")
        assert marked() == ["Esc  go back"]
        await screen.press("enter")
        assert not isinstance(screen.app.screen, Ask)
        assert screen.session.is_saved
        await screen.press("n", "x", "up")
        assert marked() == ["y  yes, remove it"]
        await screen.press("enter")
        assert ids(screen, "machine") == ()


@pytest.mark.long
async def test_an_own_thing_goes_after_asking(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.put_on(("machine", "mill"))
        await screen.press("n", "x")
        assert isinstance(screen.app.screen, Ask)
        assert asked(screen) == (
            "Remove machine mill from Now? It begins here, and goes with 1 value. So does what "
            "is entered for it in: Pool. u undoes it."
        )
        await screen.press("escape")
        assert screen.session.is_saved
        await screen.press("n", "x", "y")
        assert ids(screen, "machine", "now") == ids(screen, "machine", "pool") == ()
        await screen.press("u")
        assert raw(screen, "machine", "mill", "pallets", scenario="pool") == 4


@pytest.mark.long
async def test_an_inherited_thing_is_taken_out_by_a_0_and_brought_back(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.put_on(("part", "plate", "weekly"), 1)
        await screen.press("n", "x")
        assert asked(screen) == (
            'Remove part plate from Pool? It is inherited, so "weekly demand" becomes 0 here. '
            "u undoes it."
        )
        await screen.press("y")
        assert raw(screen, "part", "plate", "weekly", scenario="pool") == 0
        assert raw(screen, "part", "plate", "weekly") == 300
        await screen.press("n")
        assert "restore part plate" in screen.text
        assert "remove part" not in screen.text
        await screen.press("b")
        assert raw(screen, "part", "plate", "weekly", scenario="pool") == 300
        assert screen.session.history.done[-1].says == "part plate back in Pool (weekly 300)"


async def test_what_cannot_go_says_why(tmp_path: Path) -> None:
    path = tmp_path / "asked.toml"
    asked = '[scenario.now.order.big]\npart = "plate"\npieces = 5\ndue = "fri 12:00"\n'
    path.write_text(STUDY + asked, "utf-8")
    async with on_screen(path, NARROW, calculator=Silent) as screen:
        await screen.put_on(CYCLE)
        await screen.press("n", "x")
        assert screen.app.screen is screen.app.desk
        assert "order.big in Now asks for plate" in screen.text
        assert "remove it or" in screen.text


async def test_where_a_scenario_has_no_such_thing_only_its_name_is_offered(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.put_on(CYCLE, 2)
        await screen.press("n")
        assert "rename part plate" in screen.text
        assert "duplicate part plate" not in screen.text
        await screen.press("escape")
        screen.app.desk.action_run("duplicate_thing")
        screen.app.desk.action_run("bring_thing_back")
        await screen.settle()
        assert "Another shop: part plate is not removed." in screen.text


async def test_off_things_the_palette_says_where_to_go(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.press("home")
        screen.app.desk.action_run("rename_thing")
        await screen.settle()
        assert "Go to a machine, shift, part, stop or order first" in screen.text


# -- mouse, palette, help --------------------------------------------------------------------


@pytest.mark.long
async def test_by_mouse_on_a_wider_screen(study: Path) -> None:
    async with on_screen(study, WIDE, calculator=Silent) as screen:
        await screen.press("n")
        await screen.pilot.click(OptionList, offset=(6, 2))
        await screen.settle()
        assert isinstance(screen.app.screen, AskShortName)
        await screen.press("enter")
        assert ids(screen, "part") == ("plate", "part_1")
        await screen.press("n")
        await screen.pilot.click(OptionList, offset=(6, 10))
        await screen.settle()
        assert "Remove part part_1 from Now?" in asked(screen)
        await screen.pilot.click(".answer")
        await screen.settle()
        assert ids(screen, "part") == ("plate",)


@pytest.mark.long
async def test_an_open_edit_is_kept_before_anything_is_added(study: Path) -> None:
    async with on_screen(study, NARROW, calculator=Silent) as screen:
        await screen.put_on(COUNT)
        await screen.type("3")
        screen.app.desk.action_run("things")
        await screen.settle()
        await screen.press("m", "enter")
        assert raw(screen, *COUNT) == 3
        assert len(screen.session.history.done) == 2


def test_palette_and_help_tell_of_it() -> None:
    names = {command.name for command in COMMANDS}
    assert {f"add_{group}" for group in THINGS} <= names
    assert {"things", "duplicate_thing", "rename_thing", "take_thing_out"} <= names
    assert "\nn          machines, shifts, parts" in KEYS


# -- names -----------------------------------------------------------------------------------


def test_a_name_that_a_scenario_below_has_is_taken() -> None:
    draft = read_text(STUDY + "[scenario.pool.machine.lathe]\n")
    judged = judge_new(draft, "now", "machine", "lathe")
    assert (judged.id, judged.instead) == ("", "lathe_2")
    assert judge_new(draft, "other", "machine", "lathe").id == "lathe"
    assert judge_renamed(draft, "machine", "mill", "borer").instead == "borer_2"
    assert judge_renamed(draft, "machine", "mill", "mill").id == "mill"


def test_rows_know_what_they_are_about() -> None:
    assert thing_at(("machine", "mill")) == ("machine", "mill")
    assert thing_at(("hours",)) is None
    assert thing_at(()) is None
    assert called("rush", "call") == "rush order call"
