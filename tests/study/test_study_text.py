from typing import Any

import pytest
import tomli_w
from hypothesis import given
from hypothesis import strategies as st
from lengths import examples
from study_strategies import PREAMBLES, toml_tables
from study_texts import VALVES, today, valves

from whatif.study.draft import Draft
from whatif.study.file.reading import comments, read_text
from whatif.study.file.writing import to_text
from whatif.study.raw import Entries


def test_the_example_of_the_cell_model_is_written_as_it_stands_there() -> None:
    assert to_text(valves()) == VALVES


def test_keys_stand_in_the_cell_model_s_order_and_things_in_that_of_entering() -> None:
    text = to_text(
        read_text(
            "runs = 3\nformat = 1\n[scenario.a]\nmoney.wage = 1\npart.z.weekly = 1\n"
            "part.b.weekly = 2\npart.z.cycle = '1 min'\nmachine.m.count = 1\ntitle = 'A'\n"
        )
    )
    lines = [line for line in text.split("\n") if line]
    assert lines == [
        "format = 1",
        "runs = 3",
        "[scenario.a]",
        'title = "A"',
        "[scenario.a.machine.m]",
        "count = 1",
        "[scenario.a.part.z]",
        'cycle = "1 min"',
        "weekly = 1",
        "[scenario.a.part.b]",
        "weekly = 2",
        "[scenario.a.money]",
        "wage = 1",
    ]


def test_what_was_written_is_what_is_saved() -> None:
    text = to_text(
        today(
            'part.body.mass = "1 1/2 lb"', "money.wage = 1.50", "machine.lathe = {}", "colour = 3"
        )
    )
    for line in (
        'mass = "1 1/2 lb"',
        "wage = 1.50",
        "[scenario.today.machine.lathe]",
        "colour = 3",
    ):
        assert f"\n{line}\n" in text


def test_long_lists_and_notes_of_several_lines_are_readable() -> None:
    machines = [f"machining_centre_{number}" for number in range(9)]
    draft = today(f"part.body.machines = {machines}", 'notes = "one\\ntwo"')
    text = to_text(draft)
    assert '\nmachines = [\n    "machining_centre_0",\n' in text
    assert '\nnotes = """\none\ntwo"""\n' in text
    assert read_text(text) == draft


def test_the_comment_at_the_top_and_the_ends_of_lines_are_kept() -> None:
    text = ("# Measured in May\n\n" + VALVES).replace("\n", "\r\n")
    assert to_text(read_text(text)) == text
    assert to_text(Draft(preamble="# nothing else")) == "# nothing else\n"
    assert to_text(Draft()) == ""


@pytest.mark.parametrize(
    "text",
    [
        "[scenario.a.machine]\nb = 3\nm.count = 2\na = 1",
        "[scenario]\nb.title = 'B'\na = 3",
        "[[scenario.a]]\nx = 1\n[[scenario.a]]\n[scenario.b]",
        "scenario = 3",
        "scenario = [1, {a = 2, b = {}}]",
        "[machine.mill]\ncount = 1\n[scenario.a]",
        "[scenario.a.x.y.z]\nw = 1\n[scenario.a.x.y]\nb = {}",
        '"" = 1\n[scenario."".""]\n"a.b" = 2',
        "[scenario.a]\nparent = 'b'\nmachine = {}\nmachines.m = {}\n",
        "[scenario.a]\nx = 1979-05-27T07:32:00.999999-07:00\ny = 07:32:00\nz = 1979-05-27",
        "[scenario.a]\nx = nan\ny = -inf\nz = 1e400\nw = 0.10",
        '[scenario.a]\nnotes = "a\\r\\nb\\n\\"\\"\\"\\\\"\ntitle = "\\u0000\\u007f"',
    ],
)
def test_what_is_wrong_is_kept_as_well(text: str) -> None:
    draft = read_text(text)
    assert read_text(to_text(draft)) == draft


@examples(100)
@given(toml_tables(), PREAMBLES, st.sampled_from(["\n", "\r\n"]))
@pytest.mark.long
def test_any_draft_is_read_back_as_it_was_written(
    tables: dict[str, Any], preamble: str, newline: str
) -> None:
    draft = read_text((preamble + tomli_w.dumps(tables)).replace("\n", newline))
    text = to_text(draft)
    again = read_text(text)
    assert again == draft
    assert hash(again) == hash(draft)
    assert to_text(again) == text
    assert not comments(text.replace("\r\n", "\n"))[1]
    assert again.preamble == draft.preamble


def test_a_draft_made_by_code_is_put_in_order_too() -> None:
    scenario = today().scenario("today")
    turned = Entries(dict(reversed(list(scenario.entered.items()))))
    assert list(type(scenario)("today", turned).entered) == list(scenario.entered)
