"""Random cells with real orders and a rush order, as `specs` draws those without."""

from __future__ import annotations

from hypothesis import strategies as st

from .hours import DAY, WEEK
from .specs import Spec

ON_THE_DOT = [day * DAY + hour * 3600 for day in range(7) for hour in (0, 6, 7, 10, 14, 22)]
"""Moments of a week at which shifts begin and end, so that things meet."""

PIECES = (1, 1, 2, 3, 7, 20, 60)


def moments() -> st.SearchStrategy[int]:
    """A minute of the week, in seconds; often one at which something else happens too."""
    return st.one_of(
        st.sampled_from(ON_THE_DOT), st.integers(0, WEEK // 60 - 1).map(lambda m: 60 * m)
    )


@st.composite
def real_order(draw: st.DrawFn, parts: list[str]) -> Spec:
    """One real order; due dates are few, so that several are due at once."""
    entry: Spec = {"part": draw(st.sampled_from(parts)), "pieces": draw(st.sampled_from(PIECES))}
    if draw(st.booleans()):
        entry["arrives"] = draw(moments())
    day, week = draw(st.integers(0, 6)), draw(st.integers(0, 1))
    return {**entry, "due": week * WEEK + day * DAY + draw(st.sampled_from((0, 43200)))}


@st.composite
def with_orders(draw: st.DrawFn, drawn: st.SearchStrategy[Spec]) -> Spec:
    """The cells drawn, in one week measured, with one to five real orders."""
    spec = {**draw(drawn), "weeks": 1}
    parts = list(spec["part"])
    names = ("first", "second", "third", "fourth", "fifth")[: draw(st.integers(1, 5))]
    spec["order"] = {name: draw(real_order(parts)) for name in names}
    return some_by_orders_alone(draw, spec)


@st.composite
def with_rush(draw: st.DrawFn, drawn: st.SearchStrategy[Spec]) -> Spec:
    """The cells drawn, with a rush order in the first week measured."""
    spec = {**draw(drawn), "weeks": 1}
    entry = {
        "part": draw(st.sampled_from(list(spec["part"]))),
        "pieces": draw(st.sampled_from(PIECES)),
        "arrives": draw(moments()),
    }
    spec["rush"] = {"now": entry}
    return some_by_orders_alone(draw, spec)


def some_by_orders_alone(draw: st.DrawFn, spec: Spec) -> Spec:
    """Now and then a part is not wanted by the week, as long as some part is."""
    parts = {name: dict(entry) for name, entry in spec["part"].items()}
    wanted = [name for name, entry in parts.items() if entry.get("weekly")]
    for name in wanted[1:]:
        if draw(st.integers(0, 3)) == 0:
            parts[name]["weekly"] = 0
    return {**spec, "part": parts}
