"""What is wrong with a file, and what is told of one that is saved or taken up, in sentences."""

from __future__ import annotations

import errno
import re
from collections.abc import Mapping, Sequence
from pathlib import Path as FilePath
from typing import Final

from whatif.study.refused import FileFault, FileFaultKind

DEMO_COPIED = "A copy of the demo study: change what you like; saving asks for a name."
TAKEN_UP = "Taken up what an earlier session left. w saves it."
_NAMED = 6
"""Changes that are told one by one where they are offered; the list of changes has all."""

_TOLD_ONCE = "Counted by what differs from the file: two changes of a value are one."
"""Why there may be fewer of them than were marked as not saved before."""


def left_words(
    when: str, name: str, changes: Sequence[str], *, is_changed: bool, others: int
) -> str:
    """What a session that was cut off left of a study, change by change.

    ``is_changed`` tells that the file has been changed since, so that what is told is held against
    the file as it is now; ``others`` are sessions that left changes too.
    """
    told = [f"  {change}" for change in changes[:_NAMED]]
    more = len(changes) - len(told)
    told += [f"  and {more} more"] if more else []
    said = f"A session of {when} ended before it could save to {name}:"
    after = [_TOLD_ONCE]
    if is_changed:
        after.append("The file has been changed since; they are told against it as it is now.")
    if others:
        after.append(f"{others} more such session{'s' if others > 1 else ''} left changes too.")
    # Whoever goes back loses nothing, and is not left to guess it.
    after.append("Go back, and they are offered again at the next start.")
    return "\n".join((said, *told, *after))


def taken_up_words(many: int) -> str:
    """That the changes of an earlier session are on the screen now."""
    them = "it" if many == 1 else "them"
    what = f"{many} change{'s' if many > 1 else ''}"
    each = "" if many == 1 else ", one at a time; l lists them"
    return f"Taken up {what} of an earlier session. w saves {them}, u undoes {them}{each}."


_FAULTS: Final[Mapping[FileFaultKind, str]] = {
    FileFaultKind.NESTED_TOO_DEEPLY: "{at}The text is nested too deeply to be a study.",
    FileFaultKind.UNREADABLE_NUMBER: "{at}A number in the text cannot be read: {cause}.",
    FileFaultKind.NUMBER_TOO_LARGE: "{at}{detail}: the number is too large for a study file.",
    FileFaultKind.TOO_MANY_SCENARIOS: (
        "{at}a study has {detail} scenarios at most; part it into several files."
    ),
    FileFaultKind.TOO_MANY_VALUES: (
        "{at}a study has {detail} values at most; part it into several files."
    ),
    FileFaultKind.UTF_16: "{at}the file is saved as UTF-16; save it as UTF-8.",
    FileFaultKind.NOT_UTF_8: "{at}line {detail}: the file is not saved as UTF-8; save it so.",
    FileFaultKind.FOLDER_TO_READ: "{path} is a folder; name a study file in it.",
    FileFaultKind.NO_SUCH_FILE: "{path}: there is no such file.",
    FileFaultKind.NO_PERMISSION: "{path}: no permission to read this file.",
    FileFaultKind.NOT_READ: "{path} cannot be read: {cause}.",
    FileFaultKind.TOO_LARGE: "{path} is larger than {detail} MB; a study file is far smaller.",
    FileFaultKind.TABLE_TOO_LARGE: (
        "{path} is larger than {detail} MB; leave out the columns and rows that are not needed."
    ),
    FileFaultKind.TOO_MANY_CELLS: ("{at}a table may have {detail}; leave out what is not needed."),
    FileFaultKind.WORKBOOK: (
        "{at}this is a whole workbook; save the sheet with the table as CSV in the spreadsheet."
    ),
    FileFaultKind.NO_TEXT: "{at}this is no text; save the table as CSV in the spreadsheet.",
    FileFaultKind.NO_CSV: (
        "{at}line {detail}: the quotation marks do not match ({cause}); save the table again."
    ),
    FileFaultKind.NO_ROWS: "{at}there is nothing in it.",
    FileFaultKind.NO_NAME: "{path} can be no file's name; type another one.",
    FileFaultKind.NO_HOME: "{path}: there is no such home folder; type the whole place.",
    FileFaultKind.FOLDER_TO_WRITE: "{path} is a folder; name a file in it.",
    FileFaultKind.NO_PLACE: "{path} was not saved: {why}.",
    FileFaultKind.NO_ORDINARY_FILE: "{path} is no ordinary file; save under another name.",
    FileFaultKind.READ_ONLY: "{path} may only be read; save under another name.",
    FileFaultKind.NOT_SAVED: "{path} was not saved: {why}. Nothing was changed.",
    FileFaultKind.FILE_IS_THERE: (
        "{path} is there already; save under another name or replace it."
    ),
    FileFaultKind.CHANGED_BY_SOMEBODY: (
        "{path} was changed by somebody else since it was read; read it again, or save under "
        "another name."
    ),
    FileFaultKind.STUDY_IS_THERE: "{path} is there already; open it, or choose another name.",
    FileFaultKind.NO_FOLDER_FOR_STUDY: (
        "{path}: there is no such folder; make it first, or choose another name."
    ),
    FileFaultKind.TEXT_IS_THERE: "{path} is there already; choose another name.",
    FileFaultKind.TEXT_NOT_WRITTEN: "{path} cannot be written: {cause}.",
}


