"""The answer over two inputs, in words and for the cells of a table."""

from __future__ import annotations

from itertools import chain, pairwise
from typing import Final

from whatif.answers.answer import Answer
from whatif.answers.moves.trial import Outcome
from whatif.answers.moves.vary import Grid
from whatif.telling.amounts import rounded, signed
from whatif.telling.blocks import HEIGHT_LEGENDS
from whatif.telling.gain_texts import digits_of, percent_text
from whatif.telling.moves.ranking import NOT_VALID
from whatif.telling.moves.tried import (
    UNTOLD,
    compared_words,
    gain_in_short,
    is_over_now,
    moved_words,
    outcome_words,
    over_now_words,
    resting_of_all,
    without_gap_words,
    worked_from,
)
from whatif.telling.problems import what_is_wrong


def grid_text(outcome: Outcome) -> str:
    """What a cell brings over the reference as it stands."""
    return NOT_VALID if outcome.problem else gain_in_short(outcome.over_now)


def grid_texts(found: Grid) -> list[list[str]]:
    """What all cells bring, with one number of decimals, a tenth where any needs it.

    The cell under the cursor is told below with all that it has: what is less than a tenth is
    "0.0" in the table.
    """
    outcomes = [[outcome.over_now for outcome in line] for line in found.outcomes]
    digits = max(
        (
            digits_of(each.leading_gain, each.likely)
            for each in chain.from_iterable(outcomes)
            if not each.problem and each.is_clear
        ),
        default=0,
    )
    return [[_with_digits(each, min(digits, 1)) for each in line] for line in outcomes]


def _with_digits(outcome: Outcome, digits: int) -> str:
    text, gain = grid_text(outcome), outcome.leading_gain
    if outcome.problem or gain is None or not outcome.is_clear:
        return text
    return signed(gain, digits) if float(rounded(gain, digits)) else rounded(gain, digits)


def grid_titles(found: Grid) -> tuple[str, ...]:
    """What the cells tell, ever shorter."""
    if not is_over_now(chain.from_iterable(found.outcomes)):
        return ("saleable gain",)
    return over_now_words(found.asked), "output over the reference as it stands", "output over now"


def grid_lead(found: Grid) -> str:
    """Which cell is the best, the first of equals."""
    best = _best(found)
    if found.best is None or best is None:
        return _no_best(found)
    held = _held_against(found)
    text = f"{_pair(found, *found.best)}, {_gain_of(best)} over {held}"
    if not found.alike:
        return f"Best: {text}."
    return f"Best: {text}; {_alike(found, best)}."


def _alike(found: Grid, best: Outcome) -> str:
    """That others are as good, and which of them is the one that is named and marked."""
    return (
        f"one of {found.alike + 1} that cannot be told apart{_up_to(found, best)}: "
        f"{_which_of_alike(found)}"
    )


def _which_of_alike(found: Grid) -> str:
    """Why that pair of those that cannot be told apart: they are gone through row by row."""
    ways = (found.values_down, found.values_across)
    if all(a.number < b.number for values in ways for a, b in pairwise(values)):
        return f"of them that with least {found.down.label}, then least {found.across.label}"
    return "the first of them"


def _no_best(found: Grid) -> str:
    if found.best is not None:
        return f"No pair of values clearly brings more than {_held_against(found)}."
    if all(outcome.problem for row in found.outcomes for outcome in row):
        return "No pair of values is allowed."
    return "Which pair of values is the best cannot be told from the likely range."


def grid_sentences(found: Grid) -> tuple[str, ...]:
    """The best pair, what is not allowed, and the rest that is to be said of a table of two."""
    return (_grid_best(found), *grid_rest(found))


def _grid_best(found: Grid) -> str:
    best = _best(found)
    if found.best is None or best is None:
        return _no_best(found)
    others = f"; {_alike(found, best)}." if found.alike else "."
    most = f"{_gain_of(best)} over {_held_against(found)}"
    return f"Most saleable output: {_pair(found, *found.best)} ({most}){others}"


