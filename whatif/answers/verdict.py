"""Which alternative comes first, and what stands in the way of each (rule `verdict.first`)."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from enum import Enum, auto
from typing import TYPE_CHECKING, Final, NamedTuple

from whatif.answers.gains import is_clear, is_nothing
from whatif.plan.model import LoadedFewer, NobodyRepairs
from whatif.records import dataclass
from whatif.study.problem import Problem, ProblemKind

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.answers.money.returns import LikelyReturns
    from whatif.answers.ranks import Range


class Basis(Enum):
    """What alternatives are held against each other by."""

    WORTH = auto()
    """What each is worth today over the years counted."""
    OUTPUT_NO_MONEY = auto()
    """Saleable output alone, as no part has a contribution."""
    OUTPUT_NOT_PRICED = auto()
    """Saleable output alone, as what every one of them takes has no price."""
    OUTPUT_NO_YEARS = auto()
    """Saleable output alone, as no years are counted."""


class Conclusion(Enum):
    """How the comparison ends."""

    BEST = auto()
    """One is clearly ahead of all others."""
    CHEAPER = auto()
    """Several cannot be told apart, and one of them takes least."""
    ALIKE = auto()
    """Several cannot be told apart, by what they take neither."""
    NONE = auto()
    """None is clearly better than the reference."""
    WAITING = auto()
    """A likely range is still to be found."""
    NOTHING_TO_COMPARE = auto()
    """There is no other scenario than the reference."""


class Against(Enum):
    """What stands in an alternative's way, what weighs most first (rule `verdict.way`)."""

    NOTHING_RUN = auto()
    NOT_MADE = auto()
    STANDS_FOR_GOOD = auto()
    LESS = auto()
    """It clearly brings less than the reference."""
    NO_GAIN = auto()
    NOT_CLEAR = auto()
    NOT_BACK = auto()
    """What it takes does not clearly come back within the years counted."""
    NOT_PRICED = auto()
    ORDERS_LATE = auto()
    """More real orders are late than in the reference."""
    FEWER_FIT = auto()
    TOOL_PLACES = auto()
    GAP_LAID = auto()
    DRIFTS = auto()
    SAID_DIFFERS = auto()


NOT_FEASIBLE: Final = frozenset({Against.NOTHING_RUN, Against.NOT_MADE, Against.STANDS_FOR_GOOD})
"""What no gain outweighs: as it is entered it cannot be done."""

_NO_BETTER: Final = NOT_FEASIBLE | {
    Against.LESS,
    Against.NO_GAIN,
    Against.NOT_CLEAR,
    Against.NOT_BACK,
}


