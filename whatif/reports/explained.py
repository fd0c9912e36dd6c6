"""Accounts of figures, and the list of them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import Any, Final

from whatif.answers.account.account import Account, Check, Figure, Note, WorkedLine
from whatif.answers.account.terms import Term
from whatif.answers.limits import HeldBack
from whatif.reports.document import (
    Block,
    Code,
    Column,
    Document,
    Either,
    Strong,
    TextHeading,
    TextLine,
    TextLines,
    TextTable,
    cells,
    flush_left,
    flush_right,
    paragraph_of,
)
from whatif.telling.account.pages import by_origin, new_terms, rule_pointer, worked_out
from whatif.telling.account.sentences import (
    because,
    check_rule,
    check_sentence,
    figure_shown,
    is_alone,
    line_shown,
    meaning,
    note_sentence,
    sort_of,
    source,
    stands,
    theme,
)
from whatif.telling.origins import origin_words

_WIDTH: Final = 80

_VALUE: Final = 30
"""Cells that the column of values is at most wide; a longer one pushes its label."""


# -- accounts ------------------------------------------------------------------------------


def account_report(account: Account) -> Document:
    """What a figure means, how it is worked out, what binds, and how to check it."""
    worked, figure = account.worked, account.figure
    shown = figure_shown(figure)
    named = (
        TextLine(f"{figure.title} ({figure.id})", rest=""),
        TextLine(f"in: {account.title}", rest=""),
    )
    blocks: list[Block | Either] = [
        Either(
            [TextLines(named), paragraph_of(shown, "  ")],
            [
                TextHeading(figure.title),
                paragraph_of(("In ", account.title, ", ", Code(figure.id), ": ", Strong(shown))),
            ],
        ),
        paragraph_of(meaning(figure)),
    ]
    if worked.lines:
        blocks += [TextHeading("How it is worked out", 2), _worked(worked.lines)]
        numbers = TextLines(_by_origin(account.terms, "  "))
        blocks.append(Either([TextHeading("The numbers", 2), numbers], [_terms(account.terms)]))
    if worked.notes:
        blocks.append(TextHeading("What binds" if worked.lines else "Why there is none", 2))
        blocks.append(TextLines([_item(note_sentence(note)) for note in worked.notes]))
    if worked.checks or worked.unchecked:
        blocks += [TextHeading("Check it with a pencil", 2), _checks(account)]
    blocks.append(TextLines([TextLine(rule_pointer(name)) for name in account.rules]))
    return Document(blocks, _account_data(account), width=_WIDTH)


def _item(text: str) -> TextLine:
    return TextLine(text, "  - ", "    ")


def _worked(lines: Sequence[WorkedLine]) -> Either:
    text: list[TextLine] = []
    markdown: list[TextLine] = []
    for line in lines:
        words, numbers, shown = line.expr.words(), line.expr.numbers(), line_shown(line)
        # A number by itself needs no line that repeats it.
        rows = [words, *([] if is_alone(line) else [f"= {numbers}"]), f"= {shown}"]
        text += [TextLine(row, "  ", "    ") for row in rows]
        markdown += [TextLine(words), TextLine(("= ", numbers, " = ", Strong(shown)), mark="  ")]
    return Either([TextLines(text)], [TextLines(markdown)])


def _by_origin(terms: Sequence[Term], indent: str) -> list[TextLine]:
    """The numbers under their origins, each value before what it is."""
    width = max((cells(term.shown) for term in terms if cells(term.shown) <= _VALUE), default=0)
    lines = []
    for origin, those in by_origin(terms).items():
        lines.append(TextLine(f"{origin}:", indent, f"{indent}  "))
        for term in those:
            value = f"{indent}  {flush_right(term.shown, width)}  "
            lines.append(TextLine(term.label, value, f"{indent}    {' ' * width}"))
    return lines


def _terms(terms: Sequence[Term]) -> TextTable:
    columns = Column("number", at_left=True), Column("value"), Column("origin", at_left=True)
    return TextTable(
        columns, [(term.label, term.shown, origin_words(term.origin)) for term in terms]
    )


def _checks(account: Account) -> Either:
    """In text each check with its new numbers; in Markdown a list, and one table of numbers."""
    figure, unchecked = account.figure, account.worked.unchecked
    text: list[Block] = []
    markdown: list[TextLine] = []
    terms: list[Term] = []
    for check, new in new_terms(account):
        published = source(check)
        after = [stands(check, figure), *([f"Published: {published}"] if published else [])]
        text.append(
            TextLines(
                [
                    _item(check_sentence(check)),
                    TextLine(worked_out(check.line), " " * 6, " " * 8),
                    *(TextLine(said, " " * 4, " " * 4) for said in after),
                    *_by_origin(new, " " * 4),
                ]
            )
        )
        shown = check.line.expr.numbers(), " = ", Strong(line_shown(check.line)), "."
        markdown += [_item(check_sentence(check)), TextLine(shown, mark="  ")]
        markdown += [TextLine(said, mark="  ") for said in after]
        terms += new
    if unchecked:
        reason = _item(note_sentence(Note(unchecked)))
        text.append(TextLines([reason]))
        markdown.append(reason)
    return Either(text, [TextLines(markdown), _terms(terms)])


def _account_data(account: Account) -> dict[str, Any]:
    worked = account.worked
    return {
        "scenario": account.scenario,
        "title": account.title,
        **_figure(account.figure),
        "meaning": meaning(account.figure),
        "steps": [_line(line) for line in worked.lines],
        "terms": [_term(term) for term in account.terms],
        "binds": [note_sentence(note) for note in worked.notes],
        "checks": [_check(check) for check in worked.checks],
        "unchecked": note_sentence(Note(worked.unchecked)) if worked.unchecked else "",
        "rules": account.rules,
    }


def _figure(figure: Figure) -> dict[str, Any]:
    shown = figure_shown(figure)
    return {
        "figure": figure.id,
        "name": figure.title,
        "unit": figure.unit,
        "value": shown if isinstance(figure.value, HeldBack) else figure.value,
        "shown": shown,
    }


def _line(line: WorkedLine) -> dict[str, Any]:
    return {
        "formula": line.expr.words(),
        "numbers": line.expr.numbers(),
        "result": line.result,
        "shown": line_shown(line),
    }


def _term(term: Term) -> dict[str, Any]:
    return {
        "label": term.label,
        "number": term.number,
        "unit": term.unit,
        "typed": term.typed,
        "origin": origin_words(term.origin),
    }


def _check(check: Check) -> dict[str, Any]:
    return {
        "rule": check_rule(check),
        "sort": sort_of(check),
        **_line(check.line),
        "terms": [_term(term) for term in check.line.terms],
        "relation": check.relation,
        "found": check.found.value,
        "slack": check.slack,
        "because": because(check),
        "holds": check.holds,
        "source": source(check),
    }


# -- the figures that there are ------------------------------------------------------------


def names_report(scenario: str, title: str, figures: Sequence[Figure]) -> Document:
    """The figures of a scenario, to choose from, below the headings that a screen has too."""
    listed = [
        block
        for about, those in groupby(figures, theme)
        for block in (TextHeading(about, 2), _names(list(those)))
    ]
    names = [{"figure": each.id, "name": each.title, "unit": each.unit} for each in figures]
    return Document(
        [
            Either([paragraph_of(f"Figures of: {title}")], [TextHeading(f"Figures of {title}")]),
            *listed,
        ],
        {"scenario": scenario, "title": title, "figures": names},
        width=_WIDTH,
    )


def _names(figures: Sequence[Figure]) -> Either:
    """The figures below one heading: their ids, and what they are."""
    width = max(cells(figure.id) for figure in figures)
    columns = Column("figure", at_left=True), Column("what", at_left=True), Column("unit")
    rows = [(Code(figure.id), figure.title, figure.unit) for figure in figures]
    lines = [
        TextLine(
            f"{figure.title} ({figure.unit})" if figure.unit else figure.title,
            f"  {flush_left(figure.id, width)}  ",
            " " * (width + 4),
        )
        for figure in figures
    ]
    return Either([TextLines(lines)], [TextTable(columns, rows)])
