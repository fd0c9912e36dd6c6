"""One table with what is said of it, in the forms for reading: text, Markdown, CSV."""

from __future__ import annotations

import csv
import io
import textwrap
from dataclasses import dataclass

from whatif.reports.cells import cells, left, right

WIDTH = 80
"""Cells of a line that sentences are broken to; a table is as wide as it is."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table of texts.

    Attributes:
        title: what was asked.
        facts: lines that stand before the table.
        heads: the columns' heads; the first column stands at the left, the others at the right.
        rows: a text for each column.
        sentences: what is to be said of it.
        noted: whether the last column is words, which stand at the left too.
    """

    title: str
    facts: tuple[str, ...]
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    sentences: tuple[str, ...]
    noted: bool = False


def as_text(sheet: Sheet) -> str:
    """Columns of characters, and sentences broken to 80 cells."""
    lines = [sheet.title]
    for fact in sheet.facts:
        lines += textwrap.wrap(fact, WIDTH, subsequent_indent="  ")
    if sheet.rows:
        table = [sheet.heads, *sheet.rows]
        widths = [max(cells(row[i]) for row in table) for i in range(len(sheet.heads))]
        lines.append("")
        sides = [left, *[right] * (len(widths) - 1)]
        sides[-1] = left if sheet.noted else sides[-1]
        for row in table:
            columns = [
                side(text, width) for side, text, width in zip(sides, row, widths, strict=True)
            ]
            lines.append("  ".join(columns).rstrip())
    lines.append("")
    for sentence in sheet.sentences:
        lines += textwrap.wrap(sentence, WIDTH, subsequent_indent="  ")
    return "\n".join(lines).rstrip()


def as_markdown(sheet: Sheet) -> str:
    """A Markdown document with a table and a list."""
    lines = [f"# {escaped(sheet.title)}", ""]
    lines += [f"- {escaped(fact)}" for fact in sheet.facts]
    if sheet.rows:
        lines += ["", _row(sheet.heads), "| --- |" + " ---: |" * (len(sheet.heads) - 1)]
        lines += [_row(row) for row in sheet.rows]
    lines.append("")
    lines += [f"- {escaped(sentence)}" for sentence in sheet.sentences]
    return "\n".join(lines).rstrip()


def _row(texts: tuple[str, ...]) -> str:
    return "| " + " | ".join(map(escaped, texts)) + " |"


def escaped(text: str) -> str:
    """A text with nothing in it that Markdown would take for a sign."""
    for sign in "\\|*_`<":
        text = text.replace(sign, "\\" + sign)
    return text.replace("\n", " ")


def as_csv(sheet: Sheet) -> str:
    """Comma-separated values (RFC 4180): the table, then a row with each sentence."""
    out = io.StringIO()
    write = csv.writer(out)
    write.writerow(sheet.heads)
    write.writerows(sheet.rows)
    rest = [""] * (len(sheet.heads) - 2)
    for said in (*sheet.facts, *sheet.sentences):
        write.writerow(["note", said, *rest])
    return out.getvalue().rstrip("\r\n")
