"""An account laid out for reading: themes, sections of lines, and where a number leads on to."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final, Literal

from whatif.answers.account.account import Account, Check, Figure, Note, WorkedLine
from whatif.answers.account.origins import See
from whatif.answers.account.terms import Term
from whatif.answers.answer import Answer
from whatif.records import dataclass
from whatif.telling.account.arithmetic import on_paper
from whatif.telling.account.sentences import (
    check_sentence,
    is_alone,
    line_shown,
    meaning,
    note_sentence,
    source,
    stands,
    theme,
)
from whatif.telling.gain_texts import range_text
from whatif.telling.money.ranges import money_likely_words
from whatif.telling.origins import origin_words
from whatif.telling.rules import rule

Tone = Literal["plain", "lead", "dim", "wrong"]

_IN_A_LINE: Final = 3
"""Rows of what is worked out in a line: in words, in numbers, and the result."""

LEADING: Final = "gain_percent.saleable"
"""The figure that leads the strip."""


@dataclass(frozen=True, slots=True)
class ReadLine:
    """A line to be broken where it is too long.

    Attributes:
        depth: how far it stands in, in steps of two cells.
        value: what stands in a column of its own before the text.
        sees: where it leads on to.
    """

    text: str
    depth: int = 0
    value: str = ""
    tone: Tone = "plain"
    sees: See | None = None


@dataclass(frozen=True, slots=True)
class Section:
    """Lines that belong together."""

    title: str
    lines: tuple[ReadLine, ...]


def next_theme(figures: Sequence[Figure], at: int) -> int:
    """The place of the first figure of the theme after that of ``at``; the first after the last."""
    after = (i for i in range(at + 1, len(figures)) if theme(figures[i]) != theme(figures[at]))
    return next(after, 0)


def place_of(figures: Sequence[Figure], wanted: str) -> int:
    """Where a figure stands, or the one that is likest: of the same part, or the same theme."""
    ids = [figure.id for figure in figures]
    while wanted:
        for i, id_ in enumerate(ids):
            if id_ == wanted or id_.startswith(f"{wanted}."):
                return i
        wanted = wanted.rpartition(".")[0]
    return 0


def leading(answer: Answer) -> str:
    """The figure to begin with; of a scenario that is only spoken of, the gain that is said."""
    only_said = answer.figures is None and answer.said is not None
    return "said.gain_percent" if only_said else LEADING


def pending(answer: Answer) -> tuple[str, ...]:
    """Ids, or beginnings of ids, of figures that are still being worked out."""
    found = []
    if answer.figures is not None and answer.likely is None:
        found.append("likely_percent")
    if answer.is_gap_awaited:
        found.append("hour_meters.gain_range_percent")
    if answer.plan.rush and not answer.rush:
        found.append("rush")
    return tuple(found)


def likely_words(answer: Answer, figure: Figure) -> str:
    """The likely range of a gain or of money; "" of others, and of what tells it itself."""
    if figure.theme == "money" and answer.money is not None:
        return money_likely_words(figure.key, answer.money, answer.likely_money)
    if not figure.is_gain or not figure.value or figure.is_reference:
        return ""
    if answer.likely is None:
        return "its likely range is being worked out"
    if figure.likely is None:
        return ""
    return f"likely {range_text(figure.likely, gain=figure.number)} %"


def reference_of(term: Term, figures: Sequence[Figure]) -> See | None:
    """The figure that a number is; None where it is none."""
    sees = term.origin
    if not isinstance(sees, See):
        return None
    is_known = sees.there or any(figure.id == sees.figure for figure in figures)
    return sees if is_known else None


# -- sections --------------------------------------------------------------------------------


def sections(account: Account, figures: Sequence[Figure]) -> tuple[Section, ...]:
    """All there is to say of a figure, what answers "why" first.

    Args:
        figures: those of the scenario, for what a number leads on to.
    """
    worked = account.worked
    found = [Section("", (ReadLine(meaning(account.figure)),))]
    if worked.lines:
        lines = tuple(line for each in worked.lines for line in _worked_lines(each))
        ends_empty = not (lines[-1].text or lines[-1].value)
        found.append(Section("How it is worked out", lines[:-1] if ends_empty else lines))
    if worked.notes:
        title = "What binds" if worked.lines else "Why there is none"
        lines = tuple(ReadLine(f"• {note_sentence(note)}", 1) for note in worked.notes)
        found.append(Section(title, lines))
    if account.terms:
        lines = tuple(_term_lines(account.terms, figures))
        found.append(Section("Where each number is from", lines))
    checked: list[ReadLine] = []
    for check, new in new_terms(account):
        checked += [*_check_lines(check, account.figure), *_term_lines(new, figures)]
    if not checked and worked.unchecked:
        checked.append(ReadLine(f"• {note_sentence(Note(worked.unchecked))}", 1))
    if checked:
        found.append(Section("Check it with a pencil", tuple(checked)))
    if account.rules:
        titles = tuple(ReadLine(f"• {rule(name).title}", 1) for name in account.rules)
        found.append(Section("Rules that it follows", titles))
    return tuple(found)


def new_terms(account: Account) -> Iterable[tuple[Check, list[Term]]]:
    """Each check with those of its numbers that have not been told yet."""
    known = set(account.terms)
    for check in account.worked.checks:
        yield check, [term for term in check.line.terms if term not in known]
        known |= set(check.line.terms)


def rule_pointer(name: str) -> str:
    """A rule of the book that a figure follows, and how its text is read."""
    return f"Rule: {rule(name).title} (whatif explain --rule {name})"


def by_origin(terms: Iterable[Term]) -> dict[str, list[Term]]:
    """Numbers under their origins in words, both in the order of their use."""
    found: dict[str, list[Term]] = {}
    for term in terms:
        found.setdefault(origin_words(term.origin), []).append(term)
    return found


def _worked_lines(line: WorkedLine) -> list[ReadLine]:
    """Its rows; an empty one sets a sum apart from what comes behind it."""
    told = on_paper(line)
    # None is bold but a number that leads on to its own account: "=" marks what comes of it.
    rows = [ReadLine(each.text, 1, each.amount) for each in told]
    return [*rows, ReadLine("")] if len(told) > _IN_A_LINE else rows


def worked_out(line: WorkedLine) -> str:
    """The numbers of a line and what they give; of a number by itself that alone."""
    numbers, shown = line.expr.numbers(), line_shown(line)
    return shown if is_alone(line) else f"{numbers} = {shown}"


def _check_lines(check: Check, figure: Figure) -> list[ReadLine]:
    lines = [
        ReadLine(f"• {check_sentence(check)}", 1),
        ReadLine(worked_out(check.line), 3),
        ReadLine(stands(check, figure), 2, tone="plain" if check.holds else "wrong"),
    ]
    if published := source(check):
        lines.append(ReadLine(f"Published: {published}", 2, tone="dim"))
    return lines


def _term_lines(terms: Iterable[Term], figures: Sequence[Figure]) -> list[ReadLine]:
    lines = []
    for origin, those in by_origin(terms).items():
        lines.append(ReadLine(f"{origin}:", 1, tone="dim"))
        for term in those:
            sees = reference_of(term, figures)
            lines.append(ReadLine(term.label, 2, term.shown, sees=sees))
    return lines
