"""The commands that answer on standard output; problems go to standard error."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable
from pathlib import Path

from whatif.answers.compare import Comparison, compare_wholly
from whatif.reports.written import FORMATS
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import Checked, check
from whatif.study.draft import Draft
from whatif.study.file.reading import StudyError, read_file
from whatif.study.problem import Problem
from whatif.study.refused import no_scenario
from whatif.telling.problems import message, not_there_words, problem_sentence


def compare_study(path: str, form: str) -> int:
    """Print the comparison of a study; 1 with the errors on standard error if it has any."""
    checked = sound_study(path)
    if checked is None:
        return 1
    print(writable(FORMATS[form](answered(checked))))
    return 0


def answered(checked: Checked) -> Comparison:
    """The comparison of a study without problems, grain included."""
    memory = Memory(between_weeks=Progress())
    return compare_wholly(checked, memory, memory.pause)


def writable(text: str) -> str:
    """The text with what standard output has no signs for as \\u escapes, which JSON reads."""
    encoding = sys.stdout.encoding or "ascii"
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return "".join(_sign(sign, encoding) for sign in text)
    return text


def _sign(sign: str, encoding: str) -> str:
    try:
        sign.encode(encoding)
    except UnicodeEncodeError:
        return json.dumps(sign)[1:-1]
    return sign


def check_study(path: str, form: str = "text") -> int:
    """List every problem and warning of a study file; 1 if there is a problem."""
    if form == "json":
        return _check_as_json(path)
    checked = sound_study(path)
    if checked is None:
        return 1
    for warning in checked.warnings:
        print(f"{path}: warning: {problem_sentence(warning)}")
    print(f"{path}: no problems")
    return 0


def _check_as_json(path: str) -> int:
    """The same for other programs; a file that is no study is one problem without a place."""
    try:
        checked = check(read_file(Path(path)).draft)
    except StudyError as fault:
        problems: list[dict[str, str | None]] = [{"sentence": str(fault)}]
        warnings: list[dict[str, str | None]] = []
    else:
        problems = [_as_entry(one) for one in checked.problems]
        warnings = [_as_entry(one) for one in checked.warnings]
    print(json.dumps({"format": 1, "problems": problems, "warnings": warnings}, indent=2))
    return 1 if problems else 0


def _as_entry(one: Problem) -> dict[str, str | None]:
    return {
        "scenario": one.scenario,
        "key": one.key,
        "value": one.value,
        "message": message(one),
        "allowed": one.allowed,
        "nearest": one.nearest,
        "sentence": problem_sentence(one),
    }


def sound_study(path: str) -> Checked | None:
    """A study without problems; None where it has any, which are told on standard error."""
    draft = sound_draft(path)
    return None if draft is None else check(draft)


def sound_draft(path: str) -> Draft | None:
    """The draft of a study without problems; None, as for :func:`sound_study`."""
    try:
        draft = read_file(Path(path)).draft
    except StudyError as fault:
        print(fault, file=sys.stderr)
        return None
    checked = check(draft)
    if checked.study is None:
        _tell_problems(path, checked)
        return None
    return draft


def refuse_scenario(asked: str, known: Iterable[str]) -> int:
    """Say that a study has no such scenario, and which it has; 1, to leave with."""
    missing = no_scenario(tuple(known), asked)
    print(not_there_words(missing), file=sys.stderr)
    return 1


def _tell_problems(path: str, checked: Checked) -> None:
    for problem in checked.problems:
        print(f"{path}: {problem_sentence(problem)}", file=sys.stderr)
    count = len(checked.problems)
    print(f"{path}: {count} problem{'s' if count > 1 else ''}", file=sys.stderr)


class Progress:
    """Weeks simulated so far, on a terminal only and wiped out at the end."""

    def __init__(self) -> None:
        self._weeks = 0
        self._shown = sys.stderr.isatty()

    def __call__(self) -> None:
        """One more week has been simulated."""
        self._weeks += 1
        if self._shown and self._weeks % 200 == 0:
            print(f"\r{self._weeks} weeks simulated ", end="\r", file=sys.stderr, flush=True)
