import os
import pickle
from decimal import Decimal
from pathlib import Path

import pytest
from refusals import refusing
from study_texts import VALVES, today, valves

from whatif.study.file.reading import (
    LARGEST,
    StudyError,
    comments,
    fingerprint,
    read_file,
    read_text,
)
from whatif.study.raw import EMPTY, Entries, Table, frozen
from whatif.telling.refusals import refusal_words


def test_nested_tables_and_dotted_keys_are_the_same() -> None:
    nested = "[scenario.a]\n[scenario.a.machine]\n[scenario.a.machine.mill]\ncount = 2\n"
    dotted = "scenario.a.machine.mill.count = 2"
    inline = "scenario = {a = {machine = {mill = {count = 2}}}}"
    assert read_text(nested) == read_text(dotted) == read_text(inline)
    assert read_text(dotted).scenario("a").entered == Entries({("machine", "mill", "count"): 2})


def test_values_keep_what_was_written() -> None:
    entered = today("money.wage = 31.50", 'part.body.mass = "1 1/2 lb"').scenario("today").entered
    assert str(entered["money", "wage"]) == "31.50"
    assert entered["part", "body", "mass"] == "1 1/2 lb"
    assert isinstance(entered["money", "wage"], Decimal)


def test_an_empty_table_is_a_thing_without_values() -> None:
    scenario = read_text("[scenario.a.machine.mill]").scenario("a")
    assert scenario.entered == Entries({("machine", "mill"): EMPTY})
    assert scenario.ids("machine") == ("mill",)


def test_things_keep_the_order_of_entering_and_keys_that_of_the_cell_model() -> None:
    scenario = today(
        "part.cover.weekly = 3", "part.axle.cycle = '1 min'", "part.cover.cycle = '2 min'"
    ).scenario("today")
    assert scenario.ids("part") == ("body", "cover", "axle")
    assert [path[2] for path in scenario.entered if path[:2] == ("part", "cover")] == [
        "cycle",
        "weekly",
    ]


def test_what_is_no_table_of_a_scenario_is_kept_for_the_check() -> None:
    draft = read_text("colour = 1\n[machine.mill]\ncount = 1\n[[scenario.a]]\nx = 1\n[scenario.b]")
    assert draft.head["machine"] == Table((("mill", Table((("count", 1),))),))
    assert draft.scenario("a").entered[()] == (Table((("x", 1),)),)
    assert read_text("scenario = 3").head["scenario"] == 3


def test_comments_before_the_first_key_are_kept_and_others_are_noticed() -> None:
    above = "# Measured in May\n\n#\tby the shift leads\n\n"
    assert read_text(above + VALVES).preamble == above
    assert not comments(above + VALVES)[1]
    assert read_text(VALVES).preamble == ""
    assert read_text("# only this").preamble == "# only this\n"


@pytest.mark.parametrize(
    ("line", "is_comment"),
    [
        ("weeks = 3 # half a quarter", True),
        ("# weeks = 3", True),
        ("  # indented", True),
        ('title = "a # b"', False),
        ("title = 'a # b'", False),
        ('title = "a \\" # b"', False),
        ('title = """a\n# b\n"" # c"""', False),
        ('title = """a"""""', False),
        ('title = """a""""" # b', True),
        ("title = '''a\n# b'''", False),
        ("title = '''a''''' # b", True),
        ('title = "it\'s"\nunits = "#"', False),
        ('title = "" # b', True),
        ('"a # b" = 1', False),
        ("runs = [ 1, # one\n 2 ]", True),
    ],
)
def test_a_hash_in_a_text_is_no_comment(line: str, is_comment: bool) -> None:
    assert comments("format = 1\n" + line)[1] is is_comment


@pytest.mark.parametrize(
    ("text", "place", "words"),
    [
        ("a = 1\ncycle = 11 min\n", "Line 2, column 12", 'quotation marks, as in cycle = "11 min"'),
        ("start = 06:00\n", "Line 1, column 10", "quotation marks"),
        ("a = \n", "Line 1, column 5", "no value that can be read"),
        ("a = “x”\n", "Line 1, column 5", "written straight"),
        ("a = 1\na = 2\n", "Line 2", "already given above"),
        ("[scenario.a]\n[scenario.b]\n[scenario.a]\n", "Line 3", "already given above"),
        ("x = {a = 1}\nx.b = 2\n", "Line 2", "already given above"),
        ('a = "x\n', "Line 1", "quotation mark is missing"),
        ("a = 'x", "At the end of the file", "quotation mark is missing"),
        ('a = """x', "At the end of the file", "quotation mark is missing"),
        ("a b = 1\n", "Line 1, column 3", "followed by ="),
        ("= 1\n", "Line 1, column 1", "begins with a key"),
        ("[a\n", "Line 1", "bracket ] is missing"),
        ("a = [1 2]\n", "Line 1", "lacks a comma"),
        ("a = {b = 1\n}\n", "Line 1", "lacks a comma"),
        ('a = "C:\\q"\n', "Line 1", "backslash"),
        ("a = 1 # \x01\n", "Line 1", "hidden character"),
    ],
)
def test_a_slip_is_told_with_line_and_column_in_plain_words(
    text: str, place: str, words: str
) -> None:
    with pytest.raises(StudyError) as caught:
        read_text(text)
    assert refusal_words(caught.value).startswith(place)
    assert words in refusal_words(caught.value)


