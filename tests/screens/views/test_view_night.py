"""The view of the night: its keys and clicks, how it follows edits, and what it says of no night.

Texts in short and the picture are held here too, on the mill of ``test_night``: in its nights the
pallet in the spindle is cut out at 14:14, and every other one takes 61 min more.
"""

from __future__ import annotations

import pickle
from dataclasses import replace
from pathlib import Path

import pytest
from answer_studies import plan_of
from looks import Looking
from night_studies import SHIFT, monday, nights, silent, study
from screen import SCENARIOS, SMALL_FIRST, Screen, on_screen

from whatif.answers.night.night import GroupNight, nights_of, steps
from whatif.answers.night.pallets import fewest
from whatif.screens.views.night import _found_rows, _legend
from whatif.screens.views.pane import ViewPane
from whatif.screens.widgets.editor import Editor
from whatif.session.calculate.questions import NightsOf, PalletsThatLast
from whatif.telling.amounts import NOTHING
from whatif.telling.night import (
    ending_of_all,
    in_a_sentence,
    like_it,
    no_night,
    side_by_side,
)
from whatif.telling.night_pictures import Shade, night_bar, night_found, one_clock

STOPS = ('stop.tool.every = "30 h"', 'stop.tool.repair = "1 h"', "runs = 5")
ALWAYS = (
    SHIFT.replace('"06:00"', '"00:00"')
    .replace('"14:00"', '"00:00"')
    .replace('"fri"]', '"fri", "sat", "sun"]')
)


def _group(*at_work: float) -> GroupNight:
    one = monday().groups[0]
    return GroupNight(one.group, 1, 4, one.hours, at_work, 0, {"cut": 100.0}, 4, 0)


@pytest.mark.long
def test_a_long_name_is_whole_where_what_is_found_can_be_told_in_short(tmp_path: Path) -> None:
    long = "Second pallet each and a longer night"
    text = (SCENARIOS / "one-person.toml").read_text("utf-8")
    path = tmp_path / "study.toml"
    path.write_text(text.replace("Second pallet each", long), "utf-8")
    lines = Looking(path, "night", (80, 24)).text.splitlines()
    assert sum(long in line and " runs to " in line for line in lines) == 1


@pytest.mark.long
def test_that_there_are_more_scenarios_than_pictures_is_said_at_their_figures() -> None:
    """Nine scenarios, three of which have a column at 80 cells, and a picture."""
    seen = Looking(SCENARIOS / "one-person.toml", "night", (80, 24)).text.splitlines()
    at = next(i for i, line in enumerate(seen) if "runs for, worst night" in line)
    assert any("6 more ›" in line for line in seen[at - 2 : at])


# --- the pictures --------------------------------------------------------------------------


def _bar(group: GroupNight, cells: int, after_shift: float | None = None) -> str:
    """Of a night of 16 h from 14:00 to 06:00."""
    clock = one_clock(monday(), [], cells)
    told = replace(nights(), after_shift=after_shift)
    return "".join(text for _, text in night_bar(clock, monday(), monday(), told, group))


def test_a_bar_is_as_high_as_the_share_of_nights_in_which_it_still_cuts() -> None:
    # Four nights; a cell is two hours, and midnight is ten hours after 14:00.
    assert _bar(_group(2.0, 4.0, 4.0, 8.0), 8) == "█▆▂▂╌┊╌╌"


def test_a_bar_tells_from_when_on_no_piece_may_be_begun() -> None:
    assert _bar(_group(2.0), 8, 6.0) == "█╌╌  ┊  "
    assert _bar(_group(16.0), 8) == "████████"
    assert _bar(_group(0.0), 8, 0.0) == "     ┊  "


def test_the_shortest_run_on_is_still_seen() -> None:
    assert _bar(_group(0.01), 6)[0] == "█"


