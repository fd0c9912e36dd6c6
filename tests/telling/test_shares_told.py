"""Hours in columns: what stands there is never nothing where there is something."""

from __future__ import annotations

import pytest
from answer_studies import sound, today, wholly

from whatif.answers.account.explain import explain
from whatif.answers.shares import Share
from whatif.answers.states import IN_CYCLE, STATE_ROWS
from whatif.telling.account.sentences import note_sentence
from whatif.telling.amounts import rounded, shown_difference
from whatif.telling.shares import (
    WEEK_TITLE,
    duties_said,
    duties_sentence,
    share_said,
    total_title,
    week_said,
)


def test_a_difference_is_that_of_the_hours_that_stand_there() -> None:
    """53.46 and 72.35 read as 53.5 and 72.4, and whoever takes one from the other finds 18.9."""
    share = Share(STATE_ROWS[IN_CYCLE], 72.35, 93.0, 72.35 - 53.46)
    assert [said.text for said in share_said(share)] == ["72.4", "93", "+18.9"]
    alike = Share(STATE_ROWS[IN_CYCLE], 53.54, 93.0, 0.08)
    assert [said.text for said in share_said(alike)] == ["53.5", "93", "0.0"]
    assert (shown_difference(37.15, 33.94), shown_difference(37.15, 33.94, 0)) == (3.3, 3.0)


def test_no_hours_are_good_or_bad_by_themselves() -> None:
    """Fewer with people there, and more at night, stood in red below the green of the gain."""
    for more in (2.0, -2.0, 0.0):
        said = share_said(Share(STATE_ROWS[IN_CYCLE], 20.0, 14.0, more))
        assert said[2].sense == "plain"


@pytest.mark.parametrize(
    ("percent", "told"), [(0.0, "0"), (0.01, "<1"), (0.49, "<1"), (0.5, "1"), (24.6, "25")]
)
def test_a_percent_that_is_not_nothing_never_reads_as_0(percent: float, told: str) -> None:
    said = share_said(Share(STATE_ROWS[IN_CYCLE], 1.7, percent, None))
    assert said[1].text == told


@pytest.mark.parametrize(
    ("hours", "percents", "title"),
    [
        ((68.0, 87.0), (44.0, 56.0), "all of them"),
        # 68.04 and 87.04 are 155.08, which reads as 155.1.
        ((68.04, 87.04), (44.0, 56.0), "all of them, rounded"),
        ((68.0, 87.0), (43.5, 56.5), "all of them, rounded"),
        # Less than 1 % is whatever is left.
        ((150.0, 5.0), (99.6, 0.4), "all of them"),
        ((150.0, 5.0), (99.4, 0.4), "all of them"),
        ((150.0, 5.0), (97.4, 0.4), "all of them, rounded"),
    ],
)
def test_what_does_not_add_up_as_it_reads_is_said_to_be_rounded(
    hours: tuple[float, float], percents: tuple[float, float], title: str
) -> None:
    rows = (STATE_ROWS[IN_CYCLE], STATE_ROWS["load"])
    shares = [Share(*each, None) for each in zip(rows, hours, percents, strict=True)]
    assert total_title([shares]) == title
    assert total_title([[]]) == "all of them"


DUTIES = 'handling.other_duties = "20 %"'


def test_hours_of_peoples_work_say_how_many_of_them_are_other_duties() -> None:
    """A fifth of all that people do is other duties: of busy hours, and of loading alike."""
    found = wholly(sound(today(DUTIES)))
    answer = found.answers["today"]
    assert answer.figures is not None
    busy = answer.figures.people.busy
    told = duties_said(answer)
    assert told is not None
    assert [said.text for said in told] == [rounded(busy / 5), "20", ""]
    assert f"of the {rounded(busy)} h a week" in duties_sentence(answer)
    without = wholly(sound(today())).answers["today"]
    assert (duties_said(without), duties_sentence(without)) == (None, "")


@pytest.mark.parametrize("figure", ["hours_by_state.load", "people_hours.busy"])
def test_why_such_hours_are_as_many_says_the_share_of_other_duties(figure: str) -> None:
    by = sound(today(DUTIES))
    account = explain(wholly(by), by, "today", figure)
    hours = account.figure.number
    assert (
        f"Of these {rounded(hours)} hours {rounded(hours / 5)} are other duties: they take 20 % of "
        "people's time, so that all that people do takes 1.25 times as long."
    ) in [note_sentence(note) for note in account.worked.notes]
    plain = sound(today())
    notes = explain(wholly(plain), plain, "today", figure).worked.notes
    assert not any("other duties" in note_sentence(note) for note in notes)


def test_hours_of_a_part_of_the_week_stand_beside_those_of_the_whole() -> None:
    """One machine's attended hours are not its 168."""
    told = week_said(wholly(sound(today())).answers["today"])
    assert told is not None
    assert (WEEK_TITLE, told[0].text) == ("all hours of the week", "168.0")
