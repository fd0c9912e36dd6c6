"""What has come in less the investment, year after year: a line a scenario on one plot."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import floor
from string import ascii_uppercase

from whatif.answers.answer import Answer
from whatif.answers.money.flows import brought
from whatif.records import dataclass
from whatif.telling.amounts import grouped
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
    plot_of,
    scale,
)

_TIMES = 3
"""How often the letter of a line stands on it."""


@dataclass(frozen=True, slots=True)
class CashLine:
    """One scenario's cash, told apart from the others by a letter.

    Attributes:
        laid_out: at once.
        yearly: what every year brings more once the ramp is over; of the middle of the likely
            range where that leads.
        ramp: years until then.
        back: years until the investment is back, None where it never is.
    """

    letter: str
    scenario: str
    laid_out: float
    yearly: float
    ramp: float
    back: float | None

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
    """The plot, the years below it, and the row at which each line ends."""

    plot: Plot
    years: list[Placed]
    ends: dict[str, int]
    zero: int


def cash_lines(answers: Mapping[str, Answer | None]) -> tuple[list[CashLine], list[CashBack]]:
    """A line for each scenario whose yearly gain is clear, and for all when the money is back."""
    lines: list[CashLine] = []
    backs: list[CashBack] = []
    for scenario, answer in answers.items():
        money = None if answer is None else answer.money
        prices = None if answer is None else answer.plan.prices
        if answer is None or money is None or prices is None or not money.is_compared:
            continue
        likely = answer.likely_money
        letter = ""
        if money.standing(likely) != "unclear" and not money.is_bare:
            letter = ascii_uppercase[len(lines) % len(ascii_uppercase)]
            leads = money.leading(likely)
            lines.append(
                CashLine(
                    letter, scenario, money.more_capital, leads.year_gain,
                    float(prices.ramp), leads.payback_years,
                )
            )  # fmt: skip
        backs.append(CashBack(letter, scenario, payback_texts(money, likely)[-1]))
    return lines, backs


def drawn_lines(lines: Sequence[CashLine], years: float, chosen: str | None) -> list[CashLine]:
    """As many lines as can be told apart: the chosen scenario's, and those that end highest."""
    first = sorted(lines, key=lambda line: (line.scenario != chosen, -line.at(years)))
    kept = {line.scenario for line in first[:_LINES_MOST]}
    return [line for line in lines if line.scenario in kept]


def not_drawn_words(drawn: Sequence[CashLine], lines: Sequence[CashLine]) -> str:
    """How many lines there are beside those that are drawn, and how to see them; "" for none."""
    if len(drawn) == len(lines):
        return ""
    which = f"{len(drawn)} of {len(lines)} lines: the chosen one, and those highest at the end"
    return f"{which}; ← → choose."


_LINES_MOST = 4
"""Lines of dots that can be told apart in one plot."""


def cash_plot(
    lines: Sequence[CashLine], years: float, width: int, height: int, above: Sequence[str] = ()
) -> CashPlot:
    """The lines over the years, each in the ink of its letter.

    Args:
        years: how many are counted, at the right edge; more than 0.
        width, height: in cells, without labels and the years.
        above: the scenarios whose lines lie above the others, the last one uppermost. Where there
            are some the others have their letter once.
    """
    traces = []
    order = {scenario: place for place, scenario in enumerate(above, 1)}
    for place, line in enumerate(sorted(lines, key=lambda each: order.get(each.scenario, 0))):
        # Letters of lines that lie on each other must not hide each other.
        shift = (place + 0.5) / len(lines)
        stands = [years * (turn + shift) / _TIMES for turn in range(_TIMES)]
        if above and line.scenario not in order:
            stands = stands[1:2]
        elif line.back is not None and 0 < line.back <= years:
            stands.append(line.back)
        at = [years * dot / (2 * width) for dot in range(2 * width + 1)]
        points = [(place, line.at(place)) for place in sorted({*at, *stands})]
        traces.append(Trace(points, line.letter, signs=[(place, line.letter) for place in stands]))
    amounts = [amount for trace in traces for _, amount in trace.points if amount is not None]
    up = scale(min(0.0, *amounts), max(0.0, *amounts), height)
    canvas, plot = plot_of(traces, [], (0.0, years), up, width, height)
    whole = range(floor(years) + 1)
    words = in_a_line((Word(canvas.column(year), f"{year}") for year in whole), canvas.width)
    ends = set_apart({line.letter: canvas.row(line.at(years)) for line in lines}, canvas.height)
    return CashPlot(_with_lowest(plot, canvas, up, min(amounts)), words, ends, canvas.row(0.0))


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
