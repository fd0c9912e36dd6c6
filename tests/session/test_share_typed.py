"""A share typed over a value, and the same value for all things of a sort, each one change."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from small_study import STUDY

from whatif.session.first_letters import first_signs
from whatif.session.session import Session
from whatif.study.edits import SetValue
from whatif.study.file.reading import read_file
from whatif.units import Dimension, share_of, share_typed

SMALL_ORDERS = Path(__file__).parents[2] / "scenarios" / "small-orders.toml"


@pytest.mark.parametrize(
    ("standing", "share", "comes_to"),
    [
        ("10 min", "-20 %", "8 min"),
        ("1 h 30 min", "-20 %", "1 h 12 min"),
        ("1 h 30 min", "+7%", "1 h 36 min 18 s"),
        ("14 s", "\u221210 %", "12.6 s"),
        ("1 1/2 in", "+50 %", "2.25 in"),
        ("40 lb", "-12.5 %", "35 lb"),
        ("until done", "-20 %", None),
    ],
)
def test_a_share_is_taken_in_the_unit_that_stands_there(
    standing: str, share: str, comes_to: str | None
) -> None:
    left = share_typed(share)
    assert left is not None
    dimensions = {"in": Dimension.LENGTH, "lb": Dimension.MASS}
    dimension = dimensions.get(standing.rpartition(" ")[2], Dimension.TIME)
    assert share_of(standing, dimension, left) == comes_to


def test_what_has_no_sign_is_no_share() -> None:
    assert share_typed("+10 %") == Fraction(11, 10)
    assert not any(map(share_typed, ("20 %", "-20", "- %", "12 min -20 %", "")))


@pytest.fixture
def session(tmp_path: Path) -> Session:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return Session(read_file(path))


def test_the_study_receives_what_it_comes_to_and_undo_gives_back(session: Session) -> None:
    before, cycle = session.draft, ("part", "plate", "cycle")
    session.do(SetValue("now", cycle, "1 h 30 min"))
    assert session.type("now", cycle, "-20 %") == ""
    assert session.keep().endswith("cycle 1 h 30 min -> 1 h 12 min in Now")
    assert session.draft.scenario("now").entered[cycle] == "1 h 12 min"
    session.undo()
    session.undo()
    assert session.draft == before
    # One that inherits it enters its own.
    session.type("pool", cycle, "+50 %")
    session.keep()
    assert cycle in session.draft.scenario("pool").entered
    assert session.draft.scenario("now") == before.scenario("now")


def test_over_a_percentage_it_is_one(session: Session) -> None:
    scrap = ("part", "plate", "scrap")
    assert session.type("now", scrap, "+5 %") == ""
    session.keep()
    assert session.draft.scenario("now").entered[scrap] == "+5 %"
    assert "below 0" in session.type("now", scrap, "-5 %")


def test_counts_stay_whole_and_what_cannot_be_is_said(session: Session) -> None:
    count = ("machine", "mill", "pallets")
    session.do(SetValue("now", count, 4))
    assert session.type("now", count, "+30 %") == ""
    session.keep()
    assert session.draft.scenario("now").entered[count] == 5
    assert "comes to less than one" in session.type("now", count, "+2 %")
    assert "No more than 100 %" in session.type("now", count, "-101 %")
    assert "No number above 0" in session.type("now", ("part", "plate", "mass"), "-20 %")


def test_of_a_size_each_side_takes_it(session: Session) -> None:
    size = ("part", "plate", "size")
    session.do(SetValue("now", size, ("100 mm", "2 in", "60 mm")))
    assert session.type("now", size, "+20 %") == ""
    session.keep()
    assert session.draft.scenario("now").entered[size] == ("120 mm", "2.4 in", "72 mm")
    assert first_signs(size) == frozenset("+-")
    assert "there is only 1 in it" in session.type("now", size, "20 %").lower()


def test_attended_hours_take_one_too(session: Session) -> None:
    assert session.type("now", ("hours", "attended"), "+50 %") == ""
    session.keep()
    assert session.draft.scenario("now").entered[("shift", "day", "end")] == "19:00"


def test_all_parts_at_once_are_one_change() -> None:
    session = Session(read_file(SMALL_ORDERS))
    before, scenario = session.draft, session.draft.ids[1]

    def setups() -> list[str]:
        held = session.checked.resolved[scenario]
        return [str(held.raw("part", part, "setup")) for part in held.ids("part")]

    first = setups()
    assert len(set(first)) > 1
    assert session.type(scenario, ("part", "hubs", "setup"), "*-50 %") == ""
    says = session.keep()
    assert says.startswith(f"setup of all {len(first)} parts -50 % in ")
    assert setups() == [share_of(text, Dimension.TIME, Fraction(1, 2)) for text in first]
    assert session.type(scenario, ("part", "hubs", "setup"), "30 *") == ""
    assert " parts 30 min in " in session.keep()
    assert set(setups()) == {"30 min"}
    session.undo()
    session.undo()
    assert session.draft == before


def test_a_share_of_all_leaves_out_where_no_number_stands() -> None:
    """Be it the row itself in which it is typed; where none has a number it is refused."""
    session = Session(read_file(SMALL_ORDERS))
    scenario = session.draft.ids[1]
    ids = tuple(session.checked.resolved[scenario].ids("part"))
    for part in ids:
        session.do(SetValue(scenario, ("part", part, "mass"), "0 kg"))
    own, *others = (("part", part, "mass") for part in ids)
    assert "No number above 0" in session.type(scenario, own, "* -20 %")
    session.do(SetValue(scenario, others[0], "10 kg"))
    assert "No number above 0" in session.type(scenario, own, "-20 %")
    assert session.type(scenario, own, "* -20 %") == ""
    assert session.keep().startswith(f"mass per piece of 1 of {len(ids)} parts -20 % in ")
    held = session.checked.resolved[scenario]
    assert held.raw(*others[0]) == "8 kg"
    assert held.raw(*own) == "0 kg"
    assert "No more than 100 %" in session.type(scenario, own, "* -101 %")


def test_what_a_thing_does_not_use_or_have_stays() -> None:
    session = Session(read_file(SMALL_ORDERS))
    scenario = session.draft.ids[0]
    held = session.checked.resolved[scenario]
    unused = [
        part
        for part in held.ids("part")
        if session.checked.unused.why(scenario, ("part", part, "batch"))
    ]
    other = next(part for part in held.ids("part") if part not in unused)
    assert session.type(scenario, ("part", other, "batch"), "* 7") == ""
    session.keep()
    held = session.checked.resolved[scenario]
    assert all(
        (held.raw("part", part, "batch") == 7) is (part not in unused) for part in held.ids("part")
    )


@pytest.mark.parametrize(
    ("path", "signs"),
    [
        (("part", "plate", "cycle"), "+-*"),
        (("part", "plate", "scrap"), "*"),
        (("part", "plate", "machines"), ""),
        (("shift", "day", "start"), "*"),
        (("shift", "day", "days"), ""),
        (("unattended", "after_shift"), "+-"),
        (("hours", "attended"), "+-"),
        (("title",), ""),
    ],
)
def test_their_signs_begin_a_value_where_one_may_be_typed(
    path: tuple[str, ...], signs: str
) -> None:
    assert first_signs(path) == set(signs)
