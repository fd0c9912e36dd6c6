"""How far long work is, told as often as it can be read."""

from __future__ import annotations

from whatif.answers.progress import Parts, Progress, Steps
from whatif.telling.in_words import progress_words


def told_of(items: int, seconds_each: float) -> list[Progress]:
    told: list[Progress] = []
    now = 0.0
    steps = Steps(told.append, lambda: now)
    for done in range(items + 1):
        steps(done, items)
        now += seconds_each
    return told


def test_what_is_left_goes_by_what_was_done() -> None:
    assert told_of(4, 2)[:3] == [Progress(0, 4), Progress(1, 4, 6), Progress(2, 4, 4)]


def test_no_percent_is_told_twice() -> None:
    told = told_of(3_000, 0.1)
    assert len(told) == 101
    assert [one.percent for one in told] == [*range(100), 99]


def test_what_goes_fast_is_told_ten_times_a_second_and_when_it_is_done() -> None:
    # A percent every 0.01 s for 1 s: the beginning, every tenth or eleventh percent, the end.
    told = told_of(100, 0.01)
    assert 10 <= len(told) <= 11
    assert [told[0].done, told[-1].done] == [0, 100]


def test_nothing_is_told_of_nothing() -> None:
    assert told_of(0, 1) == []


def test_more_than_was_expected_leaves_nothing_and_is_not_all() -> None:
    told: list[Progress] = []
    Steps(told.append, lambda: 1.0)(30, 20)
    assert told == [Progress(30, 20, 0)]
    assert told[0].percent == 99


def test_what_goes_on_beyond_what_was_expected_is_told_no_more_often() -> None:
    told: list[Progress] = []
    now = 0.0
    steps = Steps(told.append, lambda: now)
    for done in range(0, 400, 2):
        steps(done, 200)
        now += 0.001
    assert len(told) <= 4


def test_of_what_is_known_so_far_no_part_is_told_that_another_follows_at_once() -> None:
    told: list[int] = []
    now = 7.0
    parts = Parts(told.append, lambda: now)
    for known in range(100):
        parts(known)
        now += 0.01 if known < 50 else 0.2
    # The first one, one in ten of those that come fast, and each of the slow ones.
    assert told[0] == 0
    assert 5 <= len([known for known in told if known < 50]) <= 6
    assert [known for known in told if known > 50] == [*range(51, 100)]


def test_it_is_told_in_words() -> None:
    assert progress_words(Progress(0, 10)) == "0 of 10"
    assert progress_words(Progress(3, 10, 0.2)) == "3 of 10, about 1 s left"


def test_what_takes_long_is_told_in_minutes() -> None:
    assert progress_words(Progress(2, 123, 89)) == "2 of 123, about 89 s left"
    assert progress_words(Progress(2, 123, 90)) == "2 of 123, about 2 min left"
    assert progress_words(Progress(2, 123, 1199)) == "2 of 123, about 20 min left"
