"""Hours of a day with and without people, as two numbers that can be edited.

The attended hours are those of the busiest day that some shift covers (rule `said.hours`,
``said.with_people.hours``); editing them moves the end of the shift that ends last. The hours
after it are ``unattended.after_shift`` itself.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar
from weakref import WeakKeyDictionary

from whatif.study.resolve import Resolved, resolve
from whatif.study.schema.kinds import DAY
from whatif.study.shifts import Hours, busiest_day, clock, hours_of, spans_of
from whatif.telling.amounts import NOTHING
from whatif.units import Dimension, UnitsError, parse, show

if TYPE_CHECKING:
    from collections.abc import Sequence

    from whatif.study.draft import Draft
    from whatif.study.edits import SetValue
    from whatif.study.raw import Path
    from whatif.study.refused import RefusalKind

T = TypeVar("T")

UNATTENDED: Path = ("unattended", "after_shift")


def attended_seconds(resolved: Resolved) -> int | None:
    """Seconds of the busiest day that some shift covers; None where a shift cannot be read."""
    spans = spans_of(resolved)
    return None if spans is None else busiest_day(spans)


_texts: WeakKeyDictionary[Resolved, str] = WeakKeyDictionary()
"""Asked of every scenario after every edit, of which it touches one."""


def attended_text(resolved: Resolved) -> str:
    """The same as a text for the sheet, "–" where a shift cannot be read."""
    known = _texts.get(resolved)
    if known is None:
        seconds = attended_seconds(resolved)
        known = NOTHING if seconds is None else show(seconds, Dimension.TIME, "metric")
        _texts[resolved] = known
    return known


def shift_text(columns: Sequence[Resolved], shift: str) -> str:
    """From when to when a shift runs, so that several are told apart; "" of one alone.

    Where it runs otherwise in one of the columns, only the rows below it can tell.
    """
    if not any(len(resolved.in_use("shift")) > 1 for resolved in columns):
        return ""
    found = {hours_of(resolved, shift) for resolved in columns if shift in resolved.in_use("shift")}
    hours = found.pop() if len(found) == 1 else None
    return "" if hours is None else f"{clock(hours.start)}-{clock(hours.end)}"


def attended_edit(draft: Draft, scenario: str, text: str) -> SetValue:
    """The edit that makes the attended hours what was typed; raises :class:`EditError`."""
    from whatif.study.edits import SetValue
    from whatif.study.edits.edit import refuse
    from whatif.study.refused import RefusalKind

    try:
        wanted = parse(text, Dimension.TIME).seconds
    except UnitsError as fault:
        raise refuse(RefusalKind.UNREADABLE_TIME, str(fault)) from None
    if not 0 < wanted <= DAY:
        raise refuse(RefusalKind.HOURS_OUT_OF_RANGE)
    if wanted % 60:
        raise refuse(RefusalKind.NO_WHOLE_MINUTES)
    resolved = resolve(draft, scenario)
    last, hours = _last_shift(resolved)
    longer = hours.longer(wanted - (attended_seconds(resolved) or 0))
    if longer.length <= 0:
        long = show(hours.length, Dimension.TIME, "metric")
        raise refuse(RefusalKind.NOTHING_LEFT_OF_SHIFT, last, long)
    if longer.length > DAY:
        raise refuse(RefusalKind.SHIFT_TOO_LONG, last)
    edit = SetValue(scenario, ("shift", last, "end"), clock(longer.end))
    if attended_seconds(resolve(edit.apply(draft), scenario)) != wanted:
        raise refuse(RefusalKind.SHIFTS_OVERLAP, last, text.strip())
    return edit


def _last_shift(resolved: Resolved) -> tuple[str, Hours]:
    """The shift whose end is last of the day; raises where the days of shifts differ."""
    from whatif.study.edits.edit import refuse
    from whatif.study.refused import RefusalKind

    shifts = resolved.in_use("shift")
    if not shifts:
        raise refuse(RefusalKind.NO_SHIFT_YET)
    days = {
        _read(resolved.value("shift", shift, "days"), RefusalKind.UNREADABLE_DAYS, shift)
        for shift in shifts
    }
    if len(days) > 1:
        raise refuse(RefusalKind.DAYS_DIFFER)
    hours = {
        shift: _read(hours_of(resolved, shift), RefusalKind.UNREADABLE_HOURS, shift)
        for shift in shifts
    }
    return max(hours.items(), key=lambda named: named[1].start + named[1].length)


def _read(value: T | None, kind: RefusalKind, shift: str) -> T:
    from whatif.study.edits.edit import refuse

    if value is None:
        raise refuse(kind, shift)
    return value
