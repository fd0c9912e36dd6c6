"""``whatif parts`` and ``whatif orders``: what a table of a spreadsheet says, into a study."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path as FilePath

from whatif.command.read_once import read_already, study_named
from whatif.command.studies import draft_named, file_to_enter, problem_lines, scenario
from whatif.command.unanswered import Misput, NotAnswered
from whatif.reports.document import Document, as_text
from whatif.reports.from_table import printed_toml, table_preview
from whatif.study.check.check import check
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.file.writing import to_text, write_file
from whatif.study.schema.kinds import KindError, Percent
from whatif.study.table.dates import monday_in
from whatif.study.table.reading import read_cells
from whatif.study.table.signs import DecimalSign
from whatif.study.table.taking import HowTaken, TakenTable, take_table
from whatif.telling.from_table import lines_note, problem_count
from whatif.telling.study_file import saved_words

_BY_ITSELF = "today"
"""The scenario that is printed where none is named."""


def enter_table(asked: Namespace, group: str) -> Document:
    """What a table says; with ``--enter`` it is put into the study's file."""
    how = _how(asked)
    if asked.into is None:
        return _by_itself(asked, group, how)
    study, named = asked.into
    read = file_to_enter(study) if asked.enter else None
    study = study if read is not None else _read_now(study)
    table = read_cells(FilePath(asked.table))
    present = draft_named(study) if read is None else read.draft
    id_ = scenario(present, named)
    taken = take_table(table, group, how, present, id_)
    source = FilePath(asked.table).name
    _refuse_problems(taken, source)
    edit = taken.edit(present, id_, source, lines_note(taken, source))
    draft = edit.apply(present)
    added = check(draft)
    if set(added.problems) - set(check(present).problems):
        raise NotAnswered(*problem_lines(study, added))
    says = edit.says(present)
    if read is None:
        offer = "" if read_already(study) is not None else f"; --enter enters {says}"
        return table_preview(taken, source, [f"Nothing is changed yet{offer}."])
    written = write_file(draft, read.path, read.fingerprint)
    saved = saved_words(study, written.copied_to, written.has_other_names)
    return table_preview(taken, source, [f"Entered {says}. {saved}"])


def _by_itself(asked: Namespace, group: str, how: HowTaken) -> Document:
    if asked.enter:
        raise Misput("--enter needs a study and a scenario: --into STUDY SCENARIO")
    source = FilePath(asked.table).name
    taken = take_table(read_cells(FilePath(asked.table)), group, how)
    _refuse_problems(taken, source)
    only = Draft(scenarios=(ScenarioDraft(_BY_ITSELF),))
    entered = taken.edit(only, _BY_ITSELF, source).apply(only)
    return printed_toml(taken, to_text(entered), source)


def _read_now(study: str) -> str:
    """The study that is named, with its content where it can be read only once."""
    try:
        return study_named(study)
    except OSError as fault:
        raise NotAnswered(f"standard input cannot be read: {fault}") from fault


def _refuse_problems(taken: TakenTable, source: str) -> None:
    """Nothing is entered of a table with problems, unless their rows are left out on purpose."""
    if taken.is_clean:
        return
    preview = table_preview(taken, source, [problem_count(taken)])
    raise NotAnswered(*as_text(preview).splitlines(), document=preview)


def _how(asked: Namespace) -> HowTaken:
    named = {}
    for pair in asked.column:
        head, between, key = pair.rpartition("=")
        if not between:
            raise Misput(f'--column "{pair}": write HEAD=KEY, or HEAD= for a column of no use')
        named[head.strip()] = key.strip()
    week_1 = None if asked.week_1 is None else monday_in(asked.week_1)
    if asked.week_1 is not None and week_1 is None:
        raise Misput(f"--week-1 {asked.week_1}: name a Monday, such as 2026-11-30")
    alike = None
    if getattr(asked, "alike", None) is not None:
        try:
            alike = Percent().read(Percent().typed(asked.alike)).value
        except KindError as fault:
            raise Misput(
                f'--alike "{asked.alike}": {fault.why}; allowed is {fault.allowed}'
            ) from None
    return HowTaken(
        named,
        sign=None if asked.decimal is None else DecimalSign[asked.decimal.upper()],
        week_1=week_1,
        alike=alike,
        is_grouped=False if getattr(asked, "no_grouping", False) else None,
        leave_out=asked.leave_out,
        instead=getattr(asked, "instead", False),
    )
