"""What a scenario's gain rests on that is not so yet, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from whatif.answers.caveats import Caveat
from whatif.telling.amounts import listed, rounded
from whatif.telling.fit import not_made_sentence
from whatif.telling.gain_texts import percent_text
from whatif.telling.meters import laid_words, no_gap_words
from whatif.telling.money.rests import no_worth_sentence, not_priced_words
from whatif.telling.said import MARK

if TYPE_CHECKING:
    from collections.abc import Sequence

    from whatif.answers.answer import Answer
    from whatif.telling.said import Sense


def caveat_mark(answer: Answer) -> str:
    """What stands before its gain: the mark, "" where nothing is to be said of it."""
    return MARK if answer.caveats else ""


def sense_of(answer: Answer, sense: Sense) -> Sense:
    """How a gain is shown: to beware of where it rests on something that is not so yet."""
    return "beware" if answer.caveats else sense


def unclear_sentence(answer: Answer) -> str:
    """Why its gain is not clear, where no more can be sold than is wanted; "" where more can."""
    if not answer.sells_no_more:
        return ""
    parts = answer.guessed_demand
    if not parts:
        return "Not clear: all that is wanted is made, so that hardly any more can be sold."
    of = _named(parts)
    off = rounded(100 * float(answer.plan.guess_accuracy), 0)
    return f"Not clear: it sells what is wanted of {of}, a guess, maybe {off} % off; enter it."


def is_out_of_step(answer: Answer) -> bool:
    """Whether the gain as typed lies outside its likely range, which leads (rule `likely.told`)."""
    from whatif.answers.gains import lies_outside

    return answer.judged is not None and lies_outside(answer.gains.saleable, answer.judged)


def out_of_step_sentence(answer: Answer) -> str:
    """Why another gain leads than hours and pieces give, which are as typed; "" where none does.

    Times that are exact, visit after visit, let machines call for people at the same moments for
    weeks; in the draws each visit is a little off, as in every shop.
    """
    if not is_out_of_step(answer):
        return ""
    typed = percent_text(answer.gains.saleable or 0.0, answer.judged)
    return (
        f"As typed, every time and demand exact, it is {typed}, outside the likely range; hours "
        "and pieces here are as typed."
    )


def _named(parts: Sequence[str]) -> str:
    return listed(parts) if len(parts) <= _NAMED else f"{len(parts)} parts"


_NAMED = 3
"""Parts that are named one by one."""


def caveat_sentences(
    answer: Answer, *, with_prices: bool = True, with_unmade: bool = True
) -> list[str]:
    """What it rests on, a sentence each.

    Args:
        with_unmade: what is not made too, which sentences about limits say themselves.
        with_prices: what is not priced too, which sentences about money say themselves.
    """
    parts = answer.plan.parts if with_unmade else ()
    said = [not_made_sentence(part.unmade) for part in parts if part.unmade]
    if Caveat.NO_WORTH in answer.caveats and answer.no_worth is not None:
        said.append(no_worth_sentence(answer.no_worth))
    if with_prices and Caveat.NOT_PRICED in answer.caveats and answer.money is not None:
        said.append(f"The gain rests on what is {not_priced_words(answer.money.not_priced)}.")
    if answer.laid_gap is not None:
        said.append(laid_words(answer.laid_gap, answer.metered))
    elif answer.leaves_no_gap and answer.plan.meters is not None:
        said.append(no_gap_words(answer.plan.meters.gap))
    else:
        return said
    return [*said, *filter(None, [gap_by_demand_words(answer)])]


def gap_by_demand_words(answer: Answer) -> str:
    """That the gap hangs on a demand that nobody has said; "" where all of it is."""
    parts = answer.assumed_demand
    if not parts:
        return ""
    return (
        f"The gap hangs on what is wanted a week of {_named(parts)}, which is assumed: with less "
        "wanted the model finds fewer hours in cut, and the gap shrinks until nothing is laid."
    )
