"""What a report says, made once, and four ways to write it: text, Markdown, CSV, JSON.

`whatif.reports.html` has a fifth, for paper, and `whatif.reports.writers` writes all of them.
"""

from __future__ import annotations

import io
import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import partial
from itertools import zip_longest
from textwrap import wrap
from typing import Any, Final, TypeAlias

from whatif.records import dataclass
from whatif.telling.amounts import NOTHING, to_six, unbroken

# -- what a document is made of ------------------------------------------------------------


class Strong(str):
    """Words that stand out where the form has means for it."""

    __slots__ = ()


class Code(str):
    """A name as a file or the command line has it."""

    __slots__ = ()


Text: TypeAlias = str | tuple[str, ...]
"""Words; or pieces of them one after the other, some of which may be `Strong` or `Code`."""


@dataclass(frozen=True, slots=True)
class TextHeading:
    """What the blocks after it are about; depth 1 is the whole document."""

    text: Text
    depth: int = 1


@dataclass(frozen=True, slots=True)
class TextLine:
    """A text that is broken where it is wider than the document.

    Attributes:
        first, rest: what stands before its first row and before the others in plain text.
        mark: what stands before it in Markdown: "- " for an entry of a list, "  " for what goes
            on with the entry above, "" for a paragraph.
    """

    text: Text
    first: str = ""
    rest: str = "  "
    mark: str = "- "


@dataclass(frozen=True, slots=True)
class TextLines:
    """Lines right below each other."""

    lines: Sequence[TextLine]


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: what stands in it, its unit, and the least width in cells."""

    head: str
    unit: str = ""
    at_left: bool = False
    width: int = 0


@dataclass(frozen=True, slots=True)
class TextTable:
    """Rows with a text for each column, so many cells from the left; without rows nothing.

    ``kept`` are the columns that stand in each block beside the first one where it is folded; with
    None it never is. In text as many columns as ``names`` tell a row apart, and stand there too.
    """

    columns: Sequence[Column]
    rows: Sequence[Sequence[Text]]
    indent: int = 0
    kept: Sequence[int] | None = None
    names: int = 1


@dataclass(frozen=True, slots=True)
class AsItIs:
    """Rows that keep their form, such as those of signs."""

    rows: Sequence[str]


@dataclass(frozen=True, slots=True)
class CautionFor:
    """A caution with the titles of the scenarios that call for it."""

    titles: Sequence[str]
    text: str


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture, as an element of SVG, and the same in blocks for forms without pictures.

    ``below`` is how the picture is read, and stands with it alone.
    """

    svg: str
    instead: Sequence[TextLines | TextTable] = ()
    below: str = ""


@dataclass(frozen=True, slots=True)
class NewPage:
    """Where paper is turned."""


Block: TypeAlias = TextHeading | TextLines | TextTable | AsItIs | CautionFor | Picture | NewPage


@dataclass(frozen=True, slots=True)
class Either:
    """What is laid out in another way in text than in Markdown."""

    text: Sequence[Block]
    markdown: Sequence[Block]


@dataclass(frozen=True, slots=True)
class Document:
    """A report.

    Attributes:
        blocks: what it says, for people.
        data: the same as plain values, for JSON.
        rows: the same as a table, for CSV, the heads first; none where there is no such form.
        width: cells that lines of text are broken to; None where none is broken.
        indent: blanks that JSON is indented by.
        room: cells of the terminal that tables are folded to; None where none is folded.
    """

    blocks: Sequence[Block | Either]
    data: Mapping[str, Any]
    rows: Sequence[Sequence[str]] = ()
    width: int | None = 80
    indent: int = 2
    room: int | None = None


def lines_of(texts: Iterable[Text], first: str = "", rest: str = "  ") -> TextLines:
    """Texts right below each other; in Markdown a list."""
    return TextLines([TextLine(text, first, rest) for text in texts])


def paragraph_of(text: Text, before: str = "") -> TextLines:
    """One text by itself; ``before`` stands before each of its rows in plain text."""
    return TextLines([TextLine(text, before, before, mark="")])


def cautions_for(called: Iterable[tuple[str, Sequence[str]]]) -> list[CautionFor]:
    """Each caution once, out of titles of scenarios with the cautions that they call for."""
    titles: dict[str, list[str]] = {}
    for title, texts in called:
        for text in texts:
            titles.setdefault(text, []).append(title)
    return [CautionFor(those, text) for text, those in titles.items()]


# -- text ----------------------------------------------------------------------------------


def as_text(document: Document) -> str:
    """Columns of characters and broken lines; a blank line before all that no heading is above."""
    rows: list[str] = []
    is_below_heading = True
    for block in _blocks(document, lambda either: either.text):
        told = _text_rows(block, document.width, document.room)
        if not told:
            continue
        if rows and (isinstance(block, TextHeading | CautionFor) or not is_below_heading):
            rows.append("")
        rows += told
        is_below_heading = isinstance(block, TextHeading)
    # Lines are broken: what held amounts together would only hide them from who searches the text.
    return "\n".join(rows).replace("\u00a0", " ")


