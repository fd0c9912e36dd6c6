"""Faults of the TOML reader in the words of somebody who writes a study by hand."""

import re
from tomllib import TOMLDecodeError
from typing import Final

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
