"""The start screen: what can be begun and opened, by keys and by mouse."""

from __future__ import annotations

from pathlib import Path

import pytest
from looks import Silent
from screen import SCENARIOS, SMALL_FIRST, Screen, on_screen, on_start
from small_study import PALLETS, STUDY
from syrupy.assertion import SnapshotAssertion
from textual.widgets import OptionList

from whatif.command.main import main
from whatif.screens.beginning.questions import Questions
from whatif.screens.beginning.start import StartScreen
from whatif.screens.dialogs.ask import Ask, AskLine
from whatif.screens.dialogs.mend_text import MendText
from whatif.screens.dialogs.reading import ReadText
from whatif.session.kept.left import left_behind
from whatif.session.kept.state import recent, remember
from whatif.session.opened import begin_study, empty_study
from whatif.study.file.reading import read_file

every_size = pytest.mark.parametrize("size", SMALL_FIRST, ids=lambda size: f"{size[0]}x{size[1]}")


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder in which names are proposed."""
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return folder


@pytest.fixture
def state(tmp_path: Path) -> Path:
    return tmp_path / "state"


def file_in(folder: Path, name: str = "small.toml") -> Path:
    path = folder / name
    path.write_text(STUDY, "utf-8")
    return path


async def click(screen: Screen, words: str) -> None:
    """Click the line of the list that has these words in it."""
    openings = screen.app.screen.query_one(OptionList)
    lines = screen.text.splitlines()
    row = next(i for i, line in enumerate(lines) if words in line)
    await screen.pilot.click(OptionList, offset=(4, row - openings.region.y))
    await screen.settle()


@every_size
async def test_the_start_screen(
    size: tuple[int, int], snapshot: SnapshotAssertion, state: Path
) -> None:
    async with on_start(state, size, calculator=Silent) as screen:
        assert size == (200, 50) or screen.text == snapshot


@every_size
async def test_an_empty_study(size: tuple[int, int], state: Path) -> None:
    async with on_start(state, size) as screen:
        await screen.press("2")
        assert "No machines yet: n adds one" in screen.text


@every_size
async def test_the_longest_list_fits_or_scrolls(
    size: tuple[int, int], here: Path, state: Path
) -> None:
    for number in range(10):
        remember(file_in(here, f"study-{number}.toml"), state)
    async with on_start(state, size, calculator=Silent) as screen:
        assert "A few questions" in screen.text
        assert "study-9.toml" in screen.text
        await screen.press("end")
        assert "study-0.toml" in screen.text


@every_size
@pytest.mark.long
async def test_it_says_what_it_is_for_and_what_each_demo_teaches(
    size: tuple[int, int], state: Path
) -> None:
    async with on_start(state, size, calculator=Silent) as screen:
        said = " ".join(screen.text.split())
        assert "Where do the paid hours of your machines go, and what would more machines," in said
        for title, teaches in {
            "Gate hardware": "do pallets help while one person loads four mills?",
            "Winch housings": "pallets and night hours, until all wanted is made",
            "Small orders": "set-ups and first pieces: longer days, or a cell?",
        }.items():
            (line,) = (line for line in screen.text.splitlines() if title in line)
            assert line.endswith(teaches)
        # Nothing was opened yet, and nothing is said of it.
        assert "Opened lately" not in screen.text


# -- demos -------------------------------------------------------------------------------


@every_size
@pytest.mark.long
async def test_a_demo_is_opened_as_a_copy_and_saved_under_a_name(
    size: tuple[int, int], here: Path, state: Path
) -> None:
    demo = SCENARIOS / "one-person.toml"
    before = demo.read_bytes()
    async with on_start(state, size, calculator=Silent) as screen:
        await screen.press("4")
        assert "A copy of the demo study" in screen.text
        await screen.go_to("machines")
        await screen.type("3")
        await screen.press("enter", "w")
        assert "Save under which name?" in screen.text
        await screen.press("escape")
        assert screen.session.unsaved == 1
        assert list(here.iterdir()) == []
        await screen.press("w", "enter")
        assert "Saved one-person.toml" in screen.text
        assert screen.session.is_saved
        await screen.press("u", "w")
        assert "Saved one-person.toml" in screen.text
    assert demo.read_bytes() == before
    saved = read_file(here / "one-person.toml").draft
    assert saved == read_file(demo).draft
    assert recent(state) == (here / "one-person.toml",)


@pytest.mark.long
async def test_a_name_that_is_taken_is_written_over_only_by_answer(here: Path, state: Path) -> None:
    taken = file_in(here, "taken.toml")
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("4", "w", "ctrl+u")
        await screen.type("taken.toml")
        await screen.press("enter")
        assert "taken.toml is there already" in screen.text
        await screen.press("escape")
        assert taken.read_text("utf-8") == STUDY
        await screen.press("w", "ctrl+u")
        await screen.type("taken.toml")
        await screen.press("enter", "o")
        assert "Saved taken.toml" in screen.text
    assert read_file(taken).draft.head["title"] == "Gate hardware"


@pytest.mark.long
async def test_demos_by_mouse(state: Path) -> None:
    async with on_start(state, calculator=Silent) as screen:
        await click(screen, "Small orders")
        assert screen.session.draft.head["title"] == "Small orders"
        assert screen.session.needs_name


async def test_arrows_tell_what_each_demo_asks(state: Path) -> None:
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("down", "down", "down")
        assert "one person tends alone" in screen.text
        await screen.press("enter")
        assert screen.session.draft.head["title"] == "Gate hardware"


# -- files -------------------------------------------------------------------------------


@pytest.mark.long
@every_size
async def test_a_file_is_opened_by_its_path_and_remembered(
    size: tuple[int, int], here: Path, state: Path
) -> None:
    path = file_in(here)
    async with on_start(state, size, calculator=Silent) as screen:
        await screen.press("3")
        await screen.type("small.toml")
        await screen.press("enter")
        assert screen.session.path == Path("small.toml")
        await screen.press("o")
        assert isinstance(screen.app.screen, StartScreen)
        assert "small.toml" in screen.text
        # What was opened last is chosen.
        await screen.press("enter")
        assert screen.session.path == path


@pytest.mark.long
async def test_a_file_that_cannot_be_read_is_told_of(here: Path, state: Path) -> None:
    (here / "bad.toml").write_text("format = ", "utf-8")
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("3")
        await screen.type("bad.toml")
        await screen.press("enter")
        # Its text is shown, to be mended.
        assert isinstance(screen.app.screen, MendText)
        await screen.press("escape")
        assert isinstance(screen.app.screen, StartScreen)
        assert "bad.toml" in screen.text
        await screen.press("3")
        await screen.type("nowhere/new.toml")
        await screen.press("enter")
        assert "no such folder" in screen.text


@pytest.mark.long
async def test_opened_lately_by_mouse(here: Path, state: Path) -> None:
    remember(file_in(here), state)
    async with on_start(state, calculator=Silent) as screen:
        await click(screen, "small.toml")
        assert screen.session.path == here / "small.toml"
        assert not screen.session.needs_name


async def test_opened_lately_tells_title_and_folder(here: Path, state: Path) -> None:
    remember(file_in(here), state)
    (here / "odd.toml").write_text('title = "Odd\n', "utf-8")
    remember(here / "odd.toml", state)
    async with on_start(state, (200, 50), calculator=Silent) as screen:
        lines = screen.text.splitlines()
        study, odd = (next(line for line in lines if name in line) for name in ("small.", "odd."))
        assert " ".join(study.split()) == f"8 Small small.toml in {here}"
        # What has no title that can be read is told by its file.
        assert " ".join(odd.split()) == f"7 odd odd.toml in {here}"


async def test_files_that_are_gone_are_counted_and_told(here: Path, state: Path) -> None:
    for name in ("one.toml", "two.toml", "three.toml"):
        remember(file_in(here, name), state)
    (here / "one.toml").unlink()
    async with on_start(state, calculator=Silent) as screen:
        assert "one.toml" not in screen.text
        assert "1 more is not there now" in screen.text
        # Gone since it was listed.
        (here / "three.toml").unlink()
        await screen.press("7")
        assert "! It is not there any more" in screen.text
        assert isinstance(screen.app.screen, StartScreen)
        await screen.press("8")
        assert screen.session.path == here / "two.toml"


# -- a path that is not there ------------------------------------------------------------


@every_size
@pytest.mark.long
async def test_a_path_that_is_not_there_is_begun_empty(
    size: tuple[int, int], here: Path, state: Path
) -> None:
    async with on_start(state, size, missing=Path("new.toml"), calculator=Silent) as screen:
        assert "new.toml is not there yet: a few questions   Esc: an empty study" in screen.text
        await screen.press("escape")
        assert "an empty study instead: machines, shifts, parts by hand" in screen.text
        await screen.press("e")
        assert not screen.session.needs_name
        assert screen.session.is_saved
        assert not (here / "new.toml").exists()
        await screen.press("w")
        assert "Saved new.toml" in screen.text
    assert read_file(here / "new.toml").draft == empty_study()


@pytest.mark.long
async def test_a_path_that_is_not_there_is_begun_with_questions(here: Path, state: Path) -> None:
    async with on_start(state, missing=Path("new.toml"), calculator=Silent) as screen:
        assert isinstance(screen.app.screen, Questions)
        await screen.press("f10", "enter")
        assert screen.session.unsaved == 1
        await screen.press("w")
        assert screen.session.is_saved
    assert read_file(here / "new.toml").draft.head["title"] == "First study"


@every_size
async def test_what_is_typed_where_a_path_is_not_there_answers_the_first_question_alone(
    size: tuple[int, int], here: Path, state: Path
) -> None:
    async with on_start(state, size, missing=Path("new.toml"), calculator=Silent) as screen:
        await screen.type("parsecs")
        assert isinstance(screen.app.screen, Questions)
        await screen.press("escape", "l")
        assert isinstance(screen.app.screen, StartScreen)
    assert list(here.iterdir()) == []


async def test_a_long_name_of_a_file_that_is_not_there_leaves_room_for_the_way_out(
    here: Path, state: Path
) -> None:
    path = Path(f"{'long-' * 12}name.toml")
    async with on_start(state, (80, 24), missing=path, calculator=Silent) as screen:
        (head, *_) = screen.text.splitlines()
        assert head.endswith("… is not there yet: a few questions   Esc: an empty study")


async def test_a_path_that_is_not_there_may_be_let_be(here: Path, state: Path) -> None:
    async with on_start(state, missing=Path("new.toml"), calculator=Silent) as screen:
        await screen.press("escape")
        assert "new.toml is not there yet. Leave the questions?" in screen.text
        await screen.press("l")
        assert isinstance(screen.app.screen, StartScreen)
    assert list(here.iterdir()) == []


def test_without_a_terminal_the_errors_stay_errors(
    here: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TERM", "dumb")
    assert main(["new.toml"]) == 1
    assert "there is no such file" in capsys.readouterr().err
    assert main([]) == 1
    assert "needs a terminal" in capsys.readouterr().err


# -- going back --------------------------------------------------------------------------


@pytest.mark.long
async def test_going_back_to_the_start_asks_where_something_is_not_saved(
    here: Path, state: Path
) -> None:
    path = file_in(here)
    async with on_screen(path, state=state) as screen:
        await screen.go_to("pallets each", 1)
        await screen.type("6")
        await screen.press("enter", "o")
        assert isinstance(screen.app.screen, Ask)
        await screen.press("escape")
        assert screen.app.is_open
        await screen.press("o", "l")
        assert isinstance(screen.app.screen, StartScreen)
        assert left_behind(path, state) == []
        await screen.press("q")
    assert path.read_text("utf-8") == STUDY


@pytest.mark.long
async def test_save_and_open_another_saves_before(here: Path, state: Path) -> None:
    path = file_in(here)
    async with on_screen(path, state=state) as screen:
        await screen.go_to("pallets each", 1)
        await screen.type("6")
        await screen.press("enter", "o", "s")
        assert isinstance(screen.app.screen, StartScreen)
    assert read_file(path).draft.scenario("pool").entered[PALLETS] == 6


@pytest.mark.long
async def test_a_study_without_a_name_is_named_before_it_is_left(here: Path, state: Path) -> None:
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("1", "f10", "enter", "q")
        assert "has not been saved yet" in screen.text
        await screen.press("s", "enter")
    assert read_file(here / "study.toml").draft.head["title"] == "First study"


@pytest.mark.long
async def test_studies_opened_one_after_another_keep_apart(here: Path, state: Path) -> None:
    remember(file_in(here), state)
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("5")
        winch = screen.app.desk
        await screen.press("o", "7")
        assert screen.app.desk is not winch
        assert screen.session.draft.head.get("title") != "Winch housings"
        assert "Pool" in screen.text
        await screen.press("o", "q")


# -- what a session that was cut off left ------------------------------------------------


@pytest.mark.long
async def test_what_was_left_of_a_file_is_offered_whichever_way_it_is_opened(
    here: Path, state: Path
) -> None:
    path = file_in(here)
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("3")
        await screen.type("small.toml")
        await screen.press("enter")
        await screen.go_to("pallets each", 1)
        await screen.type("6")
        await screen.press("enter")
        cut_off(screen)
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("7")
        assert isinstance(screen.app.screen, Ask)
        await screen.press("t")
        assert screen.session.draft.scenario("pool").entered[PALLETS] == 6
        assert screen.session.path == path


@pytest.mark.long
async def test_a_name_without_an_ending_gets_that_of_a_study(here: Path, state: Path) -> None:
    async with on_screen(file_in(here), state=state) as screen:
        screen.app.desk.action_run("save_as")
        await screen.settle()
        await screen.press("ctrl+u")
        await screen.type(f"{here}/ours")
        await screen.press("enter")
        assert screen.session.path == here / "ours.toml"
    assert (here / "ours.toml").exists()


@pytest.mark.long
async def test_after_save_as_the_new_file_is_what_is_kept_safe(here: Path, state: Path) -> None:
    async with on_screen(file_in(here), state=state) as screen:
        screen.app.desk.action_run("save_as")
        await screen.settle()
        await screen.press("ctrl+u")
        await screen.type("other.toml")
        await screen.press("enter")
        await screen.go_to("pallets each", 1)
        await screen.type("6")
        await screen.press("enter")
        cut_off(screen)
    assert [one.draft.scenario("pool").entered[PALLETS] for one in
            left_behind(here / "other.toml", state)] == [6]  # fmt: skip
    assert left_behind(here / "small.toml", state) == []


@pytest.mark.long
async def test_a_new_study_that_was_cut_off_is_offered_at_the_start(state: Path) -> None:
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("1", "f10", "enter")
        made = screen.session.draft
        cut_off(screen)
    async with on_start(state, calculator=Silent) as screen:
        lines = screen.text.splitlines()
        headings = [line.strip(" ─") for line in lines if line.startswith(" ──")]
        assert headings[:2] == ["Begin", "Not saved when its session ended"]
        await screen.press("down", "down", "down", "enter")
        assert screen.session.draft == made
        assert not screen.session.is_saved
        assert screen.session.needs_name


def cut_off(screen: Screen) -> None:
    """Leave what the session has kept so far as if its process had been killed."""
    recovery = screen.app.study.recovery
    recovery.flush()
    stem, _, _ = recovery.path.name.rsplit("-", 2)
    # No process has so high a number.
    (recovery.path.parent / f"{stem}-999999999-1.unsaved.toml").write_bytes(
        recovery.path.read_bytes()
    )


# -- the rest ----------------------------------------------------------------------------


async def test_help_and_leaving(state: Path) -> None:
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("f1")
        assert isinstance(screen.app.screen, ReadText)
        await screen.press("escape", "9")
        assert isinstance(screen.app.screen, StartScreen)
        await screen.press("ctrl+q")
    assert not screen.app.is_running


@pytest.mark.long
async def test_the_palette_has_no_desk_commands_before_there_is_a_desk(state: Path) -> None:
    async with on_start(state, calculator=Silent) as screen:
        titles = {one.title for one in screen.app.get_system_commands(screen.app.screen)}
        assert "Undo" not in titles
        await screen.press("2")
        titles = {one.title for one in screen.app.get_system_commands(screen.app.screen)}
        assert {"Undo", "Open another study"} <= titles


def test_an_empty_study_is_no_loss_and_a_first_one_is(tmp_path: Path) -> None:
    empty = begin_study(empty_study(), None, tmp_path)
    full = begin_study(empty_study(), None, tmp_path, is_work=True)
    for one in (empty, full):
        one.recovery.close()
    assert empty.session.is_saved
    assert full.session.is_unwritten
    assert not full.session.is_saved


async def test_a_name_that_cannot_be_saved_under_stays_to_be_mended(
    here: Path, state: Path
) -> None:
    async with on_screen(file_in(here), state=state, calculator=Silent) as screen:
        screen.app.desk.action_run("save_as")
        await screen.settle()
        await screen.press("ctrl+u")
        await screen.type("nowhere/other.toml")
        await screen.press("enter")
        assert isinstance(screen.app.screen, AskLine)
        assert "! " in screen.text
        # All of it is marked: what is typed next is another name, and no command of the desk.
        await screen.type("oh")
        await screen.press("enter")
        assert screen.app.screen is screen.app.desk
        assert screen.session.path.name == "oh.toml"
    assert (here / "oh.toml").exists()


async def test_the_study_that_was_left_is_the_first_of_those_opened_lately(
    here: Path, state: Path
) -> None:
    async with on_screen(file_in(here), state=state, calculator=Silent) as screen:
        path = screen.session.path
        await screen.press("o", "enter")
        assert screen.app.is_open
        assert screen.session.path == path


async def test_leaving_asks_about_answers_that_no_study_has_been_made_of(tmp_path: Path) -> None:
    async with on_start(tmp_path / "state") as screen:
        screen.app._answers["machines"] = "2"
        await screen.press("q")
        assert "1 answer is given to the questions on your shop" in screen.text
        await screen.press("escape")
        screen.app._made_of.update(screen.app._answers)
        await screen.press("q")
        assert screen.app._exit
