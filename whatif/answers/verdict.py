"""Which alternative comes first, and what stands in the way of each (rule `verdict.first`)."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import field, replace
from enum import Enum, auto
from typing import TYPE_CHECKING, Final, NamedTuple

from whatif.answers.again import Again, again_of
from whatif.answers.apart import falls_short
from whatif.answers.cautions import LEAST_ALONE, MoreAlone, begins_alone, hours_alone, more_alone
from whatif.answers.choice import AheadBy, chosen
from whatif.answers.gains import is_clear, is_nothing, lies_outside
from whatif.answers.limits import is_all_met
from whatif.answers.money.shorter import SHORTENED, Shorter, is_paid_for, shorter_times
from whatif.answers.money.year import prices_of
from whatif.answers.takes import A_UNIT, Takes, takes_of
from whatif.answers.turning import Turn, turn_of
from whatif.plan.model import LoadedFewer, NobodyRepairs
from whatif.records import dataclass
from whatif.study.problem import Problem, ProblemKind

if TYPE_CHECKING:
    from fractions import Fraction

    from whatif.answers.answer import Answer
    from whatif.answers.money.returns import LikelyReturns
    from whatif.answers.ranks import Range
    from whatif.plan.model import Plan


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
    MOST = auto()
    """One clearly brings most, and whether it is worth what it takes is not known."""
    CHOSEN = auto()
    """Several cannot be told apart, and one of them is ahead by what it brings and takes."""
    ALIKE = auto()
    """Several cannot be told apart, by what they take neither."""
    NONE = auto()
    """None is clearly better than the reference."""
    WAITING = auto()
    """A likely range, or what hour meters leave a gain, is still to be found."""
    NOTHING_TO_COMPARE = auto()
    """There is no other scenario than the reference."""


class Against(Enum):
    """What stands in an alternative's way, what weighs most first (rule `verdict.way`)."""

    NOTHING_RUN = auto()
    NOT_MADE = auto()
    STANDS_FOR_GOOD = auto()
    CHANGES_NOTHING = auto()
    """It enters nothing of its own (any more), and stands as what it is based on: no choice."""
    OTHER_RATES = auto()
    """Its money is counted by other rates than the reference's, and money decides."""
    OTHER_DEMAND = auto()
    """Other amounts are wanted than in the reference: what it brings may be sales alone."""
    LESS = auto()
    """It clearly brings less than the reference."""
    NO_GAIN = auto()
    NOT_CLEAR = auto()
    NOT_BACK = auto()
    """What it takes does not clearly come back within the years counted."""
    NOT_PRICED = auto()
    CYCLE_NOT_PRICED = auto()
    """A cycle is shorter than in the reference, and nothing is laid out for it."""
    WORK_NOT_PRICED = auto()
    """Work takes less time, or a load holds more, and nothing is laid out for it."""
    ORDERS_LATE = auto()
    """More real orders are late than in the reference."""
    LONE_WORK = auto()
    """One person is alone for longer, or leaves more running with nobody there."""
    RUNS_ALONE = auto()
    """Pieces are begun with nobody there."""
    FEWER_FIT = auto()
    MISFITS = auto()
    """A part does not fit a machine as it would in the reference, or that is new here."""
    TOOL_PLACES = auto()
    GAP_LAID = auto()
    DRIFTS = auto()
    SAID_DIFFERS = auto()
    STILL_ALONE = auto()
    """One person is alone with running machines, no longer than in the reference."""


NOT_FEASIBLE: Final = frozenset({Against.NOTHING_RUN, Against.NOT_MADE, Against.STANDS_FOR_GOOD})
"""What no gain outweighs: as it is entered it cannot be done."""

_NOT_RANKED: Final = frozenset({Against.CHANGES_NOTHING, Against.OTHER_RATES, Against.OTHER_DEMAND})
"""Why it cannot be held against the others at all."""

_NO_BETTER: Final = (
    NOT_FEASIBLE
    | _NOT_RANKED
    | {
        Against.LESS,
        Against.NO_GAIN,
        Against.NOT_CLEAR,
        Against.NOT_BACK,
    }
)


