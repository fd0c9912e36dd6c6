"""What hour meters say against the model, in words and signs."""

from __future__ import annotations

import pytest
from alternatives import beside, one

from whatif.answers.account.account import Figure
from whatif.answers.meters.held import HeldAgainst
from whatif.answers.meters.metered import Metered
from whatif.telling.account.sentences import figure_shown
from whatif.telling.meters import gap_in_words, held_rows, is_clearly, meters_said


@pytest.mark.parametrize(
    ("read", "clear"),
    [
        (0.1, False),  # -0.9 to 1.1
        (1.2, True),  # 0.2 to 2.2
        (-0.5, False),  # -1.5 to 0.5
        (-1.5, True),  # -2.5 to -0.5
    ],
)
def test_a_gain_read_by_the_meters_is_coloured_beyond_the_width_of_its_range(
    read: float, clear: bool
) -> None:
    """A gain of 2, likely 1 to 3: a point to either side."""
    answer = beside(b=one(1, 2, 3))["b"]
    assert is_clearly(answer, read) == clear
    assert is_clearly(None, read)


@pytest.mark.parametrize(("modelled", "asks"), [(61.0, True), (60.0, False)])
def test_a_large_gap_asks_first_whether_machines_stood_switched_on(
    modelled: float, *, asks: bool
) -> None:
    held = HeldAgainst("today", measured=40.0, modelled=modelled)
    said = gap_in_words(Metered("today", held, "show", 0, (), {}, ()))
    assert ("switched on with no work for it" in said) is asks


@pytest.mark.parametrize(
    ("found", "ends"),
    [
        (60.0, "60.0 %: no answer explains the 15.0 points between (F6, hour meters)."),
        (45.04, "45.0 %: they agree."),
        (40.0, "40.0 %: the machines cut 5.0 points more than by the answers; one of these is"),
    ],
)
def test_what_meters_say_against_the_hours_simulated_in_a_sentence(found: float, ends: str) -> None:
    said = meters_said(HeldAgainst("today", 45.0, found))
    assert said.startswith("Of the hours switched on the meters have 45.0 % in cut, the simulation")
    assert ends in said
    assert meters_said(HeldAgainst("today", 45.0, None)) == ""


@pytest.mark.parametrize(
    ("modelled", "modelled_in_cut", "said"),
    [
        # 36 h of 100 h, and 45.5 h of 100 h.
        (45.5, 45.5, "The gap of 9.5 h a week, of 100.0 h switched on = 9.5 points, is explained"),
        # 50 h of 125 h: 4 points are not 14 h of 100 h.
        (40.0, 50.0, "The gap of 4.0 points (in cut a week: 36.0 of 100.0 h switched on by the "
                     "meters, 50.0 of 125.0 h by the model) is explained"),
    ],
)  # fmt: skip
def test_a_gap_in_hours_and_in_points_is_known_to_be_the_same(
    modelled: float, modelled_in_cut: float, said: str
) -> None:
    held = HeldAgainst("today", 36.0, modelled, 36.0, modelled_in_cut, switched_on=1000.0)
    metered = Metered("today", held, "show", 0, (), {}, ())
    assert gap_in_words(metered).startswith(said)
    hours, on, share = held_rows(metered)
    assert (hours.label, on.label) == ("in cut, a week", "switched on, a week")
    assert on.measured == "100.0 h"
    assert share.label == "so in cut, of the hours switched on"


def test_where_no_weeks_are_entered_a_gap_is_told_in_points_alone() -> None:
    metered = Metered("today", HeldAgainst("today", 36.0, 40.0), "show", 0, (), {}, ())
    assert gap_in_words(metered).startswith("The gap of 4.0 points is explained")
    assert [row.label for row in held_rows(metered)] == ["in cut, of the hours switched on"]


def test_a_gain_that_is_one_however_the_gap_is_read_is_told_once() -> None:
    def shown(*ends: float, is_reference: bool = False) -> str:
        title, id_ = "gain however the meters' gap is read", "hour_meters.gain_range_percent"
        return figure_shown(Figure(id_, title, "%", ends, is_reference=is_reference))

    assert shown(6.91, 6.94) == "6.9 %"
    assert shown(6.9, 7.3) == "6.9 to 7.3 %"
    assert shown(0.0, 0.0, is_reference=True) == "0.0 %, this is the reference"
