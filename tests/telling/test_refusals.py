"""Every reason why a question has no answer has its sentence."""

from __future__ import annotations

import ast
from pathlib import Path
from typing import get_args

import pytest

from whatif.answers.moves.inputs import Reason, Unanswerable
from whatif.telling.problems import refusal_words

HOUSE = Path(__file__).parents[2] / "whatif"
QUESTIONS = HOUSE / "session" / "calculate" / "questions.py"


def raised() -> set[str]:
    """The reasons that the code gives."""
    found = set()
    for path in (*(HOUSE / "answers" / "moves").glob("*.py"), QUESTIONS):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Unanswerable":
                why = node.args[0]
                ways = [why.body, why.orelse] if isinstance(why, ast.IfExp) else [why]
                found |= {way.value for way in ways if isinstance(way, ast.Constant)}
    return found


@pytest.mark.parametrize("why", get_args(Reason))
def test_each_says_why_in_a_sentence(why: Reason) -> None:
    said = refusal_words(Unanswerable(why, "a", "b", "c", "d"))
    assert said.endswith((".", "?"))
    assert "{" not in said


def test_none_is_left_over() -> None:
    assert raised() == set(get_args(Reason))