def file_fault_words(fault: FileFault) -> str:
    """What is wrong with a file, and what to do about it."""
    at = "" if fault.path is None else f"{fault.path}: "
    if fault.kind is FileFaultKind.NO_TOML:
        return at + _where_no_toml(fault.detail, str(fault.cause))
    cause = getattr(fault.cause, "strerror", None) or fault.cause
    return _FAULTS[fault.kind].format(
        at=at, path=fault.path, detail=fault.detail, cause=cause, why=_plainly(fault.cause)
    )


def place_in_text(fault: FileFault) -> tuple[int, int] | None:
    """Line and column at which a text is no TOML, counted from 1; None where no place is told."""
    found = _PLACE.search(str(fault.cause))
    if fault.kind is not FileFaultKind.NO_TOML or found is None:
        return None
    if found[1] is None:
        lines = fault.detail.split("\n")
        return len(lines), len(lines[-1]) + 1
    return int(found[1]), int(found[2])


def mended_words(problems: int) -> str:
    """That a text can be read, and what is left to do."""
    if not problems:
        return "The text can be read, and there are no problems in it. F10 saves and opens it."
    are = f"{problems} problems are" if problems > 1 else "1 problem is"
    return f"The text can be read; {are} left, which the study lists. F10 saves and opens it."


def state_words(when: str, is_held: bool) -> str:
    """Where a state that can be read is from."""
    if is_held:
        return "In its place stands what is on the screen; Ctrl+Z brings the file's own text back."
    return f"In its place stands what was kept on {when}; Ctrl+Z brings the file's own text back."


NO_STATE = "No state that can be read is known of this file."


def saved_words(name: str, copied_to: FilePath | None, has_other_names: bool = False) -> str:
    """That a study is saved under a name, where the file as it was is kept, and who keeps it."""
    said = [f"Saved {name}."]
    if copied_to is not None:
        said.append(
            f"Saving drops comments below the first key; {copied_to.name} has the file as it was."
        )
    if has_other_names:
        said.append("Other names of the same file (hard links) keep what it held before.")
    return " ".join(said)


def not_kept_words(fault: OSError) -> str:
    """That a kill would lose what is not saved, why, and what to do about it."""
    return (
        f"Unsaved changes are not safe: {_plainly(fault)}. Save them (w), or make room; it is "
        "tried again every few seconds."
    )


def kept_elsewhere_words(folder: FilePath) -> str:
    """That what is not saved is kept in another folder than usual."""
    return f"The usual folder cannot be written; unsaved changes are kept in {folder}."


def _plainly(fault: Exception | None) -> str:
    cause = getattr(fault, "strerror", None) or fault
    return _PLAINLY.get(getattr(fault, "errno", None) or 0, str(cause))


_PLAINLY: Final = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is used up",
    errno.EACCES: "you have no permission to write there",
    errno.EPERM: "you have no permission to write there",
    errno.EROFS: "the disk cannot be written to",
    errno.ENOENT: "there is no such folder",
    errno.ENOTDIR: "there is no such folder",
    errno.ENAMETOOLONG: "the name is too long",
    errno.ELOOP: "its links go in a circle",
    errno.EIO: "the disk reports a fault",
}
"""Why the system cannot write, by its error number, where it says so less plainly."""

_PLACE: Final = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_LONGEST_LINE: Final = 70

_QUOTES: Final = (
    'a text or a quantity stands in quotation marks, as in cycle = "11 min"; '
    "a number has nothing after it"
)
_TWICE: Final = "it gives again what is already given above; remove one of the two"

# What the reader's message begins with, and what to say instead.
_SLIPS: Final = (
    (r"Cannot overwrite a value|Duplicate inline table key", _TWICE),
    (
        r"Cannot (?:declare|mutate|redefine)",
        "this table is already given above; put its keys together in one place",
    ),
    (r"Expected newline or end of document", _QUOTES),
    (r"Invalid value", f"there is no value that can be read; {_QUOTES}"),
    (r"Expected '=' after a key", "a key is followed by = and its value"),
    (r"Illegal character '\\n'", "a quotation mark is missing at the end of the text"),
    (r"Unterminated string|Expected \"", "a quotation mark is missing at the end of a text"),
    (r"Expected ']'", "a bracket ] is missing"),
    (r"Unclosed array", "a list lacks a comma, or its closing bracket ]"),
    (r"Unclosed inline table", "a table in braces lacks a comma, or its closing brace }"),
    (
        r"Unescaped '\\'|Invalid hex|Escaped character",
        "a backslash in a text is written twice (\\\\)",
    ),
    (
        r"Invalid statement|Invalid initial character",
        "a line begins with a key of letters, digits, - and _, or with a table in brackets",
    ),
    (
        r"Found invalid character|Illegal character",
        "there is a hidden character that no study may have",
    ),
)


def _where_no_toml(text: str, message: str) -> str:
    """Where a text is no TOML, and what to do about it; `message` is its reader's."""
    place = _PLACE.search(message)
    if place is None or place[1] is None:
        return f"At the end of the file: {_slip(message, '')}."
    number, column = int(place[1]), int(place[2])
    lines = text.split("\n")
    line = lines[number - 1].strip() if number <= len(lines) else ""
    seen = f" It reads: {line[:_LONGEST_LINE]}" if line.isprintable() and line else ""
    return f"Line {number}, column {column}: {_slip(message, line)}.{seen}"


def _slip(message: str, line: str) -> str:
    if re.search("[“”„]", line):
        return 'quotation marks are written straight (")'
    for begins, words in _SLIPS:
        if re.match(begins, message):
            return words
    return f"the text is no TOML ({_PLACE.sub('', message)})"
