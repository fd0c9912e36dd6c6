"""Answers name no key of the file; that they write no sentence `tests/test_house.py` holds."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from whatif.study.schema.catalogue import THINGS

ANSWERS = Path(__file__).parents[2] / "whatif" / "answers"
FILES = sorted(ANSWERS.rglob("*.py"))
FIGURES = {"order", "rush"}
"""Sorts of things of which figures have the name too: "rush.hours" is no key of the file."""
KEY = re.compile(rf"\b({'|'.join(set(THINGS) - FIGURES)})\.\w+")


def texts(path: Path) -> Iterator[tuple[int, str]]:
    """Every text of a file but its docstrings, with its line."""
    tree = ast.parse(path.read_text("utf-8"))
    said = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in said:
            yield node.lineno, node.value


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(ANSWERS).as_posix())
def test_no_key_of_the_file_is_written(path: Path) -> None:
    for line, text in texts(path):
        assert not KEY.search(text), f"{path}:{line}: {text}"
