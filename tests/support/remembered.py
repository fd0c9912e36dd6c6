"""Answers worked out once for all tests: kept on disk by the content of code and question.

The folder lies beside the tests and may be thrown away at any time. What is kept there was worked
out by the same lines of code from the same text, so it says what working it out again would say.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import pickle
import tempfile
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import TypeVar

_TESTS = Path(__file__).parent.parent
_WORKS_OUT = ("units", "study", "cell", "plan", "answers", "telling", "session")
"""Rooms of the house whose code an answer may depend on."""

FOLDER = _TESTS / ".remembered"

T = TypeVar("T")


@cache
def _code() -> bytes:
    """A fingerprint of all code that an answer may depend on."""
    digest = hashlib.sha256()
    for room in _WORKS_OUT:
        for file in sorted((_TESTS.parent / "whatif" / room).rglob("*.py")):
            digest.update(file.as_posix().encode())
            digest.update(file.read_bytes())
    return digest.digest()


def remembered(question: str, work_out: Callable[[], T]) -> T:
    """The answer to a question, from the folder where it is there, else worked out and put there.

    ``question`` holds all that the answer depends on beside the code, such as a study's text.
    """
    name = hashlib.sha256(_code() + question.encode()).hexdigest()
    file = FOLDER / name[:2] / name
    # A file that another test run has just removed, or that was cut off, is worked out anew.
    with contextlib.suppress(OSError, EOFError, pickle.UnpicklingError):
        found: T = pickle.loads(file.read_bytes())
        return found
    answer = work_out()
    file.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.NamedTemporaryFile(dir=file.parent, delete=False) as new:
        new.write(pickle.dumps(answer))
    os.replace(new.name, file)
    return answer
