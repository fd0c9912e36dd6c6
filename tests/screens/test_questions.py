"""The page of questions: answered by keys and mouse, in any order, to a study."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from first_answers import ALL
from lengths import first_of
from looks import Silent
from screen import SMALL_FIRST, AtOnce, Screen, on_start
from syrupy.assertion import SnapshotAssertion
from textual import events
from textual.widgets import Static

from whatif.screens.beginning.questions import AnswerLine, QuestionRow, Questions
from whatif.screens.beginning.start import StartScreen
from whatif.screens.desk.new_things import NEW
from whatif.screens.widgets.drawing import wrap
from whatif.session.calculate.memory import Memory
from whatif.session.first_study import first_study
from whatif.study.file.reading import read_file
from whatif.study.first.questions import QUESTIONS
from whatif.telling.first_study import may_be

every_size = pytest.mark.parametrize("size", SMALL_FIRST, ids=lambda size: f"{size[0]}x{size[1]}")


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return folder


@pytest.fixture
def state(tmp_path: Path) -> Path:
    return tmp_path / "state"


def line_of(screen: Screen, label: str) -> str:
    return next(line for line in screen.text.splitlines() if label in line)


def is_here(screen: Screen, label: str) -> bool:
    """Whether the question is the one that is being answered."""
    (row,) = screen.app.screen.query(".here")
    assert isinstance(row, QuestionRow)
    return row.question.label == label


def so_far(screen: Screen) -> str:
    """What is told of the first answer, in one line."""
    region = screen.app.screen.query_one("#so-far").region
    lines = screen.text.splitlines()[region.y : region.bottom]
    return " ".join(" ".join(line[region.x :].strip("│ ") for line in lines).split())


async def answer_all(screen: Screen) -> None:
    for question in QUESTIONS:
        await screen.type(ALL[question.id])
        if question is not QUESTIONS[-1]:
            await screen.press("enter")


@pytest.mark.long
async def test_what_may_be_typed_is_read_to_its_end_in_a_small_terminal(state: Path) -> None:
    async with on_start(state, (80, 24), calculator=Silent) as screen:
        await screen.press("1")
        for question in QUESTIONS:
            below = " ".join(screen.text.splitlines()[-7:])
            assert " ".join(may_be(question).split()) in " ".join(below.split()), question.id
            if question is not QUESTIONS[-1]:
                await screen.press("enter")


@pytest.mark.long
async def test_sixty_hours_at_a_changeover_are_read_and_doubted(state: Path) -> None:
    async with on_start(state, (80, 24), calculator=Silent) as screen:
        await screen.press("1")
        for question in QUESTIONS:
            if question.id == "each":
                break
            await screen.press("enter")
        await screen.type("60")
        assert "= 60 h" in line_of(screen, "changeover, wait included")
        below = " ".join(screen.text.splitlines()[-7:])
        assert "! 60 h: it is longer than somebody is there on any day" in below
        await screen.type(" min")
        assert "longer than somebody" not in screen.text


@pytest.mark.long
async def test_no_remark_on_the_door_is_cut_off(state: Path) -> None:
    async with on_start(state, (80, 24), calculator=Silent) as screen:
        await screen.press("1")
        assert "~ 4 min a load" in line_of(screen, "Door open")
        for question in QUESTIONS:
            # 40 min a load of 2 pieces: 13:20 on, 6:40 off (pencil).
            answers = {"pieces": "2", "door": "40"}
            await screen.type(answers.get(question.id, ""))
            if question is not QUESTIONS[-1]:
                await screen.press("enter")
        assert "= 20 min a piece" in line_of(screen, "Door open")
        at = [question.id for question in QUESTIONS].index("door")
        await screen.press(*["up"] * (len(QUESTIONS) - 1 - at))
        below = " ".join(" ".join(screen.text.splitlines()[-7:]).split())
        assert "Taken as 13 min 20 s to load and 6 min 40 s to unload each piece" in below
        assert "With pallets: the time at one pallet." in below


@pytest.mark.long
async def test_the_empty_page(snapshot: SnapshotAssertion, state: Path) -> None:
    async with on_start(state, (80, 24), calculator=Silent) as screen:
        await screen.press("1")
        assert screen.text == snapshot


@pytest.mark.long
@every_size
async def test_a_mistake_is_marked_and_its_reason_told(size: tuple[int, int], state: Path) -> None:
    async with on_start(state, size, calculator=Silent) as screen:
        await screen.press("1")
        await answer_all(screen)
        await screen.press("up", "up", *["backspace"] * 3)
        await screen.type("180 mm")
        assert "! the reason is below" in line_of(screen, "in cut, same weeks")
        assert '! "180 mm" cannot be taken: mm is millimetres, and a time is wanted.' in screen.text
        assert "= 2016 h at most" in line_of(screen, "weeks between readings")


# -- a first answer ------------------------------------------------------------------------


@pytest.mark.long
@every_size
async def test_a_first_answer_stands_there_from_the_third_answer_on(
    size: tuple[int, int], snapshot: SnapshotAssertion, state: Path
) -> None:
    async with on_start(state, size) as screen:
        await screen.press("1")
        await screen.type("6-14")
        await screen.press("enter")
        await screen.type("mon-fri")
        await screen.press("enter")
        assert "the spindles cut" not in screen.text
        await screen.type("0")
        # 8 hours on 5 days; the rest is assumed: one machine, 10 min of cycle, 4 min of door.
        said = so_far(screen)
        assert "Of 40.0 machine hours a week with people there, the spindles cut" in said
        assert "Most of the rest: loading at the spindle" in said
        assert "14 of 17 answers assumed (~)" in said
        assert "ikely 2" in said
        assert size == (200, 50) or screen.text == snapshot


@pytest.mark.long
async def test_an_answer_that_cannot_be_taken_is_no_answer(state: Path) -> None:
    async with on_start(state) as screen:
        await screen.press("1")
        for answer in ("6-14", "mon-fri"):
            await screen.type(answer)
            await screen.press("enter")
        await screen.type("x")
        assert "the spindles cut" not in screen.text
        assert so_far(screen) == "A first answer stands here from the 3rd answer on."


@pytest.mark.long
async def test_the_question_being_answered_stays_in_sight_above_a_first_answer(
    state: Path,
) -> None:
    async with on_start(state, (80, 24)) as screen:
        await screen.press("1")
        for answer in ("6-14", "mon-fri", "0", "", "", "2"):
            await screen.type(answer)
            await screen.press("enter")
        await screen.press(*["down"] * 11)
        assert is_here(screen, "Pieces wanted a week")
        assert "more questions: 6 above" in screen.text
        line = screen.app.screen.query_one(AnswerLine)
        await screen.type("77")
        assert "77" in line_of(screen, "Pieces wanted a week")
        assert line.region.y == next(
            y for y, text in enumerate(screen.text.splitlines()) if "Pieces wanted" in text
        )


@pytest.mark.long
@every_size
async def test_what_was_found_is_told_before_the_desk_opens(
    size: tuple[int, int], snapshot: SnapshotAssertion, state: Path
) -> None:
    async with on_start(state, size) as screen:
        await screen.press("1")
        screen.app._answers.update(ALL)
        await screen.press("f10")
        said = " ".join(screen.text.split())
        assert "Where the hours go Of 77.5 machine hours a week with people there" in said
        assert "Of the hours switched on the meters have 45.0 % in cut, the simulation" in said
        assert "What limits Limited most by" in said
        assert "What would bring most Of the 9 alternatives made" in said
        assert "Nothing is priced yet" in said
        assert size != (80, 24) or screen.text == snapshot
        await screen.press("escape")
        assert isinstance(screen.app.screen, Questions)
        await screen.press("f10", "x")
        assert screen.app.is_open


@pytest.mark.long
async def test_back_from_what_was_found_an_answer_is_typed_over(state: Path) -> None:
    async with on_start(state, (80, 24), calculator=Silent) as screen:
        await screen.press("1")
        screen.app._answers.update(ALL)
        place = next(at for at, each in enumerate(QUESTIONS) if each.id == "wanted")
        await screen.press(*["down"] * place)
        await screen.type("170")
        await screen.press("f10")
        assert not isinstance(screen.app.screen, Questions)
        await screen.press("escape")
        assert is_here(screen, QUESTIONS[place].label)
        await screen.type("240")
        assert screen.app._answers["wanted"] == "240"


@pytest.mark.long
@every_size
async def test_ten_questions_to_a_saved_study_by_keys(
    size: tuple[int, int], here: Path, state: Path
) -> None:
    async with on_start(state, size, calculator=Silent) as screen:
        await screen.press("1")
        await answer_all(screen)
        await screen.press("enter", "enter")
        assert "Your first study, not saved yet" in screen.text
        assert screen.session.draft.reference_id == "today"
        await screen.press("w", "enter")
        assert "Saved study.toml" in screen.text
    assert read_file(here / "study.toml").draft == first_study(ALL, Memory()).draft


@pytest.mark.long
async def test_by_mouse_for_all_but_the_typing(state: Path) -> None:
    async with on_start(state, calculator=Silent) as screen:
        await screen.pilot.click("#openings", offset=(5, 1))
        await screen.settle()
        rows = {row.question.id: row for row in screen.app.screen.query(QuestionRow)}
        for one in ("wanted", "machines", "cycle"):
            await screen.pilot.click(rows[one], offset=(34, 0))
            await screen.settle()
            await screen.type({"wanted": "300", "machines": "2", "cycle": "9"}[one])
        await screen.pilot.click(rows["machines"], offset=(3, 0))
        await screen.settle()
        assert screen.app.screen.query_one(AnswerLine).value == "2"
        await click_key(screen, "don't know")
        assert "~ 1 machine" in line_of(screen, "Machines ")
        await click_key(screen, "make the study")
        await screen.press("space")
        today = screen.session.draft.scenario("today").entered
        assert today[("part", "piece", "cycle")] == "9 min"
        assert today[("part", "piece", "weekly")] == 300
        assert ("machine", "mill", "count") not in today


async def click_key(screen: Screen, words: str) -> None:
    """Click a key in the last line."""
    lines = screen.text.splitlines()
    await screen.pilot.click(offset=(lines[-1].index(words), len(lines) - 1))
    await screen.settle()


@pytest.mark.long
async def test_nothing_is_lost_by_going_to_and_fro(state: Path) -> None:
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("1")
        await screen.type("6-14")
        await screen.press("down", "down")
        await screen.type("30")
        await screen.press("up", "up")
        assert screen.app.screen.query_one(AnswerLine).value == "6-14"
        await screen.press("escape")
        assert "2 answers are given. Leave the questions?" in screen.text
        await screen.press("escape")
        assert isinstance(screen.app.screen, Questions)
        await screen.press("escape", "l")
        assert isinstance(screen.app.screen, StartScreen)
        await screen.press("1")
        assert "6-14" in line_of(screen, "Shift, from - to")
        assert "= 8 h a day" in line_of(screen, "Shift, from - to")
        assert "= 09:45-10:15" in line_of(screen, "Breaks, in all")
        await screen.press("f10", "enter", "o", "l", "1")
        assert "6-14" in line_of(screen, "Shift, from - to")


@pytest.mark.long
async def test_not_knowing_clears_the_answer_and_goes_on(state: Path) -> None:
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("1")
        await screen.type("6-14")
        await screen.type("?")
        assert "~ 07:00-15:30" in line_of(screen, "Shift, from - to")
        assert is_here(screen, "on these days")
        await screen.type("mon")
        await screen.press("f9")
        assert "~ mon-fri" in line_of(screen, "on these days")
        assert is_here(screen, "Breaks, in all")


@pytest.mark.long
async def test_a_wrong_answer_is_gone_to_before_anything_is_made(state: Path) -> None:
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("1", "down", "down", "down")
        await screen.type("some")
        await screen.press("up", "up", "f10")
        assert isinstance(screen.app.screen, Questions)
        assert is_here(screen, "People on a shift")
        assert "a whole number from 1 to 200, such as 2" in screen.text
        # What is typed takes the place of the answer that was refused.
        await screen.type("3")
        assert screen.app.screen.query_one(AnswerLine).value == "3"
        await screen.press("f10", "enter")
        assert screen.app.is_open


@pytest.mark.long
@pytest.mark.parametrize("key", first_of(["enter", "tab", "down"]))
async def test_on_from_a_wrong_answer_only_when_it_is_mended(key: str, state: Path) -> None:
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("1")
        await screen.type("8 h")
        await screen.press(key)
        assert is_here(screen, "Shift, from - to")
        assert "! the reason is below" in line_of(screen, "Shift, from - to")
        assert '"8 h" cannot be taken: that is how long it lasts' in screen.text
        await screen.type("9 h")
        assert screen.app.screen.query_one(AnswerLine).value == "9 h"
        await screen.press(key, "right")
        await screen.type("ours")
        assert screen.app.screen.query_one(AnswerLine).value == "9 hours"
        await screen.press(*["backspace"] * 4)
        # What is elsewhere can be reached all the same, and the mistake stays marked.
        await screen.press("up")
        assert "! cannot be taken" in line_of(screen, "Shift, from - to")
        await screen.press("down", *["backspace"] * 3)
        await screen.type("6-14")
        await screen.press(key)
        assert is_here(screen, "on these days")


@pytest.mark.long
async def test_help_tells_how_the_page_works(state: Path) -> None:
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("1")
        await screen.type("6-14")
        await screen.press("f1")
        # It begins with the question that one is at.
        lines = screen.text.splitlines()
        at = lines.index(line_of(screen, "│ Question 1: Shift, from - to "))
        assert "│   To find it    The shift plan" in lines[at + 1]
        pages = ""
        for _ in range(4):
            await screen.press("pagedown")
            pages += screen.text
        assert "F9 or ?" in pages
        assert "An answer that cannot be taken" in pages
        await screen.press("escape")
        await screen.type(":30")
        assert "6-14:30" in line_of(screen, "Shift, from - to")


@pytest.mark.long
async def test_only_rows_that_changed_are_drawn_anew(
    state: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("1")
        drawn: list[str] = []
        update = Static.update

        def noted(field: Static, *args: Any, **kwargs: Any) -> None:
            if isinstance(field.parent, QuestionRow):
                drawn.append(field.parent.question.id)
            update(field, *args, **kwargs)

        monkeypatch.setattr(Static, "update", noted)
        await screen.type("6-14")
        assert set(drawn) == {"shift"}


@pytest.mark.long
async def test_keys_in_a_burst_each_find_their_question(state: Path) -> None:
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("1")
        keys = [("6", "6"), ("minus", "-"), ("1", "1"), ("4", "4"), ("enter", None)]
        keys += [("down", None), ("3", "3"), ("0", "0"), ("enter", None), ("2", "2")]
        for key, character in keys:
            screen.app.post_message(events.Key(key, character))
        await screen.settle()
        assert "6-14" in line_of(screen, "Shift, from - to")
        assert " 30 " in line_of(screen, "Breaks, in all")
        assert " 2 " in line_of(screen, "People on a shift")[5:]


@pytest.mark.long
async def test_who_worked_it_out_answers_the_study_as_well(state: Path) -> None:
    made: list[AtOnce] = []
    ended: list[AtOnce] = []

    class Noted(Silent):
        def start(self) -> None:
            if self not in made:
                made.append(self)

        def close(self) -> None:
            ended.append(self)

    async with on_start(state, calculator=Noted) as screen:
        await screen.press("1", "escape", "1", "f10", "enter")
        assert screen.app.is_open
        assert screen.app.study.calculator is made[0]
        assert len(made) == 1
        assert not ended
    assert ended == made


@pytest.mark.long
async def test_making_it_can_be_stopped(state: Path) -> None:
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("1")
        page = screen.app.screen
        assert isinstance(page, Questions)
        page.action_make()
        assert screen.app.is_waiting
        page.action_back()
        assert not page.is_working
        await screen.settle()
        assert screen.app.screen is page
        assert not screen.app.is_open
        await screen.press("f10", "enter")
        assert screen.app.is_open


@pytest.mark.long
async def test_typing_over_an_answer_takes_its_place(state: Path) -> None:
    async with on_start(state, (80, 24), calculator=Silent) as screen:
        await screen.press("1", "down", "down")
        asked = QUESTIONS[2].id
        await screen.type(ALL[asked])
        await screen.press("down", "up")
        assert screen.app._answers[asked] == ALL[asked]
        await screen.type("3")
        assert screen.app._answers[asked] == "3"


@pytest.mark.long
async def test_a_share_is_taken_of_the_answer_that_stands_there(state: Path) -> None:
    async with on_start(state, calculator=Silent) as screen:
        await screen.press("1")
        questions = screen.app.screen
        assert isinstance(questions, Questions)
        place = next(at for at, each in enumerate(QUESTIONS) if each.id == "cycle")
        await screen.press(*["down"] * place)
        await screen.type("1 h 30 min")
        await screen.press("enter", "up")
        await screen.type("-20 %")
        assert questions._answers["cycle"] == "1 h 12 min"
        await screen.press("enter")
        assert "1 h 12 min" in line_of(screen, QUESTIONS[place].label)
        # Of nothing there is no share.
        await screen.type("-20 %")
        assert QUESTIONS[place + 1].id in questions._faults


@pytest.mark.parametrize(
    ("question", "said", "sort"),
    [
        ("cycle", "Enter one typical part; more follow later in the sheet: n, then p", "part"),
        ("machines", "of another sort are added later in the sheet: n, then m.", "machine"),
    ],
)
@pytest.mark.long
async def test_where_a_second_one_goes_is_said_at_its_question(
    question: str, said: str, sort: str, state: Path
) -> None:
    async with on_start(state, (80, 24), calculator=Silent) as screen:
        await screen.press("1")
        place = next(at for at, each in enumerate(QUESTIONS) if each.id == question)
        await screen.press(*["down"] * place)
        assert said in " ".join(screen.text.split())
        assert NEW[sort][0] == said.rstrip(".")[-1]


def test_what_is_told_of_a_question_is_whole_in_a_small_terminal() -> None:
    for question in QUESTIONS:
        assert len(wrap(f"{question.why} {question.find}", 78)) <= 3, question.id
        assert len(wrap(may_be(question), 78)) <= 2, question.id
