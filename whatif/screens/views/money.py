"""Money: a year, what has to be invested, and when it comes back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import ClassVar

from typing_extensions import override

from whatif.answers.cautions import Danger
from whatif.screens.views.view import (
    Look,
    View,
    ViewHost,
    ViewKey,
    across_said,
    caution_rows,
    no_answer,
    nothing_yet,
)
from whatif.screens.widgets.columns import apart
from whatif.screens.widgets.drawing import (
    Chooses,
    Span,
    SpanRow,
    Tone,
    left_in,
    paragraph,
    right_in,
    row,
)
from whatif.screens.widgets.plotted import placed_row, plotted
from whatif.telling.money.blocks import A_YEAR, figure_row, likely_row, money_blocks
from whatif.telling.money.curve import (
    CHOSEN,
    LETTER,
    OPEN,
    OTHER,
    CashBack,
    CashLine,
    cash_lines,
    cash_plot,
    come_in_texts,
    drawn_lines,
    no_line_words,
    not_drawn_words,
)
from whatif.telling.money.sentences import MONEY_STEPS, NO_MONEY, money_sentences
from whatif.telling.plot import ZERO
from whatif.telling.said import alike_within
from whatif.telling.warnings import gap_sentence

_GUTTER = 12
"""Cells for the amounts beside the axis."""

_NAMES_LEAST, _NAMES_MOST = 24, 48
"""Cells for the scenarios' titles beside the ends of their lines, with the amounts there."""

_AMOUNT_LEAST, _AMOUNT_MOST = 6, 11
"""Cells for these amounts, in thousands where there is little room."""

_WIDE = 100
"""Cells of the view from which there is room for amounts in full."""

_PLOT_LEAST, _PLOT_MOST = 13, 30
"""Rows that the years need with their heading, and those from which more would tell no more."""

_ROWS_LEAST = 12
"""Rows for the years with their heading that are left when all is told of when money is back."""

_BACK = 22
"""Cells of a title behind its letter, where it is told when all is back."""

_LOW = 22
"""Rows of the view below which most of what is said in words stands below the years."""

CUMULATED = "Cumulated cash"
_TITLE = "come in less invested, no interest"

_WAGE = ViewKey("w", "w", "wage", "edit the wage, for the whole shop")
_YEARS = ViewKey("y", "y", "years", "cash over the years, a line a scenario")
_TABLE = ViewKey("y", "y", "table", "the table, item by item")


class _Drawn:
    """What was found out when it was drawn last, for the room that there was.

    Attributes:
        takes_turns: whether table and years stand there one at a time; None until then.
    """

    __slots__ = ("takes_turns",)

    def __init__(self) -> None:
        self.takes_turns: bool | None = None