@pytest.mark.parametrize("cells", [40, 53, 84, 165])
def test_marks_of_the_clock_stand_where_their_hours_are(cells: int) -> None:
    clock = one_clock(monday(), [], cells)  # 14:00 to 06:00, 16 h
    text = clock.hours()
    assert len(text) == cells
    assert text.startswith("14:00")
    assert text.endswith("06:00")
    marks = text.split()[1:-1]
    assert marks
    for mark in marks:
        hours = (int(mark[:2]) - 14) % 24
        assert text.index(f" {mark}") + 1 == int(hours * cells / 16)
    assert clock.days().index("┊ Tue") == int(10 * cells / 16)
    alike = one_clock(nights().alike[0], [], cells).days()
    assert alike.strip() == ("┊ after midnight" if cells > 40 else "┊")


def test_the_clock_of_a_weekend_names_days() -> None:
    clock = one_clock(nights().alike[1], [], 84)  # Friday 14:00 to Monday 06:00, 64 h
    assert clock.days().index("┊ Sat") == int(10 * 84 / 64)
    assert clock.days().index("┊ Sun") == int(34 * 84 / 64)


def test_nights_of_other_hours_stand_on_one_clock() -> None:
    """Two hours longer there: people are still there when the first ones have gone."""
    here, longer = nights(), nights(shift=SHIFT.replace('"14:00"', '"16:00"'))
    night, other = here.alike[0], longer.alike[0]
    clock = one_clock(night, [other], 16)
    assert clock.hours().startswith("14:00")
    (first, people), *_ = night_bar(clock, night, other, longer, other.groups[0])
    assert (first, people) == (Shade.PEOPLE, "==")


def test_until_when_it_runs_and_what_then_limits() -> None:
    """Not "out of work": it may be that nothing may be begun any longer."""
    said = night_found(nights("warm_up = 1").alike[0])
    assert said.text == "runs to 17:17 on average: all that is loaded is cut"
    assert said.within(28) == "runs to 17:17: all is cut"
    lasting = nights("machine.mill.pallets = 30")
    assert night_found(lasting.alike[0]).text == "runs on till 06:00 every night"
    held = nights('unattended.after_shift = "0 h"', 'unattended.at_limit = "hold"')
    stands = "stands from 14:00 on: pieces may not be begun any longer"
    assert night_found(held.alike[0]).text == stands


# --- words ---------------------------------------------------------------------------------


def test_the_answer_in_a_sentence() -> None:
    found = nights("warm_up = 1")
    assert in_a_sentence(found.alike[0], found) == (
        "the people leave at 14:00; the spindle stops at 17:17 on average, after 3.3 h of 16.0 h "
        "till the next shift. What ends it: all that is loaded is cut."
    )
    assert "leave on Fri at 14:00" in in_a_sentence(found.alike[1], found)
    assert in_a_sentence(found.alike[0], found, in_short=True).startswith(
        "the people leave at 14:00; the spindle stops at 17:17 on average, after 3.3 h. What ends"
    )


def test_the_sentence_names_the_scenario_that_it_is_of() -> None:
    text = Looking(SCENARIOS / "small-orders.toml", "night", (120, 32), column=1).text
    assert " In A cell, four pallets the people leave at " in text
    text = Looking(SCENARIOS / "small-orders.toml", "night", (120, 32), column=0).text
    assert " In Today: three mills the people leave at " in text, "its colon is the only one"


def test_what_ends_nights_adds_up_to_all_nights_as_told() -> None:
    """Each rounded by itself 94.6, 3.6 and 1.8 would be 101, as would 30.5, 29.5 and 40."""
    found = nights("warm_up = 1")
    night = found.alike[0]

    def told(lasting: float, **ends: float) -> str:
        group = replace(night.groups[0], lasting=lasting, ends=ends)
        return ending_of_all(replace(night, groups=(group,)))

    assert told(0, cut=94.6, limit=3.6, not_loaded=1.8) == (
        "all that is loaded is cut (95 % of nights), "
        "pieces may not be begun any longer (3 %), not all was loaded when the people left (2 %)"
    )
    assert told(0, cut=99.8, limit=0.2) == "all that is loaded is cut"
    assert told(99.7, runs=99.7, cut=0.3) == "all that is loaded is cut (<1 % of nights)"
    assert told(40, runs=40, cut=30.5, not_loaded=29.5) == (
        "all that is loaded is cut (31 % of nights), not all was loaded when the people left (29 %)"
    )