def test_a_slip_shows_the_line_it_is_in() -> None:
    with pytest.raises(StudyError) as caught:
        read_text("a = 1\n  cycle = 11 min\n")
    assert refusal_words(caught.value).endswith("It reads: cycle = 11 min")


@pytest.mark.parametrize(
    "text",
    ["a = " + "[" * 5000, "a = " + "9" * 5000, "a = 0x" + "F" * 40, "a = [-9223372036854775809]"],
)
def test_what_would_be_too_much_is_refused(text: str) -> None:
    with pytest.raises(StudyError):
        read_text(text)


def test_a_file_is_read_with_its_fingerprint(tmp_path: Path) -> None:
    path = tmp_path / "valves.toml"
    path.write_text(VALVES)
    read = read_file(path)
    assert read.draft == valves()
    assert read.fingerprint == fingerprint(VALVES.encode()) != fingerprint(b"")


def test_files_of_other_systems_are_read(tmp_path: Path) -> None:
    path = tmp_path / "valves.toml"
    path.write_bytes(b"\xef\xbb\xbf" + VALVES.replace("\n", "\r\n").encode())
    draft = read_file(path).draft
    assert draft == valves()
    assert draft.newline == "\r\n"


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b'title = "Ger\xe4t"', "line 1: the file is not saved as UTF-8"),
        ("format = 1".encode("utf-16"), "saved as UTF-16"),
        (b"x = 1\n" * (LARGEST // 6 + 1), "larger than 4 MB"),
        (b"format = ", "no value"),
    ],
)
def test_a_file_that_is_no_study_is_told_by_its_name(
    tmp_path: Path, content: bytes, words: str
) -> None:
    path = tmp_path / "valves.toml"
    path.write_bytes(content)
    with pytest.raises(StudyError) as caught:
        read_file(path)
    said = refusal_words(caught.value)
    assert said.startswith(str(path))
    assert words in said


def test_a_file_that_cannot_be_opened_is_told_in_plain_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with refusing("there is no such file", StudyError):
        read_file(tmp_path / "none.toml")
    with refusing(f"{tmp_path} is a folder", StudyError):
        read_file(tmp_path)
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    with refusing("cannot be read", StudyError):
        read_file(tmp_path / "loop")
    with refusing("cannot be read", StudyError):
        read_file("a\0b")

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, os.strerror(13))

    (tmp_path / "secret.toml").write_text("")
    monkeypatch.setattr(Path, "open", refuse)
    with refusing("no permission to read", StudyError):
        read_file(tmp_path / "secret.toml")


def test_a_draft_can_be_hashed_and_sent_to_another_process() -> None:
    draft = valves()
    sent = pickle.loads(pickle.dumps(draft))
    assert sent == draft
    assert hash(sent) == hash(draft)
    assert len({draft, sent, valves("machine.mill.faces = 2")}) == 2


def test_drafts_differ_where_only_kind_writing_or_order_of_a_value_does() -> None:
    assert today("machine.mill.faces = 1") != today("machine.mill.faces = true")
    assert today("money.wage = 1.5") != today("money.wage = 1.50")
    assert today("stop.a.x = 1", "stop.b.x = 1") != today("stop.b.x = 1", "stop.a.x = 1")


def test_code_may_hand_over_floats_and_lists() -> None:
    assert frozen([1.5, {"a": [True]}]) == (Decimal("1.5"), Table((("a", (True,)),)))
    with pytest.raises(TypeError):
        frozen(object())


def test_the_tree_can_be_asked_for_families() -> None:
    draft = valves()
    assert draft.ids == ("today", "six_pallets", "night")
    assert draft.children("today") == ("six_pallets",)
    assert draft.ancestors("night") == ("six_pallets", "today")
    assert draft.descendants("today") == ("six_pallets", "night")
    assert draft.reference_id == "today"
    assert [each.title for each in draft][1:] == ["Six pallets", "night"]


def test_families_end_at_loops_and_missing_parents() -> None:
    draft = read_text(
        "[scenario]\na.parent = 'b'\nb.parent = 'c'\nc.parent = 'b'\nd.parent = 'd'\ne.parent = 'x'"
    )
    assert draft.ancestors("a") == ("b", "c")
    assert draft.ancestors("d") == draft.ancestors("e") == ()
    assert draft.descendants("b") == ("a", "c")
    assert draft.reference_id == "a"
