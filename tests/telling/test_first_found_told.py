"""What the page behind the questions says that it rests on."""

from __future__ import annotations

from answer_studies import CHILD, TODAY, sound

from whatif.answers.compare import compare
from whatif.session.calculate.memory import Memory
from whatif.telling.first_found import found_said


def test_what_was_not_asked_is_said_with_where_to_enter_it() -> None:
    found = compare(sound(TODAY + CHILD), Memory())
    rests = found_said(found, is_wanted_known=True, assumed=2).rests
    assert rests.startswith("2 answers are assumed (~). Not asked: any break is taken as paid")
    assert 'enter "unpaid breaks" at the shift and "prove-out" at the part.' in rests
