"""Where the hours go, against the accounts of the run."""

from __future__ import annotations

from types import SimpleNamespace
from typing import cast

import pytest
from few_draws import SCENARIOS, few_weeks
from hypothesis import given
from hypothesis import strategies as st

from whatif.answers.compare import compare
from whatif.answers.figures import Figures
from whatif.answers.shares import Scope, Share, band_of, lengths, shares, stacked
from whatif.answers.states import ROWS, STATE_ROWS
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import check
from whatif.study.file.reading import read_file


@pytest.fixture(scope="module")
def found() -> dict[str, Figures]:
    checked = check(few_weeks(read_file(SCENARIOS / "small-orders.toml").draft))
    answers = compare(checked, Memory()).answers
    return {id_: one.figures for id_, one in answers.items() if one.figures is not None}


@pytest.mark.parametrize("scope", Scope)
def test_they_add_up_to_the_hours_looked_at(found: dict[str, Figures], scope: Scope) -> None:
    for figures in found.values():
        rows = shares(figures, None, scope)
        account = {
            Scope.WEEK: figures.by_state,
            Scope.ATTENDED: figures.attended,
            Scope.AFTER_HOURS: figures.after_hours,
        }[scope]
        assert sum(one.hours for one in rows) == pytest.approx(sum(account.values()))
        assert sum(one.percent or 0 for one in rows) == pytest.approx(100)


def test_bars_are_as_long_as_their_hours(found: dict[str, Figures]) -> None:
    rows = {id_: shares(figures, None, Scope.ATTENDED) for id_, figures in found.items()}
    hours = {id_: sum(figures.attended.values()) for id_, figures in found.items()}
    cells = lengths(rows, 100)
    assert max(cells.values()) == 100 > min(cells.values())
    most = max(hours.values())
    assert cells == {id_: round(100 * each / most) for id_, each in hours.items()}
    assert lengths({"none": ()}, 100) == {"none": 0}


def test_the_week_of_a_machine_has_168_hours(found: dict[str, Figures]) -> None:
    today = shares(next(iter(found.values())), None, Scope.WEEK)
    assert sum(one.hours for one in today) == pytest.approx(3 * 168)


def test_a_night_stands_under_one_head(found: dict[str, Figures]) -> None:
    figures = next(iter(found.values()))
    whole = {one.state.name: one for one in shares(figures, None, Scope.WEEK)}
    assert "nobody_on_duty" not in whole
    assert whole["night"].hours == pytest.approx(
        figures.by_state["nobody_on_duty"] + figures.by_state["outside_running_hours"]
    )
    attended = {one.state.name for one in shares(figures, None, Scope.ATTENDED)}
    assert {"nobody_on_duty", "outside_running_hours"} <= attended


def test_the_difference_is_against_the_reference(found: dict[str, Figures]) -> None:
    base, other = list(found.values())[:2]
    rows = {one.state.name: one for one in shares(other, base, Scope.WEEK)}
    more = (rows["in_cycle"].more or 0) + (rows["unsold"].more or 0)
    assert more == pytest.approx(other.spindle.total - base.spindle.total)


@given(
    st.lists(st.floats(0, 500), min_size=1, max_size=len(ROWS)).filter(
        lambda hours: sum(hours) > 1
    ),
    st.integers(10, 200),
)
@pytest.mark.long
def test_a_bar_is_as_long_as_it_should_be(hours: list[float], width: int) -> None:
    rows = tuple(Share(row, one, None, None) for row, one in zip(ROWS, hours, strict=False))
    bar = stacked(rows, width)
    assert sum(part.cells for part in bar) == width
    for part in bar:
        spent = sum(share.hours for share in rows if band_of(share.state) == part.band)
        assert abs(part.cells - spent / sum(hours) * width) < 1


def test_no_hours_make_no_bar() -> None:
    assert stacked((Share(STATE_ROWS["load"], 0.0, None, None),), 40) == []


def test_what_nobody_buys_is_neither_in_cycle_nor_lost() -> None:
    """Of 10 h in cycle 4 cut what nobody buys: 6 h bring something, and the sum stays the same."""
    state = {row.name: 0.0 for row in ROWS} | {"in_cycle": 10.0, "load": 2.0}
    figures = cast(
        "Figures",
        SimpleNamespace(by_state=state, attended=state, after_hours=state, unsold_hours=4.0),
    )
    found = {share.state.name: share.hours for share in shares(figures, None, Scope.WEEK)}
    assert (found["in_cycle"], found["unsold"], sum(found.values())) == (6.0, 4.0, 12.0)
    bar = stacked(shares(figures, None, Scope.WEEK), 12)
    assert [(part.band, part.cells, part.family) for part in bar] == [
        ("cutting", 6, "cutting"),
        ("unsold", 4, "waiting"),
        ("serving", 2, "serving"),
    ]
