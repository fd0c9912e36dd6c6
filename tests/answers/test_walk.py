"""Work sampling: observations needed, intervals, and tallies held against attended hours."""

from __future__ import annotations

import random

import pytest
from small_study import ONE_SHIFT

from whatif.answers.simulate import run_anew
from whatif.answers.walk.of_study import sheet_of_study, walk_of_study
from whatif.answers.walk.tallies import needed, sigmas, walked, wilson
from whatif.study.check.check import Checked, check
from whatif.study.file.reading import read_text


def study() -> Checked:
    return check(read_text(ONE_SHIFT))


@pytest.mark.outside("Heizer & Render: observations of a share, 833")
def test_observations_of_a_published_example() -> None:
    """A quarter idle, to within 3 points at 95.45 % (z = 2): 833 (from memory)."""
    assert round(needed(0.25, 0.03, 2)) == 833
    assert sigmas(95.45) == pytest.approx(2, abs=1e-3)


@pytest.mark.outside("Barnes 1980: observations for a relative accuracy, 4 (1 - p) / (S² p)")
def test_observations_for_a_relative_accuracy() -> None:
    """The textbook's other form, l being S p and z 2; from memory."""
    for share in (0.05, 0.25, 0.35, 0.9):
        relative = 0.05
        wanted = 4 * (1 - share) / (relative**2 * share)
        assert needed(share, relative * share, 2) == pytest.approx(wanted)


@pytest.mark.outside("Newcombe 1998: Wilson's interval of four shares", values=8)
def test_intervals_of_published_shares() -> None:
    """Statistics in Medicine 17 (1998) 857-872, table of methods for single proportions; from
    memory."""
    published = {
        (81, 263): (0.2553, 0.3662),
        (15, 148): (0.0624, 0.1605),
        (0, 20): (0.0, 0.1611),
        (1, 29): (0.0061, 0.1718),
    }
    for (count, of), ends in published.items():
        assert wilson(count, of, sigmas(95)) == pytest.approx(ends, abs=5e-5)


def test_the_interval_is_where_the_normal_one_would_reject() -> None:
    """Its ends are the shares that lie exactly z standard deviations from what was seen."""
    low, high = wilson(30, 100, 1.96)
    for end in (low, high):
        assert abs(0.3 - end) == pytest.approx(1.96 * (end * (1 - end) / 100) ** 0.5)


def test_moments_lie_in_attended_minutes_and_follow_from_the_seed() -> None:
    sheet = sheet_of_study(study(), "today", "Today", 30, 1)
    assert len(set(sheet.moments)) == 30
    assert all(6 * 3600 <= moment < 9 * 3600 and moment % 60 == 0 for moment in sheet.moments)
    assert sheet == sheet_of_study(study(), "today", "Today", 30, 1)
    assert sheet.moments != sheet_of_study(study(), "today", "Today", 30, 2).moments
    assert len(sheet_of_study(study(), "today", "Today", 999, 1).moments) == 180
    assert sheet.machines == (("mill", None),)


def test_shares_stand_beside_those_of_the_attended_hours() -> None:
    found = walk_of_study(
        study(), "today", "Today", {"in_cycle": 60, "stopped": 40}, 95, 5, run_anew
    )
    by_state = {each.state: each for each in found.states}
    assert sum(each.simulated or 0 for each in found.states) == pytest.approx(100)
    assert by_state["stopped"].simulated == 0
    assert by_state["stopped"].is_apart
    assert found.gap_is == "machine"
    assert found.needed == by_state["in_cycle"].needed == 369


def test_whose_the_gap_is() -> None:
    attended = {"in_cycle": 80.0, "waiting_for_person": 15.0, "stopped": 5.0}
    seen = {
        "people": {"in_cycle": 60, "waiting_for_person": 36, "stopped": 4},
        "machine": {"in_cycle": 60, "waiting_for_person": 15, "stopped": 25},
        "both": {"in_cycle": 40, "waiting_for_person": 35, "stopped": 25},
        "": {"in_cycle": 79, "waiting_for_person": 16, "stopped": 5},
    }
    for whose, tallies in seen.items():
        assert walked("a", "A", tallies, attended, 95, 5).gap_is == whose


def test_eight_of_ten_intervals_hold_what_is_so() -> None:
    luck = random.Random(1)
    counts = [sum(luck.random() < 0.2 for _ in range(200)) for _ in range(500)]
    held = sum(low <= 0.2 <= high for low, high in (wilson(n, 200, sigmas(80)) for n in counts))
    assert 0.76 <= held / 500 <= 0.84


def test_what_was_never_seen_needs_observations_all_the_same() -> None:
    found = walked("a", "A", {"in_cycle": 10}, {"in_cycle": 9.0, "load": 1.0}, 95, 5)
    assert all(each.needed > 100 for each in found.states)