def grid_rest(found: Grid) -> tuple[str, ...]:
    """What is to be said beside the best pair."""
    said = []
    problems = [outcome.problem for row in found.outcomes for outcome in row if outcome.problem]
    if problems:
        said.append(f"Not allowed: {len(problems)} of the pairs. {what_is_wrong(problems[0])}")
    if found.asked.is_reference:
        said.append(
            f"{found.asked.title} is the reference: its gains are against itself as it stands."
        )
    moved = (
        f"{each.label} is moved {moved_words(each, found.asked)}."
        for each in (found.down, found.across)
    )
    outcomes = tuple(chain.from_iterable(found.outcomes))
    if compared := compared_words(found.asked, outcomes):
        said.append(compared)
    return (*said, *resting_of_all(outcomes), *moved, worked_from(found.asked))


def _best(found: Grid) -> Outcome | None:
    """What the best pair brings; None where there is none, or it is no difference."""
    if found.best is None:
        return None
    outcome = found.outcomes[found.best[0]][found.best[1]].over_now
    gain = outcome.leading_gain if outcome.is_clear else None
    # What is clearly less than the reference is no best one either.
    return outcome if gain is not None and gain > 0 else None


def _gain_of(outcome: Outcome) -> str:
    """What leads of a gain that there is, with its unit."""
    return percent_text(outcome.leading_gain or 0.0, outcome.likely)


def _up_to(found: Grid, best: Outcome) -> str:
    """The largest gain of a cell, where it reads larger than the best one's."""
    outcomes = (outcome.over_now for line in found.outcomes for outcome in line)
    most = max(
        (each for each in outcomes if each.leading_gain is not None),
        key=lambda each: each.leading_gain or 0.0,
    )
    is_more = (most.leading_gain or 0.0) > (best.leading_gain or 0.0)
    text = _gain_of(most)
    return f", up to {text}" if is_more and text != _gain_of(best) else ""


def grid_words(found: Grid, row: int, column: int, answer: Answer | None = None) -> str:
    """One cell in words; ``answer`` is the study's own, for the pair as it stands."""
    without_gap = without_gap_words(found.asked, answer if (row, column) == found.now else None)
    told = outcome_words(found.outcomes[row][column], without_gap)
    return f"{_pair(found, row, column)}: {told}"


def _pair(found: Grid, row: int, column: int) -> str:
    """The two values of a cell with their labels."""
    down, across = found.values_down[row].text, found.values_across[column].text
    return f"{found.down.label} {down}, {found.across.label} {across}"


def _held_against(found: Grid) -> str:
    """What a cell is held against: where that is moved too, as it stands without that."""
    if found.asked.is_reference:
        return f"{found.asked.title} as it stands"
    is_moved = is_over_now(chain.from_iterable(found.outcomes))
    return f"{found.asked.against} as it stands" if is_moved else found.asked.against


_SMALL: Final = 5.0
"""Percentage points over which a grid is shaded at least."""


def grid_shares(found: Grid) -> list[list[float | None]]:
    """How far each gain lies from the least, 0, to the largest, 1.

    None where there is none, and where it cannot be told, or no two from each other: a bar would
    tell it all the same. A few points are no whole bar either.
    """
    if found.best is None:
        return [[None for _ in line] for line in found.outcomes]
    gains = [
        [None if grid_text(each) == UNTOLD else each.over_now.leading_gain for each in line]
        for line in found.outcomes
    ]
    known = [gain for line in gains for gain in line if gain is not None]
    least, most = min(known, default=0.0), max(known, default=0.0)
    span = max(most - least, _SMALL)
    return [[None if gain is None else (gain - least) / span for gain in line] for line in gains]


def grid_legend(found: Grid) -> str:
    """How the bars of the cells are read, and why some have none; "" where there is neither."""
    has_bars = any(share is not None for line in grid_shares(found) for share in line)
    is_untold = any(grid_text(each) == UNTOLD for line in found.outcomes for each in line)
    said = [HEIGHT_LEGENDS[1]] if has_bars else []
    return "  ".join([*said, *[f"no bar: {UNTOLD}"] * (has_bars and is_untold)])


def grid_best(found: Grid) -> tuple[int, int] | None:
    """Row and column of the best pair; None where what it brings is no clear difference."""
    return None if _best(found) is None else found.best