@dataclass(frozen=True, slots=True)
class Alternative:
    """A scenario beside the reference.

    Attributes:
        against: what stands in its way, what weighs most first.
        returns: what its money lies between; None without money, and while ranges are missing.
        value: what it is judged by, as low end, middle and high end: an amount of money today or
            percent of saleable output, as the basis says; None where there is none.
    """

    scenario: str
    against: tuple[Against, ...]
    value: Range | None
    returns: LikelyReturns | None = None

    @property
    def is_feasible(self) -> bool:
        """Whether it can be done as it is entered."""
        return NOT_FEASIBLE.isdisjoint(self.against)

    @property
    def is_better(self) -> bool:
        """Whether it is clearly better than the reference, if what lacks a price costs nothing."""
        return self.value is not None and _NO_BETTER.isdisjoint(self.against)


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a comparison comes to.

    Attributes:
        first: who comes first: one of `BEST` and `CHEAPER`, several of `ALIKE`, else none.
        as_good: whose gains cannot be told from those of the first, and which take more.
        may_be: which have no price for all that they take, and may come first or not.
        alternatives: all of them, the first ones first, those that are not feasible last.
    """

    reference: str
    basis: Basis
    conclusion: Conclusion
    first: tuple[str, ...] = ()
    as_good: tuple[str, ...] = ()
    may_be: tuple[str, ...] = ()
    alternatives: tuple[Alternative, ...] = ()


class _Held(NamedTuple):
    """An alternative and its answer."""

    alternative: Alternative
    answer: Answer

    @property
    def value(self) -> Range:
        assert self.alternative.value is not None
        return self.alternative.value


def verdict_of(
    answers: Mapping[str, Answer], reference: str, scenarios: Collection[str] = ()
) -> Verdict:
    """Judge the answers that there are; the reference's must be among them.

    Args:
        scenarios: that are to be judged; nothing is said before each of them is answered.
    """
    base = answers[reference]
    others = {id_: answer for id_, answer in answers.items() if id_ != reference}
    basis = _basis(base, tuple(others.values()))
    missing = set(scenarios) - set(answers)
    if not others and not missing:
        return Verdict(reference, basis, Conclusion.NOTHING_TO_COMPARE)
    if missing or any(_is_waited_for(answer, base) for answer in others.values()):
        in_order = tuple(
            Alternative(id_, (*_blocked(answer), *_beside(answer, base)), None)
            for id_, answer in others.items()
        )
        return Verdict(reference, basis, Conclusion.WAITING, alternatives=in_order)
    held = [_Held(_judged(id_, answer, base, basis), answer) for id_, answer in others.items()]
    better = [each for each in held if each.alternative.is_better]
    known = [each for each in better if _may_lead(each, basis)]
    conclusion, first, as_good = _lead(known)
    return Verdict(
        reference,
        basis,
        conclusion,
        tuple(each.alternative.scenario for each in first),
        tuple(each.alternative.scenario for each in as_good),
        tuple(
            each.alternative.scenario
            for each in better
            if each not in known and (not first or each.value[2] >= first[0].value[0])
        ),
        _in_order(held, first),
    )


def is_priced(answer: Answer) -> bool:
    """Whether all that would make it dearer has a price."""
    money = answer.money
    return money is not None and not money.is_bare and money.lean in ("none", "better")


def _basis(base: Answer, others: Sequence[Answer]) -> Basis:
    if base.money is None:
        return Basis.OUTPUT_NO_MONEY
    if not base.money.terms.years:
        return Basis.OUTPUT_NO_YEARS
    done = [other for other in others if not NOT_FEASIBLE & set(_blocked(other))]
    # Of none that can be done there is nothing to be priced first.
    return Basis.WORTH if any(map(is_priced, done)) or not done else Basis.OUTPUT_NOT_PRICED


def _may_lead(each: _Held, basis: Basis) -> bool:
    return basis is not Basis.WORTH or is_priced(each.answer)


def _is_waited_for(answer: Answer, base: Answer) -> bool:
    return answer.likely is None and answer.figures is not None and base.figures is not None


def _lead(
    known: Sequence[_Held],
) -> tuple[Conclusion, tuple[_Held, ...], tuple[_Held, ...]]:
    """How it ends, who comes first, and who is as good and takes more."""
    if not known:
        return Conclusion.NONE, (), ()
    ahead = max(known, key=lambda each: each.value[1])
    group = [each for each in known if each.value[2] >= ahead.value[0]]
    if len(group) == 1:
        return Conclusion.BEST, (ahead,), ()
    group.sort(key=lambda each: -each.value[1])
    if not all(is_priced(each.answer) for each in group):
        return Conclusion.ALIKE, tuple(group), ()
    least = min(map(_takes, group))
    first = tuple(each for each in group if _takes(each) < least + _A_UNIT)
    more = tuple(each for each in group if each not in first)
    return Conclusion.ALIKE if first[1:] else Conclusion.CHEAPER, first, more


_A_UNIT = 1.0
"""Of the currency; what differs by less is told as the same amount."""


def _takes(each: _Held) -> float:
    assert each.answer.money is not None
    return each.answer.money.more_capital


def _in_order(held: Sequence[_Held], first: Sequence[_Held]) -> tuple[Alternative, ...]:
    """The first ones first, then the better ones, and those that are not feasible last."""

    def place(each: _Held) -> tuple[bool, bool, bool, float]:
        it = each.alternative
        value = 0.0 if it.value is None else it.value[1]
        return each not in first, not it.is_feasible, not it.is_better, -value

    return tuple(each.alternative for each in sorted(held, key=place))


# -- one alternative ---------------------------------------------------------------------------


def _judged(id_: str, answer: Answer, base: Answer, basis: Basis) -> Alternative:
    # What it returns is looked for by trying, so that it is worked out once.
    returns = answer.likely_money
    value = _value(answer, basis, returns)
    against = (
        *_blocked(answer),
        *_of_gain(answer, basis, value, returns),
        *([Against.NOT_PRICED] if answer.money is not None and not is_priced(answer) else []),
        *_beside(answer, base),
    )
    return Alternative(id_, against, value, returns)


def _value(answer: Answer, basis: Basis, likely: LikelyReturns | None) -> Range | None:
    if basis is Basis.WORTH:
        if likely is None:
            return None
        ends = likely.low, likely.middle, likely.high
        low, middle, high = (end.net_present_value for end in ends)
        return low, middle, high
    return None if answer.likely is None else answer.likely.saleable


def _blocked(answer: Answer) -> tuple[Against, ...]:
    """What of it cannot be done as it is entered."""
    plan = answer.plan
    holds = {
        Against.NOTHING_RUN: answer.figures is None,
        Against.NOT_MADE: any(part.unmade is not None for part in plan.parts),
        Against.STANDS_FOR_GOOD: any(isinstance(each, NobodyRepairs) for each in plan.warnings),
    }
    return tuple(against for against, is_so in holds.items() if is_so)


def _of_gain(
    answer: Answer, basis: Basis, value: Range | None, likely: LikelyReturns | None
) -> tuple[Against, ...]:
    """What is wrong with what it brings: of the year's money where there is any, or of output."""
    if answer.figures is None or answer.likely is None:
        return ()
    year = None if likely is None else likely.year_gain
    if value is None or (answer.money is not None and year is None):
        # Without a range it cannot be told from nothing.
        return (Against.NOT_CLEAR,)
    if basis is not Basis.WORTH:
        # Who earns less a year for it is no better with more output.
        found = None if year is None else _no_gain(year)
        return tuple(filter(None, (found or _no_gain(value),)))
    assert year is not None
    found = _no_gain(year)
    is_worth = is_clear(value) and value[0] > 0
    if found in (Against.NOT_CLEAR, Against.LESS):
        return (found,)
    # Whatever frees money and loses nothing is worth that.
    return () if is_worth else (found or Against.NOT_BACK,)


def _no_gain(gain: Range) -> Against | None:
    """What speaks against a gain by its range; None where it clearly is one."""
    if is_nothing(gain):
        return Against.NO_GAIN
    if not is_clear(gain):
        return Against.NOT_CLEAR
    return Against.LESS if gain[2] < 0 else None


def _beside(answer: Answer, base: Answer) -> tuple[Against, ...]:
    """What is to be known of it, be its gain ever so clear."""
    problems = {each.kind for each in answer.plan.warnings if isinstance(each, Problem)}
    late, before = (
        sum(order.late > 0 for order in each.orders.values()) for each in (answer, base)
    )
    holds = {
        Against.ORDERS_LATE: late > before,
        Against.FEWER_FIT: any(isinstance(each, LoadedFewer) for each in answer.plan.warnings),
        Against.TOOL_PLACES: ProblemKind.TOO_FEW_TOOL_PLACES in problems,
        Against.GAP_LAID: answer.laid_gap is not None,
        Against.DRIFTS: answer.drift is not None,
        Against.SAID_DIFFERS: answer.said is not None and answer.said.differs,
    }
    return tuple(against for against, is_so in holds.items() if is_so)
