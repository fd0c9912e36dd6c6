"""``whatif parts`` and ``whatif orders``: what a table of a spreadsheet says, into a study."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path as FilePath

from whatif.command.studies import problem_lines, scenario
from whatif.command.unanswered import Misput, NotAnswered
from whatif.reports.document import Document, as_text
from whatif.reports.from_table import printed_toml, table_preview
from whatif.study.check.check import check
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.file.reading import read_file
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
    path, named = FilePath(asked.into[0]), asked.into[1]
    table = read_cells(FilePath(asked.table))
    read = read_file(path)
    id_ = scenario(read.draft, named)
    taken = take_table(table, group, how, read.draft, id_)
    source = FilePath(asked.table).name
    _refuse_problems(taken, source)
    edit = taken.edit(read.draft, id_, source, lines_note(taken, source))
    draft = edit.apply(read.draft)
    added = check(draft)
    if set(added.problems) - set(check(read.draft).problems):
        raise NotAnswered(*problem_lines(str(path), added))
    says = edit.says(read.draft)
    if not asked.enter:
        return table_preview(taken, source, [f"Nothing is changed yet; --enter enters {says}."])
    written = write_file(draft, path, read.fingerprint)
    saved = saved_words(str(path), written.copied_to, written.has_other_names)
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
