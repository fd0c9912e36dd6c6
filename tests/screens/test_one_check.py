"""A study is checked once for what has been typed, however many ask."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from looks import calculator
from screen import AtOnce, on_screen
from small_study import PALLETS, STUDY

import whatif.study.check.check as checking
from whatif.session.session import Session
from whatif.study.check.check import Checked
from whatif.study.draft import Draft
from whatif.study.file.reading import read_file


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return path


@pytest.fixture
def checked(monkeypatch: pytest.MonkeyPatch) -> list[Draft]:
    """Every draft that is checked, wherever in the program."""
    drafts: list[Draft] = []
    check = checking.check

    def counting(draft: Draft) -> Checked:
        drafts.append(draft)
        return check(draft)

    for name, module in list(sys.modules.items()):
        if name.startswith("whatif.") and getattr(module, "check", None) is check:
            monkeypatch.setattr(module, "check", counting)
    return drafts


def test_a_session_checks_each_draft_once(study: Path, checked: list[Draft]) -> None:
    session = Session(read_file(study))
    scenario = session.draft.ids[1]
    assert session.checked.study is not None
    for number in "567":
        del checked[:]
        assert session.type(scenario, PALLETS, number) == ""
        assert session.checked.study is not None
        assert checked == [session.shown]
    session.keep()
    assert session.undo()
    assert session.checked.study is not None
    assert len(checked) == 1, "what has been kept is known already"


@pytest.mark.parametrize("view", ["", "moves", "hours"])
@pytest.mark.long
async def test_a_typed_key_checks_once_whatever_is_drawn(
    view: str, study: Path, checked: list[Draft]
) -> None:
    async with on_screen(study, calculator=calculator(view)) as screen:
        if view:
            screen.app.desk.controllers.views.open(view)
            await screen.settle()
        await screen.go_to("pallets each", 1)
        screen.app.desk.type_over("7")
        await screen.drawn()
        calculates = screen.app.study.calculator
        assert isinstance(calculates, AtOnce)
        # What the calculating side checks it checks in a process of its own.
        calculates.held = []
        del checked[:]
        await screen.pilot.press("8")
        await screen.drawn()
        assert screen.session.shown.scenario("pool").entered[PALLETS] == 78
        assert len(checked) == 1