def test_the_sentence_where_it_lasts_and_where_nothing_goes_on() -> None:
    lasting = nights("machine.mill.pallets = 30")
    text = in_a_sentence(lasting.alike[0], lasting)
    assert text.endswith("goes on till the next shift, 16.0 h later, every time.")
    held = nights('unattended.after_shift = "0 h"', 'unattended.at_limit = "hold"')
    text = in_a_sentence(held.alike[0], held)
    assert "no spindle goes on, and the next shift is 16.0 h away" in text
    assert text.endswith(": pieces may not be begun any longer.")


def test_odds_are_told_with_stops() -> None:
    found = nights(*STOPS, "machine.mill.pallets = 30")
    one = found.alike[0]
    assert 0 < one.all_last < 100
    odds = f"lasts till the next shift in {one.all_last:.0f} % of the nights"
    assert f"{odds} (20 nights in 5 runs with stops)." in in_a_sentence(one, found)


def test_scenarios_side_by_side() -> None:
    here = nights("warm_up = 1")
    longer = nights("warm_up = 1", shift=SHIFT.replace('"14:00"', '"16:00"'))
    rows = {one.label: one.cells for one in side_by_side(here.alike[0], [here, longer, None])}
    assert "all last till next shift" not in rows, "none does"
    lasting = nights("machine.mill.pallets = 30")
    rows_then = side_by_side(here.alike[0], [here, lasting, None])
    last = next(one.cells for one in rows_then if one.label == "all last till next shift")
    assert last == ("0 % of nights", "100 % of nights", NOTHING)
    # Four pallets of 3 pieces, each visit 6 min.
    assert (rows["cut pieces, morning"][0], rows["people's work then"][0]) == ("12", "24 min")
    assert rows["  done, by the clock"][0].startswith("after ")
    assert "  not done that day" not in rows
    in_short = [one.label for one in side_by_side(here.alike[0], [here], in_full=False)]
    assert [*rows] == [*in_short[:3], "  done, by the clock", *in_short[3:]]


@pytest.mark.parametrize("size", SMALL_FIRST)
def test_bars_stand_in_the_order_of_the_columns(size: tuple[int, int]) -> None:
    """As the table below them has it, whichever scenario is chosen."""
    seen = Looking(SCENARIOS / "pallets-until-demand.toml", "night", size, column=1).text
    names = ("Today: two tables", "Second pallet each", "Two each, 4 h longer")
    places = [seen.index(f"\n {name}  ") for name in names]
    assert places == sorted(places)


@pytest.mark.parametrize("cells", [40, 79, 119])
def test_every_shade_is_told_however_narrow_the_screen(cells: int) -> None:
    rows = _legend(cells, people=True)
    told = " ".join("".join(span.text for span in row) for row in rows)
    assert all(shade.value in told for shade in Shade)
    assert all(len("".join(span.text for span in row).rstrip()) <= cells for row in rows)


def test_nights_of_a_scenario_with_other_shifts_are_found_by_the_weekday() -> None:
    here = nights()
    other = nights(shift=SHIFT.replace("shift.day", "shift.early").replace(', "fri"]', "]"))
    assert like_it(other, here.alike[0]) == other.alike[0]
    assert like_it(other, here.alike[1]) is None  # nobody comes on Fridays there


def test_why_there_is_no_night() -> None:
    assert no_night(nights()) == ""
    assert "some shift always runs" in no_night(nights(shift=ALWAYS))
    assert "n adds a shift" in no_night(nights(shift=SHIFT + "people = 0\n"))
    assert "n adds one" in no_night(None)


# --- progress ------------------------------------------------------------------------------


def test_nights_tell_how_far_they_are() -> None:
    plan = plan_of(study(*STOPS, "weeks = 2", "warm_up = 1"))
    told: list[tuple[int, int]] = []
    nights_of(plan, lambda done, of: told.append((done, of)))
    assert steps(plan) == 5 * (1 + 2 * 5)
    assert told == [(done, steps(plan)) for done in range(steps(plan))]


