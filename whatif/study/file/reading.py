"""From the text of a study file to a draft, or to what is wrong with it."""

import re
import tomllib
from decimal import Decimal
from pathlib import Path as FilePath
from typing import Any, Final

from whatif.records import dataclass
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.raw import EMPTY, Entries, Path, Raw, frozen
from whatif.study.refused import FileFault, FileFaultKind, Refused

LARGEST: Final = 4_000_000
"""Bytes that a study file may have; the largest ones in use have some ten thousand."""

MOST_VALUES: Final = 60_000
"""Values that a study file may have; one of a thousand scenarios has some ten thousand."""

MOST_SCENARIOS: Final = 5_000

DEEPEST: Final = 64
"""Tables and lists within each other; a study has five."""

_SMALLEST_INT, _LARGEST_INT = -(2**63), 2**63 - 1
_PREAMBLE: Final = re.compile(r"(?:[ \t]*(?:#[^\n]*)?\n)*(?:[ \t]*#[^\n]*\Z)?")
# Strings first, so that a # inside of one is no comment. Up to two quotation marks may
# stand before the three that end a long string. What has been passed is never gone back to (*+):
# a long text would be remembered character by character for that.
_STRING_OR_COMMENT: Final = re.compile(
    r'"""(?:[^"\\]|\\.|"{1,2}(?!"))*+"{3,5}'
    r"|'''(?:[^']|'{1,2}(?!'))*+'{3,5}"
    r'|"(?:[^"\\\n]|\\.)*+"'
    r"|'[^'\n]*'"
    r"|(?P<comment>#[^\n]*)",
    re.DOTALL,
)


class StudyError(Refused):
    """A file that cannot be read or written; made of what a `FileFault` has."""

    why: FileFault

    def __init__(
        self,
        kind: FileFaultKind,
        path: FilePath | None = None,
        detail: str = "",
        cause: Exception | None = None,
    ) -> None:
        super().__init__(FileFault(kind, path, detail, cause))


@dataclass(frozen=True)
class FileRead:
    """A study as read from a file, and the file's fingerprint at that moment."""

    path: FilePath
    draft: Draft
    fingerprint: str


def fingerprint(content: bytes) -> str:
    """A text that differs where the contents of two files differ."""
    # Only now: loading it takes longer than reading a study, and to check one needs none.
    from hashlib import sha256

    return sha256(content).hexdigest()


def read_text(text: str, path: FilePath | None = None) -> Draft:
    """The draft that a study's text holds; raises `StudyError` where it is no TOML.

    `path` is the file that the text is from, for what is said of a fault.
    """
    newline = "\r\n" if "\r\n" in text else "\n"
    text = text.replace("\r\n", "\n").removeprefix("\ufeff")
    try:
        root = tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError as fault:
        raise StudyError(FileFaultKind.NO_TOML, path, text, fault) from None
    except RecursionError:
        raise StudyError(FileFaultKind.NESTED_TOO_DEEPLY, path) from None
    except ValueError as fault:
        raise StudyError(FileFaultKind.UNREADABLE_NUMBER, path, cause=fault) from None
    preamble, _ = comments(text)
    try:
        _refuse_too_many(root, path)
        _refuse_extremes(root, "", path)
        head = {name: frozen(value) for name, value in root.items() if not _holds(root, name)}
        scenarios = _scenarios(root)
    except RecursionError:
        # A key of very many parts, which is read without going deep.
        raise StudyError(FileFaultKind.NESTED_TOO_DEEPLY, path) from None
    return Draft(head=Entries(head), scenarios=scenarios, preamble=preamble, newline=newline)


def comments(text: str) -> tuple[str, bool]:
    """The comment before the first key, and whether there are comments after it."""
    found = _PREAMBLE.match(text)
    preamble = found[0] if found else ""
    body = text[len(preamble) :]
    others = any(each["comment"] is not None for each in _STRING_OR_COMMENT.finditer(body))
    return (preamble if preamble.strip() else ""), others


def _holds(root: dict[str, Any], name: str) -> bool:
    return name == "scenario" and isinstance(root[name], dict)


