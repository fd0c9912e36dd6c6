"""A column of the sheet as text, to be pasted elsewhere or here again."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path as FilePath

from whatif.session.sheet import Heading, Row, cell
from whatif.study.check.check import Checked
from whatif.study.file.reading import StudyError


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
        raise StudyError(f"{path} is there already; choose another name.") from None
    except OSError as fault:
        raise StudyError(f"{path} cannot be written: {fault.strerror}.") from None
