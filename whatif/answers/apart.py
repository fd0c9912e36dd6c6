"""By how much one alternative falls short of another (rule `verdict.apart`)."""

from __future__ import annotations

from itertools import zip_longest
from typing import TYPE_CHECKING, Final

from whatif.answers.gains import NO_GAIN
from whatif.answers.money.returns import worth_of
from whatif.answers.ranks import difference_range
from whatif.answers.takes import A_UNIT

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from whatif.answers.answer import Answer
    from whatif.answers.ranks import Range

A_POINT_SHOWN: Final = 0.05
"""Points of saleable output from which on a difference does not read as none."""


def falls_short(here: Answer, there: Answer, *, is_worth: bool) -> Range | None:
    """How much less one is than another where both meet with the same; None where that is not sure.

    Of present value where ``is_worth``, else in points of saleable output. The likely range of the
    difference in the same draws, made wide enough for the differences under each reading of the
    hour meters and, where weeks have not settled, over each half of them: by whatever makes the
    ranges of both wide.
    """
    if not here.drawn or len(here.drawn) != len(there.drawn):
        return None
    if is_worth and (here.money is None or here.money.lean != "none"):
        # With all priced it may be worth more.
        return None

    def less(gains: Iterable[tuple[float | None, float | None]]) -> Iterator[float | None]:
        for mine, theirs in gains:
            pair = _judged_by(here, mine, is_worth), _judged_by(there, theirs, is_worth)
            yield None if pair[0] is None or pair[1] is None else pair[1] - pair[0]

    drawn = zip(here.drawn, there.drawn, strict=True)
    found = difference_range(
        (more, 0.0) for more in less((mine.saleable, theirs.saleable) for mine, theirs in drawn)
    )
    others = list(less(_met_alike(here, there)))
    known = [each for each in others if each is not None]
    if found is None or len(known) < len(others):
        return None
    least, most = min([found[0], *known]), max([found[2], *known])
    apart = A_UNIT if is_worth else A_POINT_SHOWN
    return (least, found[1], most) if least >= apart else None


def _met_alike(here: Answer, there: Answer) -> Iterator[tuple[float | None, float | None]]:
    """Gains of both under each reading of the hour meters, and over each half of the weeks."""
    if here.is_gap_open or there.is_gap_open:
        mine, theirs = ({each.kind: each.gain for each in it.gap_read} for it in (here, there))
        yield from ((mine.get(kind), theirs.get(kind)) for kind in mine.keys() | theirs.keys())
    if not (here.settled and there.settled):
        halves = zip_longest(here.halves, there.halves, fillvalue=NO_GAIN)
        yield from ((half.saleable, other.saleable) for half, other in halves)


def _judged_by(answer: Answer, gain: float | None, is_worth: bool) -> float | None:
    """A gain, or what it makes the scenario worth today; None where that is not known."""
    if gain is None or not is_worth:
        return gain
    money, typed = answer.money, answer.gains.saleable
    if money is None or typed is None:
        return None
    year_gain = money.year_gain + (gain - typed) * money.of_a_percent
    return worth_of(money.more_capital, year_gain, money.terms)
