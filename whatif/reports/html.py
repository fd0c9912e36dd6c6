"""A document as one file of HTML: for a browser and for paper, with nothing fetched and no script.

Every text is escaped. Pages are as large as the printer's paper: nothing says which that is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from html import escape
from string import Template
from typing import Final

from whatif.reports.document import (
    AsItIs,
    Block,
    CautionFor,
    Column,
    Document,
    Either,
    NewPage,
    Picture,
    Strong,
    Text,
    TextHeading,
    TextLines,
    TextTable,
    marked,
)
from whatif.telling.harmless import harmless

_PAGE: Final = Template("""\
<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>$title</title>
<style>
$style</style>
</head>
<body>
$body
</body>
</html>""")

_STYLE: Final = """\
@page { margin: 9mm 12mm; }
* { box-sizing: border-box; }
html { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
body { max-width: 190mm; margin: 4mm auto; padding: 0 3mm; color: #111; background: #fff;
  font: 7.8pt/1.22 "Liberation Sans", Arial, Helvetica, sans-serif; overflow-wrap: break-word; }
h1 { font-size: 15pt; margin: 0 0 1mm; }
h2 { font-size: 9.5pt; margin: 1.6mm 0 0.5mm; border-bottom: 0.3mm solid #345; color: #123; }
h3 { font-size: 8.5pt; margin: 1.8mm 0 0.5mm; }
h1, h2, h3 { break-after: avoid; line-height: 1.2; }
p, ul, pre { margin: 0 0 1mm; }
ul { padding-left: 4mm; }
.two { columns: 2; column-gap: 8mm; }
p, li { orphans: 2; widows: 2; }
table { max-width: 100%; border-collapse: collapse; margin: 0 0 1.2mm; font-size: 6.8pt;
  line-height: 1.14; font-variant-numeric: tabular-nums; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
th, td { padding: 0.25mm 2mm 0.25mm 0; vertical-align: top; text-align: right; }
th { border-bottom: 0.2mm solid #888; font-weight: bold; vertical-align: bottom; }
td { border-bottom: 0.1mm solid #ddd; }
.l { text-align: left; }
.u { font-weight: normal; color: #444; }
.n { white-space: nowrap; }
pre { font-size: 7pt; white-space: pre-wrap; }
code { font-family: "Liberation Mono", Consolas, monospace; font-size: 0.95em; }
figure { margin: 0 0 1mm; break-inside: avoid; }
figcaption { font-size: 6.9pt; color: #444; }
svg { display: block; width: 100%; height: auto; }
.turn { break-before: page; height: 0; }
@media print { body { max-width: none; margin: 0; padding: 0; } }
@media screen and (max-width: 600px) { table { display: block; overflow-x: auto; } }
"""

_MOST_COLUMNS: Final = 5
"""Columns beside the first that a page has room for, where a table may be folded."""


def as_html(document: Document) -> str:
    """The whole file; its title is the first heading."""
    blocks = list(_blocks(document.blocks))
    title = next((each.text for each in blocks if isinstance(each, TextHeading)), "")
    body = "\n".join(part for block in blocks if (part := _html(block)))
    return _PAGE.substitute(title=escape(harmless("".join(title))), style=_STYLE, body=body)


def _blocks(blocks: Iterable[Block | Either]) -> Iterator[Block]:
    """What Markdown has too, as both know lists and paragraphs."""
    for block in blocks:
        yield from block.markdown if isinstance(block, Either) else (block,)


def _html(block: Block) -> str:
    match block:
        case TextHeading(text, depth):
            level = min(depth, 6)
            return f"<h{level}>{_marked(text)}</h{level}>"
        case TextLines(lines):
            return _lines([(line.mark == "- ", line.text) for line in lines])
        case TextTable():
            return "\n".join(map(_table, _folded(block)))
        case AsItIs(rows):
            told = "\n".join(rows)
            return f"<pre>{_escaped(told)}</pre>"
        case CautionFor(titles, text):
            lead = _marked((Strong("Caution"), f" for {', '.join(titles)}: "))
            return f"<p>{lead}{_escaped(text)}</p>"
        case Picture(svg, _, below):
            words = f"<figcaption>{_escaped(below)}</figcaption>" if below else ""
            return f"<figure>{svg}{words}</figure>"
        case NewPage():
            return '<div class="turn"></div>'


def _lines(lines: Sequence[tuple[bool, Text]]) -> str:
    """Entries of a list, and paragraphs between them."""
    told: list[str] = []
    was_entry = False
    is_short = len(lines) > _FEW and all(len("".join(text)) <= _HALF for _, text in lines)
    for is_entry, text in lines:
        if is_entry != was_entry:
            begins = '<ul class="two">' if is_short else "<ul>"
            told.append(begins if is_entry else "</ul>")
        mark = "li" if is_entry else "p"
        told.append(f"<{mark}>{_marked(text)}</{mark}>")
        was_entry = is_entry
    return "\n".join([*told, "</ul>"] if was_entry else told)


_FEW, _HALF = 2, 70
"""Entries of a list that stand below each other in any case, and signs of one in half a page."""


def _folded(table: TextTable) -> Iterator[TextTable]:
    """A table that may be folded in as many as have room, each with the columns that are kept."""
    kept = table.kept or ()
    others = [at for at in range(1, len(table.columns)) if at not in kept]
    if not table.rows:
        return
    room = _MOST_COLUMNS - len(kept)
    if not kept or len(others) <= room:
        yield table
        return
    for begin in range(0, len(others), room):
        shown = sorted((0, *kept, *others[begin : begin + room]))
        yield TextTable(
            [table.columns[at] for at in shown],
            [[row[at] for at in shown if at < len(row)] for row in table.rows],
        )


def _table(table: TextTable) -> str:
    heads = "".join(_cell("th", _head(column), column) for column in table.columns)
    rows = [f"<tr>{''.join(map(_told, row, table.columns))}</tr>" for row in table.rows]
    shares = _shares(table)
    return "\n".join(
        [
            f"<table>{shares}",
            f"<thead><tr>{heads}</tr></thead>",
            "<tbody>",
            *rows,
            "</tbody>",
            "</table>",
        ]
    )


def _shares(table: TextTable) -> str:
    """Of a table of texts how wide each column is: as its share of all that there is to read."""
    if not all(column.at_left for column in table.columns):
        return ""
    texts = [sum(len("".join(row[at])) for row in table.rows) for at in range(len(table.columns))]
    if max(texts) < _MUCH:
        return ""
    least = sum(texts) * _LEAST
    wide = [max(text, least) for text in texts]
    columns = "".join(f'<col style="width: {100 * each / sum(wide):.0f}%">' for each in wide)
    return f"<colgroup>{columns}</colgroup>"


_MUCH, _LEAST = 400, 0.1
"""Signs in a column that are much to read, and the least share of a column."""


def _told(text: Text, column: Column) -> str:
    told = _marked(text)
    if column.at_left or isinstance(text, tuple):
        return _cell("td", told, column)
    # A figure stands in one line, and its range below it.
    lines = told.replace(" (", "<br>(")
    is_short = max(map(len, lines.split("<br>"))) <= _IN_A_LINE
    return _cell("td", f'<span class="n">{lines}</span>' if is_short else told, column)


_IN_A_LINE: Final = 30
"""Signs of a figure that are not broken."""


def _head(column: Column) -> str:
    unit = f'<br><span class="u">{_escaped(column.unit)}</span>' if column.unit else ""
    return _escaped(column.head) + unit


def _cell(mark: str, inner: str, column: Column) -> str:
    side = ' class="l"' if column.at_left else ""
    return f"<{mark}{side}>{inner}</{mark}>"


def _marked(text: Text) -> str:
    strong, code = "<strong>{}</strong>", "<code>{}</code>"
    return marked(text, _escaped, strong=strong, code=code, escaped_code=_escaped)


def _escaped(text: str) -> str:
    """A text as text alone, with no sign that turns its direction round.

    A long word may be broken, so that no table is wider than the page.
    """
    words = harmless(text).split(" ")
    return " ".join("<wbr>".join(map(escape, _pieces(word))) for word in words)


def _pieces(word: str) -> list[str]:
    return [word[at : at + _LONG] for at in range(0, len(word), _LONG)]


_LONG: Final = 22
"""Signs of a word, from which on it may be broken."""
