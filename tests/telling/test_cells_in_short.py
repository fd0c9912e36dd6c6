"""Values and answers in few cells: shortened by words, never cut in the middle of one."""

from __future__ import annotations

from pathlib import Path

import pytest
from answer_studies import CHILD, sound, today
from looks import Silent
from screen import SMALL, on_screen

from whatif.answers.compare import compare
from whatif.session.calculate.memory import Memory
from whatif.study.raw import Raw
from whatif.study.schema.kinds.calendar import Breaks
from whatif.telling.ends import END_WORDS
from whatif.telling.fit import NOT_ALL_CHECKED, fewer_sentence, fit_in_short, fit_text
from whatif.telling.in_words import scenario_words
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
    assert fit_text(answer) == "part body does not fit machine mill"
    assert fit_in_short(answer) == ("1 part does not fit", "1 does not fit", "1 no fit")
    said = LOW[-1].said(answer, False)
    assert [said.within(cells) for cells in (35, 19, 17, 12)] == [
        "part body does not fit machine mill",
        "1 part does not fit",
        "1 does not fit",
        "1 no fit",
    ]


ROOM_FOR_FOUR = (
    # 29 in are free, and a gap of 50 mm is 1.97 in: two rows of two 9 in, each with its gap.
    'machine.mill.table = ["30 in", "22 in"]',
    'part.body.size = ["12 in", "9 in", "2 in"]',
)


def test_a_load_that_is_cut_down_is_not_told_as_if_all_fitted() -> None:
    """10 were entered, and "all fit" stood there; the row of the sheet says how many are loaded."""
    lines = (*ROOM_FOR_FOUR, "part.body.per_pallet = 10")
    answer = compare(sound(today(*lines)), Memory()).answers["today"]
    assert fit_text(answer) == "fewer of body fit than entered"
    assert [LOW[-1].said(answer, False).within(cells) for cells in (35, 29, 17, 12)] == [
        "fewer of body fit than entered",
        "fewer a load than entered",
        "fewer a load",
        "fewer a load",
    ]
    path = ("part", "body", "per_pallet")
    assert fewer_sentence(answer, path) == "4 fit: 4 are loaded."
    assert fewer_sentence(answer, ("part", "body", "on", "large", "per_pallet")) == ""
    fewer = compare(sound(today(*ROOM_FOR_FOUR, "part.body.per_pallet = 4")), Memory())
    # What nobody has entered is not checked: weights, heights, travel. The strip says so.
    assert fit_text(fewer.answers["today"]) == "fit, not all checked"
    assert LOW[-1].said(fewer.answers["today"], False).within(17) == "not all checked"
    assert fewer_sentence(fewer.answers["today"], path) == ""


def test_how_many_are_loaded_is_told_of_each_machine_where_these_differ() -> None:
    large = 'machine.large.table = ["60 in", "44 in"]'
    lines = (*ROOM_FOR_FOUR, large, "machine.large.count = 1", "part.body.per_pallet = 10")
    answer = compare(sound(today(*lines)), Memory()).answers["today"]
    path = ("part", "body", "per_pallet")
    assert fewer_sentence(answer, path) == "On mill, 4 fit: 4 are loaded."


async def test_below_the_row_of_pieces_a_load_stands_how_many_are_loaded(tmp_path: Path) -> None:
    path = tmp_path / "load.toml"
    path.write_text(today(*ROOM_FOR_FOUR, "part.body.per_pallet = 10"), "utf-8")
    async with on_screen(path, SMALL, state=tmp_path) as screen:
        await screen.put_on(("part", "body", "per_pallet"))
        assert " 4 fit: 4 are loaded. " in screen.text
        await screen.put_on(("part", "body", "cycle"))
        assert "are loaded" not in screen.text


TABLE = today(
    'machine.mill.table = ["30 in", "20 in"]',
    'part.body.size = ["9 in", "9 in", "2 in"]',
)


@pytest.mark.parametrize(
    ("child", "said"),
    [
        ("machine.mill.pallets = 4", "all fit, as on the table ~"),
        ('machine.mill.pallets = 4\nmachine.mill.table = ["20 in", "20 in"]', NOT_ALL_CHECKED),
        # Other pallets would be a guess as well; the one there is has the table's own face.
        ("machine.mill.count = 2", NOT_ALL_CHECKED),
        ('machine.mill.pallets = 4\npart.body.size = ["3 ft", "3 ft", "1 in"]', "not made: body"),
    ],
)
def test_what_fits_a_table_is_not_told_as_fitting_pallets_of_no_size(child: str, said: str) -> None:
    answer = compare(sound(TABLE + CHILD + child + "\n"), Memory()).answers["child"]
    assert fit_text(answer) == said
    is_taken = said.endswith("~")
    words = scenario_words(answer, "today")
    assert ("fits as on the table ~, " in words) is is_taken
    assert ("~ assumed: each pallet is as large as the table it replaces" in words) is is_taken
    if is_taken:
        assert [LOW[-1].said(answer, False).within(cells) for cells in (26, 17, 12)] == [
            said,
            "fit as on table ~",
            "as table ~",
        ]


def test_what_limits_at_night_is_whole_in_every_column() -> None:
    """That it is at night is left out before a word is cut."""
    lines = ("machine.mill.pallets = 2", "unattended.after_shift = '8 h'", "part.body.weekly = 900")
    answer = compare(sound(today(*lines)), Memory()).answers["today"]
    (limited,) = (each for each in LOW if each.label.startswith("limited by"))
    said = limited.said(answer, False)
    assert said.text == "pallets that run out at night"
    assert [said.within(cells) for cells in (29, 23, 17)] == [
        "pallets that run out at night",
        "pallets run out",
        "pallets run out",
    ]
    assert [len(label) <= 24 for label in limited.labels] == [False, True]
    shortest = [words.in_short for words in END_WORDS.values()]
    assert max(map(len, shortest)) <= 17
