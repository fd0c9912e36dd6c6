"""One gain leads with the same text wherever it stands (rule `likely.told`)."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from answer_studies import CHILD, sound, today

from whatif.answers.answer import Comparison, GapAsRead
from whatif.answers.compare import compare
from whatif.answers.gains import Gains, Likely
from whatif.answers.ranks import Range
from whatif.answers.verdict import verdict_of
from whatif.screens.views.large import figure_rows, large
from whatif.session.calculate.memory import Memory
from whatif.telling.gain_texts import lacks_unit, without_unit
from whatif.telling.meeting.page import headline
from whatif.telling.meeting.verdict import verdict_told
from whatif.telling.meters import DECIDES
from whatif.telling.strip import LEAST, gain_in_a_word
from whatif.telling.table import table_rows

SECONDS = 60


@cache
def plain() -> Comparison:
    text = today("part.body.weekly = 400") + CHILD + "machine.mill.count = 2\n"
    return compare(sound(text), Memory())


def with_gain(typed: float, likely: Range, meters: tuple[float, float] | None = None) -> Comparison:
    found = plain()
    read = tuple(
        GapAsRead(kind, SECONDS, 0.0, 0.0, gain)
        for kind, gain in zip(("machine", "people"), meters or (), strict=False)
    )
    one = replace(
        found.answers["child"],
        gains=Gains(saleable=typed),
        likely=Likely(saleable=likely),
        gap_read=read,
    )
    return found.having("child", one)


@pytest.mark.parametrize(
    ("typed", "likely", "told"),
    [
        (46.8, (45.7, 46.8, 47.9), "+47"),
        # As typed it lies outside: the range stands in both, with the same decimals.
        (51.0, (45.7, 46.8, 47.9), "+46 to +48"),
        (48.0, (45.7, 46.8, 47.9), "+45.7 to +47.9"),
    ],
)
def test_a_narrow_strip_has_the_figures_of_the_tree(typed: float, likely: Range, told: str) -> None:
    child = with_gain(typed, likely).answers["child"]
    assert gain_in_a_word(child, 10).removesuffix(" %") == told
    strip = LEAST[0].said(child, False)
    assert strip.within(15).startswith(told)
    assert strip.within(14).removesuffix(" %").startswith(told)


@pytest.mark.parametrize(
    ("typed", "likely", "meters", "leads", "between"),
    [
        (18.26, (12.4, 18.0, 24.2), None, "+18 %", "12 to 24"),
        # From ten percent on there are no tenths, however narrow the range.
        (15.94, (15.2, 15.9, 16.4), None, "+16 %", "15 to 16"),
        # As typed it lies outside: the range leads everywhere.
        (55.0, (18.0, 47.0, 54.0), None, "+18 to +54 %", "+18 to +54"),
        # A reading of the hour meters makes the range wide enough for it.
        (52.0, (18.0, 36.0, 48.0), (52.0, 54.0), "+52 %", "18 to 54"),
    ],
)
def test_one_gain_is_told_alike(
    typed: float, likely: Range, meters: tuple[float, float] | None, leads: str, between: str
) -> None:
    found = with_gain(typed, likely, meters)
    child, base = found.answers["child"], found.answers["today"]
    strip = LEAST[0].said(child, False).text
    titles = dict.fromkeys(found.answers, "")
    told = verdict_told(verdict_of(found.answers, "today"), found.answers, titles)
    (line,) = told.lines
    (compared,) = [row.cells[1] for row in table_rows(found) if "saleable" in row.label][:1]
    assert gain_in_a_word(child) == leads
    assert headline(child, base).figures[0].text == leads
    assert strip == compared
    # In columns as narrow as beside the tree, too, it leads with what the tree says.
    for said in (LEAST[0].said(child, False), line.gain):
        assert said.within(17).startswith(leads.removesuffix(" %"))
    # However narrow it is, of a gain that leads no range alone is left.
    narrow = LEAST[0].said(child, False).within(len(leads))
    assert narrow == leads
    assert line.gain.within(14).startswith(leads.split(" ")[0].removesuffix("%"))
    for text in (strip, line.gain.text):
        assert text.removeprefix("likely ").startswith(leads.removesuffix(" %"))
        assert between in text
    assert (DECIDES in told.rests) is (meters is not None)


def test_a_range_is_drawn_large_where_there_is_room() -> None:
    found = with_gain(55.0, (18.0, 47.0, 54.0))
    figures = headline(found.answers["child"], found.answers["today"]).figures

    def first_row(width: int) -> str:
        return "".join(span.text for span in figure_rows(figures, width, 30)[0]).strip()

    assert first_row(200).startswith(large("+18 to +54 %", 2, 2)[0].strip())
    assert first_row(60).startswith(large("+47 %")[0].strip())


def test_only_a_gain_with_its_range_goes_without_its_unit() -> None:
    assert [each for each in FORMS if lacks_unit(each)] == ["! +55 (51 to 59)", "+56 to +74"]
    assert list(map(without_unit, FORMS)) == [
        "+11 (9 to 17)", "! +55 (51 to 59)", "+56 to +74", "likely +56 to +74",
        "+2 %", "not clear, -1 to +2", "no difference", "reference",
    ]  # fmt: skip


FORMS = ("+11 % (9 to 17)", "! +55 (51 to 59)", "+56 to +74", "likely +56 to +74 %", "+2 %",
         "not clear, -1 to +2", "no difference", "reference")  # fmt: skip