def _blocks(document: Document, side: Callable[[Either], Sequence[Block]]) -> Iterator[Block]:
    for each in document.blocks:
        for block in side(each) if isinstance(each, Either) else (each,):
            yield from block.instead if isinstance(block, Picture) else (block,)


def _text_rows(block: Block, width: int | None, room: int | None) -> list[str]:
    match block:
        case TextHeading(text, depth):
            return [" " * 2 * max(0, depth - 2) + "".join(text)]
        case TextLines(lines):
            return [row for line in lines for row in _broken(line, width)]
        case TextTable():
            told = _table_rows(block)
            is_wide = room is not None and max(map(cells, told), default=0) > room
            if room is None or block.kept is None or not is_wide:
                return told
            return _folded(block, room)
        case AsItIs(rows):
            return list(rows)
        case CautionFor(titles, text):
            lead = f"Caution for {', '.join(titles)}:"
            if width is None:
                return [lead, f"  {text}"]
            return _broken(TextLine(f"{lead} {text}", rest=""), width)
        case Picture() | NewPage():
            return []


def _broken(line: TextLine, width: int | None) -> list[str]:
    # Not at every white space: that within an amount holds it together.
    text = re.sub(r"[ \t\n]+", " ", "".join(line.text)).strip()
    if width is None:
        return [line.first + text]
    return unbroken(
        text,
        partial(
            wrap,
            width=width,
            initial_indent=line.first,
            subsequent_indent=line.rest,
            break_on_hyphens=False,
        ),
    )


def _table_rows(table: TextTable) -> list[str]:
    if not table.rows:
        return []
    columns = table.columns
    lines = [[column.head for column in columns]]
    if any(column.unit for column in columns):
        lines.append([column.unit for column in columns])
    lines += [["".join(text) for text in row] for row in table.rows]
    widths = [max(cells(line[i]) for line in lines) for i in range(len(columns))]
    widths = [max(width, column.width) for width, column in zip(widths, columns, strict=True)]
    sides = [flush_left if column.at_left else flush_right for column in columns]
    told = []
    for line in lines:
        texts = [side(*of) for side, of in zip(sides, zip(line, widths, strict=True), strict=True)]
        told.append((" " * table.indent + _BETWEEN.join(texts)).rstrip())
    return told


LEAST_ROOM: Final = 40
"""Cells that a folded table takes at least, however narrow the terminal is."""