def test_the_search_for_pallets_tells_how_far_it_is_and_can_be_given_up() -> None:
    plan = plan_of(study())
    told: list[tuple[int, int]] = []
    found = fewest(plan, lambda done, of: told.append((done, of)))
    assert found == fewest(plan, silent)
    # 16, 21 and 17 pallets are tried, each for a week of five nights.
    assert len(told) == 3 * 5
    assert [done for done, _ in told] == list(range(len(told)))
    assert all(done < of for done, of in told)

    class Enough(Exception):
        pass

    def stop(done: int, of: int) -> None:
        if done > 3:
            raise Enough

    with pytest.raises(Enough):
        fewest(plan, stop)


# --- on the screen ---------------------------------------------------------------------------


async def _opened(screen: Screen, column: int = 0) -> Screen:
    await screen.press(*["right"] * column, "f8")
    return screen


def _written(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "study.toml"
    path.write_text(text)
    return path


@pytest.mark.long
async def test_keys_turn_to_other_nights_and_pages(tmp_path: Path) -> None:
    async with on_screen(_written(tmp_path, study()), state=tmp_path) as screen:
        await _opened(screen)
        assert "After Monday's to Thursday's day shift" in screen.text
        assert "How many pallets fill the hours that are allowed: f works it out." in screen.text
        await screen.press("n")
        assert "After Friday's day shift" in screen.text
        await screen.press("n", "w")
        assert "its nights in words" in screen.text
        assert "DGUV 209-026" in screen.text
        await screen.press("f")
        assert "17 pallets on mill are the fewest that last after Monday's" in screen.text
        await screen.press("f")
        assert "the people leave at 14:00" in screen.text
        # What has been worked out stands there now, and no longer than it holds.
        assert "17 pallets on mill are the fewest that last after Monday's" in screen.text


async def test_the_search_alone_is_stopped(tmp_path: Path) -> None:
    async with on_screen(_written(tmp_path, study()), state=tmp_path) as screen:
        await _opened(screen)
        await screen.press("f", "s")
        assert "Stopped; s goes on with it." in screen.text
        await screen.press("f")
        assert "the people leave at 14:00" in screen.text
        await screen.press("f")
        assert "are the fewest that last" in screen.text


@pytest.mark.long
async def test_clicks_do_what_the_keys_do(tmp_path: Path) -> None:
    path = SCENARIOS / "pallets-until-demand.toml"
    async with on_screen(path, state=tmp_path) as screen:
        await _opened(screen)
        pane = screen.app.desk.query_one(ViewPane)

        async def click(words: str) -> None:
            lines = screen.text.splitlines()
            y = next(i for i, line in enumerate(lines) if words in line and i >= pane.region.y)
            x = lines[y].index(words)
            await screen.pilot.click(ViewPane, offset=(x, y - pane.region.y))
            await screen.settle()

        await click("After Monday")
        assert "After Friday's day shift" in screen.text
        await screen.press("w")
        await screen.press("w")
        await screen.press("f")
        assert "No number of pallets on each mill lasts" in screen.text
        await screen.press("f")
        await click("1.1 h")  # in the column of the third scenario
        assert screen.app.desk.state.chosen == "evening"


@pytest.mark.long
async def test_the_hours_after_the_shift_are_edited_and_followed(tmp_path: Path) -> None:
    async with on_screen(_written(tmp_path, study()), state=tmp_path) as screen:
        await _opened(screen)
        assert "stops at 17:" in screen.text
        await screen.press("h")
        editor = screen.app.desk.query_one(Editor)
        assert editor.is_open
        await screen.press(*["backspace"] * len(editor.value))
        await screen.type("1 h")
        await screen.press("enter")
        path = ("unattended", "after_shift")
        assert screen.session.draft.scenario("today").entered[path] == "1 h"
        assert "pieces may not be begun any longer" in screen.text
        assert "pieces may be begun for 1.0 h" in screen.text
        await screen.press("u")
        assert "stops at 17:" in screen.text


@pytest.mark.long
async def test_moving_on_to_columns_out_of_sight_asks_for_them(tmp_path: Path) -> None:
    async with on_screen(SCENARIOS / "one-person.toml", (80, 24), state=tmp_path) as screen:
        await _opened(screen)
        for _ in screen.app.desk.state.ids:
            assert "the people leave at" in screen.text
            await screen.press("right")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("format = 1\n[scenario.now]\n", "n adds one"),
        (study(shift=ALWAYS), "There is no night"),
        (study(shift=SHIFT + "people = 0\n"), "n adds a shift"),
    ],
    ids=["no parts", "round the clock", "nobody"],
)
async def test_where_there_is_no_night_it_says_what_to_do(
    text: str, says: str, tmp_path: Path
) -> None:
    async with on_screen(_written(tmp_path, text), (80, 24), state=tmp_path) as screen:
        await _opened(screen)
        assert says in screen.text
        await screen.press("f")
        assert "There is no night to last" in screen.text


