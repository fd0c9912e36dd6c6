"""What alternatives sell and on what floor they stand, beside the reference."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from whatif.answers.answer import Answer
from whatif.answers.figures import pieces_sold
from whatif.plan.model import Plan
from whatif.telling.amounts import grouped, listed, rounded
from whatif.telling.caveats import is_out_of_step
from whatif.units import Dimension, show

_NAMED: Final = 3
"""Alternatives of which it is told: the rest stands in the table of results."""

_WHOLE: Final = 10
"""Pieces a week from which on no tenths are told."""


def sold_words(
    reference: str, best: Sequence[str], answers: Mapping[str, Answer], titles: Mapping[str, str]
) -> str:
    """Pieces a week that are sold in the reference and in the first alternatives.

    And how many are wanted, where it is as many in all of these: the best may leave some unmade.
    """
    each, wanted = [], set()
    for id_ in (reference, *best[:_NAMED]):
        answer = answers[id_]
        if answer.figures is not None:
            sold = pieces_sold(answer.plan, answer.figures)
            count = grouped(sold) if sold >= _WHOLE else rounded(sold)
            typed = " as typed" if is_out_of_step(answer) else ""
            each.append(f"{count}{typed} in {titles[id_]}")
            wanted.add(_wanted(answer.plan))
    of = ""
    if len(wanted) == 1 and (all_of := wanted.pop()) is not None:
        of = f"; {grouped(all_of) if all_of >= _WHOLE else rounded(all_of)} wanted"
    return f"Pieces sold a week: {', '.join(each)}{of}." if each[1:] else ""


def _wanted(plan: Plan) -> float | None:
    """Pieces wanted of parts after which no other one comes; None where orders ask for more."""
    if plan.orders:
        return None
    return float(sum(part.weekly for part in plan.parts if part.id not in plan.followed))


def floor_words(
    reference: str,
    others: Sequence[str],
    answers: Mapping[str, Answer],
    titles: Mapping[str, str],
    units: str,
) -> str:
    """The floor that the reference takes, and which of the others take another one.

    Where nobody has entered what the reference takes it is said what is lacking, if anything of a
    floor is entered at all.
    """
    here = answers[reference].plan.floor
    if not here:
        return _lacking([answers[id_].plan for id_ in (reference, *others)])
    by_floor: dict[str, list[str]] = {}
    for id_ in (reference, *others):
        by_floor.setdefault(floor_text(answers[id_].plan, units), []).append(titles[id_])
    if len(by_floor) == 1:
        taken = show(here, Dimension.AREA, units)
        return f"Floor: {taken}, as in {titles[reference]}, in all of them." if others else ""
    (first, (_, *alike)), *rest = by_floor.items()
    named = {first: alike, **dict(rest)}
    # Which they are is never left open: of the longest list "all others" says it.
    longest = max(named, key=lambda text: len(named[text]))
    if len(named[longest]) > _PAIR:
        named[longest] = ["all others"]
        if longest != first:
            named[longest] = named.pop(longest)
    named[first] = [titles[reference], *named[first]]
    return f"Floor: {'; '.join(f'{text} in {listed(each)}' for text, each in named.items())}."


def floor_text(plan: Plan, units: str) -> str:
    """The floor that a scenario takes: "41.4 m²"."""
    return "not given" if plan.floor is None else show(plan.floor, Dimension.AREA, units)


def floor_beside_words(
    reference: str,
    others: Sequence[str],
    answers: Mapping[str, Answer],
    titles: Mapping[str, str],
    units: str,
) -> str:
    """The floor of the reference alone, where a column has that of the others.

    "" where nothing is known of it, or all take the same, which a sentence says in less room.
    """
    here = floor_text(answers[reference].plan, units)
    alike = all(floor_text(answers[id_].plan, units) == here for id_ in others)
    if not answers[reference].plan.floor or alike:
        return ""
    return f"Floor: {here} in {titles[reference]}."


_PAIR: Final = 2
"""Scenarios with one floor that are named one by one."""


def _lacking(plans: Sequence[Plan]) -> str:
    """Of which machines the floor is missing, where that of others or of pallets is there."""
    groups = [group for plan in plans for group in plan.groups]
    if not any(group.floor or group.pallet_floor for group in groups):
        return ""
    missing = dict.fromkeys(group.id for group in groups if group.floor is None)
    return f"Floor is told once that of {' and '.join(missing)} is entered." if missing else ""
