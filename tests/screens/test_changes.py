"""The list of changes: undo and redo over a thousand of them, and one jump to any."""

from __future__ import annotations

from pathlib import Path

import pytest
from screen import SMALL_FIRST, on_screen
from small_study import STUDY

from whatif.session import session as of_session
from whatif.session.session import Session
from whatif.study.edits import SetValue
from whatif.study.file.reading import read_file

CYCLE = ("part", "body", "cycle")
MANY = 1200


@pytest.fixture
def session(tmp_path: Path) -> Session:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return Session(read_file(path))


def a_part(session: Session) -> str:
    return session.draft.scenario("now").ids("part")[0]


def change(session: Session, times: int) -> None:
    part = a_part(session)
    for number in range(times):
        session.do(SetValue("now", ("part", part, "bench"), f"{number + 1} s"))


def bench(session: Session) -> object:
    return session.draft.scenario("now").entered.get(("part", a_part(session), "bench"))


@pytest.mark.long
def test_undo_and_redo_over_more_than_a_thousand_changes(session: Session) -> None:
    before = session.draft
    change(session, MANY)
    for _ in range(MANY):
        assert session.undo()
    assert session.draft == before
    assert session.undo() == ""
    for _ in range(MANY):
        assert session.redo()
    assert bench(session) == f"{MANY} s"
    assert session.redo() == ""


@pytest.mark.long
def test_one_jump_goes_to_any_change_and_checks_nothing(
    session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = session.draft
    change(session, MANY)
    revision = session.revision
    checks = []
    monkeypatch.setattr(of_session, "check", checks.append)
    assert session.go_to(7).endswith("-> 7 s in Now")
    assert bench(session) == "7 s"
    assert session.revision == revision + 1
    assert (len(session.history.done), len(session.history.undone)) == (7, MANY - 7)
    session.go_to(MANY - 1)
    assert bench(session) == f"{MANY - 1} s"
    assert session.go_to(0) == ""
    assert session.draft == before
    session.go_to(MANY)
    assert bench(session) == f"{MANY} s"
    assert checks == []


def test_a_jump_to_where_one_is_changes_nothing(session: Session) -> None:
    change(session, 3)
    revision, history = session.revision, session.history
    session.go_to(3)
    session.go_to(99)
    assert (session.revision, session.history) == (revision, history)


def test_undo_and_redo_go_on_from_where_a_jump_has_led(session: Session) -> None:
    change(session, 10)
    session.go_to(4)
    session.undo()
    assert bench(session) == "3 s"
    session.redo()
    session.redo()
    assert bench(session) == "5 s"


def test_a_change_after_a_jump_back_ends_what_was_undone(session: Session) -> None:
    change(session, 10)
    session.go_to(4)
    session.do(SetValue("now", ("handling", "walk"), "2 min"))
    assert len(session.history.steps) == 5
    session.go_to(0)
    assert session.is_saved


def test_a_jump_drops_what_is_being_typed(session: Session) -> None:
    change(session, 2)
    session.type("now", ("handling", "walk"), "3 min")
    session.go_to(1)
    assert session.shown is session.draft
    assert bench(session) == "1 s"


# -- on the screen ------------------------------------------------------------------------


@pytest.mark.long
@pytest.mark.parametrize("size", SMALL_FIRST[:2], ids=["80x24", "120x32"])
async def test_back_and_forward_by_the_list(tmp_path: Path, size: tuple[int, int]) -> None:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    async with on_screen(path, size) as screen:
        await screen.press("l")
        assert "Nothing has been changed yet" in screen.text
        change(screen.session, 5)
        await screen.press("l")
        lines = screen.text.splitlines()
        places = [next(i for i, line in enumerate(lines) if f"-> {n} s" in line) for n in (5, 4, 3)]
        assert places == sorted(places)
        assert "now   " in lines[places[0]]
        await screen.press("down", "down", "down", "enter")
        assert bench(screen.session) == "2 s"
        assert "3 changes undone" in screen.text
        await screen.press("l")
        undone = [
            line for line in screen.text.splitlines() if "undone    " in line and "bench" in line
        ]
        assert len(undone) == 3
        await screen.press("up", "enter")
        assert bench(screen.session) == "3 s"
        assert "1 change done again" in screen.text
        await screen.press("l", "end", "enter")
        assert screen.session.is_saved
        assert "as it was at first" in screen.text


@pytest.mark.long
async def test_back_by_the_mouse(tmp_path: Path) -> None:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    async with on_screen(path) as screen:
        change(screen.session, 4)
        await screen.press("l")
        lines = screen.text.splitlines()
        y = next(i for i, line in enumerate(lines) if "-> 2 s" in line)
        await screen.pilot.click(offset=(lines[y].index("-> 2 s"), y))
        await screen.settle()
        assert bench(screen.session) == "2 s"


@pytest.mark.long
async def test_a_long_list_is_offered_whole(tmp_path: Path) -> None:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    async with on_screen(path, (80, 24)) as screen:
        change(screen.session, 1100)
        await screen.press("l", "end", "up", "enter")
        assert bench(screen.session) == "1 s"
        await screen.press("l", "home", "enter")
        assert bench(screen.session) == "1100 s"


def test_scenarios_that_inherit_a_changed_value_are_told() -> None:
    """Below the one that is edited, and not below one that has a value of its own."""
    from whatif.session.history import Step, taking_after
    from whatif.study.edits import SetValue
    from whatif.study.file.reading import read_text
    from whatif.telling.edits import follow_words

    draft = read_text(
        'format = 1\ntitle = "S"\n[scenario.a]\ntitle = "A"\nhandling.walk = "1 min"\n'
        '[scenario.b]\ntitle = "B"\nparent = "a"\n[scenario.c]\ntitle = "C"\nparent = "b"\n'
        '[scenario.d]\ntitle = "D"\nparent = "b"\nhandling.walk = "3 min"\n'
        '[scenario.e]\ntitle = "E"\nparent = "d"\n[scenario.f]\ntitle = "F"\nparent = "c"\n'
    )

    def told(scenario: str) -> str:
        edit = SetValue(scenario, ("handling", "walk"), "2 min")
        return follow_words(taking_after(Step("", draft, edit.apply(draft))))

    assert told("a") == "; B and 2 more follow"
    assert told("b") == "; C and F follow"
    assert told("d") == "; E follows"
    assert told("f") == ""
