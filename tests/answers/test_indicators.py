"""Indicators of ISO 22400-2 and loading losses, against formulas and numbers by hand."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from pathlib import Path

import pytest
from answer_studies import TODAY, figured, plan_of, sound, today
from few_draws import SCENARIOS, few_weeks
from json_told import json_of
from night_studies import SHIFT
from night_studies import study as night

from whatif.answers.compare import compare, compare_wholly
from whatif.answers.indicators import (
    KEYS as SHOWN,
)
from whatif.answers.indicators import Indicator, indicators, loading_losses, times_of
from whatif.answers.states import states_of
from whatif.cell.calendar import AFTER_HOURS, ATTENDED, ON_BREAK
from whatif.cell.model import HOUR, WEEK
from whatif.cell.run import Run
from whatif.cell.states import STATES, State
from whatif.command.main import main
from whatif.reports.comparison import comparison_report
from whatif.reports.document import as_csv, as_markdown, as_text
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import check
from whatif.study.file.reading import read_file
from whatif.telling.table import STATES_IN_WORDS, indicator_texts, indicator_words, table_rows

KEYS = [
    *("availability", "utilization_efficiency", "allocation_efficiency", "setup_ratio"),
    *("technical_efficiency", "worker_efficiency", "quality_ratio", "loading_loss_product"),
]

# Two weeks of one machine, in hours: 80 attended, 5 on breaks (nothing may be begun in them),
# 251 after hours. Per week half of it.
SPENT = {
    (ATTENDED, State.IN_CYCLE): 40,
    (ATTENDED, State.LOAD): 10,
    (ATTENDED, State.PALLET_CHANGE): 1,
    (ATTENDED, State.STOPPED): 2,
    (ATTENDED, State.WAITING_FOR_PERSON): 4,
    (ATTENDED, State.FIRST_PIECE): 3,
    (ATTENDED, State.SETUP): 6,
    (ATTENDED, State.PERSON_AT_MACHINE): 1,
    (ATTENDED, State.WARM_UP): 1,
    (ATTENDED, State.NO_FIXTURE): 5,
    (ATTENDED, State.NOTHING_DUE): 7,
    (ON_BREAK, State.IN_CYCLE): 2,
    (ON_BREAK, State.NOBODY_ON_DUTY): 3,
    (AFTER_HOURS, State.IN_CYCLE): 8,
    (AFTER_HOURS, State.OUTSIDE_RUNNING_HOURS): 243,
}
APT = (40 + 2 + 8) / 2
AUST = (6 + 1 + 1) / 2
ADET = (10 + 1 + 2 + 4 + 3) / 2
AUBT = APT + AUST + ADET
PBT = (80 + 2 + 8) / 2
ON_DUTY = 5 * 7.5 * 2
"""Two people, five days of eight hours with half an hour of break."""


def by_hand(text: str = TODAY, cut: int = 100, busy: float = 60) -> dict[str, Indicator]:
    plan = plan_of(text)
    return dict(indicators(plan, figured(text, [cut], SPENT, busy=busy)))


# Formulas of ISO 22400-2:2014 as an open ontology of the standard has them.
@pytest.mark.outside("ISO 22400-2: formulas of seven indicators", values=7)
def test_each_indicator_has_the_formula_of_the_standard() -> None:
    found = by_hand(today('part.body.scrap = "4 %"'))
    assert list(found) == KEYS
    assert {key: one.percent for key, one in found.items()} == {
        "availability": pytest.approx(100 * APT / PBT),
        "utilization_efficiency": pytest.approx(100 * APT / AUBT),
        "allocation_efficiency": pytest.approx(100 * AUBT / PBT),
        "setup_ratio": pytest.approx(100 * AUST / (APT + AUST)),
        "technical_efficiency": pytest.approx(100 * APT / (APT + ADET)),
        # 60 hours busy in two weeks.
        "worker_efficiency": pytest.approx(100 * 30 / ON_DUTY),
        "quality_ratio": pytest.approx(96),
        "loading_loss_product": pytest.approx(100 * APT / PBT * 0.96),
    }
    # The same with a pencil: 25 / 45, 25 / 39, 39 / 45, 4 / 29, 25 / 35.
    assert [round(found[key].percent or 0, 1) for key in KEYS[:5]] == [55.6, 64.1, 86.7, 13.8, 71.4]


def test_the_numbers_stand_in_words() -> None:
    found = by_hand()
    assert indicator_words(found["availability"]) == (
        "Of 45.0 planned machine hours a week 25.0 are in cycle: availability 55.6 %."
    )
    assert indicator_words(found["setup_ratio"]) == (
        "Of 29.0 machine hours in cycle or setup a week 4.0 are setup: setup ratio 13.8 %."
    )
    assert indicator_words(found["worker_efficiency"]) == (
        "Of 75.0 hours of people on duty a week 30.0 are at work: worker efficiency 40.0 %."
    )
    assert indicator_words(found["quality_ratio"]) == (
        "Of 50.0 pieces made a week 50.0 are good: quality ratio 100.0 %."
    )
    # Lost whole: setups 3, prove-outs .5, warm-up .5, stops 1.
    assert indicator_words(found["loading_loss_product"]) == (
        "Of 45.0 planned machine hours a week 5.0 are lost to setups and stops: uptime 88.9 %. "
        "Pieces made at the cycle entered take 25.0 of the others: speed 62.5 %. Good are 100.0 % "
        "of them. Multiplied: left after losses 55.6 %."
    )
    assert found["availability"].formula == "APT / PBT"


def test_breaks_are_planned_where_pieces_may_be_begun_in_them() -> None:
    text = today("unattended.through_breaks = true")
    times = times_of(plan_of(text), figured(text, [100], SPENT))
    # All 5 hours of breaks, not only the 2 in cycle.
    assert times.planned == pytest.approx((80 + 5 + 8) / 2)


@pytest.mark.parametrize(
    ("lines", "runs_on"),
    [
        # All three pieces would have been cut by 07:03.
        (('unattended.after_shift = "until done"',), 3600),
        (('unattended.after_shift = "90 min"',), 3600),
        # Pieces are begun until 06:30, 27 min after the first one was.
        (('unattended.after_shift = "20 min"',), 27 * 60),
        # Only the first piece, be it finished, or held when the people go at 06:10.
        (('unattended.after_shift = "0 h"',), 20 * 60),
        (('unattended.after_shift = "0 h"', 'unattended.at_limit = "hold"'), 0),
    ],
)
def test_a_stopped_night_is_planned_as_long_as_work_was_loaded(
    lines: tuple[str, ...], runs_on: int
) -> None:
    """A table is loaded from 06:00 to 06:03 on Monday, with three pieces of 20 min; the people go
    at 06:10, and a stop waits for them until the next Monday."""
    shift = SHIFT.replace('"14:00"', '"06:10"').replace(
        '"mon", "tue", "wed", "thu", "fri"', '"mon"'
    )
    stop = ("stop.jam.every = '2 h'", "stop.jam.repair = '1 min'")
    cell = plan_of(night(*stop, "machine.mill.pallets = 1", *lines, shift=shift)).cell
    assert cell is not None
    # Runs whose stop comes in the first piece after the people have gone.
    lucks = [
        luck
        for luck in range(1, 200)
        if 7 * 60 < Run(replace(cell, luck=luck)).floor.spindles[0].to_stop[0] < 20 * 60
    ]
    for luck in lucks[:3]:
        run = Run(replace(cell, luck=luck))
        stop_at = 6 * HOUR + 3 * 60 + run.floor.spindles[0].to_stop[0]
        run.advance(WEEK + 6 * HOUR)
        tally = run.tally()
        if "hold" in " ".join(lines):
            assert tally.spent[0][AFTER_HOURS][State.STOPPED] == tally.beyond[0] == 0
            continue
        stopped = WEEK + 6 * HOUR - stop_at
        assert tally.spent[0][AFTER_HOURS][State.STOPPED] == stopped
        assert tally.beyond == (stopped - (6 * HOUR + 3 * 60 + runs_on - stop_at),)
    assert lucks


def test_hours_stopped_beyond_the_loaded_work_are_neither_planned_nor_delay() -> None:
    """Of 8 h stopped in two weeks' nights 3 h are beyond: 1.5 h a week are taken off the hours
    delayed, busy, planned and lost."""
    spent = {**SPENT, (AFTER_HOURS, State.STOPPED): 8, (AFTER_HOURS, State.LOAD): 0}
    plan = plan_of(TODAY)
    whole = figured(TODAY, [100], spent, busy=60)
    less = replace(whole, stopped_beyond=1.5)
    before, after = times_of(plan, whole), times_of(plan, less)
    assert (before.planned, before.delay, before.down) == (PBT + 4, ADET + 4, 5 + 4)
    assert (after.planned, after.delay, after.down) == (PBT + 2.5, ADET + 2.5, 5 + 2.5)
    found = indicators(plan, less)
    assert found["technical_efficiency"].percent == pytest.approx(100 * APT / (APT + ADET + 2.5))
    assert found["allocation_efficiency"].percent == pytest.approx(100 * (AUBT + 2.5) / (PBT + 2.5))


# Nakajima-type loading losses as reprinted in a textbook: 480 - 20 = 460 min loading time, 60 down,
# 400 pieces at .5 min ideal, 8 rejects: .87 x .50 x .98 = .426.
@pytest.mark.outside("Nakajima: loading losses .87 x .50 x .98 = .426, as reprinted", values=4)
def test_the_reprinted_example_of_loading_losses() -> None:
    found = loading_losses(loading=460, down=60, ideal=400 * 0.5, made=400, rejects=8)
    assert found is not None
    factors = (found.uptime, found.speed, found.quality)
    assert [f"{one:.2f}" for one in factors] == ["0.87", "0.50", "0.98"]
    assert f"{found.product:.3f}" == "0.426"


@pytest.mark.parametrize(("loading", "down", "made"), [(0, 0, 10), (60, 60, 10), (60, 0, 0)])
def test_loading_losses_need_time_and_pieces(loading: float, down: float, made: float) -> None:
    assert loading_losses(loading, down, 5, made, 0) is None


def test_where_the_base_is_nothing_there_is_no_indicator() -> None:
    plan = plan_of(TODAY)
    nothing = figured(TODAY, [0], {(AFTER_HOURS, State.NOBODY_ON_DUTY): 336})
    nobody = replace(nothing, people=replace(nothing.people, on_duty=0.0))
    found = indicators(plan, nobody)
    assert {one.percent for one in found.values()} == {None}
    assert indicator_words(found["availability"]) == (
        "There are no planned machine hours, so there is no availability."
    )
    assert (
        indicator_words(found["quality_ratio"])
        == "There are no pieces made, so there is no quality ratio."
    )


def test_parts_that_only_orders_ask_for_count_as_made() -> None:
    text = today(
        'part.cover.cycle = "9 min"',
        'part.cover.scrap = "50 %"',
        "part.cover.weekly = 0",
        'order.one.part = "cover"',
        "order.one.pieces = 40",
        'order.one.due = "fri 12:00"',
    )
    # The cover stands first in the file.
    found = figured(text, [40, 100])
    assert (found.made, found.good) == (50 + 20, 50 + 10)
    assert "cover" not in found.pieces
    share = indicators(plan_of(text), found)["quality_ratio"].percent
    assert share == pytest.approx(100 * 60 / 70)


@pytest.mark.parametrize("path", sorted(SCENARIOS.glob("*.toml")), ids=lambda path: path.stem)
def test_shares_of_the_demos_lie_between_nothing_and_all(path: Path) -> None:
    for answer in compare(check(few_weeks(read_file(path).draft)), Memory()).answers.values():
        assert answer.figures is not None
        found = indicators(answer.plan, answer.figures)
        for key, one in found.items():
            assert one.percent is not None, key
            assert -1e-9 <= one.percent <= 100 + 1e-9, key
        times = times_of(answer.plan, answer.figures)
        shares = {key: one.percent or 0 for key, one in found.items()}
        # availability = utilization efficiency x allocation efficiency, as the formulas have it.
        product = shares["utilization_efficiency"] * shares["allocation_efficiency"] / 100
        assert shares["availability"] == pytest.approx(product)
        assert times.busy <= times.planned + 1e-9
        assert times.made >= times.good


def test_no_state_is_counted_twice_or_forgotten() -> None:
    idle = {"outside_running_hours", "nobody_on_duty", "no_fixture", "no_stock", "nothing_due"}
    busy = [row.name for time in ("production", "setup", "delay") for row in states_of(time)]
    assert len(set(busy)) == len(busy)
    assert set(busy) == set(STATES) - idle


# --- where they are told ----------------------------------------------------------------

SAYS = '[scenario.bare]\nparent = "today"\npart.body.weekly = 0\n'


def test_json_has_them_beside_the_simulated() -> None:
    found = compare(sound(TODAY + SAYS), Memory())
    told = json_of(found)["scenarios"]
    answer = found.answers["today"]
    assert answer.figures is not None
    assert told["today"]["indicators_percent"] == {
        key: pytest.approx(one.percent)
        for key, one in indicators(answer.plan, answer.figures).items()
    }
    assert list(told["today"]["indicators_percent"]) == KEYS
    assert told["bare"]["indicators_percent"] is None


def test_tables_have_them_under_a_heading_and_say_what_they_count() -> None:
    found = compare(sound(TODAY + SAYS), Memory())
    lines = [row.label for row in table_rows(found)]
    at = lines.index("indicators as in ISO 22400-2")
    heading = table_rows(found)[at]
    assert heading.cells == ("", "")
    below = table_rows(found)[at + 1 : at + 1 + len(KEYS)]
    answer = found.answers["today"]
    assert answer.figures is not None
    shares = indicators(answer.plan, answer.figures).values()
    assert [row.cells for row in below] == [
        ("–" if one.percent is None else f"{one.percent:.1f}", "–") for one in shares
    ]
    assert {row.unit for row in below} == {"%"}
    for text in (as_text(comparison_report(found)), as_markdown(comparison_report(found))):
        assert STATES_IN_WORDS in text
    table = list(csv.reader(io.StringIO(as_csv(comparison_report(found)), newline=""), strict=True))
    assert ["availability: in cycle / planned", "%"] in [line[:2] for line in table]


def test_where_nothing_is_simulated_there_are_none() -> None:
    found = compare(sound(TODAY.replace("weekly = 100", "weekly = 0")), Memory())
    assert not any("ISO 22400-2" in row.label for row in table_rows(found))
    assert STATES_IN_WORDS not in as_text(comparison_report(found))


def test_compare_prints_them(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "study.toml"
    path.write_text(TODAY, encoding="utf-8")
    assert main(["compare", str(path), "--format", "json"]) == 0
    told = json.loads(capsys.readouterr().out)["scenarios"]["today"]["indicators_percent"]
    memory = Memory()
    whole = json_of(compare_wholly(sound(TODAY), memory, memory.pause))
    assert told == whole["scenarios"]["today"]["indicators_percent"]
    # 2 people tend one table that cuts 12 of every 16 minutes: nobody waits, nothing is set up.
    assert told["setup_ratio"] == 0
    assert 60 < told["availability"] < 80


def test_points_against_a_reference() -> None:
    half, third, none = (Indicator("", percent) for percent in (50.0, 33.0, None))
    assert indicator_texts(half, third) == ("50.0 %", "+17.0")
    assert indicator_texts(third, half) == ("33.0 %", "-17.0")
    assert indicator_texts(half, None) == ("50.0 %", "")
    assert indicator_texts(half, none) == ("50.0 %", "–")
    assert indicator_texts(none, half) == ("–", "–")


def test_points_of_what_reads_alike_are_0_and_not_blank() -> None:
    here, there = Indicator("", 93.21), Indicator("", 93.24)
    assert indicator_texts(here, there) == ("93.2 %", "0.0")


def test_points_are_what_a_pencil_finds_between_both_as_they_read() -> None:
    here, there = Indicator("", 49.84), Indicator("", 45.56)
    # Exactly 4.28, but 49.8 less 45.6 is 4.2.
    assert indicator_texts(here, there) == ("49.8 %", "+4.2")


def test_what_is_left_after_losses_is_called_so_and_no_product() -> None:
    assert by_hand()["loading_loss_product"].name == "left after losses"


def test_every_indicator_has_its_place() -> None:
    assert list(SHOWN) == KEYS