def _folded(table: TextTable, room: int) -> list[str]:
    """A table in blocks of columns below each other, each with those that are kept.

    Two columns beside the first fit in any case: longer texts are broken at their blanks.
    """
    room = max(room, LEAST_ROOM)
    first, *others = range(len(table.columns))
    texts = [
        [_head(column), *("".join(row[place]) for row in table.rows if place < len(row))]
        for place, column in enumerate(table.columns)
    ]
    label = min(max(map(cells, texts[first])), room * 2 // 5)
    most = (room - label - 2 * len(_BETWEEN)) // 2
    broken = [
        [_in_lines(text, label if place == first else most) for text in column]
        for place, column in enumerate(texts)
    ]
    widths = [max(cells(line) for lines in column for line in lines) for column in broken]
    kept = [place for place in others if place < table.names or place in (table.kept or ())]
    blocks: list[list[int]] = []
    for place in (place for place in others if place not in kept):
        block = [*blocks[-1], place] if blocks else [first, *kept, place]
        if blocks and sum(widths[each] + len(_BETWEEN) for each in block) - len(_BETWEEN) > room:
            blocks.append([first, *kept, place])
        else:
            blocks[-1:] = [block]
    rows: list[str] = []
    for block in blocks or [[first, *kept]]:
        rows += [""] if rows else []
        for lines in zip(*(broken[place] for place in block), strict=True):
            for line in zip_longest(*lines, fillvalue=""):
                told = zip(block, line, strict=True)
                sides = [
                    (flush_left if table.columns[place].at_left else flush_right)(
                        text, widths[place]
                    )
                    for place, text in told
                ]
                rows.append(_BETWEEN.join(sides).rstrip())
    return rows


_BETWEEN: Final = "  "
"""What stands between two columns."""


def _head(column: Column) -> str:
    return f"{column.head}, {column.unit}" if column.unit else column.head


def _in_lines(text: str, width: int) -> list[str]:
    """A text in lines of so many cells, none of its words broken; what it is set in by stays."""
    if cells(text) <= width:
        return [text]
    inset = text[: len(text) - len(text.lstrip())]
    return unbroken(
        text.strip(),
        partial(
            wrap,
            width=width,
            initial_indent=inset,
            subsequent_indent=f"{inset}  " if inset else "",
            break_long_words=False,
            break_on_hyphens=False,
        ),
    )


def cells(text: str) -> int:
    """Cells of a text on a terminal: wide signs take two, marks on other signs none.

    Source: Unicode Standard Annex 11, East Asian Width.
    """
    return sum(
        0 if unicodedata.combining(sign) else 2 if unicodedata.east_asian_width(sign) in "WF" else 1
        for sign in text
    )


def flush_left(text: str, width: int) -> str:
    """A text at the left of so many cells."""
    return text + " " * (width - cells(text))


def flush_right(text: str, width: int) -> str:
    """A text at the right of so many cells."""
    return " " * (width - cells(text)) + text


def marked(
    text: Text,
    escaped: Callable[[str], str],
    *,
    strong: str,
    code: str,
    escaped_code: Callable[[str], str],
) -> str:
    """A text with the marks of a form around pieces that stand out and names.

    Args:
        escaped: a piece with nothing in it that the form takes for a sign.
        strong, code: what stands around them, ``{}`` being the piece.
        escaped_code: the same as ``escaped`` of a name.
    """
    pieces = text if isinstance(text, tuple) else (text,)
    return "".join(
        code.format(escaped_code(piece))
        if isinstance(piece, Code)
        else strong.format(escaped(piece))
        if isinstance(piece, Strong)
        else escaped(piece)
        for piece in pieces
    )


# -- Markdown ------------------------------------------------------------------------------


def as_markdown(document: Document) -> str:
    """A Markdown document."""
    told = map(_markdown, _blocks(document, lambda either: either.markdown))
    return "\n\n".join(block for block in told if block)


def _markdown(block: Block) -> str:
    match block:
        case TextHeading(text, depth):
            return f"{'#' * depth} {_marked(text)}"
        case TextLines(lines):
            return "\n".join(line.mark + _marked(line.text) for line in lines)
        case TextTable(columns, rows) if rows:
            heads = [f"{each.head}, {each.unit}" if each.unit else each.head for each in columns]
            sides = ["---" if column.at_left else "---:" for column in columns]
            return "\n".join([_row(heads), f"| {' | '.join(sides)} |", *map(_row, rows)])
        case AsItIs(rows):
            return "\n".join(rows)
        case CautionFor(titles, text):
            return _marked((Strong("Caution"), f" for {', '.join(titles)}: {text}"))
        case _:
            return ""


def _row(texts: Sequence[Text]) -> str:
    return f"| {' | '.join(_marked(text).strip() for text in texts)} |"


def _marked(text: Text) -> str:
    return marked(text, _escaped, strong="**{}**", code="`{}`", escaped_code=str)


def _escaped(text: str) -> str:
    """A text with nothing in it that Markdown would take for a sign."""
    for sign in "\\|*_`<[]":
        text = text.replace(sign, "\\" + sign)
    return text.replace("\n", " ")


# -- CSV and JSON, for other programs -------------------------------------------------------


def as_csv(document: Document) -> str:
    """Comma-separated values (RFC 4180); what is not there is "-", in ASCII as all numbers are.

    A text that a spreadsheet would run as a formula has an apostrophe before it, which the usual
    ones leave out and take the rest as text (OWASP, "CSV Injection"). Thousands stand together:
    numbers with spaces between them would be texts.
    """
    import csv

    out = io.StringIO()
    csv.writer(out).writerows(map(_plain_cell, row) for row in document.rows)
    return out.getvalue().rstrip("\r\n")


_GROUPED: Final = re.compile(r"[-+]?\d{1,3}(?:\s\d{3})+(?:\.\d+)?")
"""A number whose thousands stand apart, by whatever space."""


def _plain_cell(cell: str) -> str:
    if cell == NOTHING:
        return "-"
    if _GROUPED.fullmatch(cell):
        return re.sub(r"\s", "", cell)
    if not cell.startswith(("=", "+", "-", "@", "\t", "\r")):
        return cell
    try:
        float(cell)
    except ValueError:
        return f"'{cell}"
    return cell


def as_json(document: Document) -> str:
    """One object, whose first key is the number of its format: plain numbers, no markup."""
    import json

    whole = {"format": 1, **document.data}
    return json.dumps(_rounded(whole), indent=document.indent, ensure_ascii=False, allow_nan=False)


def _rounded(value: Any) -> Any:
    """The same with every number to six decimals, at any depth."""
    if isinstance(value, float):
        return to_six(value)
    if isinstance(value, Mapping):
        return {key: _rounded(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(each) for each in value]
    return value


WRITERS: Final[Mapping[str, Callable[[Document], str]]] = {
    "text": as_text,
    "markdown": as_markdown,
    "csv": as_csv,
    "json": as_json,
}
"""Every form that all commands have, by the name that the command line has for it."""
