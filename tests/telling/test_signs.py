"""A sign has one meaning, in whichever drawing it stands."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from whatif.answers.moves.trial import AskedAbout
from whatif.screens.widgets import bars
from whatif.telling import blocks, night_pictures
from whatif.telling.moves.curve_plot import BAND_SIGN, curve_legends
from whatif.telling.signs import DESK, signs_told
from whatif.telling.strip import HIGH, LOW, SAID, Scale
from whatif.telling.week.drawn import MARKS
from whatif.telling.week.lanes import Of

SIGNS = {
    name: sign
    for name, sign in vars(blocks).items()
    if name.isupper() and isinstance(sign, str) and len(sign) == 1
}


def test_no_two_meanings_share_a_sign() -> None:
    assert len(set(SIGNS.values())) == len(SIGNS) == 11


def test_drawings_take_their_signs_from_the_one_list() -> None:
    counts = set("0123456789*")
    week = {mark.block for marks in MARKS.values() for mark in marks.values()} - counts - {" "}
    night = set(night_pictures.SIGNS.values()) - {" "}
    assert week | night | set(blocks.BLOCKS.values()) <= set(SIGNS.values())
    assert {bars.LIKELY} == set(BAND_SIGN)


def test_what_may_begin_is_drawn_in_the_night_alone() -> None:
    assert night_pictures.SIGNS[night_pictures.Shade.STANDS] == blocks.MAY_BEGIN
    assert {blocks.MAY_BEGIN, blocks.RESTS}.isdisjoint(
        mark.block for marks in MARKS.values() for mark in marks.values()
    )


def test_loaded_pallets_are_quieter_than_cuts() -> None:
    """Counts of them, and those that are ready, have the look of what rests; none has no look."""
    assert {mark.family for mark in MARKS[Of.LOADED].values()} == {"resting", None}
    assert MARKS[Of.PALLET]["r"].family == "resting"


# -- each is explained where it stands ---------------------------------------------------------

SCREENS = Path(__file__).parent.parent / "screens"
STORED = re.compile(r"^# name: (?P<name>.*?)\n  '''\n(?P<screen>.*?)\n  '''$", re.S | re.M)


def stored_screens() -> dict[str, str]:
    """Every screen that a snapshot holds, views and desk at three sizes; none below a dialog."""
    found = {}
    for path in sorted(SCREENS.rglob("*.ambr")):
        for match in STORED.finditer(path.read_text("utf-8")):
            # A dialog may lie over a legend: it is closed before what is below it is read.
            if "╭" not in match["screen"]:
                found[f"{path.stem}: {match['name']}"] = match["screen"]
    return found


def unexplained(screen: str) -> set[str]:
    """The signs of a screen that neither explain themselves nor are explained on it."""
    # Behind the last cell of a view stands its scroll bar.
    drawn = {sign for line in screen.splitlines() for sign in line.rstrip("▁▂▃▄▅▆▇█")}
    asked = {
        sign for sign in drawn if not sign.isspace() and not sign.isalnum() and not sign.isascii()
    }
    # What a name in another script has between its words is no sign of ours.
    asked -= {sign for sign in asked if "\u3000" <= sign <= "\u303f"}
    asked |= {"~"} & set(re.findall(r"[~](?=[\s│]|$)", screen))
    dots = {sign for sign in asked if "\u2800" <= sign <= "\u28ff"} - {blocks.LIKELY}
    heights = asked & set(blocks.HEIGHTS) - blocks.SELF_EXPLAINING
    found = {
        sign
        for sign in asked - dots - heights - blocks.SELF_EXPLAINING
        if not is_told(sign, screen)
    }
    if heights and not any(said in screen for said in blocks.HEIGHT_LEGENDS):
        found |= heights
    return found


def is_told(sign: str, screen: str) -> bool:
    """Whether one of its words stands behind it, or the sign behind the word in a head."""
    return any(
        re.search(rf"{re.escape(sign)}\S?\s+{re.escape(word)}", screen)
        for word in blocks.LEGENDS.get(sign, ())
    )


def test_a_sign_without_a_legend_is_found() -> None:
    assert unexplained(" nights  ▁▂▃  dry") == set("▁▂▃")
    assert unexplained(" pallets 1 ~") == {"~"}
    assert unexplained(" pallets 1 ~   ~ assumed  ~/shop.toml") == set()
    assert unexplained(" gain  │██⢕⢕ ☃") == {"⢕", "☃"}
    assert unexplained(" gain, ⢕ likely range  │██⢕⢕  ⠒⠤") == set()


STORED_SCREENS = stored_screens()


@pytest.mark.parametrize("name", STORED_SCREENS)
def test_every_sign_is_explained_on_the_screen_that_it_stands_on(name: str) -> None:
    """Whoever sees only the screen, at 80 cells too, asks of no sign what it means."""
    assert unexplained(STORED_SCREENS[name]) == set()


def test_no_sign_is_explained_in_two_ways() -> None:
    assert not set(blocks.LEGENDS) & blocks.SELF_EXPLAINING
    words = [word for told in blocks.LEGENDS.values() for word in told]
    assert len(words) == len(set(words))


def test_a_curve_s_legend_shows_what_is_drawn_of_the_likely_range() -> None:
    asked = AskedAbout("now", "Now", "Now", True, 1, 1, 3, 3, 1, in_money=True)
    for drawn, sign in (("⠈⢕⠈", "⢕⢕"), ("⠈⠈⠢", "⠈⠈"), ("", "")):
        for line, band in curve_legends(asked, drawn):
            assert "as typed" in line
            assert (f"{sign} likely range" in band) is bool(drawn)


# -- and the help names it ----------------------------------------------------------------------


def test_the_sign_to_beware_has_one_line_in_the_help_wherever_it_stands() -> None:
    seen = " ! +54 %   ! 2 cautions: F2   12 mn !"
    assert [shown for shown, _ in signs_told(seen, (), DESK) if "!" in shown] == ["!"]


def test_without_colours_the_help_tells_how_letters_look_and_names_no_colour() -> None:
    tones = {"chosen", "scenario", "key", "gain", "waiting", "assumed"}
    told = dict(signs_told("", tones, "week", coloured=False))
    assert told == {
        "reversed": "where the cursor is; of pages named above: the one that is shown",
        "underlined": "the scenario that is chosen",
        "bold gain figure": "better than the reference, and clearly so",
        "bold letter": "a key to press",
        "slanted": "assumed: nobody has entered it",
    }
    assert len(signs_told("", tones, "week")) == len(tones)


def test_a_grey_figure_is_told_only_where_it_stands() -> None:
    greys = [
        {shown for shown, _ in signs_told("", tones, "money") if shown.startswith("grey")}
        for tones in ({"dim"}, {"unsure"}, {"dim", "unsure"})
    ]
    assert greys == [{"grey"}, {"grey figure"}, {"grey", "grey figure"}]


def test_what_waits_and_who_is_free_have_signs_of_their_own() -> None:
    waits = {
        mark.block for marks in MARKS.values() for mark in marks.values() if mark.name == "free"
    }
    assert waits == {blocks.FREE}
    assert blocks.WAITS not in {
        mark.block for of in (Of.PEOPLE, Of.PERSON) for mark in MARKS[of].values()
    }


ROWS = {label for each in (*LOW, *HIGH, SAID) if not each.bar for label in each.labels}


@pytest.mark.parametrize("label", sorted(ROWS))
def test_a_row_above_the_sheet_is_told_in_the_help_of_the_sheet_alone(label: str) -> None:
    drawn = f" {label}      1.0"
    assert signs_told(drawn, (), DESK)
    anywhere = ("█", "░", "▒", "in cycle")
    told = [shown for shown, _ in signs_told(drawn, (), "hours") if shown not in anywhere]
    # The gain stands above views too.
    assert told == (["gain in saleable output"] if "saleable output, %" in label else [])


def test_the_colour_of_unsold_pieces_is_told() -> None:
    """They have that of what waits, with a sign of their own."""
    told = dict(signs_told(f"{blocks.UNSOLD} cuts unsold pieces", {"waiting"}, "hours"))
    assert blocks.UNSOLD in told["violet block"]
    assert told[blocks.UNSOLD] == "a spindle cuts pieces that are not sold"


def test_a_gain_behind_a_name_above_a_view_is_told_there() -> None:
    drawn = "  Today: two tables reference    Second pallet each +39 %    Two each +45 to +47 %"
    told = dict(signs_told(drawn, (), "week"))
    assert "its gain in saleable output" in told["NAME +39 %"]
    assert "NAME +39 %" not in dict(signs_told(drawn.replace("+39 %", "not clear"), (), "week"))
    assert "NAME +39 %" not in dict(signs_told(drawn, (), DESK))


@pytest.mark.parametrize("row", ["spindle h attended/other", "spindle h, unattended"])
def test_hours_beside_the_attended_ones_are_told(row: str) -> None:
    told = dict(signs_told(f" {row}   1.0 / 2.0", (), DESK))
    assert "on breaks and after hours" in told["spindle h"]


SIX_PALLETS = " best  Six pallets each   {0}  255 000   +1 540  {1}  unattended running"


@pytest.mark.parametrize(
    ("view", "drawn", "shown"),
    [
        ("money", "+127k to +133k", "127k 1.59M"),
        ("meeting", "1.03M", "127k 1.59M"),
        # Also a piece that has no room for its number, or does not fill a cell.
        ("fit", "│   ███   │", "█"),
        ("fit", "│   ▐▌    │", "█"),
        ("hours", "   h   %  more", "more"),
        ("week", "Today: week 1 of 4; each character is 2 h", "each character"),
        ("moves", " setter stays  you decide     no", "you decide"),
        ("moves", " warm-up   0 min~ to 15 min not tried", "to 15 min"),
        ("moves", "▁ least █ most", "least most"),
        # A bar, however short, is told wherever one stands.
        ("moves", " start   07:00   ± 30 min      +6.4      -6.4  █", "█"),
        ("moves", " people     1    ± 1    lowest       +57  ████  ", "█"),
        ("money", " Cumulated cash, EUR", "─ at 0"),
        ("moves", "     2   not clear  █   +90 best █   +91", "best"),
        # In the place of a bar each stands in the list as it does in the help.
        (
            "moves",
            " end  15:00  ± 30 min  +3.9  -2.3  output: less -9, more +8 %",
            "output: less -6",
        ),
        ("moves", " end  15:00  ± 30 min  +3.9  -2.3  below   ", "below"),
        ("moves", " people     1    ± 1    lowest       +57  ████", "lowest highest"),
        ("moves", " share in cut   100 %~  ± 10 % no change   highest\n", "lowest highest"),
        (DESK, "against: Today: two tables    per week, 24 weeks simulated", "N weeks"),
        ("money", "against: Today: two tables    per week, 48 weeks", "N weeks"),
        ("moves", "             ▲ now", "▲"),
        (
            "moves",
            "+92 % over Today: two tables as it\n stands; with the same value",
            "as it stands",
        ),
        ("moves", "with the same\n value in the reference too", "same value"),
        (
            "moves",
            "c Curve   g Grid of two inputs    moved in Six pallets each alone",
            "moved in both",
        ),
        ("moves", " inherited from Today, so changed in both, now 2", "moved in both"),
        ("moves", " ⠒●⠒ as typed, ● each value tried  ⠄⠄ likely range, 3 draws ", "⠁⠁ ⢄⢄"),
        ("meeting", "lone working; 1 more", "; 1 more"),
        ("meeting", "between +54 % (machines tied up) and +63 %", "machines tied up"),
        ("meeting", "and +63 % (people away)", "people away"),
        ("meeting", SIX_PALLETS.format("+96 % (90 to 102)", "1.0"), "1.0 +2 %"),
        ("meeting", SIX_PALLETS.format("+28 to +35 %", "0.2"), "1.0 +2 %"),
        ("meeting", SIX_PALLETS.format("+22 %", "1.0 (0.9 to 1.1)"), "1.0 +2 %"),
        ("hours", " prove-out, tool change   4.0", "prove-out"),
        ("hours", " setup is changing the work holding, prove-out, tool change", "prove-out"),
        ("night", "┊ Mon ▒ loaded, set up, proved out", "prove-out"),
        (DESK, "── ! 1 warning, 2 cautions: F2 ──", "caution, warning"),
        (DESK, "gain in saleable output, %   +2 %   +26 %", "+2 %"),
    ],
)
def test_words_in_short_are_told_in_the_help(view: str, drawn: str, shown: str) -> None:
    assert shown in [each for each, _ in signs_told(drawn, (), view)]


@pytest.mark.parametrize(
    "drawn",
    ["81.7 spindle h a week; demand met, lowest part: 71 %", "demand met, lowest\n part: 7 %"],
)
def test_a_part_furthest_behind_is_no_input_that_stands_at_its_end(drawn: str) -> None:
    assert "lowest highest" not in [each for each, _ in signs_told(drawn, (), "moves")]


@pytest.mark.parametrize("gain", ["+96 % (90 to 102)", "+28 to +35 %", "not clear, -2 to +7"])
@pytest.mark.parametrize("payback", ["1.0 (0.9 to 1.1)", "1.4 to 1.8", "at once", "–"])
def test_a_line_that_has_all_its_ranges_is_no_figure_alone(gain: str, payback: str) -> None:
    told = dict(signs_told(SIX_PALLETS.format(gain, payback), (), "meeting"))
    assert "1.0 +2 %" not in told


@pytest.mark.parametrize("drawn", [(20, 30, 40), (-40, -30, -20), (-10, 5, 20), (30, 30, 30)])
def test_the_help_says_how_a_bar_of_a_gain_is_read(drawn: tuple[float, float, float]) -> None:
    text = "".join(span.text for span in bars.bar(drawn, Scale(-50, 50), 21, "gain"))
    for view in (DESK, "meeting"):
        told = dict(signs_told(text, (), view))
        assert told["│█▋⢕"].endswith("the gain unmarked")
        # A bar without dots is not surer than the figure that has its range in brackets.
        assert "dots: its range, if half a cell wide" in told["│█▋⢕"]
    assert "│█▋⢕" not in dict(signs_told(text, (), "week"))


def test_the_help_tells_signs_before_words() -> None:
    drawn = " saleable output, %   +18 % (+12 to +24)   7 ↑   9 ~\n limit, % of attended h  – "
    told = [shown for shown, _ in signs_told(drawn, (), DESK)]
    words = [shown for shown in told if shown[0].isalpha()]
    assert words
    assert told[-len(words) :] == words
    assert {"↑", "~", "–"} < set(told)


def test_short_heads_of_the_verdict_are_listed_where_they_stand_and_nowhere_else() -> None:
    wide = " alternative  gain  one-off   costs  payback  drawbacks\n 5 more at once  Esc back"
    narrow = " alternative          gain once  costs back  drawbacks"
    assert {shown for shown, _ in signs_told(wide, (), "meeting")} == set()
    assert {shown for shown, _ in signs_told(narrow, (), "meeting")} == {"once", "back"}


def test_what_stands_over_two_lines_is_told_too() -> None:
    told = dict(signs_told("by the hour meters (people\naway) 10 %", (), "meeting"))
    assert "people away" in told
