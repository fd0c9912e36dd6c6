"""The meeting as it is drawn: the verdict, then a page an alternative, at three sizes."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from answer_studies import CHILD, TODAY
from looks import Looking
from rich.cells import cell_len
from screen import LARGE, MIDDLE, SCENARIOS, SIZES, SMALL, AtOnce

from whatif.answers.doubts import Doubt, Tried
from whatif.answers.verdict import Conclusion
from whatif.screens.views.large import figure_rows, large
from whatif.screens.widgets.drawing import Chooses, SpanRow
from whatif.study.edits.values import SetValue
from whatif.telling.meeting.large import Large

DEMOS = ("one-person", "pallets-until-demand", "small-orders")
LONGEST = 76


def of(demo: str, size: tuple[int, int] = MIDDLE, column: int = 0) -> Looking:
    return Looking(SCENARIOS / f"{demo}.toml", "meeting", size, column=column)


def lines_of(looking: Looking) -> dict[str, SpanRow]:
    """The table's lines by the scenario that a click chooses."""
    found: dict[str, SpanRow] = {}
    for spans in looking.rows:
        for span in spans:
            if isinstance(span.spot, Chooses):
                found[span.spot.scenario] = spans
    return found


def text_of(spans: SpanRow) -> str:
    return "".join(span.text for span in spans).rstrip()


def is_sentence(spans: SpanRow) -> bool:
    """Whether it is a paragraph's line: an edge and a text, and no caution."""
    return len(spans) == 2 and spans[1].tone != "caution"


# -- the verdict ---------------------------------------------------------------------------------


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.long
def test_the_verdict_has_a_whole_line_of_every_alternative(
    demo: str, size: tuple[int, int]
) -> None:
    looking = of(demo, size)
    lines, look = lines_of(looking), looking.look()
    assert list(lines) != []
    assert set(lines) == set(look.ids) - {look.reference}
    for id_, spans in lines.items():
        assert look.title_of(id_) in text_of(spans)
        assert "…" not in text_of(spans)
        assert cell_len(text_of(spans)) <= looking.width
    # They are seen without scrolling, and what they are is said above.
    assert max(looking.rows.index(spans) for spans in lines.values()) < looking.height
    for spans in looking.rows:
        if is_sentence(spans):
            assert cell_len(text_of(spans)) <= LONGEST


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def test_all_of_a_line_stands_in_one_grid(size: tuple[int, int]) -> None:
    looking = of("pallets-until-demand", size)
    ends = {
        tuple(sum(cell_len(span.text) for span in spans[:at]) for at in range(4, len(spans) - 1))
        for spans in lines_of(looking).values()
    }
    assert len(ends) == 1
    head = next(text for text in looking.text.splitlines() if "drawbacks" in text)
    assert ("worth today" in head) is (size != SMALL)
    assert ("one-off" if size != SMALL else "once") in head
    assert "costs" in head
    assert ("payback" if size != SMALL else "back") in head


@pytest.mark.parametrize("demo", DEMOS)
def test_drawbacks_are_above_the_fold_of_the_smallest_page_too(demo: str) -> None:
    looking = of(demo, SMALL)
    looking.press("space")
    lines = looking.text.splitlines()
    at = next(at for at, line in enumerate(lines) if "Drawbacks:" in line)
    assert at < looking.height
    assert looking.words.count("Drawbacks: ") == 1
    # Nothing is left out for them.
    for text in ("The spindles cut ", "Change: "):
        assert text in looking.words


def test_floor_stands_beside_the_money_where_there_is_room_and_else_in_a_sentence() -> None:
    wide = of("pallets-until-demand", LARGE)
    assert "  floor  " in wide.text
    lines = lines_of(wide)
    assert "  33 m²  " in text_of(lines["six"])
    assert "  41.4 m²  " in text_of(lines["nine"])
    # The reference has no line.
    assert "Floor: 19 m² in Today: two tables." in wide.words
    assert wide.words.count("m²") == len(lines) + 1
    narrow = of("pallets-until-demand", MIDDLE)
    assert "  floor  " not in narrow.text
    assert "41.4 m² in Nine pallets each" in narrow.words
    # Where all take the same a column tells nothing.
    alike = of("one-person", LARGE)
    assert "  floor  " not in alike.text
    assert "Floor: 256 ft², as in Today: four tables, in all of them." in alike.words