@dataclass(frozen=True, slots=True)
class Alternative:
    """A scenario beside the reference.

    Attributes:
        against: what stands in its way, what weighs most first.
        returns: what its money lies between; None without money, and while ranges are missing.
        value: what it is judged by, as low end, what leads (as typed, or the middle where that
            lies outside) and high end: an amount of money today or percent of saleable output, as
            the basis says; None where there is none.
        likely: its saleable gain, wide enough for both readings of the hour meters.
        takes: None where nothing is simulated.
        is_met: whether all that is wanted is made, with no part lacking what would be told.
        again: which one it is again, so that it is no other choice; None where it is none.
    """

    scenario: str
    against: tuple[Against, ...]
    value: Range | None
    returns: LikelyReturns | None = None
    likely: Range | None = None
    takes: Takes | None = None
    is_met: bool = False
    again: Again | None = None

    @property
    def same_as(self) -> str:
        """Which one it is again; "" where it is none."""
        return "" if self.again is None else self.again.scenario

    @property
    def is_feasible(self) -> bool:
        """Whether it can be done as it is entered."""
        return NOT_FEASIBLE.isdisjoint(self.against)

    @property
    def is_ranked(self) -> bool:
        """Whether it can be held against the others at all, and stands by rank among them."""
        return _NOT_RANKED.isdisjoint(self.against)

    @property
    def is_better(self) -> bool:
        """Whether it is clearly better than the reference, if what lacks a price costs nothing."""
        return self.value is not None and _NO_BETTER.isdisjoint(self.against)


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a comparison comes to.

    Attributes:
        first: who comes first: one of `BEST`, `MOST` and `CHOSEN`, several of `ALIKE`, else none.
        as_good: whose gains cannot be told from those of the first.
        ahead: of which most is told among those that are better than the reference; "" for none.
        short: by how much those whose ranges overlap that of the one ahead are clearly less, in
            what decides.
        may_be: which have no price for all that they take, and may come first or not.
        alternatives: all of them, the first ones first, those that are not feasible last, and
            behind them, in no order, those that cannot be held against the others.
        choice: by what the first one is ahead of those that are as good.
        for_less: where output alone decides, what brings most of those that take less than the
            first; "" where none does.
        turn: where money decides, what would make the first one first no longer; else None.
    """

    reference: str
    basis: Basis
    conclusion: Conclusion
    first: tuple[str, ...] = ()
    as_good: tuple[str, ...] = ()
    ahead: str = ""
    short: Mapping[str, Range] = field(default_factory=dict)
    may_be: tuple[str, ...] = ()
    alternatives: tuple[Alternative, ...] = ()
    choice: AheadBy | None = None
    for_less: str = ""
    turn: Turn | None = None


class _Held(NamedTuple):
    """An alternative and its answer."""

    alternative: Alternative
    answer: Answer
    basis: Basis

    @property
    def id(self) -> str:
        return self.alternative.scenario

    @property
    def value(self) -> Range:
        assert self.alternative.value is not None
        return self.alternative.value

    @property
    def worth(self) -> float | None:
        return self.value[1] if self.basis is Basis.WORTH else None

    @property
    def takes(self) -> Takes:
        assert self.alternative.takes is not None
        return self.alternative.takes


def verdict_of(
    answers: Mapping[str, Answer], reference: str, scenarios: Collection[str] = ()
) -> Verdict:
    """Judge the answers that there are; the reference's must be among them.

    Args:
        scenarios: that are to be judged, all where none are named; nothing is said before each of
            them is answered.
    """
    base = answers[reference]
    judged = set(scenarios or answers) - {reference}
    others = {id_: answer for id_, answer in answers.items() if id_ in judged}
    today = answers.get(prices_of(base.plan).today, base)
    basis = _basis(base, tuple(others.values()), today)
    missing = set(scenarios) - set(answers)
    if not others and not missing:
        return Verdict(reference, basis, Conclusion.NOTHING_TO_COMPARE)
    if missing or any(_is_waited_for(answer, base) for answer in others.values()):
        in_order = tuple(
            Alternative(
                id_, (*_blocked(answer), *_beside(answer, base)), None, likely=answer.judged
            )
            for id_, answer in others.items()
        )
        return Verdict(reference, basis, Conclusion.WAITING, alternatives=in_order)
    held = [
        _Held(_judged(id_, answer, base, today, basis), answer, basis)
        for id_, answer in others.items()
    ]
    again = again_of(
        (each.id, each.answer, each.alternative.takes)
        for each in held
        if not each.answer.plan.same_as
    )
    held = [
        each._replace(alternative=replace(each.alternative, again=again.get(each.id)))
        for each in held
    ]
    better = {each.id: each for each in held if each.alternative.is_better}
    known = [
        each
        for each in better.values()
        if _may_lead(each, basis) and each.alternative.same_as not in better
    ]
    found = _lead(known, basis)
    first = {each.id for each in found.first}
    leads = {each.id for each in known}
    return Verdict(
        reference,
        basis,
        found.conclusion,
        tuple(each.id for each in found.first),
        tuple(each.id for each in found.as_good),
        found.ahead,
        found.short,
        tuple(
            id_
            for id_, each in better.items()
            if id_ not in leads
            and not _may_lead(each, basis)
            and each.alternative.same_as not in better
            and (not first or each.value[2] >= found.first[0].value[0])
        ),
        _in_order(held, first, basis),
        found.choice,
        _for_less(found, known, basis),
        _turn(found, known, basis),
    )


def is_priced(answer: Answer) -> bool:
    """Whether all that would make it dearer has a price."""
    money = answer.money
    return money is not None and not money.is_bare and money.lean in ("none", "better")


def shorter_for_nothing(answer: Answer, base: Answer, today: Answer) -> tuple[Shorter, ...]:
    """What takes less time than in the reference, and nothing is laid out for it."""
    found = shorter_times(answer.plan, base.plan, today.plan)
    if not found:
        return ()
    takes = takes_of(answer, base, today)
    more = 0.0 if takes is None else takes.one_off
    is_paid = is_paid_for(more, prices_of(answer.plan), prices_of(base.plan))
    return () if is_paid else found


def shorter_cycles(answer: Answer, base: Answer, today: Answer) -> tuple[str, ...]:
    """Parts whose cycle is shorter than in the reference, for nothing that is laid out."""
    return next(
        (each.parts for each in shorter_for_nothing(answer, base, today) if each.what == "cycle"),
        (),
    )


def _wants_other(here: Plan, there: Plan) -> bool:
    """Whether other amounts are sold of what both have, by other orders, or more or fewer parts.

    What an operation before another needs follows the scrap of that one and is no demand; and
    parts that are others altogether may be the same ones made in another way.
    """
    mine, theirs = _sold(here), _sold(there)
    if any(mine[id_] != theirs[id_] for id_ in mine.keys() & theirs.keys()):
        return True
    if mine.keys() < theirs.keys() or mine.keys() > theirs.keys():
        return True
    asked, before = (
        {(each.id, each.pieces, each.due) for each in plan.orders} for plan in (here, there)
    )
    return asked != before


def _sold(plan: Plan) -> dict[str, Fraction]:
    """Pieces wanted a week of the parts after which no other comes."""
    return {part.id: part.weekly for part in plan.parts if part.id not in plan.followed}


def _basis(base: Answer, others: Sequence[Answer], today: Answer) -> Basis:
    if base.money is None:
        return Basis.OUTPUT_NO_MONEY
    if not base.money.terms.years:
        return Basis.OUTPUT_NO_YEARS
    done = [
        other
        for other in others
        if not NOT_FEASIBLE & set(_blocked(other))
        and not _wants_other(other.plan, base.plan)
        and not shorter_cycles(other, base, today)
    ]
    # Of none that can be done there is nothing to be priced first.
    return Basis.WORTH if any(map(is_priced, done)) or not done else Basis.OUTPUT_NOT_PRICED


def _lacks_prices(answer: Answer) -> bool:
    """Whether more is not priced than what takes less time, which is told by itself."""
    money = answer.money
    if money is None or is_priced(answer):
        return False
    what = {each.what for each in money.not_priced}
    is_shorter, others = not what.isdisjoint(SHORTENED), what - {"wage", *SHORTENED}
    return not is_shorter or bool(others) or money.leans.year_gain in ("worse", "either")


def _may_lead(each: _Held, basis: Basis) -> bool:
    if Against.CYCLE_NOT_PRICED in each.alternative.against:
        return False
    return basis is not Basis.WORTH or is_priced(each.answer)


def _is_waited_for(answer: Answer, base: Answer) -> bool:
    if answer.figures is None or base.figures is None:
        return False
    return answer.likely is None or answer.is_gap_awaited


class _Lead(NamedTuple):
    """How it ends, who comes first and by what, and who is as good."""

    conclusion: Conclusion
    first: tuple[_Held, ...] = ()
    as_good: tuple[_Held, ...] = ()
    ahead: str = ""
    short: Mapping[str, Range] = {}
    choice: AheadBy | None = None


def _lead(known: Sequence[_Held], basis: Basis) -> _Lead:
    if not known:
        return _Lead(Conclusion.NONE)
    ahead = max(known, key=lambda each: each.value[1])
    reach = [each for each in known if each.value[2] >= ahead.value[0]]
    short = _short_of(ahead, reach, basis)
    group = [each for each in reach if each.id not in short]
    if len(group) == 1:
        is_best = basis in (Basis.WORTH, Basis.OUTPUT_NO_YEARS) or ahead.takes.takes_nothing
        conclusion = Conclusion.BEST if is_best else Conclusion.MOST
        return _Lead(conclusion, (ahead,), (), ahead.id, short)
    group.sort(key=lambda each: -each.value[1])
    choice, first = chosen(group)
    ids = {each.id for each in first}
    others = tuple(each for each in group if each.id not in ids)
    conclusion = Conclusion.ALIKE if first[1:] else Conclusion.CHOSEN
    return _Lead(conclusion, first, others, ahead.id, short, choice)


def _short_of(ahead: _Held, others: Sequence[_Held], basis: Basis) -> dict[str, Range]:
    """By how much others are less than the one ahead, those alone that clearly are."""
    found = {
        each.id: falls_short(each.answer, ahead.answer, is_worth=basis is Basis.WORTH)
        for each in others
        if each is not ahead
    }
    return {id_: less for id_, less in found.items() if less is not None}


def _for_less(found: _Lead, known: Sequence[_Held], basis: Basis) -> str:
    """Where output alone decides, what brings most of those that take less than the first."""
    if basis not in (Basis.OUTPUT_NO_MONEY, Basis.OUTPUT_NOT_PRICED) or not found.first:
        return ""
    equal = {each.id for each in (*found.first, *found.as_good)}
    less = [
        each
        for each in known
        if each.id not in equal and _is_less(each.takes, found.first[0].takes)
    ]
    return max(less, key=lambda each: each.value[1]).id if less else ""


def _turn(found: _Lead, known: Sequence[_Held], basis: Basis) -> Turn | None:
    """What would turn it, where money decides and one alone is first by it."""
    is_by_worth = found.conclusion is Conclusion.BEST or found.choice is AheadBy.WORTH
    if basis is not Basis.WORTH or len(found.first) != 1 or not is_by_worth:
        return None
    first, money = found.first[0], found.first[0].answer.money
    # What is freed and loses nothing is better without a low end above 0.
    if money is None or first.value[0] <= 0:
        return None
    others = {each.id: each.value for each in known if each is not first}
    if found.as_good:
        ahead = {id_: first.value[1] - leads for id_, (_, leads, _) in others.items()}
    else:
        short = _short_of(first, known, basis)
        # It is told from another by either.
        ahead = {
            id_: max(first.value[0] - high, short[id_][0] if id_ in short else 0.0)
            for id_, (_, _, high) in others.items()
        }
    return turn_of(first.value[0], ahead, money.terms, is_alone=not found.as_good)


def _is_less(takes: Takes, than: Takes) -> bool:
    """Whether it takes less: of money where all is priced, else of nothing more, and something."""
    if takes.is_priced and than.is_priced:
        return takes.over_years < than.over_years - A_UNIT
    here, there = (
        (round(each.paid_hours, 1), each.people, each.buys_unpriced) for each in (takes, than)
    )
    return here != there and all(a <= b for a, b in zip(here, there, strict=True))


def _in_order(
    held: Sequence[_Held], first: Collection[str], basis: Basis
) -> tuple[Alternative, ...]:
    """The first ones first, then the better ones, those not feasible last, then the unranked.

    Among them what brings more of what all are judged by stands before what brings less, of equals
    what takes less, and what is another one again stands behind that.
    """
    known = [each for each in held if each.alternative.takes is not None]
    is_cost = basis is Basis.WORTH or all(each.takes.is_priced for each in known)

    def place(each: _Held) -> tuple[object, ...]:
        it = each.alternative
        if not it.is_ranked:
            return (True,)
        return (
            False,
            each.id not in first,
            not it.is_feasible,
            not it.is_better,
            it.value is None,
            0.0 if it.value is None else -it.value[1],
            _dear(it.takes, is_cost=is_cost),
        )

    in_order = sorted(held, key=place)
    behind: dict[str, list[Alternative]] = {}
    for each in in_order:
        behind.setdefault(each.alternative.same_as, []).append(each.alternative)
    return tuple(
        beside
        for alone in behind.get("", ())
        for beside in (alone, *behind.get(alone.scenario, ()))
    )


def _dear(takes: Takes | None, *, is_cost: bool) -> tuple[float, ...]:
    """How dear it is: by what it costs, or else by hours and people; the unpriced last."""
    if takes is None:
        return (float("inf"),)
    if is_cost:
        return not takes.is_priced, takes.over_years
    return round(takes.paid_hours, 1), takes.people, takes.buys_unpriced


# -- one alternative ---------------------------------------------------------------------------


def _judged(id_: str, answer: Answer, base: Answer, today: Answer, basis: Basis) -> Alternative:
    likely = answer.judged
    # What it returns is looked for by trying, so that it is worked out once.
    returns = None if answer.money is None else answer.likely_money
    value = _value(basis, answer, returns, likely)
    for_nothing = {each.what for each in shorter_for_nothing(answer, base, today)}
    is_unlike = basis is Basis.WORTH and answer.money is not None and answer.money.unlike
    against: tuple[Against, ...] = (
        *_blocked(answer),
        *([Against.OTHER_RATES] if is_unlike else []),
        *([Against.OTHER_DEMAND] if _wants_other(answer.plan, base.plan) else []),
        *_of_gain(answer, basis, value, returns),
        *([Against.NOT_PRICED] if _lacks_prices(answer) else []),
        *([Against.CYCLE_NOT_PRICED] if "cycle" in for_nothing else []),
        *([Against.WORK_NOT_PRICED] if for_nothing - {"cycle"} else []),
        *_beside(answer, base),
    )
    if answer.plan.same_as:
        # What else is to be said of it is said of the one that it is based on.
        against = (Against.CHANGES_NOTHING,)
    return Alternative(
        id_,
        against,
        value,
        returns,
        likely,
        takes_of(answer, base, today),
        _is_met(answer),
    )


def _is_met(answer: Answer) -> bool:
    """Whether all is made: one order that is short of it holds nothing back, and is lacking yet."""
    held = answer.held_back
    least = None if answer.figures is None else answer.figures.least_met
    return held is not None and held.is_demand_met and (least is None or is_all_met(least))


def _value(
    basis: Basis, answer: Answer, returns: LikelyReturns | None, likely: Range | None
) -> Range | None:
    """The ends of what it is judged by, and between them what leads wherever it is told."""
    if basis is Basis.WORTH:
        if returns is None or answer.money is None:
            return None
        leads = answer.money.leading(returns).net_present_value
        return returns.low.net_present_value, leads, returns.high.net_present_value
    if likely is None or answer.gains is None:
        return likely
    low, middle, high = likely
    gain = answer.gains.saleable
    return low, middle if gain is None or lies_outside(gain, likely) else gain, high


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


def is_alone_less(answer: Answer, base: Answer) -> bool:
    """Whether one person is alone for fewer hours a week than in the reference."""
    here, there = answer.plan.cell, base.plan.cell
    if here is None or there is None:
        return False
    return hours_alone(there) - hours_alone(here) >= LEAST_ALONE


def alone_more(answer: Answer, base: Answer) -> MoreAlone:
    """How much more one person is alone than in the reference."""
    return more_alone(answer.plan, answer.figures, base.plan, base.figures)


def more_misfits(answer: Answer, base: Answer) -> tuple[tuple[str, str], ...]:
    """Parts that are made, with the machine groups that they do not fit and would in the base."""
    made = {part.id for part in answer.plan.parts if part.unmade is None}
    there = base.plan.misfits
    return tuple(each for each in answer.plan.misfits if each[0] in made and each not in there)


def _beside(answer: Answer, base: Answer) -> tuple[Against, ...]:
    """What is to be known of it, be its gain ever so clear."""
    problems = {each.kind for each in answer.plan.warnings if isinstance(each, Problem)}
    late, before = (
        sum(order.late > 0 for order in each.orders.values()) for each in (answer, base)
    )
    runs = answer.figures is not None and answer.figures.spindle.total > 0
    cell, more = answer.plan.cell, alone_more(answer, base)
    holds = {
        Against.ORDERS_LATE: late > before,
        Against.LONE_WORK: bool(more),
        Against.RUNS_ALONE: runs and begins_alone(answer.plan),
        Against.FEWER_FIT: any(isinstance(each, LoadedFewer) for each in answer.plan.warnings),
        Against.MISFITS: bool(more_misfits(answer, base)),
        Against.TOOL_PLACES: ProblemKind.TOO_FEW_TOOL_PLACES in problems,
        Against.GAP_LAID: answer.laid_gap is not None,
        Against.DRIFTS: answer.drift is not None,
        Against.SAID_DIFFERS: answer.said_differs,
        Against.STILL_ALONE: runs and cell is not None and hours_alone(cell) > 0 and not more,
    }
    return tuple(against for against, is_so in holds.items() if is_so)
