"""What was predicted beside what was measured after it was done, in rows and sentences."""

from __future__ import annotations

from typing import Final

from whatif.answers.meters.afterwards import Afterwards, MeasuredWeek
from whatif.telling.amounts import rounded, signed

LIES: Final = {-1: "below its range", 0: "within its range", 1: "above its range"}
"""Where a week lies."""

_UNKNOWN: Final = 0.05
"""Hours of which nobody knows, below which they would be told as 0.0."""

_MUCH: Final = 0.05
"""Share of what was predicted that is worth a word about a week of which hours are not known."""


def week_name(week: MeasuredWeek) -> str:
    """A week by its Monday, and its number as calendars have it (ISO 8601)."""
    return f"{week.begin.isoformat()} (week {week.begin.isocalendar().week})"


def foretold_sentence(found: Afterwards) -> str:
    """What was predicted of a week."""
    low, high = found.foretold.week
    return (
        f"Predicted: {rounded(found.foretold.hours)} h in cut a week, all machines together; "
        f"{rounded(low)} to {rounded(high)} h in eight weeks of ten."
    )


def afterwards_rows(found: Afterwards) -> list[str]:
    """The same as a table of few cells, its head first."""
    low, high = (rounded(each) for each in found.foretold.week)
    rows = [f"{'week of':<12}{'predicted':>10}{'range':>15}{'measured':>10}{'more':>8}"]
    rows += [
        f"{week.begin.isoformat():<12}{rounded(found.foretold.hours):>10}{f'{low} to {high}':>15}"
        f"{rounded(week.cut):>10}{signed(found.more(week)):>8}  {LIES[found.lies(week)]}"
        for week in found.weeks
    ]
    return rows


def afterwards_sentences(found: Afterwards) -> list[str]:
    """The mean, the week that is furthest off, and what else is to be known."""
    foretold, measured = found.foretold, found.measured
    count = len(found.weeks)
    several = f"{count} weeks" if count > 1 else "1 week"
    low, high = foretold.mean
    lies = "within" if low <= measured <= high else "outside"
    off = measured - foretold.hours
    share = f", {signed(100 * off / foretold.hours)} %" if foretold.hours else ""
    said = [
        f"Measured over {several}: {rounded(measured)} h in cut a week, {signed(off)} h against "
        f"what was predicted{share}; that lies {lies} the likely range of the mean, "
        f"{rounded(low)} to {rounded(high)} h."
    ]
    furthest = found.furthest
    more = found.more(furthest)
    if abs(more) >= _UNKNOWN:
        said.append(
            f"The largest difference: in the week of {week_name(furthest)} the spindles cut "
            f"{rounded(abs(more))} h {'more' if more > 0 else 'less'} than predicted "
            f"({rounded(furthest.cut)} h), {LIES[found.lies(furthest)]}."
        )
    on = sum(week.on for week in found.weeks)
    if on > 0 and foretold.powered is not None:
        cut = 100 * sum(week.cut for week in found.weeks) / on
        said.append(
            f"Of the hours switched on {rounded(cut)} % were in cut, and "
            f"{rounded(foretold.powered)} % were predicted."
        )
    unknown = sum(week.unknown for week in found.weeks)
    if unknown >= max(_UNKNOWN, _MUCH * foretold.hours):
        said.append(
            f"Of {rounded(unknown)} h in these weeks nobody knows what the machines did: measured "
            "may be too low by as much."
        )
    if found.machines != foretold.machines:
        said.append(
            f"There are readings of {found.machines} machine{'' if found.machines == 1 else 's'}, "
            f"and the scenario has {foretold.machines}: what differs may be that."
        )
    return said


NO_WEEK: Final = (
    "No whole week, Monday to Sunday, has been measured since it was done ({}): go on reading, "
    "and look again."
)
NOT_DONE: Final = (
    '{} has no date on which it was done: enter done_on, such as done_on = "2025-03-31", below it '
    "in the file or on its row of the sheet, or name a date with --done."
)
