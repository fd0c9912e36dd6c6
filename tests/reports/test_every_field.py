"""A study in which every key is entered, compared: each field of the JSON, by kind and pencil."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

import pytest
from answer_studies import sound, wholly
from every_key_study import EVERY_KEY
from json_told import json_of
from remembered import remembered

from whatif.study.file.reading import read_text
from whatif.study.schema.catalogue import ANY, HEAD_KEYS, KEYS, pattern_of

STATES = {
    *("in_cycle", "pallet_change", "warm_up", "stopped", "person_at_machine"),
    *("outside_running_hours", "setup", "load", "first_piece", "waiting_for_person"),
    *("nobody_on_duty", "no_fixture", "no_stock", "nothing_due"),
}
KINDS = ("saleable", "output", "spindle_hours", "per_paid_hour", "per_floor_area")
PER_RUSH = ("hours", "lost_spindle_hours", "lost_contribution")


@cache
def scenarios() -> Any:
    found = remembered(f"compared wholly\n{EVERY_KEY}", lambda: wholly(sound(EVERY_KEY)))
    return json_of(found)["scenarios"]


def test_every_key_is_entered() -> None:
    entered = {pattern_of(path) for one in read_text(EVERY_KEY).scenarios for path in one.entered}
    assert {key.pattern for key in KEYS} - {("part", ANY, "stock")} <= entered
    assert set(HEAD_KEYS) <= set(read_text(EVERY_KEY).head)


# -- what a field is: a kind, a kind or nothing, a list of one, an object -------------------------

NUMBER, TEXT, YES_NO = "a number", "a text", "true or false"


def is_a(value: Any, shape: Any, where: str = "") -> None:
    """Refuses what another program could not read as what it is said to be."""
    if isinstance(shape, dict):
        assert isinstance(value, dict), where
        assert shape.keys() <= value.keys(), where
        for key, below in shape.items():
            is_a(value[key], below, f"{where}.{key}")
    elif isinstance(shape, tuple):  # one of two
        if value is not None:
            is_a(value, shape[0], where)
    elif isinstance(shape, list):
        assert isinstance(value, list), where
        for one in value:
            is_a(one, shape[0], where)
    elif shape == NUMBER:
        assert type(value) in (int, float), where
    else:
        assert type(value) is {TEXT: str, YES_NO: bool}[shape], where


def each(keys: Any, shape: Any) -> dict[str, Any]:
    return dict.fromkeys(keys, shape)


PARTS = ("blank", "body", "lid")
FIT = {"fits": YES_NO, "per_pallet": NUMBER, "limits": [TEXT], "layout": [[NUMBER]]}
SCENARIO = {
    "title": TEXT,
    "parent": (TEXT, None),
    "warnings": [TEXT],
    "said": {"hours_per_day": NUMBER, "gain_percent": NUMBER},
    "hour_meters": {"utilization_percent": (NUMBER, None), "gain_range_percent": [NUMBER]},
    "simulated": {
        "weeks": NUMBER,
        "spindle_hours": each(("total", "attended", "breaks", "after_hours"), NUMBER),
        "hours_by_state": each(STATES, NUMBER),
        "pieces": each(PARTS, NUMBER),
        "demand_met_percent": each(PARTS, NUMBER),
        "could_make_percent": (NUMBER, None),
        "people_hours": each(("paid", "on_duty", "busy", "free_stretches"), NUMBER),
        "utilization_percent": each(("of_shift", "of_powered", "of_week"), NUMBER),
    },
    "band": ([NUMBER], None),
    "gain_percent": each(KINDS, NUMBER),
    "likely_percent": each(KINDS, [NUMBER]),
    "settled": YES_NO,
    "limit": TEXT,
    "fit": each(PARTS, {"mill": FIT, "saw": FIT}),
    "money": {
        "currency": TEXT,
        **each(("year", "year_gain", "capital", "net_present_value"), NUMBER),
        "not_priced": [TEXT],
        "payback_years": (NUMBER, None),
        "rate_of_return_percent": (NUMBER, None),
    },
    "rush": {
        "hot": each(PER_RUSH, NUMBER),
        "any": each(PER_RUSH, {"median": NUMBER, "worst": NUMBER}),
    },
    "orders": {"real": each(("first_off", "last_off", "late_hours"), NUMBER)},
    "cautions": [TEXT],
}


@pytest.mark.parametrize("id_", ["now", "more"])
@pytest.mark.long
def test_every_field_is_there_and_what_it_is_said_to_be(id_: str) -> None:
    found = scenarios()[id_]
    is_a(found, SCENARIO, id_)
    assert set(found["simulated"]["hours_by_state"]) == STATES
    assert all(len(found["likely_percent"][kind]) == 3 for kind in KINDS)
    assert all(text for text in (*found["warnings"], *found["cautions"], found["limit"]))


def test_what_the_pencil_finds_beside_it() -> None:
    now, more = scenarios()["now"], scenarios()["more"]
    # 3 x (5 h x .4 + 2 h x .5) = 9 h a day.
    assert now["said"] == {"hours_per_day": 9, "gain_percent": 0}
    assert now["hour_meters"]["utilization_percent"] == 25
    # Two persons on two days of 4 h less half an hour, one for 2 h; a quarter of an hour more off.
    people = now["simulated"]["people_hours"]
    assert (people["paid"], people["on_duty"]) == (2 * 2 * 3.5 + 2, 2 * 2 * 3.25 + 2)
    assert sum(now["simulated"]["hours_by_state"].values()) == pytest.approx(3 * 168)
    # Wanted of the blank: 12 / .98. A mill more: its price, one pallet and system, and the one-off.
    blank = now["simulated"]["pieces"]["blank"], now["simulated"]["demand_met_percent"]["blank"]
    assert blank[0] / (12 / 0.98) == pytest.approx(blank[1] / 100)
    fixtures = more["money"]["capital"] - (250_000 + 4_000 + 30_000 + 9_000)
    assert fixtures >= 0
    assert fixtures % (3 * 1_500) == 0
    # Floor: 2 x (12 + 1) + 4, and 3 x (12 + 1) + 4 with the mill more.
    hours = more["simulated"]["spindle_hours"]["total"] / now["simulated"]["spindle_hours"]["total"]
    floor = more["gain_percent"]["per_floor_area"]
    assert floor == pytest.approx(100 * (hours * 30 / 43 - 1), abs=1e-3)


def test_a_year_by_pencil() -> None:
    """46 weeks of contribution less material, wages and spindle hours; floor and yearly costs."""
    now = scenarios()["now"]
    made = now["simulated"]["pieces"]
    real = 4 * 0.98 / 2  # a week; the rest of body is of the endless mix
    sold = 45 * (min(12, made["body"] - real) + real) + 20 * min(6, made["lid"])
    scrap = 12 * made["body"] * 0.02 / 0.98 + 3 * made["blank"] * 0.04 / 0.96
    wages = 30 * 2 * 2 * 3.5 + 28 * 2
    week = sold - scrap - wages - 6 * now["simulated"]["spindle_hours"]["total"]
    year = 46 * week - 110 * (2 * 13 + 4) - 1000 - 2 * 5000
    assert now["money"]["year"] == pytest.approx(year, abs=0.1)
    # Of two years' figures the gain, of which nothing comes back: six years at 9 % are 4.485919.
    more = scenarios()["more"]["money"]
    assert more["year_gain"] == pytest.approx(more["year"] - now["money"]["year"])
    assert more["year_gain"] < 0
    assert (more["payback_years"], more["rate_of_return_percent"]) == (None, None)
    worth = more["year_gain"] * 4.485919 - more["capital"]
    assert more["net_present_value"] == pytest.approx(worth, rel=1e-6)


def test_where_there_is_nothing_it_is_null() -> None:
    now, more, bare = scenarios().values()
    assert len(now["band"]) == 2
    assert more["band"] is None  # its stop is taken out
    assert (now["parent"], more["parent"], bare["parent"]) == (None, "now", None)
    assert more["hour_meters"]["utilization_percent"] is None  # they are today's
    fit = more["fit"]
    # What is wanted and fits nowhere has 0 pieces; what nobody wants, and no machine, is left out.
    assert (
        more["simulated"]["pieces"]["tall"] == more["simulated"]["demand_met_percent"]["tall"] == 0
    )
    assert more["simulated"]["could_make_percent"] is None
    assert (fit["tall"]["mill"]["fits"], fit["tall"]["mill"]["per_pallet"]) == (False, 0)
    assert (fit["lid"]["saw"]["fits"], fit["blank"]["mill"]["fits"]) == (True, False)
    assert "gone" not in {*fit, *more["simulated"]["pieces"]}
    assert "lathe" not in fit["lid"]
    for key in ("simulated", "band", "money", "hour_meters"):
        assert bare[key] is None, key
    assert set(bare["gain_percent"].values()) == set(bare["likely_percent"].values()) == {None}
    assert (bare["fit"], bare["rush"], bare["orders"], bare["cautions"]) == ({}, {}, {}, [])
    assert json.loads(json.dumps(bare))["settled"] is True
