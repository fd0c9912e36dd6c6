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
    readings = sorted(answer.gap_read, key=lambda reading: reading.gain)
    if answer.gain_range is None or not any(reading.seconds for reading in readings):
        return ""
    grain = None if answer.grain is None else answer.grain.saleable
    texts = [
        told(reading.gain) if is_difference(reading.gain, grain) else "no difference"
        for reading in readings
    ]
    if texts[0] == texts[-1]:
        either = f"{texts[0]}, however their gap is read"
        return f"By the hour meters {what} is {either}."
    low, high = (
        f"{text} ({_READ[reading.kind]})"
        for text, reading in zip((texts[0], texts[-1]), (readings[0], readings[-1]), strict=True)
    )
    return f"By the hour meters {what} is between {low} and {high}."
