"""The verdict tried again with demand, cycles and loading other than entered."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from alternatives import judged, one, unmade
from answer_studies import CHILD, sound, today, wholly

from whatif.answers.answer import Comparison
from whatif.answers.doubts import (
    MOST,
    Doubt,
    doubted,
    is_cut_short,
    to_be_tried,
    tried_under_doubts,
)
from whatif.answers.verdict import Verdict, verdict_of
from whatif.session.calculate.memory import Memory
from whatif.session.calculate.questions import UnderDoubts
from whatif.session.calculate.requests import Material
from whatif.session.session import Session
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.file.reading import read_file, read_text

MORE = '[scenario.more]\nparent = "today"\nmachine.mill.count = 3\n'
FIXTURE = "part.body.fixture_price = 0"
PRICES = ("part.body.contribution = 9", "money.wage = 30", "machine.mill.price = 150000", FIXTURE)
STUDY = today(*PRICES, "part.body.weekly = 400") + CHILD + "machine.mill.count = 2\n" + MORE
"""A third machine pays for the pieces that two cannot make, and not for a fifth less of them."""


@cache
def found() -> tuple[Comparison, Verdict]:
    compared = wholly(sound(STUDY))
    return compared, verdict_of(compared.answers, "today", ("child", "more"))


def nobody(done: int, of: int) -> None:
    """Nobody looks how far it is."""


@pytest.mark.long
def test_it_is_told_under_which_doubt_another_one_comes_first(tmp_path: Path) -> None:
    _, verdict = found()
    assert verdict.first == ("more",)
    assert to_be_tried(verdict) == ("more", "child")
    tried = tried_under_doubts(read_text(STUDY), to_be_tried(verdict), Memory(), nobody)
    firsts = {each.doubt: each.first for each in tried}
    # Neither loading nor setting up is entered, so there is nothing of it to be doubted.
    assert firsts == {Doubt.LESS_DEMAND: ("child",), Doubt.LONGER_CYCLES: ("more",)}
    leads = {each.doubt: each.lead for each in tried}
    assert leads[Doubt.LONGER_CYCLES] is None
    lead = leads[Doubt.LESS_DEMAND]
    assert lead is not None
    assert (lead.over, lead.currency) == ("more", "USD")
    # The third machine loses what it does not bring back, and never more than its price.
    low, led, high = lead.by
    assert 0 < low <= led <= high <= 150_000
    moved = doubted(read_text(STUDY), Doubt.LESS_DEMAND)
    assert moved is not None
    held = wholly(check(moved)).answers
    child, more = held["child"].money, held["more"].money
    assert child is not None
    assert more is not None
    assert low <= child.net_present_value - more.net_present_value <= high
    # It is what the screen would make of it.
    file = tmp_path / "study.toml"
    file.write_text(STUDY, "utf-8")
    session = Session(read_file(file))
    session.type("today", ("part", "body", "weekly"), "* -20 %")
    session.keep()
    assert session.draft == doubted(read_text(STUDY), Doubt.LESS_DEMAND)


def test_a_question_tells_what_is_known_so_far() -> None:
    compared, verdict = found()
    draft, memory = read_text(STUDY), Memory()
    far: list[tuple[int, int]] = []
    parts: list[object] = []
    material = Material(
        draft,
        sound(STUDY),
        compared,
        memory,
        memory.pause,
        lambda done, of: far.append((done, of)),
        parts.append,
    )
    whole = UnderDoubts(to_be_tried(verdict)).work_out(material)
    assert parts == [whole[:1], whole]
    assert [of for _, of in far] == [8] * len(far)
    assert [done for done, _ in far] == sorted(done for done, _ in far)


def test_what_is_doubted_is_moved_wherever_it_is_entered() -> None:
    lines = ('part.body.load = "90 s"', 'part.body.setup = "20 min"', "part.rod.weekly = 0")
    text = today(*lines, 'part.rod.cycle = "1 min"') + CHILD + "part.body.weekly = 50\n"
    draft = read_text(text)

    def values(doubt: Doubt, scenario: str) -> dict[str, object]:
        after: Draft | None = doubted(draft, doubt)
        assert after is not None
        assert after.ids == draft.ids
        before = draft.scenario(scenario).entered
        now = after.scenario(scenario).entered
        return {".".join(path): now[path] for path in now if now[path] != before[path]}

    # Of nothing there is no fifth.
    assert values(Doubt.LESS_DEMAND, "today") == {"part.body.weekly": 80}
    assert values(Doubt.LESS_DEMAND, "child") == {"part.body.weekly": 40}
    assert values(Doubt.LONGER_CYCLES, "today") == {
        "part.body.cycle": "13.2 min",
        "part.rod.cycle": "1.1 min",
    }
    assert values(Doubt.SLOWER_LOADING, "today") == {
        "part.body.load": "108 s",
        "part.body.setup": "24 min",
    }


def test_what_cannot_come_first_is_not_tried() -> None:
    assert to_be_tried(judged(a=one(8, 9, 10), b=unmade(one(20, 21, 22)))) == ("a",)
    assert to_be_tried(judged()) == ()
    many = judged(**{f"a{at}": one(8, 9, 10 + at) for at in range(MOST + 1)})
    assert len(to_be_tried(many)) == MOST
    assert is_cut_short(many)
    assert not is_cut_short(judged(**{f"a{at}": one(8, 9, 10 + at) for at in range(MOST)}))