class MoneyView(View):
    """A table below the scenarios' titles; their cash over the years as lines on one plot."""

    name = "money"
    in_columns = True
    reads = """\
First whether the chosen scenario pays, in a sentence; then what a year brings in each, what has to
be invested against the reference, and when it comes back. A year is counted on what is sold: pieces
that nobody asked for bring nothing. Contribution: what pieces are sold for, less material and
outside work. Yearly gain: the yearly result less the reference's. Payback: from the start until
the investment has come back, without interest. Net present value: what the years counted bring,
worth today at the discount rate, less the investment; years and rate stand on the sheet, under
"money". Rate of return: the yearly interest at which that is 0. Likely: where it lies eight times
in ten; empty where that reads as the figure above, or stands there. "At most", "up to" and ≤: with
all priced it will be less; "at least", "from" and ≥: more."""
    keys = """\
w Esc F9 c   the answer over the wage: from which one on it pays, or
             that every one tried does
"""
    reads_of_years: ClassVar[str] = """\
Over the years there is a line a scenario: what has come in less the investment. Where it crosses 0,
the reference's line, the money is back. The chosen scenario's line is solid and has its letter
several times; the reference's along 0 is solid too; the others are dotted. "!", with an amber
letter: it rests on what is not so yet, F2 says on what. The letter at a line's end is at its
amount; where more lines end in that row it stands before theirs, or behind. Beside it stand the
scenarios, the one that ends highest first, with what has come in by then: in the row of the letter,
or the nearest that is free. A scenario whose yearly gain is not clear, or not priced, has no
line."""

    @override
    def own_keys(self, look: Look) -> tuple[ViewKey, ...]:
        """Years or table where they take turns, and what money begins with."""
        paths = _contributions(look)
        of = f" of {paths[_next(paths, look)][1]}" if paths else ""
        # A long name would push other keys out of their line.
        word = f"contribution{of if len(of) <= _OF_PART else ''}"
        does = "edit the contribution, part after part, for the whole shop"
        turn = (_TABLE if self._years else _YEARS,) if self._drawn.takes_turns else ()
        return (*turn, ViewKey("c", "c", word, does), _WAGE)

    def __init__(self) -> None:
        self._years = False
        self._drawn = _Drawn()

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Turn between table and years, or edit what money begins with."""
        if key == "y" and self._drawn.takes_turns is not False:
            self._years = not self._years
        elif key == "w":
            host.edit_for_all(("money", "wage"))
        elif key == "c":
            self._edit_contribution(look, host)
        else:
            return False
        return True

    def _edit_contribution(self, look: Look, host: ViewHost) -> None:
        """Of the part after the one whose contribution is under the cursor, or of the first."""
        paths = _contributions(look)
        if not paths:
            host.tell("There is no part yet: n adds one.")
            return
        host.edit_for_all(paths[_next(paths, look)])

    @override
    def figure(self, look: Look) -> str:
        """When the money is back, or where there is no such time, what a year brings."""
        money = None if look.answer is None else look.answer.money
        if money is None:
            return "money"
        if look.chosen == look.reference:
            return "money.year"
        back = money.payback_years
        return "money.year_gain" if back is None else "money.payback_years"

    @override
    def how_read(self, drawn: str) -> str:
        """How the table is read, the lines over the years, or both, as they are on the screen."""
        if CUMULATED not in drawn:
            return self.reads
        return f"{self.reads} {self.reads_of_years}" if A_YEAR in drawn else self.reads_of_years

    # -- drawing -------------------------------------------------------------------------

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """Table or years; both where there is room."""
        self._drawn.takes_turns = False
        reference, answer = look.base, look.answer
        if reference is None or answer is None:
            return no_answer(look, width)
        if all(other.money is None for other in look.answers.values()):
            return nothing_yet(NO_MONEY, MONEY_STEPS, width)
        warned = [
            line
            for gap in answer.money_gaps
            for line in paragraph(f"! {gap_sentence(gap)}", width - 1, "caution")
        ]
        said = money_sentences(answer, look.title_of(look.reference or ""))
        # Whether it pays is what is asked: it stands above the items that it comes of.
        lead = [*warned, *paragraph(said[0], width, "lead")]
        words = paragraph("\n".join(said[1:]), width) if said[1:] else []
        cautions = caution_rows(look, tuple(Danger), width)
        room = height - len(lead) - len(cautions)
        table = self._table(look, room)
        rest = room - len(table) - len(words) - 1
        if rest >= _PLOT_LEAST:
            plot = self._plot(look, width, min(_PLOT_MOST, rest))
            return [*lead, *table, row(""), *words, *plot, *cautions]
        self._drawn.takes_turns = True
        if self._years:
            above = 0 if room < _LOW else len(words)
            plot = self._plot(look, width, min(_PLOT_MOST, room - above))
            # What there is no room for is scrolled to; the caution is seen at once.
            return [*lead, *words[:above], *plot, *cautions, *words[above:]]
        # In few lines the rest of what it means stands with the years.
        return [*lead, *table, *_as_many(said[1:], width, room - len(table)), *cautions]

    def _table(self, look: Look, room: int) -> list[SpanRow]:
        """All items; ranges in rows of their own, so that figures stand on one grid."""
        answers = [look.answers.get(id_) for id_ in look.shown]
        blocks = money_blocks(answers, look.title_of(look.reference or ""))
        rows: list[SpanRow] = []
        many = sum(len(block.rows) + 1 for block in blocks if block.rows)
        for block in blocks:
            rows += [row(Span(f" {block.title}", "title"))] if block.rows else []
            for line in block.rows:
                rows.append(across_said(look, f"   {line.label}", figure_row(line).cells))
                likely = likely_row(line)
                if likely is not None and many < room:
                    alike = alike_within(likely.cells, look.columns.figures)
                    rows.append(across_said(look, f"     {likely.label}", alike))
                    many += 1
        return rows

    def _plot(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """Cash over the years, and when each is back; a word where there is none to draw."""
        prices = None if look.base is None else look.base.plan.prices
        if prices is None:
            return []
        years = float(prices.years)
        if years <= 0:
            text = "No years are counted: 'years' under 'money' says how many."
            return paragraph(text, width)
        every, backs = cash_lines({id_: look.answers.get(id_) for id_ in look.ids})
        paid = _backs(look, backs, width)
        if not every:
            text = "No scenario has a yearly gain that is clear and priced, so there is no curve."
            return [*paragraph(text, width), *paid]
        if look.chosen not in {line.scenario for line in every}:
            height -= len(unlike := paragraph(no_line_words(look.title), width))
        else:
            unlike = []
        if height - len(paid) < max(_ROWS_LEAST, min(len(every) + 2, height)):
            # The lines need the room more: the table tells it, and of the chosen one the lead.
            paid = []
        lines = drawn_lines(every, years, look.chosen, height - len(paid) - 2)
        if len(lines) < len(every):
            # What says so takes the room of one more.
            others = paragraph(not_drawn_words(lines, every), width, "dim")
            lines = drawn_lines(every, years, look.chosen, height - len(paid) - len(others) - 2)
            paid = [*paragraph(not_drawn_words(lines, every), width, "dim"), *paid]
        room = max(3, height - len(paid) - 2)
        cells = _AMOUNT_MOST if width >= _WIDE else _AMOUNT_LEAST
        # A mark stands apart from the title before it.
        cells += any(line.is_open for line in lines) and cells < _AMOUNT_MOST
        amounts = come_in_texts(lines, years, cells)
        titles = [look.title_of(line.scenario) for line in lines]
        most = max(map(len, titles))
        names = max(_NAMES_LEAST, min(_NAMES_MOST, most + cells + 4, 9 * width // 20))
        drawn = cash_plot(lines, years, width - _GUTTER - 2 - names, room, look.chosen, every)
        named: dict[int, SpanRow] = {
            drawn.ends[line.scenario]: _named(look, line, title, text, names, cells)
            for line, title, text in zip(
                lines, apart(titles, names - cells - 4), amounts, strict=True
            )
            if line.scenario in drawn.ends
        }
        currency = next((a.money.currency for a in look.answers.values() if a.money), "")
        title = f" {CUMULATED}, {currency}: {_TITLE}"
        at_end = f"after {years:g} years"
        return [
            row(left_in(title, width - len(at_end) - 1, "title"), Span(at_end, "title")),
            *(
                (*spans, *named.get(at, ()))
                for at, spans in enumerate(plotted(drawn.plot, _GUTTER, _INKS))
            ),
            placed_row(right_in("years ", _GUTTER, "dim"), drawn.years, _INKS),
            *unlike,
            *paid,
        ]


_INKS: Mapping[str, Tone] = {
    CHOSEN: "line-1",
    OTHER: "faint",
    LETTER: "dim",
    OPEN: "caution",
    ZERO: "plain",
}
"""No colour has to be found again: one line stands out, and letters and titles tell the others."""


def _named(look: Look, line: CashLine, title: str, text: str, names: int, cells: int) -> SpanRow:
    """A scenario beside the end of its line, and what has come in by then; the reference's is 0."""
    is_chosen = line.scenario == look.chosen
    tone: Tone = "scenario" if is_chosen else "plain"
    return row(
        left_in(f" {line.letter} {title}", names - cells - 1, tone, Chooses(line.scenario)),
        right_in(text, cells, "caution" if line.is_open else "plain" if is_chosen else "dim"),
    )


