"""Where a gain lies by the hour meters, while their gap is laid to neither people nor machines."""

from __future__ import annotations

from collections.abc import Callable

from whatif.answers.compare import Answer
from whatif.answers.gains import is_difference

_READ = {"people": "people away", "machine": "machines tied up"}


def gain_by_meters(answer: Answer, what: str, told: Callable[[float], str]) -> str:
    """A sentence on ``what``, the lower end first; "" where the meters leave nothing open.

    ``told`` writes a gain that is a difference.
    """
    laid = sorted(answer.laid, key=lambda one: one.gain)
    if answer.gain_range is None or not any(one.seconds for one in laid):
        return ""
    grain = None if answer.grain is None else answer.grain.saleable
    texts = [told(one.gain) if is_difference(one.gain, grain) else "no difference" for one in laid]
    if texts[0] == texts[-1]:
        either = f"{texts[0]}, however their gap is read"
        return f"By the hour meters {what} is {either}."
    low, high = (
        f"{text} ({_READ[one.kind]})"
        for text, one in zip((texts[0], texts[-1]), (laid[0], laid[-1]), strict=True)
    )
    return f"By the hour meters {what} is between {low} and {high}."
