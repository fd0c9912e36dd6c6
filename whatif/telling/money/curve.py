"""What has come in less the investment, year after year: a line a scenario on one plot."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import floor
from string import ascii_uppercase

from whatif.answers.answer import Answer
from whatif.answers.money.flows import brought
from whatif.records import dataclass
from whatif.telling.amounts import grouped, in_millions, in_thousands, result_told
from whatif.telling.money.ranges import payback_texts
from whatif.telling.plot import (
    AXIS,
    AmountScale,
    Canvas,
    Inked,
    Placed,
    Plot,
    Trace,
    Word,
    in_a_line,
    scale,
)
from whatif.telling.said import MARK, Said, alike_within

CHOSEN, OTHER, LETTER, OPEN = "chosen line", "other lines", "letters", "open line"
"""Inks: one line is followed, and the others are what it is seen among.

The line that is followed, and the letter of any, is of a colour of its own where what it tells
rests on what is not so yet.
"""

_TIMES = 3
"""How often the letter of the chosen line stands on it."""


@dataclass(frozen=True, slots=True)
class CashLine:
    """One scenario's cash, told apart from the others by a letter.

    Attributes:
        laid_out: at once.
        yearly: what every year brings more once the ramp is over; of the middle of the likely
            range where that leads.
        ramp: years until then.
        back: years until the investment is back, None where it never is.
        is_reference: whether it is what the others are held against: it lies at 0 throughout.
        is_open: whether it rests on what is not so yet, as the scenario's gain does.
    """

    letter: str
    scenario: str
    laid_out: float
    yearly: float
    ramp: float
    back: float | None
    is_reference: bool = False
    is_open: bool = False

    def at(self, years: float) -> float:
        """What has come in so many years on less what was laid out, without interest."""
        return brought(self.yearly, self.ramp, years) - self.laid_out


@dataclass(frozen=True, slots=True)
class CashBack:
    """When the investment of a scenario is back, in a few words; without a letter, not drawn."""

    letter: str
    scenario: str
    text: str


@dataclass(frozen=True, slots=True)
class CashPlot:
    """The plot, the years below it, and the row at which each scenario's title stands.

    Attributes:
        ends: by scenario, in the order of height at the end.
    """

    plot: Plot
    years: list[Placed]
    ends: dict[str, int]


def cash_lines(answers: Mapping[str, Answer | None]) -> tuple[list[CashLine], list[CashBack]]:
    """A line for each scenario whose yearly gain is clear, and for all when the money is back.

    The reference's comes last, where there is any other.
    """
    lines: list[CashLine] = []
    backs: list[CashBack] = []
    reference = ""
    for scenario, answer in answers.items():
        money = None if answer is None else answer.money
        prices = None if answer is None else answer.plan.prices
        if answer is None or money is None or prices is None:
            continue
        if not money.is_compared:
            reference = scenario
            continue
        likely = answer.likely_money
        letter = ""
        if money.standing(likely) != "unclear" and not money.is_bare:
            letter = _letter(len(lines))
            leads = money.leading(likely)
            lines.append(
                CashLine(
                    letter, scenario, money.more_capital, leads.year_gain,
                    float(prices.ramp), leads.payback_years, is_open=bool(answer.caveats),
                )
            )  # fmt: skip
        back = payback_texts(money, likely)[-1]
        # The shortest text of a range that leads has no unit.
        unit = " years" if back[-1].isdigit() else ""
        backs.append(CashBack(letter, scenario, f"{back}{unit}"))
    if lines and reference:
        letter = _letter(len(lines))
        lines.append(CashLine(letter, reference, 0.0, 0.0, 0.0, None, is_reference=True))
    return lines, backs


def _letter(place: int) -> str:
    return ascii_uppercase[place % len(ascii_uppercase)]


def drawn_lines(
    lines: Sequence[CashLine], years: float, chosen: str | None, rows: int
) -> list[CashLine]:
    """As many lines as have a row for their title, from the highest at the end to the lowest.

    The chosen scenario's is among them, the reference's, and those that end highest.
    """
    first = sorted(
        lines,
        key=lambda line: (line.scenario != chosen, not line.is_reference, -line.at(years)),
    )
    return sorted(first[: max(2, rows)], key=lambda line: -line.at(years))


def not_drawn_words(drawn: Sequence[CashLine], lines: Sequence[CashLine]) -> str:
    """How many lines there are beside those that are drawn, and how to see them; "" for none."""
    if len(drawn) == len(lines):
        return ""
    which = f"{len(drawn)} of {len(lines)} lines: the chosen one, the reference's, the highest"
    return f"{which} at the end; ← → choose."


def no_line_words(title: str) -> str:
    """That the chosen scenario is none of the lines, and why."""
    return f"{title} has no line: its yearly gain is not clear, or not priced."


def come_in_texts(lines: Sequence[CashLine], years: float, cells: int) -> list[str]:
    """What has come in less what was laid out at the end of the years, in so many cells.

    All of them in one unit, so that nobody takes 1 580k for less than 820 910; marked where they
    rest on what is not so yet.
    """
    marks = [MARK if line.is_open else "" for line in lines]
    whole = [result_told(line.at(years)) for line in lines]
    said = [
        Said(text, "plain", (in_thousands(text), in_millions(text)))
        for text in (f"{mark}{amount}" for mark, amount in zip(marks, whole, strict=True))
    ]
    return [each.within(cells) for each in alike_within(said, cells)]


def cash_plot(
    lines: Sequence[CashLine],
    years: float,
    width: int,
    height: int,
    chosen: str | None = None,
    every: Sequence[CashLine] = (),
) -> CashPlot:
    """The lines over the years: the chosen one drawn through, and the others lightly.

    Args:
        lines: those drawn, the highest at the end first.
        years: how many are counted, at the right edge; more than 0.
        width, height: in cells, without labels and the years.
        every: all there are, which the axis has room for, so that it stays as it is whichever
            of them is drawn.
    """
    at = [years * dot / (2 * width) for dot in range(2 * width + 1)]
    amounts = [line.at(place) for line in (*lines, *every) for place in at]
    up = scale(min(0.0, *amounts), max(0.0, *amounts), height)
    canvas = Canvas((0.0, years), up, width, height)
    canvas.level(0.0)
    traces = [
        _trace(line, at, years, is_chosen=line.scenario == chosen)
        for line in lines
        # The stroke of 0 is the reference's, drawn over where that is the one to be followed.
        if not line.is_reference or line.scenario == chosen
    ]
    # What is light lies below.
    for trace in sorted(traces, key=lambda each: not each.is_light):
        canvas.line(trace, level=0.0)
    # The chosen line's comes first: at the end it is read at.
    _put_letters(canvas, sorted(lines, key=lambda line: line.scenario != chosen), years, chosen)
    for trace in traces:
        canvas.signs(trace)
    whole = range(floor(years) + 1)
    words = in_a_line((Word(canvas.column(year), f"{year}") for year in whole), canvas.width)
    heights = sorted(((line.scenario, line.at(years)) for line in lines), key=lambda each: -each[1])
    ends = set_apart({name: canvas.row(amount) for name, amount in heights}, canvas.height)
    return CashPlot(_with_lowest(canvas.done(), canvas, up, min(amounts)), words, ends)


def _trace(line: CashLine, at: Sequence[float], years: float, *, is_chosen: bool) -> Trace:
    # One more stands at its end, as at those of all others.
    stands = [years * (turn + 0.5) / _TIMES for turn in range(_TIMES - 1)] if is_chosen else []
    if is_chosen and line.back is not None and 0 < line.back <= years:
        apart = years / (2 * _TIMES)
        stands = [line.back, *(place for place in stands if abs(place - line.back) > apart)]
    points = [(place, line.at(place)) for place in sorted({*at, *stands})]
    signs = [(place, line.letter) for place in stands]
    return Trace(points, _ink(line) if is_chosen else OTHER, signs=signs, is_light=not is_chosen)


def _ink(line: CashLine) -> str:
    return OPEN if line.is_open else CHOSEN


def _put_letters(
    canvas: Canvas, lines: Sequence[CashLine], years: float, chosen: str | None
) -> None:
    """The letter of each line as near to its end as one has room that hides no other."""
    taken: set[tuple[int, int]] = set()
    for line in lines:
        for column in range(canvas.width - 1, canvas.width // 2, -1):
            # At the right edge that is the amount told beside it.
            row = canvas.row(line.at(canvas.place(2 * column + 1)))
            if not taken & {(column + beside, row) for beside in (-1, 0, 1)}:
                taken.add((column, row))
                ink = _ink(line) if line.is_open or line.scenario == chosen else LETTER
                canvas.put(column, row, Inked(line.letter, ink))
                break


def _with_lowest(plot: Plot, canvas: Canvas, up: AmountScale, lowest: float) -> Plot:
    """The plot with the lowest amount at its axis, where nothing below 0 stands there yet."""
    at = canvas.row(lowest)
    if lowest >= 0 or any(tick < 0 for tick in up.ticks) or plot.labels[at]:
        return plot
    marked = (Inked("┤", AXIS), *plot.rows[at][1:])
    return Plot(
        tuple(marked if place == at else each for place, each in enumerate(plot.rows)),
        tuple(grouped(lowest) if place == at else each for place, each in enumerate(plot.labels)),
    )


def set_apart(rows: Mapping[str, int], height: int) -> dict[str, int]:
    """Rows as near to those wanted as can be, no two the same, in the same order.

    Those for which there is no row are left out.
    """
    wanted = sorted(rows.items(), key=lambda each: each[1])[:height]
    found: dict[str, int] = {}
    least = 0
    for place, (name, row) in enumerate(wanted):
        found[name] = least = min(max(row, least), height - len(wanted) + place)
        least += 1
    return found