@pytest.mark.parametrize("demo", DEMOS)
def test_who_comes_first_is_read_first_in_one_look_whatever_the_verdict_is(demo: str) -> None:
    looking = of(demo)
    (lead, *_) = looking.rows
    assert text_of(lead).lstrip().startswith(("Best", "Brings most", "No single best"))
    assert {span.tone for span in lead if span.text.strip()} == {"lead"}
    words = [spans[1] for spans in lines_of(looking).values() if spans[1].text.strip()]
    assert {span.tone for span in words if span.text.strip() in ("best", "most", "first")} <= {
        "lead",
        "chosen",
    }


def test_no_amount_of_money_is_told_as_about_so_much() -> None:
    for size in SIZES:
        assert not any(
            word in text_of(spans)
            for spans in lines_of(of("pallets-until-demand", size)).values()
            for word in ("about", "≈")
        )


def test_the_first_are_marked_by_a_word_and_what_cannot_be_done_is_grey() -> None:
    lines = lines_of(of("pallets-until-demand"))
    marked = [id_ for id_, spans in lines.items() if text_of(spans).startswith(" best ")]
    assert marked == ["six"]
    # The same with stops stands behind it, and says so.
    assert list(lines)[:2] == ["six", "six_stops"]
    assert "  the same with stops" in text_of(lines["six_stops"])
    assert list(lines)[-1] == "small"
    # All but the sign that it rests on what is not so.
    tones = {span.text.strip()[:1]: span.tone for span in lines["small"] if span.text.strip()}
    assert {tone for sign, tone in tones.items() if sign != "!"} == {"dim"}
    assert tones["!"] == "caution"
    assert text_of(lines["small"]).endswith("rail not made; 1 more")
    best = lines_of(of("one-person"))["then_pallets"]
    assert text_of(best).startswith(" most  Moved, second pallet")


def shop_of_many(tmp_path: Path, count: int) -> Path:
    """A shop on whose floor a mill takes its place, and so many alternatives of more mills."""
    study = tmp_path / f"{count}.toml"
    text = TODAY.replace("weekly = 100", "weekly = 2000")
    text = text.replace("count = 1\n", 'count = 1\nmachine.mill.floor = "10 m2"\n')
    for mills in range(2, count + 2):
        text += f'[scenario.c{mills}]\ntitle = "{mills} mills"\nparent = "today"\n'
        text += f"machine.mill.count = {mills}\n"
    study.write_text(text, "utf-8")
    return study