_OF_PART = 11
"""Cells for the part whose contribution is next, in the line of keys."""


def _contributions(look: Look) -> list[tuple[str, str, str]]:
    """The paths of the contributions of what is made, or of all parts where nothing is."""
    parts = () if look.answer is None else look.answer.plan.parts
    made = [part.id for part in parts if part.place is not None]
    return [("part", part, "contribution") for part in made or [part.id for part in parts]]


def _next(paths: Sequence[tuple[str, str, str]], look: Look) -> int:
    """The place of the one after that under the cursor, or of the first."""
    at = next((place for place, path in enumerate(paths) if path == look.under), -1)
    return (at + 1) % len(paths)


def _backs(look: Look, backs: Sequence[CashBack], width: int) -> list[SpanRow]:
    """When the investment is back, of every scenario."""
    # Letters alone are looked up at the ends of lines, where a title may have found no room.
    titles = apart([look.title_of(back.scenario) for back in backs], _BACK)
    said = [
        f"{back.letter} {title.strip()} {back.text}".lstrip().replace(" ", "\u00a0")
        for back, title in zip(backs, titles, strict=True)
    ]
    return paragraph(f"Back after: {', '.join(said)}.", width) if said else []


def _as_many(said: Sequence[str], width: int, room: int) -> list[SpanRow]:
    """As many of some sentences, from the first on, as fit."""
    for many in range(len(said), 0, -1):
        rows = paragraph("\n".join(said[:many]), width)
        if len(rows) <= room:
            return rows
    return []
