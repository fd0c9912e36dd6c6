"""What a rush order brings about, with its likely range: in cells of tables, and in a sentence.

What one run loses by it jumps with the hour at which loads end. So of losses the range leads, and
where 0 lies within it nothing can be told (rule `rush.range`).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from whatif.answers.orders.rush import RushArrival
from whatif.telling.amounts import rounded
from whatif.telling.said import Said

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.answers.ranks import Range

NOTHING_TOLD = "no clear loss"
"""Of a loss in whose likely range 0 lies, or that lies below it."""

_RANGES = {
    "hours": "hours",
    "loses": "lost_spindle_hours",
    "least_price": "lost_contribution",
}
"""The range of each figure that has one."""


def range_of_rush(found: RushArrival, figure: str) -> Range | None:
    """The likely range of one of its figures; None where it has none, or not yet."""
    if found.likely is None or figure not in _RANGES:
        return None
    likely: Range | None = getattr(found.likely, _RANGES[figure])
    return likely


def is_told(likely: Range) -> bool:
    """Whether a loss can be told at all: 0 lies below its range."""
    return likely[0] > 0


def rush_texts(found: RushArrival, figure: str, digits: int, unit: str = "") -> tuple[str, ...]:
    """A figure and ever shorter texts of it; none where there is no figure."""
    value = getattr(found, figure)
    if value is None:
        return ()
    typed, likely = f"{rounded(value, digits)}{unit}", range_of_rush(found, figure)
    if likely is None:
        return (typed,)
    if figure != "hours" and not is_told(likely):
        return (NOTHING_TOLD,) if value or any(likely) else (typed,)
    low, high = rounded(likely[0], digits), rounded(likely[2], digits)
    ends = f"{low} to {high}"
    if low == high == rounded(value, digits):
        return (typed,)
    if not likely[0] <= value <= likely[2]:
        first = f"likely {ends}{unit} (as typed {rounded(value, digits)})"
    elif figure != "hours":
        first = f"likely {ends}{unit}"
    else:
        first = f"{typed} (likely {ends}{unit})"
    return first, f"likely {ends}{in_short(unit)}", f"{ends}{in_short(unit)}"


def in_short(unit: str) -> str:
    """Hours are hours where there is little room."""
    return " h" if unit.endswith(" h") else unit


def rush_figure_words(
    typed: float, likely: Range, unit: str, digits: int, *, is_loss: bool
) -> tuple[str, str]:
    """A figure as its account heads it, and in short: of a loss the range leads, as everywhere."""
    low, high = (rounded(end, digits) for end in (likely[0], likely[2]))
    value, ends = rounded(typed, digits), f"{low} to {high} {unit}"
    if not is_loss:
        return f"{value} {unit} (likely {ends})", f"{value} {unit}"
    if is_told(likely):
        return f"likely {ends} (as typed {value})", ends
    if low == high == value:
        return f"{value} {unit}", f"{value} {unit}"
    return f"{NOTHING_TOLD} (likely {ends}, as typed {value})", NOTHING_TOLD


def rush_sentences(answer: Answer) -> Iterator[str]:
    """Each rush order at one hour in a sentence or two: when it is off, and what it costs."""
    for id_, found in answer.rush.items():
        if isinstance(found, RushArrival) and found.likely is not None:
            yield _sentence(answer, id_, found, found.likely.draws)


def _sentence(answer: Answer, id_: str, found: RushArrival, draws: int) -> str:
    off = rush_texts(found, "hours", 1, " h")
    of = f"Over {draws} draws" if draws > 1 else "In one draw"
    start = f"{id_}: {f'off after {off[0]}' if off else 'it is never off'}. {of} other work"
    figures = [("loses", 1, "spindle h")]
    if answer.money is not None and found.lost_contribution is not None:
        figures.append(("least_price", 0, answer.money.currency))
    told, untold = [], []
    for figure, digits, unit in figures:
        text, likely = (
            rush_texts(found, figure, digits, f" {unit}")[0],
            range_of_rush(found, figure),
        )
        if text == NOTHING_TOLD and likely is not None:
            untold.append(f"{rounded(likely[0], digits)} to {rounded(likely[2], digits)} {unit}")
        else:
            told.append(text)
    loses = [f"loses {' and '.join(told)}"] if told else []
    if untold:
        loses.append(f"has {NOTHING_TOLD} ({', '.join(untold)})")
    return f"{start} {', and '.join(loses)}."


def price_said(price: float, likely: Range) -> Said:
    """Whether a price covers what other work loses in all draws."""
    low, _, high = likely
    start = f"{rounded(price, 0)}: "
    if price >= high:
        return Said(f"{start}worth it", "good", ("worth it",))
    if not is_told(likely):
        return Said(f"{start}worth it, so far as can be told", "none", (NOTHING_TOLD,))
    if price < low:
        least, most = (rounded(cost - price, 0) for cost in (low, high))
        loses = f"loses {least if least == most else f'{least} to {most}'}"
        up_to = (f"loses up to {most}",) if least != most else ()
        return Said(f"{start}{loses}", "bad", (loses, *up_to))
    may_lose = f"may lose up to {rounded(high - price, 0)}"
    return Said(f"{start}{may_lose}", "none", (may_lose,))
