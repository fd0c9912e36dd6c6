"""Every reason why something is refused, or not answered, has its sentence."""

from __future__ import annotations

import ast
import errno
import os
from pathlib import Path
from typing import get_args

import pytest

from whatif.answers.moves.inputs import Reason, Unanswerable
from whatif.study.file.reading import StudyError
from whatif.study.refused import FileFaultKind, Refusal, RefusalKind, Refused
from whatif.telling.refusals import refusal_words

HOUSE = Path(__file__).parents[2] / "whatif"
QUESTIONS = HOUSE / "session" / "calculate" / "questions.py"


def raised() -> set[str]:
    """The reasons that the code gives."""
    found = set()
    for path in (
        *(HOUSE / "answers" / "moves").glob("*.py"),
        *(HOUSE / "answers" / "search").glob("*.py"),
        QUESTIONS,
    ):
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


@pytest.mark.parametrize("kind", RefusalKind)
def test_each_refusal_of_an_edit_is_told(kind: RefusalKind) -> None:
    details = ("rush",) if kind is RefusalKind.NO_PART_YET else ("a", "b", "c")
    said = refusal_words(Refused(Refusal(kind, details)))
    assert said
    assert "{" not in said


@pytest.mark.parametrize("kind", FileFaultKind)
def test_each_fault_of_a_file_is_told_with_its_path(kind: FileFaultKind) -> None:
    cause = OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
    said = refusal_words(StudyError(kind, Path("a.toml"), "b", cause))
    assert said.startswith("a.toml")
    assert said.endswith(".")
    assert "{" not in said
