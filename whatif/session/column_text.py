"""A column of the sheet as text, and such a text pasted into it: what that would change."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path as FilePath
from typing import TYPE_CHECKING

from whatif.records import dataclass
from whatif.session.sheet import NOT_GIVEN, Heading, Line, Row, cell
from whatif.study.edits import Edit, EditError, Together
from whatif.study.edits.edit import refuse
from whatif.study.file.reading import StudyError
from whatif.study.refused import FileFaultKind, RefusalKind
from whatif.telling.edits import becomes, not_pasted, other_label
from whatif.telling.problems import problem_in_short, problem_sentence
from whatif.telling.refusals import refusal_words

if TYPE_CHECKING:
    from whatif.session.session import Session
    from whatif.study.check.check import Checked
    from whatif.study.raw import Path as PathOfValue


def column_text(checked: Checked, scenario: str, title: str, rows: Sequence[Row]) -> str:
    """The scenario's title, headings as lines, and a label, a TAB and a value for each row.

    Values stand as they were typed, so that pasting them changes none.
    """
    lines = [title]
    for row in rows:
        if isinstance(row, Heading):
            lines.append(row.title)
        else:
            lines.append(f"{row.label}\t{one_line(cell(checked, scenario, row.path).text)}")
    return "\n".join(lines) + "\n"


def one_line(text: str) -> str:
    """A text without line ends and TABs."""
    return " ".join(text.split())


def write_new(path: FilePath, text: str) -> None:
    """Write a text file that must not be there yet; raises `StudyError`."""
    try:
        with path.open("x", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError:
        raise StudyError(FileFaultKind.TEXT_IS_THERE, path) from None
    except OSError as fault:
        raise StudyError(FileFaultKind.TEXT_NOT_WRITTEN, path, cause=fault) from None


@dataclass(frozen=True, slots=True)
class Pasting:
    """What pasting would do.

    Attributes:
        edit: the whole of it as one change; None where it changes nothing, or something is wrong.
        values: how many there are.
        changes: "cycle: 9 min -> 8 min", one for each value that would change.
        same: how many values are there already.
        wrong: what cannot be entered, each with its line, its value and what is allowed.
        odd: lines whose own label is another than that of the row they would go to.
        beyond: lines for which there is no row.
    """

    edit: Together | None
    values: int
    changes: tuple[str, ...]
    same: int
    wrong: tuple[str, ...]
    odd: tuple[str, ...]
    beyond: int


@dataclass(frozen=True, slots=True)
class _Pasted:
    """One line of what was pasted; ``number`` counts from 1, ``label`` is "" without a TAB."""

    number: int
    label: str
    value: str


def pasting(session: Session, scenario: str, rows: Sequence[Line], text: str) -> Pasting:
    """What a text would change in a scenario, its values going to ``rows`` one by one.

    Of a line with TABs the last field is the value; lines without, in a text that has
    some, are headings. A line without a value leaves its row as it is; "–" and "-" stand
    for "not given". The changes are checked together.
    """
    pasted = list(_lines(text))
    filled = [(line, row) for line, row in zip(pasted, rows, strict=False) if line.value]
    draft, same = session.draft, 0
    edits: dict[PathOfValue, Edit] = {}
    changes: list[str] = []
    wrong: list[str] = []
    for line, row in filled:
        now = cell(session.checked, scenario, row.path)
        if now.exists and line.value == one_line(now.text):
            same += 1
            continue
        try:
            if not now.exists:
                raise refuse(RefusalKind.NO_THING_YET, *row.path[:2])
            typed = "" if line.value in (NOT_GIVEN, "-") else line.value
            edit = session.edit_for(scenario, row.path, typed, draft)
            draft = edit.apply(draft)
        except EditError as fault:
            wrong.append(not_pasted(line.number, line.value, row.label, refusal_words(fault)))
        else:
            edits[row.path] = edit
            changes.append(becomes(row.label, one_line(now.text), line.value))
    brings = {row.path: (line.number, line.value, row.label) for line, row in filled}
    for problem in session.new_problems(draft):
        if problem.path in edits:
            wrong.append(not_pasted(*brings[problem.path], problem_in_short(problem)))
        else:
            wrong.append(problem_sentence(problem))
    title = session.draft.scenario(scenario).title
    name = f"{len(edits)} value{'s' if len(edits) > 1 else ''} pasted into {title}"
    return Pasting(
        edit=None if wrong or not edits else Together(tuple(edits.values()), name),
        values=len(filled),
        changes=tuple(changes),
        same=same,
        wrong=tuple(wrong),
        odd=tuple(
            other_label(line.number, line.label, row.label)
            for line, row in filled
            if line.label and line.label.lower() != row.label.lower()
        ),
        beyond=max(0, len(pasted) - len(rows)),
    )


def is_column(text: str) -> bool:
    """Whether a pasted text is a column of values and not just one."""
    return "\n" in text.strip("\r\n") or "\r" in text.strip("\r\n") or "\t" in text


def _lines(text: str) -> Iterator[_Pasted]:
    lines = text.rstrip().splitlines()
    labelled = any("\t" in line for line in lines)
    for number, line in enumerate(lines, 1):
        label, tab, value = line.rpartition("\t")
        if tab or not labelled:
            yield _Pasted(number, label.strip(), value.strip())
