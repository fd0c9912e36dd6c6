"""From the text of a study file to a draft; what stops it is said in plain words."""

import hashlib
import re
import tomllib
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path as FilePath
from tomllib import TOMLDecodeError
from typing import Any, Final

from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.raw import EMPTY, Entries, Path, Raw, frozen

LARGEST: Final = 4_000_000
"""Bytes that a study file may have; the largest ones in use have some ten thousand."""

_SMALLEST_INT, _LARGEST_INT = -(2**63), 2**63 - 1
_PREAMBLE: Final = re.compile(r"(?:[ \t]*(?:#[^\n]*)?\n)*(?:[ \t]*#[^\n]*\Z)?")
# Strings first, so that a # inside of one is no comment. Up to two quotation marks may
# stand before the three that end a long string.
_STRING_OR_COMMENT: Final = re.compile(
    r'"""(?:[^"\\]|\\.|"{1,2}(?!"))*"{3,5}'
    r"|'''(?:[^']|'{1,2}(?!'))*'{3,5}"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'"
    r"|(?P<comment>#[^\n]*)",
    re.DOTALL,
)


class StudyError(ValueError):
    """A file that cannot be read or written as a study; the message says what to do."""


@dataclass(frozen=True)
class FileRead:
    """A study as read from a file, and the file's fingerprint at that moment."""

    path: FilePath
    draft: Draft
    fingerprint: str


def fingerprint(content: bytes) -> str:
    """A text that differs where the contents of two files differ."""
    return hashlib.sha256(content).hexdigest()


def read_text(text: str) -> Draft:
    """The draft that a study's text holds; raises `StudyError` where it is no TOML."""
    newline = "\r\n" if "\r\n" in text else "\n"
    text = text.replace("\r\n", "\n").removeprefix("\ufeff")
    try:
        root = tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError as fault:
        raise StudyError(in_plain_words(text, fault)) from None
    except RecursionError:
        raise StudyError("The text is nested too deeply to be a study.") from None
    except ValueError as fault:
        raise StudyError(f"A number in the text cannot be read: {fault}.") from None
    _refuse_huge_numbers(root, "")
    preamble, _ = comments(text)
    return Draft(
        head=Entries(
            {name: frozen(value) for name, value in root.items() if not _holds(root, name)}
        ),
        scenarios=_scenarios(root),
        preamble=preamble,
        newline=newline,
    )


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


def _refuse_huge_numbers(value: object, where: str) -> None:
    """TOML promises whole numbers of 64 bits only, and writing longer ones may fail."""
    if isinstance(value, dict):
        for name, below in value.items():
            _refuse_huge_numbers(below, f"{where}.{name}" if where else name)
    elif isinstance(value, list):
        for below in value:
            _refuse_huge_numbers(below, where)
    elif isinstance(value, int) and not _SMALLEST_INT <= value <= _LARGEST_INT:
        raise StudyError(f"{where}: the number is too large for a study file.")


def read_file(path: FilePath | str) -> FileRead:
    """The study in a file; raises `StudyError` where there is none that can be read."""
    path = FilePath(path)
    content = read_bytes(path)
    try:
        return FileRead(path, read_text(_decoded(path, content)), fingerprint(content))
    except StudyError as fault:
        raise StudyError(f"{path}: {fault}") from None


def read_bytes(path: FilePath) -> bytes:
    """What a file holds; raises `StudyError` with the cause in plain words."""
    try:
        if path.is_dir():
            raise StudyError(f"{path} is a folder; name a study file in it.")
        with path.open("rb") as file:
            content = file.read(LARGEST + 1)
    except FileNotFoundError:
        raise StudyError(f"{path}: there is no such file.") from None
    except PermissionError:
        raise StudyError(f"{path}: no permission to read this file.") from None
    except (OSError, ValueError) as fault:
        reason = getattr(fault, "strerror", None) or fault
        raise StudyError(f"{path} cannot be read: {reason}.") from None
    if len(content) > LARGEST:
        raise StudyError(
            f"{path} is larger than {LARGEST // 1_000_000} MB; a study file is far smaller."
        )
    return content


def _decoded(path: FilePath, content: bytes) -> str:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise StudyError("the file is saved as UTF-16; save it as UTF-8.")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = content.count(b"\n", 0, fault.start) + 1
        raise StudyError(f"line {line}: the file is not saved as UTF-8; save it so.") from None


_PLACE: Final = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_LONGEST_LINE: Final = 70

_QUOTES: Final = (
    'a text or a quantity stands in quotation marks, as in cycle = "11 min"; '
    "a number has nothing after it"
)
_TWICE: Final = "it gives again what is already given above; take one of the two out"

# What the reader's message begins with, and what to say instead.
_WORDS: Final = (
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


def in_plain_words(text: str, fault: TOMLDecodeError) -> str:
    """Where `text` is no TOML, and what to do about it: "line 3, column 8: ..."."""
    message = str(fault)
    place = _PLACE.search(message)
    if place is None or place[1] is None:
        return f"At the end of the file: {_said(message, '')}."
    number, column = int(place[1]), int(place[2])
    lines = text.split("\n")
    line = lines[number - 1].strip() if number <= len(lines) else ""
    seen = f" It reads: {line[:_LONGEST_LINE]}" if line.isprintable() and line else ""
    return f"Line {number}, column {column}: {_said(message, line)}.{seen}"


def _said(message: str, line: str) -> str:
    if re.search("[“”„]", line):
        return 'quotation marks are written straight (")'
    for begins, words in _WORDS:
        if re.match(begins, message):
            return words
    return f"the text is no TOML ({_PLACE.sub('', message)})"
