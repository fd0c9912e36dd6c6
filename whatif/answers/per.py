"""Hours and pieces for a day, a month or a year instead of a week (rule `results.day`).

Shares in percent and gains are the same for every time, and stay as they are.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from enum import Enum
from functools import cache
from typing import TYPE_CHECKING, Any, TypeVar, get_type_hints

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

    from whatif.answers.answer import Answer
    from whatif.plan.model import Plan

R = TypeVar("R", bound="DataclassInstance")

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


def _weeks_in(per: Per, plan: Plan, days: int) -> float | None:
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
    weeks = _weeks_in(per, answer.plan, answer.figures.days)
    if weeks is None:
        return replace(answer, figures=None, band=None)
    return for_weeks(answer, weeks)


def for_weeks(record: R, weeks: float) -> R:
    """A record with each of its figures of a week for so many weeks, in records within too."""
    turned = {}
    for field in fields(record):
        value = getattr(record, field.name)
        if field.name in _of_a_week(type(record)):
            turned[field.name] = _times(value, weeks)
        elif _is_of_a_week(value):
            turned[field.name] = for_weeks(value, weeks)
        elif isinstance(value, tuple) and value and _is_of_a_week(value[0]):
            turned[field.name] = tuple(for_weeks(each, weeks) for each in value)
    return replace(record, **turned)


def _is_of_a_week(value: object) -> bool:
    """Whether it is a record that has figures of a week."""
    return is_dataclass(value) and not isinstance(value, type) and bool(_of_a_week(type(value)))


@cache
def _of_a_week(kind: type) -> frozenset[str]:
    """The fields of a record that say of themselves that they are of a week."""
    from whatif.answers.figures import A_WEEK

    hints = get_type_hints(kind, include_extras=True).items()
    return frozenset(name for name, hint in hints if A_WEEK in getattr(hint, "__metadata__", ()))


def _times(value: Any, weeks: float) -> Any:
    """A number, or a mapping or pair of them; None stays."""
    if isinstance(value, Mapping):
        return {key: each * weeks for key, each in value.items()}
    if isinstance(value, tuple):
        return tuple(each * weeks for each in value)
    return None if value is None else value * weeks
