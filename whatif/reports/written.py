"""The comparison for reading: plain text, Markdown, CSV. All say the same."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable

from whatif.answers.compare import Comparison
from whatif.reports.as_json import to_json
from whatif.reports.cells import cells, left, right
from whatif.reports.sheets import escaped
from whatif.study.guesses import in_words
from whatif.telling.cautions import caution_text
from whatif.telling.indicators import STATES_IN_WORDS
from whatif.telling.limits import limit_text
from whatif.telling.table import TableRow, table_rows
from whatif.telling.warnings import warnings_of

_FIT_NOTE = (
    '"Fits" is arithmetic on what was entered, no permission to load: the makers\' limits decide.'
)


def notes(found: Comparison) -> list[tuple[str, list[tuple[str, str]]]]:
    """Per scenario what is to be said in sentences, each with its sort, cautions aside."""
    said = []
    for answer in found.answers.values():
        lines = [("note", in_words(answer.plan.notes))] if answer.plan.notes else []
        if answer.held_back:
            lines.append(("limit", limit_text(answer.held_back)))
        lines += [("warning", text) for text in warnings_of(answer)]
        said.append((answer.plan.title, lines))
    return said


def cautions_told(found: Comparison) -> list[tuple[str, list[str]]]:
    """Each caution once, with the titles of the scenarios that call for it."""
    by_text: dict[str, list[str]] = {}
    for answer in found.answers.values():
        for caution in answer.cautions:
            by_text.setdefault(caution_text(caution), []).append(answer.plan.title)
    return list(by_text.items())


def _heads(found: Comparison) -> list[str]:
    return [answer.plan.title for answer in found.answers.values()]


def _first(row: TableRow) -> str:
    return f"{row.label}, {row.unit}" if row.unit else row.label


def to_text(found: Comparison) -> str:
    """A table in columns of characters, then the sentences."""
    reference = found.answers[found.reference].plan.title
    table = [["", *_heads(found)], *([_first(row), *row.cells] for row in table_rows(found))]
    widths = [max(cells(line[i]) for line in table) for i in range(len(table[0]))]
    lines = [found.title, f"against: {reference}", ""]
    for line in table:
        columns = [left(line[0], widths[0])]
        columns += [right(text, width) for text, width in zip(line[1:], widths[1:], strict=True)]
        lines.append("  ".join(columns).rstrip())
    for title, said in notes(found):
        lines += ["", title] + [f"  {sort}: {' '.join(text.split())}" for sort, text in said]
    for text, titles in cautions_told(found):
        lines += ["", f"Caution for {', '.join(titles)}:", f"  {text}"]
    return "\n".join([*lines, *_closing(found)])


def to_markdown(found: Comparison) -> str:
    """The same as a Markdown document."""
    reference = found.answers[found.reference].plan.title
    lines = [f"# {escaped(found.title)}", "", f"Against: {escaped(reference)}", ""]
    lines.append("| " + " | ".join(["", *map(escaped, _heads(found))]) + " |")
    lines.append("| --- |" + " ---: |" * len(found.answers))
    lines += [
        "| " + " | ".join(map(escaped, [_first(row).strip(), *row.cells])) + " |"
        for row in table_rows(found)
    ]
    for title, said in notes(found):
        lines += ["", f"## {escaped(title)}", ""]
        lines += [f"- **{sort}**: {escaped(text)}" for sort, text in said]
    for text, titles in cautions_told(found):
        lines += ["", f"**Caution** for {escaped(', '.join(titles))}: {escaped(text)}"]
    return "\n".join([*lines, *_closing(found)])


def _closing(found: Comparison) -> list[str]:
    """What is said once of every comparison."""
    counted = any(answer.figures is not None for answer in found.answers.values())
    return [*(("", STATES_IN_WORDS) if counted else ()), "", _FIT_NOTE]


def to_csv(found: Comparison) -> str:
    """The same as comma-separated values (RFC 4180): one row a figure, one a sentence."""
    out = io.StringIO()
    write = csv.writer(out)
    write.writerow(["figure", "unit", *_heads(found)])
    for row in table_rows(found):
        write.writerow([row.label.strip(), row.unit, *row.cells])
    titles = _heads(found)
    for place, (answer, (_, said)) in enumerate(
        zip(found.answers.values(), notes(found), strict=True)
    ):
        for sort, text in [*said, *(("caution", caution_text(one)) for one in answer.cautions)]:
            texts = [""] * len(titles)
            texts[place] = text
            write.writerow([sort, "", *texts])
    return out.getvalue().rstrip("\r\n")


FORMATS: dict[str, Callable[[Comparison], str]] = {
    "text": to_text,
    "markdown": to_markdown,
    "csv": to_csv,
    "json": to_json,
}
"""What ``whatif compare --format`` takes."""
