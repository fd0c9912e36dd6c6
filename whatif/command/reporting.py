"""``whatif report``: two pages to be handed on, into a file or on standard output."""

from __future__ import annotations

import shlex
from argparse import Namespace
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from hashlib import sha256
from pathlib import Path as FilePath
from typing import TYPE_CHECKING, Final

from whatif.answers.progress import Progress, Told
from whatif.command.answered import WholeAnswers
from whatif.command.read_once import STANDARD_INPUT
from whatif.command.simulating import simulating
from whatif.command.studies import scenario, sound_draft, study_content
from whatif.command.terminal import ProgressLine
from whatif.command.unanswered import Misput, NotAnswered
from whatif.command.version import version
from whatif.reports.document import AsItIs, Document
from whatif.reports.paper.facts import Asked, Imprint, paper_facts
from whatif.reports.paper.report import paper_report
from whatif.reports.writers import ALL_WRITERS
from whatif.study.check.check import check
from whatif.telling.paper import is_there_words, not_written_words, written_words

if TYPE_CHECKING:
    from whatif.study.draft import Draft

_FORMS: Final = {".md": "markdown", ".html": "html", ".htm": "html", ".txt": "text"}
"""By the end of a file's name."""

_PAGE = 100
"""Cells that tables in a file of text are folded to, and are read in by any editor or mail."""

_DIGEST = 16
"""Signs of the digest that are told."""


def make_report(asked: Namespace, progress: ProgressLine) -> Document:
    """The report itself; or, where it goes into a file, where it was written."""
    out = None if asked.out is None else FilePath(asked.out)
    form = asked.format if out is None else _form(out)
    if out is not None:
        _look(out, replaces=asked.replace)
    answers = WholeAnswers(asked.study)
    draft = sound_draft(asked.study)
    focus = "" if asked.scenario is None else scenario(draft, asked.scenario)
    checked = check(draft)
    found = answers.known() or answers.find(checked, progress)
    words = Asked(_made(asked, draft), focus, asked.quick, asked.question)
    with simulating(progress.week) as memory:
        facts = paper_facts(checked, found, words, memory, _told_by(progress))
    document = paper_report(facts, is_full=asked.full)
    if out is None:
        return document
    # A file has no terminal's width: it is folded to a page's.
    _write(out, ALL_WRITERS[form](replace(document, room=_PAGE)), replaces=asked.replace)
    return Document([AsItIs([written_words(str(out))])], {})


def _form(out: FilePath) -> str:
    form = _FORMS.get(out.suffix.lower())
    if form is None:
        raise Misput("the name of FILE ends in .html, .md or .txt, which says its form")
    return form


def _look(out: FilePath, *, replaces: bool) -> None:
    """Before minutes of work: whether it could be written."""
    if out.is_dir() or not out.parent.is_dir():
        raise NotAnswered(not_written_words(str(out), "there is no such folder"))
    if out.exists() and not replaces:
        raise NotAnswered(is_there_words(str(out)))


def _write(out: FilePath, text: str, *, replaces: bool) -> None:
    from whatif.study.file.atomic import replace_file

    def look_again() -> None:
        if out.exists() and not replaces:
            raise FileExistsError

    content = (text + "\n").encode("utf-8", "backslashreplace")
    try:
        replace_file(out.resolve(), content, before_that=look_again)
    except FileExistsError:
        raise NotAnswered(is_there_words(str(out))) from None
    except OSError as fault:
        raise NotAnswered(not_written_words(str(out), fault.strerror or "")) from fault


def _made(asked: Namespace, draft: Draft) -> Imprint:
    study = FilePath(asked.study)
    content, is_given = study_content(asked.study), asked.study == STANDARD_INPUT
    words = ["whatif", "report", "-" if is_given else study.name]
    words += [asked.scenario] if asked.scenario is not None else []
    words += [flag for flag in ("full", "quick") if getattr(asked, flag)]
    words = [f"--{word}" if word in ("full", "quick") else word for word in words]
    words += ["--question", asked.question] if asked.question else []
    words += ["--out", FilePath(asked.out).name] if asked.out else []
    return Imprint(
        "" if is_given else study.name,
        sha256(content).hexdigest()[:_DIGEST],
        date.today().isoformat(),
        shlex.join(words),
        version().partition(",")[0],
    )


def _told_by(progress: ProgressLine) -> Callable[[str], Told]:
    def told(what: str) -> Told:
        def words(far: Progress) -> str:
            return f"{what}: {far.done} of {far.of}"

        return progress.steps(words)

    return told