@pytest.mark.parametrize("size", [MIDDLE, LARGE], ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("count", [6, 18])
def test_what_decides_is_seen_first_however_many_alternatives_there_are(
    count: int, size: tuple[int, int], tmp_path: Path
) -> None:
    looking = Looking(shop_of_many(tmp_path, count), "meeting", size, column=0)
    lines, seen = lines_of(looking), "\n".join(looking.seen)
    for word in ("drawbacks", "Pieces sold a week: ", "Floor: "):
        assert word in seen
    assert next(iter(lines)) in looking.look().ids
    hidden = count - len(lines)
    # One alternative is never left out for a line that says so.
    assert hidden == 0 or len(lines) >= 5
    if count == 18 and size == MIDDLE:
        assert hidden > 1
        assert f"{hidden} more: {hidden} bring less than others above" in seen
        assert "a shows all" in seen


def test_lines_that_stand_in_one_are_shown_by_a_key(tmp_path: Path) -> None:
    looking = Looking(shop_of_many(tmp_path, 18), "meeting", MIDDLE, column=0)
    few = list(lines_of(looking))
    assert {"all"} & {key.word for key in looking.view.own_keys(looking.look())}
    looking.press("a")
    every = list(lines_of(looking))
    assert (len(every), every[: len(few)]) == (18, few)
    assert {"fewer"} & {key.word for key in looking.view.own_keys(looking.look())}
    assert list(lines_of(looking.press("a"))) == few
    # Whoever goes down comes to each of them all the same.
    for id_ in every:
        looking.press("down")
        assert looking.look().chosen == id_
        assert id_ in lines_of(looking)
        row = looking.view.cursor(looking.look())
        assert row is not None
        assert row < looking.height


def read(looking: Looking) -> str:
    """What it says in words, the right one of two columns behind the left one."""
    sides: tuple[list[str], list[str]] = [], []
    for spans in looking.rows:
        # Where the left one has ended nothing stands before the space between them.
        is_parted = len(spans) in (4, 5) and not spans[-3].text.strip()
        for side, text in zip(
            sides, (spans[:-3], spans[-2:]) if is_parted else (spans, ()), strict=True
        ):
            side.append("".join(span.text for span in text))
    return " ".join(" ".join((*sides[0], *sides[1])).replace("\u00a0", " ").split())


class Doubted(AtOnce):
    """Tells how a verdict ends under doubts, without trying them."""

    tried = (
        Tried(Doubt.LESS_DEMAND, Conclusion.CHOSEN, ("six_one_person",)),
        Tried(Doubt.LONGER_CYCLES, Conclusion.BEST, ("nine",)),
        Tried(Doubt.SLOWER_LOADING, Conclusion.CHOSEN, ("six",)),
    )


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def test_how_it_ends_under_doubts_is_said(size: tuple[int, int]) -> None:
    study = SCENARIOS / "pallets-until-demand.toml"
    looking = Looking(study, "meeting", size, column=0, calculator=Doubted)
    looking.look()
    said = (
        "Tried: demand a fifth less: Six each, one person is ahead; cycles a tenth longer: Nine "
        "pallets each is ahead; loading and setup a fifth longer: it stays."
    )
    words = read(looking)
    assert said in words
    # It stands right behind what would turn it, and before what it rests on.
    turn, rests = words.index("What would turn it"), words.index("It rests on")
    assert turn < words.index(said) < rests
    assert (len(looking.rows) <= looking.height) is (size == LARGE)
    assert sum("█" in line for line in looking.seen) >= (5 if size == LARGE else 0)


def test_while_doubts_are_tried_that_is_said() -> None:
    looking = Looking(SCENARIOS / "pallets-until-demand.toml", "meeting", column=0)
    look = replace(looking.look(), result=None)
    assert isinstance(look.result, type(None))

    def words(**known: object) -> str:
        drawn = looking.view.draw(replace(look, **known), 119, 27)  # type: ignore[arg-type]  # texts
        return " ".join("".join(span.text for spans in drawn for span in spans).split())

    begins = "Tried with less demand, longer cycles and slower loading:"
    assert f"{begins} Being worked out: 3 of 30." in words(waiting="Being worked out: 3 of 30.")
    assert "fifth less: Six each, one person is ahead. Being worked" in words(
        partly=Doubted.tried[:1]
    )
    assert f"{begins} no room" in words(fault="no room")


@pytest.mark.parametrize("size", [(200, 50), (160, 40), MIDDLE, (110, 32), SMALL], ids=str)
def test_long_titles_cut_no_drawback_and_are_whole_where_there_is_room(
    size: tuple[int, int], tmp_path: Path
) -> None:
    text = (SCENARIOS / "pallets-until-demand.toml").read_text("utf-8")
    for old, new in (
        ("Six pallets each", "Six pallets each, running on by night until all is cut"),
        ("Six each, one person", "Six each, one person in the day shift only"),
    ):
        assert f'title = "{old}"' in text
        text = text.replace(f'title = "{old}"', f'title = "{new}"')
    study = tmp_path / "long.toml"
    study.write_text(text, "utf-8")
    looking = Looking(study, "meeting", size, column=0)
    for spans in lines_of(looking).values():
        assert cell_len(text_of(spans)) <= looking.width
        assert "…" not in spans[-1].text
        assert size[0] < 160 or "…" not in text_of(spans)
    head = next(text for text in looking.text.splitlines() if "gain" in text)
    assert head.endswith("drawbacks")


@pytest.mark.parametrize("demo", DEMOS)
def test_no_drawback_is_cut_and_the_page_has_those_left_out(demo: str) -> None:
    looking = of(demo, SMALL)
    for spans in lines_of(looking).values():
        assert "…" not in text_of(spans)
    assert " ⏎ all of them" in looking.text


def test_a_page_tells_all_drawbacks() -> None:
    looking = of("one-person", SMALL, column=2)
    assert looking.look().chosen == "night"
    looking.press("enter")
    assert "Drawbacks: gain not clear; " in looking.words
    assert "lone working" in looking.words.rpartition("Drawbacks: ")[2]


def test_no_payback_is_cut_in_little_room(tmp_path: Path) -> None:
    demo = (SCENARIOS / "pallets-until-demand.toml").read_text("utf-8")
    study = tmp_path / "study.toml"
    # Longer hours buy nothing, so that it is back at once.
    late = '[scenario.late]\ntitle = "Later"\nparent = "today"\nshift.day.end = "17:30"\n'
    study.write_text(f"{demo}\n{late}", "utf-8")
    looking = Looking(study, "meeting", SMALL, column=4).press("a")
    for id_, spans in lines_of(looking).items():
        assert "…" not in text_of(spans), id_
    # In years.
    assert "     0  " in text_of(lines_of(looking)["late"])


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def test_a_page_tells_a_single_drawback_too(size: tuple[int, int]) -> None:
    looking = of("pallets-until-demand", size, column=4)
    looking.press("enter")
    assert " Drawbacks: unattended running; whoever returns works alone. " in looking.words


def test_what_is_another_one_again_is_set_in_below_it() -> None:
    lines = lines_of(of("pallets-until-demand", LARGE))
    (named,) = (span for span in lines["six_stops"] if "Six each, with stops" in span.text)
    assert (named.text.startswith("   Six"), named.tone) == (True, "dim")
    (first,) = (span for span in lines["nine"] if "Nine pallets each" in span.text)
    assert (first.text.startswith("Nine"), first.tone) == (True, "plain")
    # Without colours nothing is grey: a word tells it too.
    assert text_of(lines["six_stops"]).split()[0] == "again"


@pytest.mark.long
def test_large_figures_stay_once_something_is_decided() -> None:
    looking = of("pallets-until-demand", LARGE, column=4)
    before = sum("█" in line for line in looking.seen)
    looking.press("d")
    looking.answer("the bank agrees, and the orders of the next two years are there to be made")
    assert "Decided on" in looking.text
    assert sum("█" in line for line in looking.seen) == before > 0
    assert len(looking.rows) <= looking.height


def test_a_page_tells_what_it_costs_a_year_beside_what_it_costs_once() -> None:
    looking = of("pallets-until-demand", LARGE, column=4)
    looking.press("enter")
    assert looking.look().chosen == "six"
    assert "costs: EUR 1 540 more" in looking.words
    looking.press("right", "right")
    assert looking.look().chosen == "six_one_person"
    assert "costs: EUR 74 960 less" in looking.words


def test_without_money_no_column_is_of_money() -> None:
    text = of("small-orders", LARGE).text
    assert "worth today" not in text
    assert "payback" not in text
    assert "output alone decides" in " ".join(text.split())


def test_a_study_without_an_alternative_says_so(tmp_path: Path) -> None:
    study = tmp_path / "alone.toml"
    study.write_text(TODAY, "utf-8")
    assert "There is no alternative yet" in Looking(study, "meeting", column=0).words


def test_the_verdict_follows_what_is_entered(tmp_path: Path) -> None:
    study = tmp_path / "two.toml"
    study.write_text(TODAY + CHILD, "utf-8")
    assert "None of these: no alternative changes anything child changes nothing." in (
        Looking(study, "meeting").words
    )
    study.write_text(TODAY + CHILD + 'part.body.mass = "1 kg"\n', "utf-8")
    assert "None of these: no alternative is clearly better child brings no more." in (
        Looking(study, "meeting").words
    )
    text = TODAY.replace("weekly = 100", "weekly = 500")
    study.write_text(text + CHILD + "machine.mill.count = 2\n", "utf-8")
    assert "Brings most: child Its saleable output is likely" in Looking(study, "meeting").words


# -- a page --------------------------------------------------------------------------------------


@pytest.mark.parametrize(("size", "high"), [(SMALL, 3), (MIDDLE, 5), (LARGE, 10)], ids=str)
@pytest.mark.parametrize("demo", DEMOS)
def test_a_page_has_four_figures_as_large_as_there_is_room_for(
    demo: str, size: tuple[int, int], high: int
) -> None:
    looking = of(demo, size, column=4)
    looking.press("enter")
    rows = looking.rows
    blocks = [any(sign in text_of(spans) for sign in "█▀▄") for spans in rows]
    first = blocks.index(True)
    # Names of dots stand below a free row.
    drawn = rows[first : blocks.index(False, first)]
    assert len(drawn) == high
    assert {len(spans) for spans in drawn} == {1 + 4}
    # Each column has blocks of its own, and none touches the next.
    for column in range(1, 5):
        assert any(spans[column].text.strip() for spans in drawn)
        assert all(spans[column].text.endswith("  ") for spans in drawn)
    for spans in rows:
        assert cell_len(text_of(spans)) <= looking.width
        if is_sentence(spans):
            assert cell_len(text_of(spans)) <= LONGEST
    if size != SMALL:
        assert len(rows) <= looking.height


def test_a_page_has_the_notes() -> None:
    looking = of("pallets-until-demand", LARGE, column=10)
    assert "Notes: One machine with a horizontal spindle" in looking.press("enter").words


@pytest.mark.parametrize(
    ("column", "does"), [(4, "load, setup, prove-out, tools, repair"), (5, "all")]
)
def test_a_page_says_what_a_new_shift_does(column: int, does: str) -> None:
    words = of("small-orders", LARGE, column=column).press("enter").words
    assert f"Change: shift late is new, and does {does}." in words


def test_a_page_of_what_cannot_be_done_says_so() -> None:
    """ "1.6 years until back" stood there in large figures, and no-go in the verdict alone."""
    words = of("pallets-until-demand", column=8).press("enter").words
    assert "No-go, as entered: rail not made; unattended running; whoever returns" in words
    assert "Drawbacks: " not in words


def test_a_page_says_what_to_buy_and_to_change() -> None:
    looking = of("pallets-until-demand", column=4).press("enter")
    assert (
        "Buy: 2 handling systems of mill at EUR 95 000; 10 of 12 pallets of mill at EUR 6 500. "
        "Change: hours after the shift until done."
    ) in looking.words
    last = of("pallets-until-demand", column=10).press("enter")
    assert (
        "Buy: 1 machine of cell at EUR 465 000; 7 pallets at EUR 6 900; 22 more fixtures for "
        "4 parts for EUR 69 800; one-off cost EUR 18 000."
    ) in last.words
    # 465 000 + 7 x 6 900 + 69 800 + 18 000 - 76 000 is what it takes.
    assert "Give up: 2 machines of mill, for EUR 76 000." in last.words
    assert "EUR 525 100" in last.words
    # So much is said that its figures are smaller, and nothing scrolls.
    assert len(last.rows) <= last.height


def test_a_page_of_money_says_what_is_back_when() -> None:
    words = of("pallets-until-demand", column=4).press("enter").words
    assert "SALEABLE OUTPUT" in words
    assert "SPINDLE HOURS A WEEK" in words
    assert "THOUSAND EUR MORE A YEAR" in words
    assert "YEARS UNTIL BACK" in words


def test_what_large_figures_are_is_read_from_afar_too() -> None:
    """Bold capitals, and of dots where the figures are ten rows high."""
    figures = [Large("12", "plain", ("years until back", "likely 11 to 13"))] * 4
    for height in (24, 32):
        rows = figure_rows(figures, 120, height)
        (name,) = (spans for spans in rows if "YEARS UNTIL BACK" in text_of(spans))
        assert {span.tone for span in name[1:]} == {"bold"}
    rows = figure_rows(figures, 199, 44, in_dots=True)
    first = large("YEARS")
    at = next(i for i, spans in enumerate(rows) if first[0] in text_of(spans))
    assert [spans[1].text.startswith(line) for spans, line in zip(rows[at:], first, strict=False)]
    # Words of neighbours are not read as one line.
    assert text_of(rows[at]).count(" │ ") == 3
    assert "likely 11 to 13" in text_of(rows[-1])
    # What there are no dots for keeps its letters: a name is never half of it.
    (odd,) = {
        text_of(spans[1:2])
        for spans in figure_rows(
            [Large("12", "plain", ("Jahre, bis es zurück ist",))], 199, 44, in_dots=True
        )
    } & {"JAHRE, BIS ES ZURÜCK IST"}
    assert odd


@pytest.mark.parametrize("demo", DEMOS)
def test_all_pages_of_a_size_name_their_figures_in_one_form(demo: str) -> None:
    looking = of(demo, LARGE)
    forms = set()
    for _ in looking.look().ids:
        looking.press("space")
        drawn, plain = large("HOURS")[0] in looking.text, "HOURS" in looking.text
        assert drawn is not plain
        forms.add(drawn)
    # Where one page has much to say, or a range for its large figure, none has room for dots.
    assert forms == {demo == "small-orders"}


def test_names_in_dots_are_all_of_a_page_or_none() -> None:
    names = ("saleable output", "spindle hours a week", "of them unattended", "hours paid a week")
    texts = ("+52 %", "111", "7", "42")
    figures = [Large(text, "plain", (name,)) for text, name in zip(texts, names, strict=True)]
    # The column of a short figure gets the room that its name needs.
    text = "\n".join(map(text_of, figure_rows(figures, 199, 44, in_dots=True)))
    assert large("UNATTENDED")[0] in text
    assert not any(name.upper() in text for name in names)
    text = "\n".join(map(text_of, figure_rows(figures, 130, 44, in_dots=True)))
    assert large("SALEABLE")[0] not in text
    assert "SALEABLE OUTPUT" in text


def test_digits_are_told_apart_at_every_size() -> None:
    for across, down in ((1, 1), (2, 2), (3, 4)):
        letters = {"\n".join(large(sign, across, down)) for sign in "ABCDEFGHIJKLMNOPQRSTUVWXYZ"}
        assert len(letters) == 26
        drawn = {"\n".join(large(sign, across, down)) for sign in "0123456789+-±%."}
        assert len(drawn) == 15
        assert {len(large("8", across, down))} == {(5 * down + 1) // 2}
    assert large("1.0") == ["▄█    █▀█", " █    █ █", "▀▀▀ ▀ ▀▀▀"]
    with pytest.raises(KeyError):
        large("x")


def test_figures_that_do_not_fit_are_drawn_smaller() -> None:
    figures = [Large("12345678", "plain", ("pieces",))] * 4
    rows = figure_rows(figures, 160, 46)
    assert all(cell_len(text_of(spans)) <= 160 for spans in rows)
    assert sum("█" in text_of(spans) or "▀" in text_of(spans) for spans in rows) == 3


def test_no_stroke_stands_where_there_is_no_figure() -> None:
    """Six cells of a dash beside "+52 %" read as a minus."""
    none = Large("", "unsure", ("payback", "for EUR 900"), word="nothing invested")
    for height in (20, 30, 46):
        rows = [
            text_of(spans)
            for spans in figure_rows([Large("+5 %", "good", ("gain",)), none], 160, height)
        ]
        at = min(place for place, text in enumerate(rows) if "GAIN" in text)
        last = at - (height > 20)
        # At the foot of the figures, above what it is of.
        words = [text.split("  ")[-1].strip() for text in rows[last - 2 : last]]
        assert words == ["nothing", "invested"]
        assert rows[at].endswith("PAYBACK")
        beyond = rows[at].index("PAYBACK")
        assert not any("█" in text[beyond:] or "▀" in text[beyond:] for text in rows)


# -- keys ----------------------------------------------------------------------------------------


def test_one_key_opens_a_page_and_leads_back() -> None:
    looking = of("one-person", column=3)
    verdict = looking.text
    page = looking.press("enter").text
    assert page != verdict
    assert page.lstrip().startswith("Mills moved together   against Today: four tables")
    assert looking.press("enter").text == verdict


def test_from_the_reference_the_page_of_what_comes_first_is_opened() -> None:
    looking = of("one-person")
    assert looking.look().chosen == looking.look().reference
    first = next(iter(lines_of(looking)))
    looking.press("enter")
    assert looking.look().chosen == first
    assert looking.text.lstrip().startswith("Moved, second pallet   against")


def test_space_goes_through_all_pages_as_the_verdict_has_them() -> None:
    looking = of("one-person")
    in_order = [*lines_of(looking), looking.look().reference]
    seen = []
    for _ in (*in_order, "the first one again"):
        looking.press("space")
        seen.append(looking.look().chosen)
        assert looking.text.split("   ")[0].strip() == looking.look().title
    assert seen == [*in_order, in_order[0]]


def test_escape_goes_from_a_page_to_the_verdict_and_from_there_on() -> None:
    looking = of("one-person")
    verdict = looking.press("enter", "enter").text
    looking.press("enter", "space", "escape")
    assert looking.text.splitlines()[0] == verdict.splitlines()[0]
    # That key is the verdict's no longer: it closes the view.
    assert not looking.view.press("escape", looking.look(), looking.controllers.views)


def test_up_and_down_go_from_line_to_line_as_they_stand() -> None:
    looking = of("pallets-until-demand")
    order = list(lines_of(looking))
    # From the reference, which has no line, to the first one.
    for id_ in order[:3]:
        looking.press("down")
        assert looking.look().chosen == id_
        tones = {span.tone for span in lines_of(looking)[id_] if span.spot}
        assert tones == {"chosen"}
        row = looking.view.cursor(looking.look())
        assert row is not None
        assert looking.rows[row] == lines_of(looking)[id_]
    looking.press("up")
    assert looking.look().chosen == order[1]
    for _ in order:
        looking.press("down")
    assert looking.look().chosen == order[-1]


def test_its_keys_stand_in_the_line_of_keys() -> None:
    looking = of("one-person")
    words = {key.word for key in looking.view.own_keys(looking.look())}
    assert words == {"page", "next page", "decide", ""}
    looking.press("space")
    words = {key.word: key.shown for key in looking.view.own_keys(looking.look())}
    assert words == {"verdict": "Esc", "next page": "Space", "decide": "d", "": "⏎"}
    while looking.look().chosen != looking.look().reference:
        looking.press("space")
    words = {key.word: key.shown for key in looking.view.own_keys(looking.look())}
    assert words == {"verdict": "Esc", "next page": "Space", "keep as is": "d", "": "⏎"}


def test_the_cursor_keeps_its_row_where_a_value_of_today_is_undone() -> None:
    looking = of("pallets-until-demand", column=4)
    chosen, today = looking.look().chosen, looking.look().reference
    assert chosen != today
    wage = SetValue(str(today), ("money", "wage"), 40)
    looking.edit(lambda session: session.do(wage))
    for again in (looking.controllers.changes.undo, looking.controllers.changes.redo):
        again()
        assert looking.state.notice.split(":")[0] in ("Undone", "Done again")
        assert looking.look().chosen == chosen
        assert looking.rows
        assert looking.view.cursor(looking.look()) is not None
    # On the sheet it goes to the value.
    looking.state.view = None
    looking.controllers.changes.undo()
    assert looking.state.chosen == today


def test_what_a_year_costs_is_called_a_cost_and_hours_are_taken() -> None:
    """Money with a plus before it would be read as money that is earned."""
    heads = [next(line for line in of(name).text.splitlines() if "drawbacks" in line)
             for name in ("pallets-until-demand", "one-person")]  # fmt: skip
    assert ["costs" in head for head in heads] == [True, False]
    assert ["takes" in head for head in heads] == [False, True]


def test_on_todays_page_it_is_decided_to_keep_things_as_they_are() -> None:
    looking = of("pallets-until-demand", column=0)
    looking.press(*["space"] * len(looking.look().ids))
    look = looking.look()
    assert look.chosen == look.reference
    assert "keep as is" in [key.word for key in looking.view.own_keys(look)]
    looking.press("d")
    looking.answer("no room for more")
    assert ": decided to keep things as they are, " in str(
        looking.state.draft.scenario(str(look.chosen)).entered["notes",]
    )


def test_a_decision_is_written_into_the_notes_and_can_be_undone() -> None:
    looking = of("pallets-until-demand", column=4)
    id_ = looking.look().chosen
    assert id_ is not None
    before = looking.state.draft.scenario(id_).entered.get(("notes",))
    looking.press("d")
    looking.answer("the bank agrees")
    notes = looking.state.draft.scenario(id_).entered["notes",]
    assert isinstance(notes, str)
    assert f"{date.today().isoformat()}: decided for Six pallets each, against Today" in notes
    # The verdict says so from then on, and no longer once it is undone.
    assert f"Decided on {date.today().isoformat()}: Six pallets each, against" in looking.text
    assert "Why: the bank agrees" in notes
    assert "Why: the bank agrees." in " ".join(looking.text.split())
    assert "EUR 255 000 one-off; costs " in notes
    looking.controllers.changes.undo()
    assert looking.state.draft.scenario(id_).entered.get(("notes",)) == before


def test_no_word_below_a_large_figure_is_cut_where_others_have_room() -> None:
    figures = [
        Large("+128.6 %", "plain", ("saleable output", "likely")),
        Large("424.3", "plain", ("spindle hours a week", "instead of 23.9")),
        Large("0", "plain", ("of them unattended", "instead of 2")),
        Large("142.5", "plain", ("hours paid a week", "as before")),
    ]
    rows = ["".join(span.text for span in spans) for spans in figure_rows(figures, 79, 20)]
    assert any("UNATTENDED" in line for line in rows)
    assert not any("…" in line for line in rows)
