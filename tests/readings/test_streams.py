"""Streams documents of the open standard: hours from events and timers, and what is not read."""

from __future__ import annotations

from datetime import UTC, date
from pathlib import Path

import pytest
from reading_documents import DAY, Told, streams

from whatif.readings.facts import How, MachineRead, NoteKind
from whatif.readings.fault import Unreadable, UnreadKind
from whatif.readings.streams import DEEPEST, read_streams
from whatif.readings.understood import ClockHours, Understood, machines_of, to_enter, understand


def machines(*texts: str, on: str | None = None, cut: str | None = None) -> list[MachineRead]:
    return machines_of([read_streams(text.encode(), "it") for text in texts], on, cut)


def hours(machine: MachineRead) -> ClockHours:
    assert machine.period is not None
    return Understood(("it",), (machine,), UTC).within(machine, *machine.period)


def test_hours_by_availability_and_execution() -> None:
    one, two = machines(DAY)
    assert (one.name, two.name) == ("mill-1", "mill-2")
    found = hours(one)
    # 7:00 to 9:00 and 11:00 to 12:00 in cut; 9:30 to 11:00 nobody knows.
    assert (found.on, found.cut) == pytest.approx((4.5, 3.0), abs=1e-9)
    assert (found.unavailable, found.gap, found.length) == (1.5, 0.0, 6.0)
    assert found.off == pytest.approx(0)
    found = hours(two)
    assert (found.on, found.cut, found.off) == (4.0, 4.0, 2.0)


def test_seven_decimals_are_kept() -> None:
    (one, _) = machines(DAY)
    assert one.cut is not None
    assert [(each.begin % 10**9, each.much) for each in one.cut.amounts][:1] == [
        (100, 2 * 3600 * 10**9)
    ]


@pytest.mark.parametrize("version", ["1.0", "1.3", "1.8", "2.0", "2.4"])
@pytest.mark.parametrize("prefix", ["", "m"])
def test_any_namespace_of_the_standard(version: str, prefix: str) -> None:
    text = streams(
        {"mill": [(1, "2025-03-03T06:00:00Z", "Execution", "ACTIVE")]},
        version=version,
        prefix=prefix,
        next_=2,
        last=1,
    )
    (one,) = machines(text)
    assert hours(one).cut == 6


def test_stamps_out_of_order_are_put_in_order_and_told() -> None:
    told: list[Told] = [
        (1, "2025-03-03T06:00:00Z", "Execution", "READY"),
        (2, "2025-03-03T08:00:00Z", "Execution", "READY"),
        (3, "2025-03-03T07:00:00Z", "Execution", "ACTIVE"),
    ]
    (one,) = machines(streams({"mill": told}, next_=4, last=3))
    assert hours(one).cut == 1
    assert [note.kind for note in one.notes] == [NoteKind.OUT_OF_ORDER]


EARLY: list[Told] = [
    (1, "2025-03-03T06:00:00Z", "Execution", "ACTIVE"),
    (2, "2025-03-03T08:00:00Z", "Execution", "READY"),
]


def later(sequence: int) -> list[Told]:
    return [
        (sequence, "2025-03-03T10:00:00Z", "Execution", "ACTIVE"),
        (sequence + 1, "2025-03-03T11:00:00Z", "Execution", "READY"),
    ]


def test_documents_that_join_leave_no_gap() -> None:
    (one,) = machines(
        streams({"mill": EARLY}, next_=3, last=40), streams({"mill": later(3)}, next_=5, last=4)
    )
    assert (hours(one).cut, hours(one).on, hours(one).gap) == (3, 6, 0)


def test_what_no_document_has_is_a_gap() -> None:
    (one,) = machines(
        streams({"mill": later(30)}, next_=32, last=31), streams({"mill": EARLY}, next_=3, last=40)
    )
    # The first one is known to 8:00 alone, when its last value came.
    assert (hours(one).cut, hours(one).on, hours(one).gap) == (3, 4, 2)


def test_an_agent_that_began_anew_leaves_a_gap() -> None:
    (one,) = machines(
        streams({"mill": EARLY}, next_=3, last=40),
        streams({"mill": later(3)}, next_=5, last=4, instance=8),
    )
    assert hours(one).gap == 2


CURRENT: list[Told] = [
    (5, "2025-03-03T06:00:00Z", "Execution", "ACTIVE"),
    (90, "2025-03-03T06:00:00Z", "Availability", "AVAILABLE"),
]


def test_a_current_document_holds_until_it_was_made() -> None:
    first = streams({"mill": CURRENT}, created="2025-03-03T08:00:00Z", next_=100, last=99)
    same = streams({"mill": CURRENT}, created="2025-03-03T11:00:00Z", next_=200, last=199)
    assert hours(machines(first)[0]).cut == 2
    # The value has not changed since, so nothing is unknown between the two.
    assert (hours(machines(first, same)[0]).cut, hours(machines(first, same)[0]).gap) == (5, 0)
    told = [(150, "2025-03-03T10:00:00Z", "Execution", "ACTIVE"), CURRENT[1]]
    other = streams({"mill": told}, created="2025-03-03T11:00:00Z", next_=200, last=199)
    found = hours(machines(first, other)[0])
    assert (found.cut, found.gap) == (3, 2)


