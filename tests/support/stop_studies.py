"""Studies in which nothing but stops needs a person."""

from __future__ import annotations

ENDLESS = """\
format = 1
weeks = 13
warm_up = 1
runs = 20
[scenario.today]
handling.walk = "0 s"
machine.mill.count = 1
part.body.cycle = "100000 h"
part.body.load = "0 s"
part.body.weekly = 1000
"""
"""Cuts that never end, on work that is laid on in no time, an order for each machine: only stops
need a person."""


ALWAYS = """\
[scenario.today.shift.always]
days = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
start = "00:00"
end = "00:00"
"""
"""One person after the other, round the clock: what one leaves the next takes up at once."""


def day(end: str) -> str:
    """One person from 06:00 on, every day."""
    return ALWAYS.replace('start = "00:00"', 'start = "06:00"').replace(
        'end = "00:00"', f'end = "{end}"'
    )


def study(*lines: str, shift: str = ALWAYS, head: str = ENDLESS) -> str:
    """The study above with lines of its own; one that names a known key replaces it."""
    for line in lines:
        key = line.split(" = ")[0]
        head = "".join(
            other for other in head.splitlines(keepends=True) if not other.startswith(f"{key} ")
        )
        if key in {"weeks", "warm_up", "runs"}:
            head = head.replace("format = 1\n", f"format = 1\n{line}\n")
        else:
            head += f"{line}\n"
    return head + shift


NIGHTS = [("14:00", 8, 16, 6.917318), ("20:00", 10, 10, 6.321206), ("18:00", 24, 12, 9.443264)]
"""When the day's shift, begun at 06:00, ends; mean hours M between stops; hours T of night;
E[min(T, X)] = M (1 - exp(-T / M)), X being exponential with mean M: an identity."""
