"""Figures of a week told for another time: each says itself whether it is of a week."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest
from answer_studies import TODAY, sound

from whatif.answers.compare import compare
from whatif.answers.per import Per, answer_per, for_weeks
from whatif.session.calculate.memory import Memory
from whatif.telling.amounts import rounded
from whatif.telling.strip import held_sentence
from whatif.telling.table import table_rows

SAME = {"weeks", "days", "floor", "demand_met", "utilization"}
"""What is the same for every time."""


def numbers(record: object, path: str = "") -> dict[str, Any]:
    if is_dataclass(record):
        return {
            key: value
            for field in fields(record)
            for key, value in numbers(getattr(record, field.name), f"{path}.{field.name}").items()
        }
    if isinstance(record, dict):
        return {f"{path}.{key}": value for key, value in record.items()}
    return {path: record}


def test_all_but_shares_and_counts_are_doubled_for_two_weeks() -> None:
    figures = compare(sound(TODAY), Memory()).answers["today"].figures
    assert figures is not None
    once, twice = numbers(figures), numbers(for_weeks(figures, 2))
    for path, value in once.items():
        is_same = path.split(".")[1] in SAME
        assert twice[path] == (value if is_same else 2 * value), path
    assert sum(path.split(".")[1] in SAME for path in once) < len(once) / 2


def test_the_band_is_of_a_week_too_and_the_plan_stays() -> None:
    answer = replace(compare(sound(TODAY), Memory()).answers["today"], band=(10.0, 20.0))
    days = 1 if answer.figures is None else answer.figures.days
    assert answer_per(answer, Per.DAY).band == (10 / days, 20 / days)
    assert answer_per(answer, Per.DAY).plan is answer.plan
    assert answer_per(answer, Per.WEEK) is answer


def test_the_unit_of_a_row_says_the_time_that_its_figures_are_told_for() -> None:
    found = compare(sound(TODAY), Memory())
    for week, year in zip(table_rows(found), table_rows(found, Per.YEAR), strict=True):
        assert year.unit == week.unit.replace("a week", "a year")
        nothing = {"–", "0.0"}
        is_weekly = week.unit != year.unit and not set(week.cells) <= nothing
        assert (week.cells != year.cells) == is_weekly, week.label


def test_the_sentence_below_the_strip_has_the_hours_of_its_rows() -> None:
    """40 h on duty: a day is one of five, a year has 50 weeks."""
    answer = compare(sound(TODAY), Memory()).answers["today"]
    held = answer.held_back
    assert held is not None
    weeks = {Per.DAY: 1 / 5, Per.WEEK: 1.0, Per.MONTH: 50 / 12, Per.YEAR: 50.0}
    for per, many in weeks.items():
        told = answer_per(answer, per).held_back
        assert told is not None
        assert told.attended == pytest.approx(many * held.attended)
        for here, there in zip(told.losses, held.losses, strict=True):
            assert here.hours == pytest.approx(many * there.hours)
        for brief in (False, True):
            said = held_sentence(answer, per=per, in_brief=brief)
            assert f"{rounded(many * held.attended)} attended" in said
            assert f" {per.words}" in said
            assert per is Per.WEEK or " a week" not in said
