"""Readings that somebody wrote down, in a table; moments as they are typed."""

from __future__ import annotations

from datetime import UTC, timedelta, timezone
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from reading_documents import TABLE

from whatif.readings.facts import NoteKind
from whatif.readings.fault import BadRow, Unreadable, UnreadKind
from whatif.readings.stamps import HOUR, SECOND, begin_of, day_of, stamp_of, typed_stamp
from whatif.readings.table import machines_in, read_table
from whatif.readings.understood import Understood, to_enter, understand


def test_readings_of_two_machines() -> None:
    found = machines_in(read_table(TABLE.encode(), "it", UTC))
    assert [machine.name for machine in found] == ["mill 1", "mill 2"]
    all_ = to_enter(Understood(("it",), found, UTC))
    assert all_ is not None
    assert (all_.on, all_.cut, all_.weeks, all_.machines) == (260, 130, 2, 2)
    days = Understood(("it",), found, UTC).days(found[0])
    assert len(days) == 14
    assert days[0].hours.on == pytest.approx(80.5 / 7)
    assert days[13].hours.on == pytest.approx(79.5 / 7)


def test_a_machine_of_several_tables_is_one(tmp_path: Path) -> None:
    """The last reading of one table stands in the next one again, and is no second reading."""
    whole, tables = TABLE.splitlines(keepends=True), (tmp_path / "a.csv", tmp_path / "b.csv")
    tables[0].write_text("".join(whole[:3] + whole[4:5]), "utf-8")
    tables[1].write_text(whole[0] + "".join(whole[2:4] + whole[5:]), "utf-8")
    found = understand(list(map(str, tables)), UTC)
    assert found.machines == machines_in(read_table(TABLE.encode(), "it", UTC))


@pytest.mark.parametrize("parted", [",", ";", "\t"])
def test_columns_may_be_parted_and_ordered_in_any_way(parted: str) -> None:
    rows = (
        ("Machine", "who", "In_Cut", "Switched_On", "DATE"),
        ("a", "x", "1", "2", "03.03.2025"),
        ("a", "x", "2 h 30 min", "4", "2025-03-03 06:00"),
    )
    text = "\r\n".join(parted.join(row) for row in rows)
    (one,) = machines_in(read_table(text.encode("utf-8-sig"), "it", UTC))
    assert one.cut is not None
    assert [each.much for each in one.cut.amounts] == [1.5 * HOUR]
    assert one.cut.end - one.cut.begin == 6 * HOUR


def test_all_that_is_wrong_is_told_at_once() -> None:
    text = "date,machine,switched on,in cut\n03/04/2025,a,1,1\n2025-03-04,,x,-1\n"
    with pytest.raises(Unreadable) as found:
        read_table(text.encode(), "it", UTC)
    assert found.value.rows == (
        BadRow(2, "date", "03/04/2025"),
        BadRow(3, "machine", ""),
        BadRow(3, "switched on", "x"),
        BadRow(3, "in cut", "-1"),
    )


@pytest.mark.parametrize(
    ("content", "kind"),
    [
        (b"date,machine\n", UnreadKind.NO_HEADS),
        (b"", UnreadKind.NO_HEADS),
        (b"date,machine,switched on,in cut\n", UnreadKind.NOTHING_IN_IT),
        (b"date,machine,switched on,in cut\n2025-03-04,m\xfcll,1,1\n", UnreadKind.NOT_TEXT),
    ],
)
def test_what_is_no_table(content: bytes, kind: UnreadKind) -> None:
    with pytest.raises(Unreadable) as found:
        read_table(content, "it", UTC)
    assert found.value.kind is kind


def test_what_is_odd_is_told() -> None:
    text = (
        "date,machine,switched on,in cut\n"
        "2025-03-03,a,100,50\n2025-03-04,a,101,55\n2025-03-04,a,101,55\n"
        "2025-03-05,a,2,56\n2025-03-06,a,90,57\n2025-03-06,b,1,1\n"
    )
    one, two = machines_in(read_table(text.encode(), "it", UTC))
    assert [note.kind for note in one.notes] == [
        NoteKind.READ_TWICE,
        NoteKind.CUTS_MORE_THAN_ON,
        NoteKind.METER_FELL,
        NoteKind.FASTER_THAN_TIME,
    ]
    assert [note.kind for note in two.notes] == [NoteKind.READ_ONCE]
    assert two.period is None


@pytest.mark.parametrize(
    ("text", "seconds", "nanoseconds"),
    [
        ("1970-01-01T00:00:01Z", 1, 0),
        ("2010-04-06T06:19:35.1531413Z", 1270534775, 153141300),
        ("2010-04-06T08:19:35.153+02:00", 1270534775, 153000000),
        ("1969-12-31T23:59:59.5Z", -1, 500000000),
        ("2010-04-06 06:19:35,1234567891", 1270534775, 123456789),
    ],
)
def test_stamps_are_exact(text: str, seconds: int, nanoseconds: int) -> None:
    assert stamp_of(text) == seconds * SECOND + nanoseconds


@pytest.mark.parametrize("text", ["", "now", "2025-02-30", "2025-01-01T25:00Z", "1/2/2025"])
def test_what_is_no_moment(text: str) -> None:
    assert typed_stamp(text, UTC) is None


def test_days_are_those_of_the_zone() -> None:
    zone = ZoneInfo("Europe/Berlin")
    spring = stamp_of("2025-03-30T22:30:00Z")
    assert spring is not None
    assert day_of(spring, zone).isoformat() == "2025-03-31"
    begin, end = (begin_of(day_of(spring, zone) - timedelta(days=back), zone) for back in (1, 0))
    assert end - begin == 23 * HOUR
    assert day_of(spring, timezone(timedelta(hours=-8))).isoformat() == "2025-03-30"
