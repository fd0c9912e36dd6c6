"""What would do it: the levers first, their values and prices, then the front; Enter makes it."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from looks import Looking
from moving_studies import study
from screen import SCENARIOS, AtOnce, on_screen
from signs_named import unnamed
from typing_extensions import override

from whatif.answers.answer import Comparison
from whatif.answers.search.options import options_of
from whatif.answers.search.proposals import all_levers, proposals, sort_of_lever
from whatif.answers.search.search import NextSteps
from whatif.screens.views.pane import ViewPane
from whatif.screens.views.search import _WORDS, SearchView, in_columns
from whatif.screens.widgets.drawing import seen_of, wrap
from whatif.session.calculate.questions import NextStepsFrom
from whatif.session.calculate.requests import Question, Reply, Request
from whatif.session.session import Session
from whatif.study.check.check import check
from whatif.study.edits import SetLever, SetValue
from whatif.study.file.reading import read_file
from whatif.study.file.writing import to_text
from whatif.study.levers import levers_of, with_lever
from whatif.telling.search import (
    changed_words,
    gain_alone,
    gain_words,
    offered_words,
    option_words,
    rests_sentences,
    short_gain_words,
    short_money_words,
    step_title,
)
from whatif.telling.search_plot import UP, behind_words, front_plot, list_words, off_plot_words
from whatif.telling.signs import signs_told

PARTS = ('cycle = "10 min"', 'load = "2 min"', "weekly = 1500", "contribution = 2")


@pytest.fixture
def few_levers(tmp_path: Path) -> Path:
    """A machine more and a shorter cycle are all that may be had."""
    draft = study(part=PARTS, days='["mon", "tue"]')
    for each in list(proposals(draft, "today")):
        values = each.values if each.id == "machine" else ()
        draft = with_lever(draft, each.id, {**each.entries, ("values",): values})
    cycle = {("key",): "part.body.cycle", ("values",): ("8 min",), ("price",): 200}
    path = tmp_path / "study.toml"
    path.write_text(to_text(with_lever(draft, "cycle", cycle)), "utf-8")
    return path


@pytest.fixture
def looking(few_levers: Path) -> Looking:
    return Looking(few_levers, "search", column=0)


@pytest.mark.parametrize("size", [(80, 24), (120, 32)])
def test_a_search_from_another_scenario_says_from_what_money_and_gains_count(
    looking: Looking, size: tuple[int, int], tmp_path: Path
) -> None:
    path = tmp_path / "study.toml"
    child = '\n[scenario.child]\ntitle = "Late half shift"\nparent = "today"\n'
    path.write_text(path.read_text("utf-8") + child, "utf-8")
    below = Looking(path, "search", size, column=1).press("b")
    assert "both from Late half shift on, gains over Today" in below.words
    assert all(len(line) <= size[0] for line in below.text.splitlines())
    looking.press("b")
    assert "people: hours a week more" in looking.words
    assert "both from" not in looking.words


def test_the_levers_stand_first_and_nothing_is_searched(looking: Looking) -> None:
    assert "b begins a search" in looking.words
    assert "cycle of part body: 8 min, 200 once" in looking.words
    assert looking.look().result is None
    # Back to a list that nobody has asked for is no way to begin.
    assert "b begins a search" in looking.press("l").words
    assert looking.press("b", "l").words.startswith("What would do it")
    assert "combinations" in looking.press("l").words


def test_a_key_begins_and_the_front_is_proved(looking: Looking) -> None:
    said = looking.press("b").words
    assert "All 3 combinations of up to 3 of these levers were measured in full" in said
    assert "machine of mill" not in said.partition("People:")[0].partition("not priced")[0]
    assert looking.press("l").words.startswith("What would do it")


def test_where_the_gain_lies_outside_its_range_the_range_leads(looking: Looking) -> None:
    found = looking.press("b").look().result
    assert isinstance(found, NextSteps)
    entry = found.front[0]
    outside = replace(entry, likely=(1.0, 2.0, 3.0))
    assert (gain_words(outside), gain_alone(outside)) == ("likely +1 to +3 %", "+1 to +3")
    assert "the likely range, which leads" in " ".join(
        rests_sentences(replace(entry, likely=(1.0, 2.0, 3.0)), found.goal)
    )


def test_a_gain_that_is_not_clear_is_told_as_the_strip_tells_it(looking: Looking) -> None:
    found = looking.press("b").look().result
    assert isinstance(found, NextSteps)
    entry = replace(found.front[0], likely=(-1.0, 2.0, 30.0))
    assert gain_words(entry) == "not clear, -1 to +30"
    assert gain_alone(entry) == "not clear"
    assert gain_words(replace(entry, likely=None)).endswith(" % so far")


def test_enter_makes_a_scenario_that_can_be_undone(looking: Looking) -> None:
    looking.press("b", "enter")
    draft = looking.look().draft
    assert len(draft.ids) == 2
    made = draft.scenario(draft.ids[1])
    assert made.parent == "today"
    assert made.entered["part", "body", "cycle"] == "8 min"
    assert made.entered["money", "one_off"] == 200
    assert check(draft).is_sound
    looking.edit(lambda session: session.undo() or "")
    assert looking.look().draft.ids == ("today",)


def test_where_the_money_stands_it_is_said_that_wages_lack(looking: Looking) -> None:
    lines = looking.press("b").text.splitlines()
    said = "USD: once and a year, without wages, not entered; people: hours a week more"
    head = next(at for at, line in enumerate(lines) if said in line)
    assert re.search(r"^ 1 .* once", lines[head + 1])


def test_it_is_said_that_the_first_of_the_steps_is_the_cheapest_and_not_the_best(
    looking: Looking,
) -> None:
    found = looking.press("b").look().result
    assert isinstance(found, NextSteps)
    order = "cheapest first, not best first"
    assert len(found.front) > 1
    assert order in looking.words
    assert list_words(found, range(1)).startswith(f"1 to 1 of {len(found.front)}, ")
    assert list_words(replace(found, front=found.front[:1]), range(1)).strip() in ("", "✓ does it")
    costs = [entry.measure.first_year for entry in found.front]
    assert costs == sorted(costs)
    assert "need not be the best" in " ".join(SearchView.reads_of_list.split())


def test_the_lines_in_the_plot_have_no_colour_of_their_own(looking: Looking) -> None:
    """Their sign says which line they are; a colour would be asked for."""
    looking.press("b")
    plot = [spans for spans in looking.rows if any("┤" in span.text for span in spans)]
    assert plot
    tones = {span.tone for spans in plot for span in spans if span.text.strip()}
    assert tones <= {"plain", "chosen", "faint", "dim"}


def test_people_stand_in_a_column_of_their_own() -> None:
    gains, money = ["+1.0 % (0.5 to 1.5)", "+12 %"], ["no investment", "5 once"]
    people, hours = ["people +20.0 h", ""], ["+20.0 h", ""]
    each = ((gains, money, people), (gains, money, hours), (["+1.0 %", "+12 %"], money, hours))
    assert in_columns(each, 50)[1] == "              +12 %         5 once                "
    assert in_columns(each, 49)[0] == "+1.0 % (0.5 to 1.5)  no investment  +20.0 h"
    for room in (42, 3):
        assert in_columns(each, room) == [
            "+1.0 %  no investment  +20.0 h",
            " +12 %         5 once         ",
        ]


class _Searching(AtOnce):
    """Has the front of the first stage and no more, and counts how often it was asked."""

    asked_for = 0

    @override
    def _asked(self, request: Request, question: Question, found: Comparison) -> Reply:
        reply = super()._asked(request, question, found)
        if not isinstance(question, NextStepsFrom):
            return reply
        type(self).asked_for += 1
        return replace(reply, partly=True)


@pytest.mark.parametrize("calculator", [_Searching, AtOnce])
def test_enter_makes_its_scenario_and_begins_no_search_anew(
    looking: Looking, calculator: type[AtOnce]
) -> None:
    _Searching.asked_for = 0
    looking._calculator = calculator(looking.controllers.calculation.take)
    is_on = calculator is _Searching
    before = looking.press("b", "down").text.splitlines()
    chosen = looking.chosen
    looking.press("enter")
    assert looking.look().draft.ids[1:] != ()
    assert looking.notice.startswith("New scenario")
    assert looking.chosen == chosen
    assert looking.text.splitlines()[-3:] == before[-3:]
    assert _Searching.asked_for == is_on
    # Another one of the same list, and both taken back again.
    looking.press("up", "enter")
    assert len(looking.look().draft.ids) == 3
    for _ in "ab":
        looking.edit(lambda session: session.undo() or "")
    assert looking.chosen != []
    assert _Searching.asked_for == is_on
    assert ("b searches on" in looking.words) is is_on
    if is_on:
        assert "b searches on" not in looking.press("b").words
        assert _Searching.asked_for == 2


def test_what_was_found_holds_no_longer_than_the_study_it_was_found_in(looking: Looking) -> None:
    looking.press("b", "enter")
    found = looking.look().result
    assert found is None
    looking.edit(lambda session: session.do(SetValue("today", ("part", "body", "load"), "1 min")))
    assert isinstance(looking.look().result, NextSteps)


def test_a_scenario_made_of_what_is_not_priced_says_so(looking: Looking) -> None:
    """Its one-off cost is assumed, so that no report takes it as free."""
    cycle = {("key",): "part.body.cycle", ("values",): ("8 min",)}
    looking.edit(lambda session: session.do(SetLever("cycle", tuple(cycle.items()))))
    assert "cycle of part body: 8 min, not priced" in looking.words
    # "1 not priced" was read as line 1: the lines are named.
    words = looking.press("b").words
    assert "not here: lines 2 and 3, not priced" in words
    found = looking.look().result
    assert isinstance(found, NextSteps)
    bare = replace(found, front=found.front[1:2])
    assert off_plot_words(bare)[1:] == ("; not here: 1 line, not priced",)
    assert off_plot_words(replace(found, front=())) == ()
    looking.press("down", "enter")
    draft = looking.look().draft
    made = draft.scenarios[1]
    assert made.entered["part", "body", "cycle"] == "8 min"
    assert ("machine", "mill", "count") not in made.entered
    assert "Not priced: cycle." in str(made.entered[("notes",)])
    money = looking.look().answers[made.id].money
    assert money is not None
    assert "one-off" in {each.what for each in money.not_priced}


def test_the_title_that_is_made_ends_in_its_last_word(looking: Looking) -> None:
    looking.press("b", "enter")
    made = looking.look().draft.scenarios[1]
    assert made.title == made.title.strip()
    assert f"New scenario: {made.title}. u undoes it." in looking.notice


def test_a_gain_is_a_goal(looking: Looking) -> None:
    looking.press("g").take("gain").take("60 %")
    assert "For: a gain of 60 % in saleable output." in looking.words
    assert looking.press("b").words.startswith("A gain of 60 % in saleable output. Cheapest")
    looking.press("g").take("gain").take("more")
    assert looking.notice.startswith('"more" is no gain in percent above 0')
    assert "For: a gain of 60 %" in looking.words


def test_enter_on_a_lever_says_what_makes_a_scenario(looking: Looking) -> None:
    looking.press("enter")
    assert "b begins the search" in looking.notice
    assert "l goes to what it has found" in looking.notice
    assert looking.look().draft.ids == ("today",)


def test_a_key_of_the_levers_says_where_these_are(looking: Looking) -> None:
    looking.press("b", "v")
    assert looking.notice == "The levers are on the other page: l goes there."


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("part.*.setup", "setup of all parts"),
        ("shift.helper.people", "people of shift helper"),
        ("part.*.on.mill.cycle", "cycle on mill of all parts"),
        ("part.*.on.*.cycle", "cycle on any machine of all parts"),
        ("sequence.rule", "next order"),
    ],
)
def test_a_lever_is_named_in_the_words_of_the_sheet(key: str, words: str) -> None:
    assert changed_words(tuple(key.split("."))) == words


def test_levers_are_said_in_plain_words() -> None:
    draft = study(part=PARTS)
    said = {lever.id: offered_words(lever) for lever in proposals(draft, "today")}
    assert said["person"] == "~ one person more in shift all, paid in wages"
    assert said["machine"] == "~ one machine mill more, 150\u00a0000 each"
    for words in said.values():
        assert "=" not in words
        assert "{" not in words


def test_what_a_step_costs_is_cut_only_where_there_is_no_room(looking: Looking) -> None:
    long = "Something with a long name that a shop may have thought of in an idle hour"
    looking.edit(lambda session: session.do(SetLever("cycle", (
        (("key",), "part.body.cycle"), (("values",), ("8 min",)), (("title",), long),
        (("price",), 200), (("yearly",), 1000),
    ))))  # fmt: skip
    looking._size, looking.width = (200, 50), 199
    looking.press("b")
    assert f"{long}" in looking.text
    assert "200 once and 1 000 a year" in looking.words
    assert "…" not in looking.text


def test_the_money_of_the_plot_has_round_amounts_below_it(looking: Looking) -> None:
    said = looking.press("b").words
    assert re.search(r" 0 25 000 50 000 75 000 100 000 125 000 150 000 ", said)
    assert "across: USD to pay in the first year, without wages" in said


def test_a_price_that_is_typed_stands_in_the_study(looking: Looking) -> None:
    looking.press("end", "p").take("350")
    assert levers_of(looking.look().draft)["cycle"].price == 350
    assert "350 once" in looking.words


def test_what_goes_with_a_lever_is_typed_and_stands_below_it(looking: Looking) -> None:
    looking.press("end", "w").take("machine.mill.pallets = 2; part.*.fixtures =")
    also = dict(levers_of(looking.look().draft)["cycle"].also)
    assert also == {("machine", "mill", "pallets"): 2, ("part", "*", "fixtures"): ""}
    assert (
        "With that line: pallets each of machine mill 2; fixtures of all parts as" in looking.words
    )
    looking.press("w").take("machine.mill.pallets = 3")
    assert len(levers_of(looking.look().draft)["cycle"].also) == 1


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("machine.mill.pallets", "write KEY = VALUE"),
        ("machine.mill.palets = 2", "Did you mean machine.mill.pallets"),
        ("machine.mill.pallets = many", "a count is wanted"),
    ],
)
def test_what_cannot_go_with_a_lever_is_told_and_not_entered(
    looking: Looking, typed: str, said: str
) -> None:
    before = looking.look().draft
    looking.press("end", "w").take(typed)
    assert looking.look().draft is before
    assert said in looking.notice


def test_on_80_columns_the_words_of_a_step_are_whole(looking: Looking) -> None:
    found = looking.press("b").look().result
    assert isinstance(found, NextSteps)
    long = replace(found.front[0], options=found.front[0].options * 3)
    found = replace(found, front=(found.front[0], long))
    view = looking.view
    assert isinstance(view, SearchView)

    def rows(lines: int) -> str:
        told = view._list(found, 0, 79, 2, lines)
        return "\n".join("".join(span.text for span in spans).rstrip() for spans in told)

    assert "…" not in rows(8)
    assert len(rows(8).splitlines()) > 3
    # Where there is no room the page is scrolled.
    assert rows(2) == rows(8)


def test_a_title_that_is_made_is_whole_over_a_column_of_a_narrow_screen() -> None:
    draft = Session(read_file(SCENARIOS / "small-orders.toml")).draft
    offered = all_levers(draft, "today")
    for each in options_of(draft, "today", offered):
        title = step_title((each,), ())
        assert "…" not in title
        assert option_words(each).startswith(title)
    half = next(each for each in offered if sort_of_lever(each.id) == "half_shift")
    (longer,) = options_of(draft, "today", (half,))
    assert step_title((longer,), ()) == "half a shift more"
    # Where another scenario is called so details tell them apart.
    assert step_title((longer,), ["half a shift more"]) == option_words(longer)
    assert step_title((longer,) * 5, ()) == "half a shift more; half a shift more; 3 more"


@pytest.mark.long
def test_on_80_columns_no_step_that_was_found_is_cut() -> None:
    found = Looking(SCENARIOS / "small-orders.toml", "search", (80, 24), column=0).press("b")
    for key in ("", "down", "end"):
        assert "…" not in found.press(*filter(None, (key,))).text


# -- signs, columns, the cursor ------------------------------------------------------------


def _many(looking: Looking, many: int = 12) -> NextSteps:
    """A front of so many steps: what was found, again and again."""
    found = looking.press("b").look().result
    assert isinstance(found, NextSteps)
    return replace(found, front=(found.front * many)[:many])


def test_steps_have_numbers_and_no_letters(looking: Looking) -> None:
    found = _many(looking)
    view = looking.view
    assert isinstance(view, SearchView)
    rows = view._listed(found, 11, 79, 12)
    told = ["".join(span.text for span in spans)[:4] for spans in rows]
    told = [text for text in told if re.match(r" [ \d]\d", text)]
    assert [int(text[:3]) for text in told] == list(range(1, 13))
    front = front_plot(found, 11, 40, 8)
    assert front is not None
    drawn = ["".join(cell.sign for cell in row) for row in front.plot.rows]
    assert any("12" in line for line in drawn)
    # Of what lies in one place it is said which are not drawn.
    behind = sorted(place for hidden in front.behind.values() for place in hidden)
    seen = sorted(set(range(12)) - set(behind))
    assert 11 in seen
    assert "behind 12" in behind_words(front)
    assert len(seen) < 12


def test_a_sign_and_its_word_stay_in_one_line() -> None:
    for sign in ("\u2713 does it", "~ assumed"):
        for width in range(4, 20):
            lines = wrap(f"one two; {sign}; three", width)
            assert any(sign.partition(" ")[0] + " " + sign.split()[1] in line for line in lines)


def test_a_line_reads_the_same_whichever_are_in_sight(looking: Looking) -> None:
    """Once the widest gain was scrolled out of sight the others changed their form."""
    found = _many(looking, 6)
    wide = replace(
        found.front[0],
        options=found.front[0].options * 3,
        likely=(-100.25, 2.0, 300.5),
        measure=replace(found.front[0].measure, once=12_345_678.0),
    )
    found = replace(found, front=(*found.front[:5], wide))
    view = looking.view
    assert isinstance(view, SearchView)

    def line(at: int) -> str:
        rows = view._listed(found, at, 79, 3)
        told = ["".join(span.text for span in spans) for spans in rows]
        return next(text for text in told if re.match(r" 3[ \u2713] ", text))

    assert line(1) == line(3)


def test_gains_keep_their_ranges_on_80_columns(looking: Looking) -> None:
    found = looking.press("b").look().result
    assert isinstance(found, NextSteps)
    entry = replace(
        found.front[0],
        likely=(72.5, 75.0, 77.1),
        measure=replace(found.front[0].measure, gain=74.4),
    )
    assert short_gain_words(entry) == "+74 % (73 to 77)"
    outside = replace(entry, likely=(75.5, 76.0, 77.1))
    assert short_gain_words(outside) == "+76 to +77 %"
    assert short_gain_words(replace(entry, likely=(-1.0, 2.0, 30.0))) == "not clear"


def test_money_is_told_shortly_and_lines_that_follow_each_other_by_first_and_last(
    looking: Looking,
) -> None:
    found = looking.press("b").look().result
    assert isinstance(found, NextSteps)
    entry, *_ = found.front

    def said(once: float, yearly: float, *, is_priced: bool = True) -> str:
        option = replace(entry.options[0], is_priced=is_priced)
        measure = replace(entry.measure, once=once, yearly=yearly)
        told = short_money_words(found, replace(entry, options=(option,), measure=measure))
        return told.replace("\u00a0", " ")

    assert said(258_000, 1_540) == "258 000, 1 540 a year"
    assert said(0, 1_540) == "1 540 a year"
    assert said(150_000, 1_045, is_priced=False) == "from 150 000, 1 045 a year"
    assert said(0, 36_000, is_priced=False) == "from 36 000 a year"
    assert said(0, 0, is_priced=False) == "not priced"
    # All of it stands beside the longest gain, and words have room.
    widest = ("+89.7 to +90.8 %", "from 150 000, 19 045 a year", "+10.0 h")
    (line,) = in_columns([[[text] for text in widest]], 1)
    assert len(line) <= 79 - _WORDS
    bare = replace(entry, options=(replace(entry.options[0], is_priced=False),))
    many = replace(found, front=(entry, *(bare for _ in range(5))))
    assert off_plot_words(many)[0] == "; not here: lines 2 to 6, not priced"


def test_the_help_tells_of_all_that_a_line_of_the_list_has(looking: Looking) -> None:
    drawn = (
        " 1 to 3 of 11, \u2191\u2193 the others",
        " 1  one machine more   +20 % (18 to 22)  from 150\u00a0000, 1\u00a0045 a year",
        " 2\u2713 another one          +20 %   800 once",
        " 2 behind 3",
    )
    told = {shown for shown, _ in signs_told("\n".join(drawn), (), "search")}
    assert {"from 800 once", "800, 50 a year", "1 to 3 of 11, \u2191\u2193", "3 behind 4"} <= told
    assert {"+2 %", "\u2713", "+18 % (12 to 24)"} <= told
    looking.press("b")
    seen = seen_of(looking.rows)
    assert unnamed(seen, "search") <= {"\u2191", "\u2193"}


def test_the_help_speaks_of_the_plot_only_where_one_is_drawn(looking: Looking) -> None:
    assert "proposal" in looking.view.how_read(looking.text)
    told = looking.view.how_read(looking.press("b").text)
    assert UP in looking.text
    assert "In the plot" in " ".join(told.split())
    looking._size, looking.width = (80, 16), 79
    assert UP not in looking.text
    assert "plot" not in looking.view.how_read(looking.text)


def test_page_keys_move_the_cursor_until_they_cannot(looking: Looking) -> None:
    looking.press("b")
    view, look = looking.view, looking.look()
    assert isinstance(view, SearchView)
    assert view.pages_first
    assert view.press("end", look, looking)
    last = view._at
    assert last > 0
    assert not view.press("pagedown", look, looking)
    assert view.press("home", look, looking)
    assert view._at == 0
    assert not view.press("home", look, looking)
    rows = looking.rows
    at = view.cursor(look)
    assert at is not None
    assert any(span.tone == "chosen" for span in rows[at])


async def test_the_cursor_is_in_sight_wherever_a_page_key_takes_it(few_levers: Path) -> None:
    """Once the page was scrolled, and Enter made a scenario of a line that nobody saw."""
    async with on_screen(few_levers, (80, 13)) as screen:
        await screen.open_view("search")
        await screen.press("b")
        pane, view = screen.app.desk.query_one(ViewPane), screen.app.desk.state.view
        assert isinstance(view, SearchView)
        assert pane.below > 0
        for key, at in (("end", 2), ("end", 2), ("home", 0), ("pagedown", 2), ("up", 1)):
            await screen.press(key)
            assert view._at == at
            row = view.cursor(screen.app.desk.controllers.calculation.look())
            assert row is not None
            first = round(pane.scroll_offset.y)
            assert first <= row < first + pane.size.height


def test_goal_and_steps_are_there_when_the_view_is_opened_again(looking: Looking) -> None:
    views = looking.controllers.views

    def open_again() -> None:
        views.close_view()
        views.open("search")
        view = looking.state.view
        assert view is not None
        looking.view = view

    open_again()
    looking.press("g").take("gain").take("20 %")
    found = looking.press("b", "down").text
    open_again()
    assert looking.text == found
    # With the study another one the steps go; what is wanted stays.
    views.close_view()
    looking.edit(lambda session: session.do(SetValue("today", ("part", "body", "load"), "1 min")))
    open_again()
    assert looking.words.startswith("What would do it")
    assert "For: a gain of 20 %" in looking.words
    assert looking.look().result is None
