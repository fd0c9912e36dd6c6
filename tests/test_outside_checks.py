"""The checks against values from outside: marked in the tests, listed and counted in DEVELOPERS.md.

A test carries ``@pytest.mark.outside("source: what", values=n)`` for each source it is held
against, once a closed form and once a value that it asserts.
"""

from __future__ import annotations

import ast
import re
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest

TESTS = Path(__file__).parent
GUIDE = (TESTS.parent / "DEVELOPERS.md").read_text("utf-8")
LEAST = 40


class Outside(NamedTuple):
    """A source, what of it is asserted, how many values that are, and by which test."""

    source: str
    what: str
    values: int
    file: str
    test: str


def _outside_of(path: Path) -> list[Outside]:
    text = path.read_text("utf-8")
    if "mark.outside(" not in text:
        return []
    found = []
    for node in ast.walk(ast.parse(text)):
        if not isinstance(node, ast.FunctionDef):
            continue
        for mark in node.decorator_list:
            if isinstance(mark, ast.Call) and ast.unparse(mark.func) == "pytest.mark.outside":
                source, what = ast.literal_eval(mark.args[0]).split(": ", 1)
                values = [ast.literal_eval(one.value) for one in mark.keywords] or [1]
                found.append(Outside(source, what, *values, path.name, node.name))
    return found


@cache
def outside() -> tuple[Outside, ...]:
    """All of them, by source."""
    return tuple(sorted(one for path in TESTS.rglob("test_*.py") for one in _outside_of(path)))


def wanted_table() -> list[str]:
    """The rows of DEVELOPERS.md."""
    return [
        f"| {one.source} | {one.what} | {one.values} | `{one.file}` |"
        for one in dict.fromkeys(outside())
    ]


@pytest.mark.long
def test_the_list_of_outside_checks_is_that_of_the_tests() -> None:
    _, _, below = GUIDE.partition(
        "| source | what is asserted | values | test |\n| --- | --- | --- | --- |\n"
    )
    rows = below.split("\n\n", 1)[0].splitlines()
    assert rows == wanted_table(), "\n" + "\n".join(wanted_table())


def test_there_are_as_many_as_the_guide_says() -> None:
    values = sum(one.values for one in outside())
    said = re.search(r"(\d+) values and closed forms in (\d+) tests", GUIDE)
    assert said is not None
    assert (int(said[1]), int(said[2])) == (values, len({one[3:] for one in outside()}))
    # Closed forms and sources counted once each, however many values a table of theirs has.
    assert len(outside()) >= LEAST


def test_figures_checked_outside_name_a_test_that_is() -> None:
    """In the table of figures: kind, and beside it the file of a marked test."""
    _, _, below = GUIDE.partition("| figure | rules | kind | check |\n| --- | --- | --- | --- |\n")
    rows = [row.split(" | ") for row in below.split("\n\n", 1)[0].splitlines()]
    files = {one.file for one in outside()}
    kinds = {"outside", "independent", "our own"}
    assert len(rows) > 20
    for figure, _, kind, check in rows:
        assert set(kind.split(", ")) <= kinds, figure
        if "outside" in kind:
            assert files & set(re.findall(r"test_\w+\.py", check)), figure
