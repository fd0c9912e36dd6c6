"""Hours of a day with and without people, as two numbers that can be edited.

The attended hours are those of the busiest day that some shift covers (rule `said.hours`,
``claimed.attended_hours``); editing them moves the end of the shift that ends last. The hours
after it are ``unattended.after_shift`` itself.
"""

from __future__ import annotations

from whatif.cell.model import DAY, HOUR, MINUTE, Shift
from whatif.plan.build import busiest_day
from whatif.study.draft import Draft
from whatif.study.edits import EditError, SetValue
from whatif.study.edits.edit import refuse
from whatif.study.raw import Path
from whatif.study.refused import RefusalKind
from whatif.study.resolve import Resolved, resolve
from whatif.study.schema.kinds import DAYS, Clock, Days, KindError
from whatif.units import Dimension, UnitsError, parse, show

UNATTENDED: Path = ("unattended", "after_shift")


def attended_seconds(resolved: Resolved) -> int | None:
    """Seconds of the busiest day that some shift covers; None where a shift cannot be read."""
    shifts = []
    for shift in resolved.ids("shift"):
        if resolved.raw("shift", shift, "people") == 0:
            continue
        try:
            start, length = _shift(resolved, shift)
            days = tuple(DAYS.index(day) for day in _days(resolved, shift))
        except EditError:
            return None
        shifts.append(Shift(shift, days, start, length))
    return busiest_day(tuple(shifts))


def attended_text(resolved: Resolved) -> str:
    """The same as a text for the sheet, "-" where a shift cannot be read."""
    seconds = attended_seconds(resolved)
    return "-" if seconds is None else show(seconds, Dimension.TIME, "metric")


def attended_edit(draft: Draft, scenario: str, text: str) -> SetValue:
    """The edit that makes the attended hours what was typed; raises :class:`EditError`."""
    try:
        wanted = parse(text, Dimension.TIME).seconds
    except UnitsError as fault:
        raise EditError(str(fault)) from None
    if not 0 < wanted <= DAY:
        raise refuse(RefusalKind.HOURS_OUT_OF_RANGE)
    if wanted % MINUTE:
        raise refuse(RefusalKind.NO_WHOLE_MINUTES)
    resolved = resolve(draft, scenario)
    last = _last_shift(resolved)
    now = attended_seconds(resolved) or 0
    start, length = _shift(resolved, last)
    new = length + wanted - now
    if new <= 0:
        long = show(length, Dimension.TIME, "metric")
        raise refuse(RefusalKind.NOTHING_LEFT_OF_SHIFT, last, long)
    if new > DAY:
        raise refuse(RefusalKind.SHIFT_TOO_LONG, last)
    end = (start + new) % DAY
    edit = SetValue(scenario, ("shift", last, "end"), f"{end // HOUR:02}:{end % HOUR // MINUTE:02}")
    if attended_seconds(resolve(edit.apply(draft), scenario)) != wanted:
        raise refuse(RefusalKind.SHIFTS_OVERLAP, last, text.strip())
    return edit


def _last_shift(resolved: Resolved) -> str:
    """The shift whose end is last of the day; raises where the days of shifts differ."""
    shifts = [
        shift for shift in resolved.ids("shift") if resolved.raw("shift", shift, "people") != 0
    ]
    if not shifts:
        raise refuse(RefusalKind.NO_SHIFT_YET)
    days = {_days(resolved, shift) for shift in shifts}
    if len(days) > 1:
        raise refuse(RefusalKind.DAYS_DIFFER)
    return max(shifts, key=lambda shift: sum(_shift(resolved, shift)))


def _days(resolved: Resolved, shift: str) -> tuple[str, ...]:
    try:
        days: tuple[str, ...] = Days().read(resolved.raw("shift", shift, "days"))
    except (KindError, TypeError):
        raise refuse(RefusalKind.UNREADABLE_DAYS, shift) from None
    return days


def _shift(resolved: Resolved, shift: str) -> tuple[int, int]:
    """Start of the day and length of a shift, in seconds."""
    try:
        start = Clock().read(resolved.raw("shift", shift, "start"))
        end = Clock().read(resolved.raw("shift", shift, "end"))
    except (KindError, TypeError):
        raise refuse(RefusalKind.UNREADABLE_HOURS, shift) from None
    return start, (end - start) % DAY or DAY
