"""What alternatives sell and on what floor they stand, beside the reference."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from whatif.answers.answer import Answer
from whatif.answers.figures import pieces_sold
from whatif.telling.amounts import grouped, rounded
from whatif.units import Dimension, show

_NAMED: Final = 3
"""Alternatives of which it is told: the rest stands in the table of results."""

_WHOLE: Final = 10
"""Pieces a week from which on no tenths are told."""


def sold_words(
    reference: str, best: Sequence[str], answers: Mapping[str, Answer], titles: Mapping[str, str]
) -> str:
    """Pieces a week that are sold in the reference and in the first alternatives."""
    each = []
    for id_ in (reference, *best[:_NAMED]):
        answer = answers[id_]
        if answer.figures is not None:
            sold = pieces_sold(answer.plan, answer.figures)
            count = grouped(sold) if sold >= _WHOLE else rounded(sold)
            each.append(f"{count} in {titles[id_]}")
    return f"Pieces sold a week: {', '.join(each)}." if each[1:] else ""


def floor_words(
    reference: str,
    others: Sequence[str],
    answers: Mapping[str, Answer],
    titles: Mapping[str, str],
    units: str,
) -> str:
    """The floor that the reference takes, and which of the others take another one.

    Nothing where nobody has entered what the reference takes.
    """
    here = answers[reference].plan.floor
    if not here:
        return ""
    by_floor: dict[str, list[str]] = {}
    for id_ in others:
        floor = answers[id_].plan.floor
        if floor != here:
            text = "not given" if floor is None else show(floor, Dimension.AREA, units)
            by_floor.setdefault(text, []).append(titles[id_])
    taken = show(here, Dimension.AREA, units)
    if not by_floor:
        return f"Floor: {taken}, as in {titles[reference]}, in all of them." if others else ""
    each = (f"{text} in {' and '.join(names)}" for text, names in by_floor.items())
    return f"Floor: {taken} in {titles[reference]}; {'; '.join(each)}."
