"""Hours and pieces for a day, a month or a year instead of a week (rule `results.day`).

Shares in percent and gains are the same for every time, and stay as they are.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from enum import Enum

from whatif.answers.compare import Answer
from whatif.answers.figures import Figures, People, SpindleHours
from whatif.plan.model import Plan

MONTHS = 12
"""A month is this part of a year (common practice, no source)."""


class Per(Enum):
    """The time that figures are told for."""

    DAY = "day"
    WEEK = "week"
    MONTH = "month"
    YEAR = "year"

    @property
    def words(self) -> str:
        """As it stands behind a unit: "a week"."""
        return f"a {self.value}"

    @property
    def next(self) -> Per:
        """The next longer time; after the longest the shortest."""
        every = list(Per)
        return every[(every.index(self) + 1) % len(every)]


def weeks_in(per: Per, plan: Plan, days: int) -> float | None:
    """By what a figure per week is multiplied.

    A year has the ``weeks_per_year`` of the scenario's money, a day is a week over the
    number of ``days`` on which a shift starts: None where there is no such day.
    """
    if per is Per.WEEK:
        return 1.0
    if per is Per.DAY:
        return 1 / days if days else None
    assert plan.prices is not None  # every plan of a study has them
    year = float(plan.prices.weeks_per_year)
    return year if per is Per.YEAR else year / MONTHS


def answer_per(answer: Answer, per: Per) -> Answer:
    """The same answer with hours and pieces for another time.

    It has no figures where there is no such time: a day in a week without shifts.
    """
    if per is Per.WEEK or answer.figures is None:
        return answer
    weeks = weeks_in(per, answer.plan, answer.figures.days)
    if weeks is None:
        return replace(answer, figures=None, band=None)
    band = None if answer.band is None else (answer.band[0] * weeks, answer.band[1] * weeks)
    return replace(answer, figures=_times(answer.figures, weeks), band=band)


def _times(one: Figures, weeks: float) -> Figures:
    def each(hours: Mapping[str, float]) -> dict[str, float]:
        return {key: value * weeks for key, value in hours.items()}

    spindle, people = one.spindle, one.people
    return replace(
        one,
        spindle=SpindleHours(
            spindle.total * weeks,
            spindle.attended * weeks,
            spindle.breaks * weeks,
            spindle.after_hours * weeks,
        ),
        by_state=each(one.by_state),
        attended=each(one.attended),
        after_hours=each(one.after_hours),
        pieces=each(one.pieces),
        people=People(
            people.paid * weeks,
            people.on_duty * weeks,
            people.busy * weeks,
            people.free_stretches * weeks,
        ),
        output=one.output * weeks,
        saleable=one.saleable * weeks,
        unsold_hours=one.unsold_hours * weeks,
    )
