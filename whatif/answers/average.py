"""Means over seeded runs, where stops are given (rule `results.runs`)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields, is_dataclass
from statistics import quantiles
from typing import Any, TypeVar

T = TypeVar("T")


def mean(records: Sequence[T]) -> T:
    """The record whose every number is the mean of the records' numbers.

    Goes into records and mappings within; a number that is None in some run is None, and whole
    numbers (weeks, days) are the same in all.
    """
    first = records[0]
    if len(records) == 1:
        return first
    if is_dataclass(first) and not isinstance(first, type):
        values = {
            field.name: mean([getattr(one, field.name) for one in records])
            for field in fields(first)
        }
        made: Any = type(first)
        result: T = made(**values)
        return result
    found: T = _mean(list(records))
    return found


def _mean(values: list[Any]) -> Any:
    first = values[0]
    if isinstance(first, Mapping):
        return {key: mean([one[key] for one in values]) for key in first}
    if any(value is None for value in values):
        return None
    return sum(values) / len(values) if isinstance(first, float) else first


def band(values: Sequence[float]) -> tuple[float, float]:
    """The 10th and 90th of a hundred, interpolated between the runs' own values."""
    if len(values) == 1:
        return values[0], values[0]
    tenths = quantiles(values, n=10, method="inclusive")
    return tenths[0], tenths[-1]