TIMED: list[Told] = [
    (1, "2025-03-03T06:00:00Z", 'EquipmentTimer dataItemId="p" subType="POWERED"', "3600"),
    (2, "2025-03-03T06:00:00Z", 'EquipmentTimer dataItemId="w" subType="WORKING"', "100.5"),
    (3, "2025-03-03T07:00:00Z", 'EquipmentTimer dataItemId="w" subType="WORKING"', "UNAVAILABLE"),
    (4, "2025-03-03T16:00:00Z", 'EquipmentTimer dataItemId="p" subType="POWERED"', "32400.0"),
    (5, "2025-03-03T16:00:00Z", 'EquipmentTimer dataItemId="w" subType="WORKING"', "14500.5"),
    (6, "2025-03-03T16:00:00Z", "Execution", "READY"),
]


def test_own_timers_come_before_events() -> None:
    (one,) = machines(streams({"mill": TIMED}, next_=7, last=6))
    assert one.on is not None
    assert one.on.how is How.TIMER
    assert (hours(one).on, hours(one).cut, hours(one).off) == (8, 4, 2)


def accumulated(name: str, *values: str) -> list[Told]:
    return [
        (
            10 * place + len(name),
            f"2025-03-0{place + 3}T06:00:00Z",
            f'AccumulatedTime dataItemId="{name}" name="{name}"',
            value,
        )
        for place, value in enumerate(values)
    ]


def test_accumulated_times_are_known_by_plain_words_or_named() -> None:
    on, cut = accumulated("power_on", "0", "36000", "72000"), accumulated("cutting", "5", "18005")
    (one,) = machines(streams({"mill": [*on, *cut]}))
    assert (hours(one).on, hours(one).cut) == (10, 5)  # of the day that both have
    (one,) = machines(streams({"mill": accumulated("t1", "0", "7200")}))
    assert one.period is None
    assert one.meters == ("t1 (t1)",)
    (one,) = machines(
        streams({"mill": [*accumulated("t1", "0", "7200"), *accumulated("t22", "0", "3600")]}),
        on="T1",
        cut="t22",
    )
    assert (hours(one).on, hours(one).cut) == (2, 1)


def test_meters_that_fall_or_run_ahead_are_told() -> None:
    on = accumulated("power_on", "90000", "0", "200000")
    cut = accumulated("cutting", "0", "10", "20")
    (one,) = machines(streams({"mill": [*on, *cut]}))
    assert [note.kind for note in one.notes] == [NoteKind.METER_FELL, NoteKind.FASTER_THAN_TIME]


def test_a_reset_that_is_told_of_counts_from_nothing() -> None:
    told = accumulated("power_on", "90000", "3600")
    told[1] = (*told[1][:2], told[1][2] + ' resetTriggered="MANUAL"', told[1][3])
    (one,) = machines(streams({"mill": [*told, *accumulated("cutting", "0", "10")]}))
    assert (hours(one).on, one.notes) == (1, ())


def test_unavailable_is_neither_on_nor_off_and_bounds_the_share() -> None:
    (one, _) = machines(DAY)
    found = to_enter(Understood(("it",), (one,), UTC))
    assert found is not None
    assert found.share_range == pytest.approx((100 * 3 / 6, 100 * 4.5 / 6))
    assert found.weeks == pytest.approx(6 / 168)


def test_days_part_hours_at_midnight() -> None:
    text = streams(
        {"mill": [(1, "2025-03-03T22:00:00Z", "Execution", "ACTIVE")]},
        created="2025-03-04T03:00:00Z",
        next_=2,
        last=1,
    )
    (one,) = machines(text)
    days = Understood(("it",), (one,), UTC).days(one)
    assert [(each.day, each.hours.cut) for each in days] == [
        (date(2025, 3, 3), 2),
        (date(2025, 3, 4), 3),
    ]


BOMB = """<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "bb"><!ENTITY c "&b;&b;">]><a>&c;</a>"""
OUTSIDE = '<!DOCTYPE a [<!ENTITY b SYSTEM "file:///etc/hostname">]><a>&b;</a>'
ERROR = (
    '<MTConnectError xmlns="urn:mtconnect.org:MTConnectError:1.3"><Errors>'
    '<Error errorCode="OUT_OF_RANGE">from must be greater than 5</Error></Errors></MTConnectError>'
)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        (BOMB, UnreadKind.HAS_ENTITIES),
        (OUTSIDE, UnreadKind.HAS_ENTITIES),
        (DAY[:-30], UnreadKind.NO_XML),
        ("<html><body>hello</body></html>", UnreadKind.OTHER_DOCUMENT),
        (ERROR, UnreadKind.AGENT_FAULT),
        (DAY.replace("<Streams>", "<Streams>" + "<a>" * DEEPEST), UnreadKind.TOO_DEEP),
        ('<?xml version="1.0" encoding="nonsense"?><a/>', UnreadKind.NO_XML),
    ],
)
def test_what_is_not_read(text: str, kind: UnreadKind) -> None:
    with pytest.raises(Unreadable) as found:
        read_streams(text.encode(), "it")
    assert found.value.kind is kind


def test_too_many_observations_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("whatif.readings.streams.MOST", 9)
    with pytest.raises(Unreadable) as found:
        read_streams(DAY.encode(), "it")
    assert found.value.kind is UnreadKind.TOO_MANY


def test_a_document_without_machines_is_told(tmp_path: Path) -> None:
    path = tmp_path / "it.xml"
    path.write_text(streams({}), "utf-8")
    with pytest.raises(Unreadable) as found:
        understand([str(path)], UTC)
    assert found.value.kind is UnreadKind.NOTHING_IN_IT
