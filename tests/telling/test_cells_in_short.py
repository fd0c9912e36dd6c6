"""Values and answers in few cells: shortened by words, never cut in the middle of one."""

from __future__ import annotations

from pathlib import Path

import pytest
from answer_studies import sound, today
from looks import Silent
from screen import SMALL, on_screen

from whatif.answers.compare import compare
from whatif.session.calculate.memory import Memory
from whatif.study.raw import Raw
from whatif.study.schema.kinds.calendar import Breaks
from whatif.telling.fit import fit_in_short, fit_text
from whatif.telling.strip import LOW


@pytest.mark.parametrize(
    ("breaks", "short"),
    [
        (("09:00-09:15", "12:00-12:30"), "in all 45 min"),
        (("23:45-00:15", "03:00-03:30"), "in all 60 min"),  # 30 min over midnight and 30 min
        (("09:00-09:15",), ""),
        (("9 o'clock", "12:00-12:30"), ""),
        ((), ""),
    ],
)
def test_several_breaks_are_told_in_all_in_few_cells(breaks: Raw, short: str) -> None:
    assert Breaks().in_short(breaks) == short


async def test_the_sheet_tells_breaks_in_all_where_they_are_too_long(tmp_path: Path) -> None:
    path = tmp_path / "breaks.toml"
    two = '["09:00-09:15", "12:00-12:30"]'
    path.write_text(today(f"shift.day.breaks = {two}"), "utf-8")
    async with on_screen(path, SMALL, state=tmp_path, calculator=Silent) as screen:
        await screen.put_on(("shift", "day", "breaks"))
        assert "in all 45 min" in screen.text
        assert "Here 09:00-09:15, 12:00-12:30" in " ".join(screen.text.split())


def test_parts_that_do_not_fit_are_counted_where_their_names_are_too_long() -> None:
    lines = (
        'machine.mill.table = ["20 in", "10 in"]',
        'machine.large.table = ["60 in", "30 in"]',
        "machine.large.count = 1",
        'part.body.size = ["30 in", "9 in", "2 in"]',
    )
    answer = compare(sound(today(*lines)), Memory()).answers["today"]
    assert fit_text(answer) == "body not on mill"
    assert fit_in_short(answer) == ("1 not on mill", "1 not on all")
    said = LOW[-1].said(answer, False)
    assert [said.within(cells) for cells in (16, 15, 12)] == [
        "body not on mill",
        "1 not on mill",
        "1 not on all",
    ]