def _scenarios(root: dict[str, Any]) -> tuple[ScenarioDraft, ...]:
    tables = root.get("scenario")
    if not isinstance(tables, dict):
        return ()
    return tuple(ScenarioDraft(id_, Entries(_flat((), table))) for id_, table in tables.items())


def _flat(path: Path, value: object) -> dict[Path, Raw]:
    """The values below `path` by their full paths; a table with nothing in it by its own."""
    if not isinstance(value, dict):
        return {path: frozen(value)}
    if not value:
        return {path: EMPTY} if path else {}
    flat: dict[Path, Raw] = {}
    for name, below in value.items():
        flat.update(_flat((*path, name), below))
    return flat


def _refuse_too_many(root: dict[str, Any], path: FilePath | None) -> None:
    """Refuse what would take minutes and the machine's memory to look through."""
    scenarios = root.get("scenario")
    if isinstance(scenarios, dict) and len(scenarios) > MOST_SCENARIOS:
        raise StudyError(FileFaultKind.TOO_MANY_SCENARIOS, path, f"{MOST_SCENARIOS:,}")
    many = 0
    to_count: list[object] = [root]
    while to_count:
        value = to_count.pop()
        if isinstance(value, dict | list):
            many += len(value)
            to_count += value.values() if isinstance(value, dict) else value
        if many > MOST_VALUES:
            raise StudyError(FileFaultKind.TOO_MANY_VALUES, path, f"{MOST_VALUES:,}")


def _refuse_extremes(value: object, where: str, path: FilePath | None, depth: int = 0) -> None:
    """Refuse what no study has and what later work would stumble over.

    TOML promises whole numbers of 64 bits only, and writing longer ones may fail; what is nested
    deeper than any study can be is gone through by calls within calls.
    """
    if depth > DEEPEST:
        raise StudyError(FileFaultKind.NESTED_TOO_DEEPLY, path)
    if isinstance(value, dict):
        for name, below in value.items():
            _refuse_extremes(below, f"{where}.{name}" if where else name, path, depth + 1)
    elif isinstance(value, list):
        for below in value:
            _refuse_extremes(below, where, path, depth + 1)
    elif isinstance(value, int) and not _SMALLEST_INT <= value <= _LARGEST_INT:
        raise StudyError(FileFaultKind.NUMBER_TOO_LARGE, path, where)


def read_file(path: FilePath | str) -> FileRead:
    """The study in a file; raises `StudyError` where there is none that can be read."""
    path = FilePath(path)
    content = read_bytes(path)
    return FileRead(path, read_text(_decoded(path, content), path), fingerprint(content))


def read_draft(path: FilePath | str) -> Draft:
    """The same for whoever asks for nothing but the draft."""
    path = FilePath(path)
    return draft_of(read_bytes(path), path)


def draft_of(content: bytes, path: FilePath) -> Draft:
    """The draft that the bytes of a study hold; `path` is for what is said of a fault."""
    _refuse_large(content, path)
    return read_text(_decoded(path, content), path)


def read_bytes(path: FilePath) -> bytes:
    """What a file holds; raises `StudyError`."""
    try:
        if path.is_dir():
            raise IsADirectoryError
        with path.open("rb") as file:
            content = file.read(LARGEST + 1)
    except IsADirectoryError:
        raise StudyError(FileFaultKind.FOLDER_TO_READ, path) from None
    except FileNotFoundError:
        raise StudyError(FileFaultKind.NO_SUCH_FILE, path) from None
    except PermissionError:
        raise StudyError(FileFaultKind.NO_PERMISSION, path) from None
    except (OSError, ValueError) as fault:
        raise StudyError(FileFaultKind.NOT_READ, path, cause=fault) from None
    _refuse_large(content, path)
    return content


def _refuse_large(content: bytes, path: FilePath) -> None:
    if len(content) > LARGEST:
        raise StudyError(FileFaultKind.TOO_LARGE, path, str(LARGEST // 1_000_000))


def _decoded(path: FilePath, content: bytes) -> str:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise StudyError(FileFaultKind.UTF_16, path)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = content.count(b"\n", 0, fault.start) + 1
        raise StudyError(FileFaultKind.NOT_UTF_8, path, str(line)) from None