async def test_nothing_unattended_calls_for_no_caution(tmp_path: Path) -> None:
    lines = ('unattended.after_shift = "0 h"', 'unattended.at_limit = "hold"')
    async with on_screen(_written(tmp_path, study(*lines)), state=tmp_path) as screen:
        await _opened(screen)
        assert "no spindle goes on" in screen.text
        assert "Caution" not in screen.text
        assert "no piece is begun after the shift" in screen.text


def test_questions_and_their_results_travel() -> None:
    for question in (NightsOf(("a", "b")), PalletsThatLast("a")):
        assert pickle.loads(pickle.dumps(question)) == question
    found = nights()
    assert pickle.loads(pickle.dumps(found)) == found


def test_what_ends_the_night_is_told_group_by_group() -> None:
    """The pool's four loads are cut; the table beside it is left with its one load not begun."""
    found = nights("machine.bench.pallets = 1", "machine.bench.unattended = false")
    one = found.alike[0]
    told = (
        "on mill, all that is loaded is cut; "
        "on bench, the machine may not run unattended (75 % of nights), all that is loaded is cut "
        "(25 %)"
    )
    assert f"What ends it: {told}." in in_a_sentence(one, found)
    assert night_found(one).text.endswith(f"on average: {told}")
    short = ": on mill, all is cut; on bench, never alone"
    assert any(text.endswith(short) for text in night_found(one).shorter)
    # However little room, there is a reason.
    assert night_found(one).shorter[-1].endswith(": mill all is cut, bench never alone")


def test_a_reason_stands_below_a_name_that_leaves_it_no_room() -> None:
    name = "A name that takes more than most of a narrow screen"
    found = night_found(nights("warm_up = 1").alike[0])
    rows = _found_rows(name, 20, found, 60, ("bold", "plain"), "")
    lines = ["".join(span.text for span in row).strip() for row in rows]
    assert lines == [name, "runs to 17:17: all is cut"]


def test_the_nights_of_each_weekday_stand_alone_one_after_the_other() -> None:
    night = Looking(SCENARIOS / "one-person.toml", "night", (120, 32))

    def head() -> str:
        return night.text.splitlines()[0].strip()

    together = head()
    assert together.startswith("After Monday's to ")
    seen = []
    while head() != together or not seen:
        night.press("d")
        seen.append(head().partition("'s ")[0])
    assert seen[:5] == [
        f"After {day}" for day in ("Monday", "Tuesday", "Wednesday", "Thursday")
    ] + ["After Friday"]
    # Other nights are like ones together again.
    night.press("d", "n")
    assert head() != together
    night.press("n")
    assert head() == together


def test_how_high_a_bar_is_and_what_ends_nights_are_told_apart() -> None:
    """A share of nights behind a reason is no height of the bar beside it."""
    text = Looking(SCENARIOS / "small-orders.toml", "night", (120, 32), column=1).text
    assert "█ cuts in all nights, ▄ half" in text
    words = " ".join(text.split())
    assert " % of nights), " in words
    assert "on average: 1" not in words
