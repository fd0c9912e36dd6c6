"""One machine round the clock, so that what it makes in a week is a line of arithmetic.

It begins empty, so that the first week may have a piece less than the others. All is known
exactly, so that gains have no width but where visits scatter.
"""

from __future__ import annotations

from whatif.study.draft import Draft
from whatif.study.file.reading import read_text

WHOLE_WEEK = '["mon", "tue", "wed", "thu", "fri", "sat", "sun"]'

HEAD = """\
format = 1
title = "Round the clock"
weeks = 1
warm_up = 0
runs = 3
accuracy = "0 %"
guess_accuracy = "0 %"

[scenario.today]
title = "Today"

[scenario.today.shift.all]
days = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
start = "00:00"
end = "00:00"

[scenario.today.machine.mill]
count = 1

[scenario.today.part.body]
"""

ONE_TABLE = (
    'cycle = "10 min"',
    'load = "2 min"',
    "weekly = 5000",
)
"""With a minute's walk and a minute's unloading, both assumed: 14 min a piece, 720 a week."""

CHILD = ("", "[scenario.child]", 'title = "Child"', 'parent = "today"')


def study(*lines: str, part: tuple[str, ...] = ONE_TABLE, days: str = "") -> Draft:
    """One table in today, and more lines after its part.

    ``days`` on which somebody is there, where a whole week is not needed for what is asked.
    """
    head = HEAD.replace(WHOLE_WEEK, days or WHOLE_WEEK)
    return read_text("\n".join((head + "\n".join(part), *lines)) + "\n")


def second_machine() -> Draft:
    """One more machine and person in a child: 720 pieces a week more, 2 of money each."""
    return study(
        *CHILD,
        "machine.mill.count = 2",
        "machine.mill.price = 100000",
        "shift.all.people = 2",
        part=(*ONE_TABLE, "contribution = 2"),
    )


def a_week(minutes: float) -> float:
    """Pieces a week of a table that needs so many minutes for each."""
    return 7 * 24 * 60 / minutes


def silent(done: int, of: int) -> None:
    """Nobody is told."""
