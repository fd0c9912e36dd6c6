"""A number without a unit takes that of the value it replaces, or of those beside it."""

from __future__ import annotations

from pathlib import Path

import pytest
from small_study import STUDY

from whatif.session.session import Session
from whatif.study.edits import SetHead, SetValue
from whatif.study.file.reading import read_file
from whatif.study.schema.kinds import Lengths
from whatif.units import Dimension, with_unit_of

TIME, LENGTH, PERCENT = Dimension.TIME, Dimension.LENGTH, Dimension.PERCENT


@pytest.mark.parametrize(
    ("typed", "dimension", "now", "means"),
    [
        ("12", TIME, "14 min", "12 min"),
        (" 12.5 ", TIME, "14min", "12.5 min"),
        ("80", PERCENT, "85 %", "80 %"),
        ("18", LENGTH, "17 1/2 in", "18 in"),
        ("1.5", TIME, "1 h 20 min", "1.5 h"),
        ("12 1/2", LENGTH, "5 ft 6 in", "12 1/2 ft"),
        ("1/2", TIME, "14 min", "1/2 min"),
        ("12", TIME, "", "12"),
        ("12", TIME, "3", "12"),
        ("12 s", TIME, "14 min", "12 s"),
        ("about 12", TIME, "14 min", "about 12"),
    ],
)
def test_it_takes_the_largest_unit_that_stands_there(
    typed: str, dimension: Dimension, now: str, means: str
) -> None:
    assert with_unit_of(typed, dimension, [now]) == means


def test_the_first_that_has_a_unit_tells_it() -> None:
    assert with_unit_of("5", TIME, ["–", "any hour", "2 h", "3 s"]) == "5 h"


def test_sides_take_the_unit_of_those_that_they_replace() -> None:
    sides = Lengths("width", "depth")
    assert sides.typed_over("20 x 10", ["18 in x 9 in"], "metric") == ("20 in", "10 in")
    assert sides.typed_over("20 x 10", ["–"], "metric") == ("20 mm", "10 mm")
    assert sides.typed_over("20 x 10", [], "inch") == ("20 in", "10 in")
    assert sides.typed_over("20 x 10 mm", ["18 in x 9 in"], "inch") == ("20 mm", "10 mm")


@pytest.fixture
def session(tmp_path: Path) -> Session:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return Session(read_file(path))


def entered(session: Session, path: tuple[str, ...], text: str, scenario: str = "now") -> object:
    assert session.type(scenario, path, text) == ""
    session.keep()
    return session.draft.scenario(scenario).entered[path]


def test_what_stands_in_the_row_tells_it_where_nothing_stands_in_the_cell(session: Session) -> None:
    size = ("part", "plate", "size")
    session.do(SetValue("pool", size, ("9 in", "6 in", "2 in")))
    assert entered(session, size, "8 x 5 x 1") == ("8 in", "5 in", "1 in")


def test_a_length_that_nobody_has_given_is_in_the_units_of_the_study(session: Session) -> None:
    mass = ("part", "plate", "mass")
    assert entered(session, mass, "3") == "3 kg"
    session.undo()
    session.do(SetHead("units", "inch"))
    assert entered(session, mass, "3") == "3 lb"


def test_attended_hours_are_hours(session: Session) -> None:
    assert session.type("now", ("hours", "attended"), "9") == ""
    session.keep()
    assert session.draft.scenario("now").entered[("shift", "day", "end")] == "16:00"


def test_a_number_over_what_is_shown_in_other_units_is_in_those(session: Session) -> None:
    mass = ("part", "plate", "mass")
    session.do(SetValue("now", mass, "10 kg"))
    assert session.type("now", mass, "20", over="22.05 lb") == ""
    session.keep()
    assert session.draft.scenario("now").entered[mass] == "20 lb"
