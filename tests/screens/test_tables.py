"""Parts and orders from a table, on the desk: looked at, said otherwise, entered at once."""

from __future__ import annotations

from pathlib import Path

import pytest
from desk_host import NotingHost
from screen import Screen, on_screen
from small_study import STUDY

from whatif.plan.build import plans_of
from whatif.screens.dialogs.ask import AskLine
from whatif.screens.dialogs.lists import ChooseOne
from whatif.screens.dialogs.texts import WeighText
from whatif.session.session import Session
from whatif.study.check.check import check
from whatif.study.edits import AddScenario, SetValue, between
from whatif.study.file.reading import read_file, read_text
from whatif.study.file.writing import to_text

PARTS = "Part;Tempo [min];Setup [min];Lot;per week\na;9;30;10;20\nb;9,5;30;10;10\nc;x;30;10;5\n"


@pytest.fixture
def host(tmp_path: Path) -> NotingHost:
    (tmp_path / "study.toml").write_text(STUDY, "utf-8")
    (tmp_path / "parts.csv").write_text(PARTS, "utf-8")
    (tmp_path / "orders.csv").write_text("Part,Qty,Due\nplate,5,2026-12-04\n", "utf-8")
    host = NotingHost(Session(read_file(tmp_path / "study.toml")))
    host.state.choose("now")
    return host


def look(host: NotingHost, group: str, file: Path) -> None:
    host.controllers.tables.ask(group)
    host.answer(str(file))


def press(host: NotingHost, letter: str) -> None:
    asked = host.asked
    assert isinstance(asked, WeighText)
    host.asked = None
    asked.take(letter)


def shown(host: NotingHost) -> str:
    assert isinstance(host.asked, WeighText)
    return host.asked.text


def test_a_table_is_looked_at_and_entered_as_one_change(host: NotingHost, tmp_path: Path) -> None:
    look(host, "part", tmp_path / "parts.csv")
    assert "No column is the cycle; say which is: key c." in shown(host)
    assert "y" not in host.asked.letters  # type: ignore[union-attr] # it was shown
    press(host, "c")
    assert isinstance(host.asked, ChooseOne)
    host.answer("1")
    host.answer("cycle")
    begin, problems, *_ = shown(host).split("\n\n")
    assert begin.startswith("Found: 2 parts in 3 rows; 1 row not understood.")
    assert 'Row 4, column B (Tempo [min]), "x"' in problems
    assert "leave this row out: key l." in shown(host)
    press(host, "l")
    assert "Left out on purpose: row 4." in shown(host)
    press(host, "g")
    host.answer("10 %")
    assert "a_and_1_more: a, b" in shown(host)
    press(host, "i")
    assert "Removed, as the table has not got them: plate." in shown(host)
    before = host.state.draft
    press(host, "y")
    assert host.notice.startswith(
        "1 part from parts.csv in Now; what is based on it takes them too"
    )
    draft = host.state.draft
    assert draft.scenario("now").ids("part") == ("a_and_1_more",)
    assert host.program.kept_safe[-1] == draft
    host.controllers.changes.undo()
    assert host.state.draft == before
    host.controllers.changes.redo()
    assert host.state.draft == draft
    # As a session that was cut off has it, change by change.
    *_, last = between(before, read_text(to_text(draft)))
    assert last.draft == draft


def test_what_a_table_comes_to_stands_before_how_it_was_read(
    host: NotingHost, tmp_path: Path
) -> None:
    table = tmp_path / "more.csv"
    table.write_text(
        "Part;Cycle [min];per week;Colour\na;9;20;red\nb;9.5;20;red\nc;30;5;blue\n", "utf-8"
    )
    look(host, "part", table)
    begin, *others = shown(host).split("\n\n")
    assert begin == "Found: 3 parts in 3 rows.\nNot used: column D Colour."
    (read,) = (place for place, text in enumerate(others) if text.startswith("Read: 3 rows"))
    assert others[read + 1].startswith("Columns\n")


def test_a_file_that_is_not_there_keeps_the_question(host: NotingHost, tmp_path: Path) -> None:
    look(host, "part", tmp_path / "gone.csv")
    assert isinstance(host.asked, AskLine)
    assert "there is no such file" in host.said_in_dialog


def test_orders_with_dates(host: NotingHost, tmp_path: Path) -> None:
    look(host, "order", tmp_path / "orders.csv")
    assert "name its Monday: key w" in shown(host)
    press(host, "w")
    host.answer("2026-12-01")
    assert host.said_in_dialog == "name a Monday, such as 2026-11-30."
    host.answer("2026-11-30")
    press(host, "y")
    assert host.state.draft.scenario("now").entered["order", "order_1", "pieces"] == 5


def test_what_is_lost_stands_before_all_that_scrolls(host: NotingHost, tmp_path: Path) -> None:
    (tmp_path / "few.csv").write_text("Part;Cycle;per week\na;9 min;20\n", "utf-8")
    host.state.session.do(SetValue("now", ("part", "plate", "first_piece"), "15 min"))
    look(host, "part", tmp_path / "few.csv")
    press(host, "i")
    _, numbers, lost, *others = shown(host).split("\n\n")
    assert lost.startswith("Lost with them")
    assert numbers.startswith("One part number each: if one stands for several, enter how many")
    assert "first piece release 15 min" in lost
    assert not any("Lost" in text or "One part" in text for text in others)
    press(host, "y")
    assert " went with the old one" in host.notice
    assert "one part number each: if one stands for several, enter how many" in host.notice


def test_an_alternative_whose_change_goes_is_told_and_changes_nothing(
    host: NotingHost, tmp_path: Path
) -> None:
    (tmp_path / "few.csv").write_text("Part;Cycle;per week\na;9 min;20\n", "utf-8")
    session = host.state.session
    session.do(AddScenario("only", "now", "Only quicker"))
    session.do(SetValue("only", ("part", "plate", "cycle"), "5 min"))
    look(host, "part", tmp_path / "few.csv")
    assert not host.state.draft.scenario("only").changes_nothing
    press(host, "i")
    said = "Alternative Only quicker then changes nothing: remove it, or enter its change anew."
    assert shown(host).split("\n\n")[1].startswith(said)
    press(host, "y")
    assert "alternative Only quicker then changes nothing" in host.notice
    assert host.state.draft.scenario("only").changes_nothing
    plans = plans_of(check(host.state.draft))
    assert plans["only"].same_as == plans["now"].title
    assert plans["now"].same_as == ""


@pytest.mark.long
async def test_by_keys(tmp_path: Path) -> None:
    study, table = tmp_path / "study.toml", tmp_path / "parts.csv"
    study.write_text(STUDY, "utf-8")
    table.write_text(PARTS.replace("Tempo", "Cycle").replace("c;x", "c;8"), "utf-8")
    async with on_screen(study) as screen:
        await into_preview(screen, table)
        assert isinstance(screen.app.screen, WeighText)
        await screen.press("enter")
        assert screen.session.draft.scenario("now").ids("part") == ("plate", "a", "b", "c")
        assert screen.session.unsaved == 1


async def into_preview(screen: Screen, table: Path) -> None:
    await screen.press("n", "f")
    await screen.type(str(table))
    await screen.press("enter")
