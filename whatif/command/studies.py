"""The study that a command is about, and what is named in it."""

from __future__ import annotations

from pathlib import Path as FilePath

from whatif.command.read_once import read_already
from whatif.command.unanswered import Misput, NotAnswered
from whatif.study.check.check import Checked, check
from whatif.study.check.loads import too_much
from whatif.study.draft import Draft
from whatif.study.file.reading import FileRead, draft_of, read_bytes, read_file
from whatif.study.refused import Refused, no_scenario
from whatif.telling.problems import problem_sentence, too_much_words


def problem_lines(path: str, checked: Checked) -> list[str]:
    """What is wrong with a study, line by line, and how much that is."""
    sentences = [f"{path}: {problem_sentence(problem)}" for problem in checked.problems]
    return [*sentences, f"{path}: {len(sentences)} problem{'s' if len(sentences) > 1 else ''}"]


def study_content(path: str) -> bytes:
    """What a study holds, which may have been read already; raises `StudyError`."""
    content = read_already(path)
    return read_bytes(FilePath(path)) if content is None else content


def draft_named(path: str) -> Draft:
    """The draft of a study, whatever is wrong in it; raises `StudyError`."""
    return draft_of(study_content(path), FilePath(path))


def sound_draft(path: str) -> Draft:
    """The draft of a study without problems; raises `NotAnswered` where it has any."""
    draft = draft_named(path)
    checked = check(draft)
    if checked.problems:
        raise NotAnswered(*problem_lines(path, checked))
    if beyond := bound_lines(path, checked):
        raise NotAnswered(*beyond)
    return draft


def file_to_enter(study: str) -> FileRead:
    """The file of a study that is written anew; raises `Misput` where it is standard input."""
    if study == "-":
        raise Misput("--enter writes the study's file: name one, not standard input")
    return read_file(study)


def bound_lines(path: str, checked: Checked) -> list[str]:
    """The scenarios of a sound study that are too much to simulate, and what to change."""
    return [f"{path}: {too_much_words(each)}" for each in too_much(checked)]


def scenario(draft: Draft, named: str) -> str:
    """The id of the scenario that is named by it or by its title; raises `Refused`."""
    meant = draft.meant(named)
    if len(meant) != 1:
        raise Refused(no_scenario(draft, named))
    return meant[0]
