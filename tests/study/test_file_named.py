"""What a typed name of a file means, and what can be none."""

from pathlib import Path

import pytest

from whatif.study.file.naming import file_named
from whatif.study.file.reading import (
    DEEPEST,
    MOST_SCENARIOS,
    MOST_VALUES,
    StudyError,
    read_text,
)
from whatif.study.refused import FileFaultKind
from whatif.study.schema.kinds.calendar import Breaks, Days


@pytest.mark.parametrize("text", ["/", ".", "..", "~", "folder/", "a/..", "/tmp/"])
def test_a_folder_is_no_file(text: str) -> None:
    with pytest.raises(StudyError) as fault:
        file_named(text)
    assert fault.value.why.kind is FileFaultKind.FOLDER_TO_WRITE


def test_a_home_that_nobody_has_and_a_hidden_end_are_refused() -> None:
    with pytest.raises(StudyError) as fault:
        file_named("~nosuchuserhere/x")
    assert fault.value.why.kind is FileFaultKind.NO_HOME
    with pytest.raises(StudyError) as fault:
        file_named("a\0b")
    assert fault.value.why.kind is FileFaultKind.NO_NAME


def test_a_study_has_its_ending(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOME", "/home/shop")
    assert file_named("cell") == Path("cell.toml")
    assert file_named("cell.v2") == Path("cell.v2")
    assert file_named("~/cell") == Path("/home/shop/cell.toml")


# -- what a file may hold at most ----------------------------------------------------------


@pytest.mark.parametrize("opened", ["[", "{a="])
def test_what_is_nested_too_deeply_is_said(opened: str) -> None:
    closed = {"[": "]", "{a=": "}"}[opened]
    for depth in (DEEPEST + 1, 330):
        inner = "1" if opened != "[" else ""
        with pytest.raises(StudyError) as fault:
            read_text(f"x = {opened * depth}{inner}{closed * depth}\n")
        assert fault.value.why.kind is FileFaultKind.NESTED_TOO_DEEPLY


def test_more_than_any_study_holds_is_said_before_it_is_looked_through() -> None:
    scenarios = "".join(f"[scenario.s{place}]\n" for place in range(MOST_SCENARIOS + 1))
    with pytest.raises(StudyError) as fault:
        read_text(scenarios)
    assert fault.value.why.kind is FileFaultKind.TOO_MANY_SCENARIOS
    with pytest.raises(StudyError) as fault:
        read_text(f"x = [{'1,' * MOST_VALUES}]\n")
    assert fault.value.why.kind is FileFaultKind.TOO_MANY_VALUES


@pytest.mark.parametrize("kind", [Days(), Breaks()])
def test_long_blanks_are_read_in_no_time(kind: Days | Breaks) -> None:
    # Half a minute where each blank is a beginning; nobody would wait for the test to end.
    assert kind.typed(" " * 30_000 + "x") == kind.typed("x")
