"""What a comparison comes to, in words: a line an alternative, who comes first, and why."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from whatif.answers.choice import AheadBy
from whatif.answers.gains import is_clear
from whatif.answers.limits import is_all_met
from whatif.answers.money.year import prices_of
from whatif.answers.turning import Then
from whatif.answers.verdict import (
    Against,
    Alternative,
    Basis,
    Conclusion,
    Verdict,
    is_alone_less,
)
from whatif.records import dataclass
from whatif.telling.amounts import (
    grouped,
    listed,
    priced,
    result_told,
    rounded,
    to_four_figures,
    to_two_figures,
)
from whatif.telling.cautions import LONE_WORK_IN_SHORT
from whatif.telling.gain_texts import leading_range_text
from whatif.telling.limits import met_percent, no_time_left_sentence
from whatif.telling.meeting.lines import (
    RUNS_ALONE,
    AlternativeLine,
    again_words,
    against_words,
    alternative_line,
)
from whatif.telling.meeting.sold import floor_beside_words, floor_words, sold_words
from whatif.telling.meeting.takes import costs_words, people_words
from whatif.telling.meters import DECIDES, gain_by_meters, laid_words
from whatif.telling.money.ranges import amounts
from whatif.telling.money.rests import not_priced_words, rests_sentence
from whatif.telling.warnings import said_warning

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.answers.money.money import MoneyFigures

_SPACE = "\u00a0"

_NAMED = 3
"""Alternatives that are named one by one."""


@dataclass(frozen=True, slots=True)
class VerdictTold:
    """All that the meeting begins with.

    Attributes:
        lead: who comes first, or that none does.
        why: one sentence, "" where there is nothing to add.
        word: by which the first ones are marked.
        lines: of every alternative, the first ones first.
        order: what they are ordered by, "" while that is not known.
        apart: what stands above the lines that are not ranked.
        currency: of the amounts.
        is_money: whether what is sold is money too.
        is_by_hours: whether some take hours that have no wage.
        rests: what it rests on, a sentence each.
        turned: how many of these, the first ones, end with what would turn it.
        alone: where one person is alone or machines run with nobody there, "" for nowhere; it
            stands in the lines too.
        amounts: pieces sold and floor, a sentence each; the results say both too.
        floor_beside: what stands in the place of the last of these where floor has a column; ""
            where a column would tell nothing.
        untried: which two were not tried together, else that nothing else was compared, and how to
            try more; "" where nothing is compared.
    """

    lead: str
    why: str
    word: str
    lines: tuple[AlternativeLine, ...]
    order: str
    apart: str
    currency: str
    is_money: bool
    is_by_hours: bool
    rests: tuple[str, ...]
    turned: int = 0
    alone: str = ""
    amounts: tuple[str, ...] = ()
    floor_beside: str = ""
    untried: str = ""

    def rests_with(self, tried: str) -> tuple[str, ...]:
        """The same with how it ends under doubts, beside what would turn it."""
        return tuple(filter(None, (*self.rests[: self.turned], tried, *self.rests[self.turned :])))


def verdict_told(
    found: Verdict,
    answers: Mapping[str, Answer],
    titles: Mapping[str, str],
    assumed: Collection[str] = (),
    units: str = "metric",
    apart: tuple[str, str] | None = None,
) -> VerdictTold:
    """A verdict in words; ``titles`` by scenario.

    Args:
        assumed: which of "rate" and "years" nobody has entered.
        units: what areas are told in, "metric" or "inch".
        apart: two that change different things and are in no scenario together.
    """
    teller = _Teller(found, answers, titles, assumed, units)
    base = answers[found.reference]
    turns, rests = (tuple(filter(None, each)) for each in (teller.turns(), teller.rests()))
    return VerdictTold(
        lead=teller.lead(),
        why=teller.why(),
        word=_MARKS.get(found.conclusion, "first"),
        lines=tuple(map(teller.line, found.alternatives)),
        order=teller.order(),
        apart=teller.apart(),
        currency=prices_of(base.plan).currency,
        is_money=base.money is not None,
        is_by_hours=teller.is_by_hours,
        rests=turns + rests,
        turned=len(turns),
        alone=teller.alone(),
        amounts=teller.amounts(),
        floor_beside=teller.floor_beside(),
        untried=teller.untried(apart),
    )


_TOGETHER: Final = (
    "Not tried together: {0} and {1}, which change different things; what both bring is not known. "
    "To try it: Esc, a on one makes a scenario based on it, to enter the other's values in; or F6, "
    "what would do it?"
)

_ONLY_THESE: Final = (
    'Only what stands here was compared: F6, "what would do it?" tries levers that no scenario '
    "has, alone and together."
)

_RUSH_APART: Final = (
    "How soon rush jobs are off is not weighed here, and may get worse with what is best: F6, "
    "orders and rush jobs."
)

_ORDERS: Final = {True: "most worth first", False: "most output first"}
_NO_GO_LAST: Final = {True: "most worth, no-go last", False: "most output, no-go last"}
"""The same where some cannot be done, and stand last whatever they are worth."""
_BY_RANK: Final = "ranked by the verdict"
"""Where the figures that are shown do not stand in that order: ranges decide, and who is better."""

_MARKS: Final = {Conclusion.BEST: "best", Conclusion.CHOSEN: "best", Conclusion.MOST: "most"}
"""The word that the first one is marked by."""


class _Teller:
    """Tells one verdict."""

    def __init__(
        self,
        found: Verdict,
        answers: Mapping[str, Answer],
        titles: Mapping[str, str],
        assumed: Collection[str],
        units: str,
    ) -> None:
        self._found, self._answers, self._titles = found, answers, titles
        self._assumed, self._units = assumed, units
        self._is_by_hours = any(
            it.takes is not None and it.takes.is_wage_open for it in found.alternatives
        )
        self._base = answers[found.reference]
        self._by_id = {it.scenario: it for it in found.alternatives}

    # -- who comes first -------------------------------------------------------------------

    def lead(self) -> str:
        """The verdict in a few words."""
        first = self._names(self._found.first)
        match self._found.conclusion:
            case Conclusion.BEST:
                return f"Best{self._of_these}: {first}"
            case Conclusion.MOST:
                return f"Brings most{self._of_these}: {first}"
            case Conclusion.CHOSEN:
                return f"Best{self._of_these} by a little: {first}"
            case Conclusion.ALIKE:
                return f"No single best: {first}"
            case Conclusion.NONE if not any(it.is_ranked for it in self._found.alternatives):
                if not self._apart_by(Against.OTHER_DEMAND) + self._apart_by(Against.OTHER_RATES):
                    return "None of these: no alternative changes anything"
                if self._apart_by(Against.OTHER_DEMAND):
                    return f"No ranking: no alternative has the demand of {self._reference}"
                return "No ranking: each alternative is counted by other rates"
            case Conclusion.NONE:
                return "None of these: no alternative is clearly better"
            case Conclusion.WAITING:
                return "No verdict so far: figures are still being worked out ..."
            case Conclusion.NOTHING_TO_COMPARE:
                return "There is no alternative yet"

    @property
    def _of_these(self) -> str:
        """What was not compared may be better."""
        return " of these" if self._found.alternatives[1:] else ""

    def untried(self, apart: tuple[str, str] | None) -> str:
        """Which two were not tried together, else that nothing but these was compared."""
        if apart is not None:
            return _TOGETHER.format(*(self._titles[id_] for id_ in apart))
        nothing = {Conclusion.WAITING, Conclusion.NOTHING_TO_COMPARE}
        return "" if self._found.conclusion in nothing else _ONLY_THESE

    def why(self) -> str:
        """Why, in a sentence."""
        found = self._found
        match found.conclusion:
            case Conclusion.BEST:
                return f"{self._is_likely(found.first[0])}{self._others_do()}.{self._it_takes()}"
            case Conclusion.MOST:
                return f"{self._is_likely(found.first[0])}{self._others_do()}.{self._for_less()}"
            case Conclusion.CHOSEN:
                return self._chosen()
            case Conclusion.ALIKE:
                equal = (*found.first, *found.as_good)
                met = self._all_meet(equal) or self._all_meet(found.first)
                met = met or self._who_meets(found.first)
                begins = f"{met[0].upper()}{met[1:]}. " if met else ""
                text = f"{begins}{self._overlap()}{self._is_as_dear()}.{self._less()}"
                return f"{text}{self._short_too()}"
            case Conclusion.NONE:
                return self._none()
            case Conclusion.WAITING:
                return "It needs the likely range of every gain, and what hour meters leave it."
            case Conclusion.NOTHING_TO_COMPARE:
                return "Esc goes back to the sheet, where e makes another scenario."

    def _is_likely(self, id_: str) -> str:
        if self._found.basis is Basis.WORTH:
            return f"It is likely to be worth {self._value(id_)} today ({self._terms(id_)})"
        return f"Its saleable output is likely {self._value(id_)} against {self._reference}"

    def _terms(self, id_: str) -> str:
        """What worth today is worked out with, and what of it nobody has entered."""
        terms = self._money(id_).terms
        rate, years = f"{100 * terms.rate:g} %", f"{terms.years:g} years"
        said = [text for key, text in (("rate", rate), ("years", years)) if key in self._assumed]
        assumed = "both assumed" if said[1:] else f"{said[0]} assumed" if said else ""
        return ", ".join(filter(None, (f"{years} at {rate} a year", assumed)))

    def _all_meet(self, ids: Sequence[str]) -> str:
        """That demand is met by all of those that cannot be told apart; "" where it is not."""
        if not all(self._by_id[id_].is_met for id_ in ids):
            return ""
        return "both meet the demand" if len(ids) == _TWO else "all of these meet the demand"

    def _meeting(self) -> str:
        """Which of those that cannot be told apart meet the demand, behind their names."""
        ids = (*self._found.first, *self._found.as_good)
        if met := self._all_meet(ids):
            return f": {met}, and they differ in what they take"
        first, *others = ids
        said, short = self._who_meets(ids), self._made(first)
        if not said or self._by_id[first].is_met:
            return f": {said}" if said else ""
        if any(self._by_id[id_].is_met for id_ in others):
            lacks = (
                "does not" if short is None else f"makes {met_percent(short)} % of {_BEHIND_MOST}"
            )
            return f": {said}; {self._titles[first]} {lacks}"
        made = list(filter(None, map(self._made, others)))
        if short is None or not made or max(made) - short < _FAR_BEHIND:
            return f": {said}"
        ends = dict.fromkeys(map(met_percent, (min(made), max(made))))
        return (
            f": {said}; of {_BEHIND_MOST} {self._titles[first]} makes {met_percent(short)} %, "
            f"{'the others' if others[1:] else self._titles[others[0]]} {' to '.join(ends)} %"
        )

    def _made(self, id_: str) -> float | None:
        """Percent made of the part furthest behind; None where that is all, or not known."""
        figures = self._answers[id_].figures
        least = None if figures is None else figures.least_met
        return None if is_all_met(least) else least

    def _who_meets(self, ids: Sequence[str]) -> str:
        """Who of several meets the demand: some, all but the first, or none; "" if not known."""
        met = [id_ for id_ in ids if self._by_id[id_].is_met]
        of = "the two" if len(ids) == _TWO else "these"
        if not met:
            if any(self._made(id_) is None for id_ in ids):
                return ""
            return f"{'neither' if len(ids) == _TWO else 'none of these'} meets all of the demand"
        if len(met) == 1:
            return f"of {of} only {self._titles[met[0]]} meets the demand"
        if self._found.conclusion is Conclusion.CHOSEN and met == list(ids[1:]):
            return f"{'both' if len(met) == _TWO else 'all of these'} meet the demand"
        return f"of these {self._names(met)} meet the demand"

    def _own_drawback(self) -> str:
        """What weighs most of what speaks against the first and against none of its equals."""
        (id_,) = self._found.first
        of = self._by_id[id_]
        others = {each for as_good in self._found.as_good for each in self._by_id[as_good].against}
        own = tuple(each for each in of.against if each not in others)[:1]
        words = against_words(replace(of, against=own), self._answers[id_], self._base)
        return f" What speaks against it alone: {words[0]}." if words else ""

    def _chosen(self) -> str:
        """By what it cannot be told from others, and by what the first of equals is ahead."""
        (id_,), choice = self._found.first, self._found.choice
        # What it brings is another figure, and may differ by far.
        is_worth = self._found.basis is Basis.WORTH
        measure = "what each is worth today" if is_worth else "the output of each"
        apart = f"By {measure} it cannot be told from {self._names(self._found.as_good)}"
        apart += f"{self._meeting()}. "
        takes, own = f"takes {self._takes(id_)}", self._own_drawback()
        if choice is AheadBy.WORTH:
            text = f"{apart}{self._is_likely(id_)}{self._ahead()}. It {takes}.{own}"
            return f"{text}{self._short_too()}"
        words = {
            AheadBy.COST: "It costs least, one-off and over the years together",
            AheadBy.HOURS: "It has the fewest paid hours and people",
            AheadBy.NOTHING_BOUGHT: "Nothing that lacks a price has to be bought for it",
        }
        text = f"{apart}{words[choice or AheadBy.COST]}: it {takes}.{own}{self._less()}"
        return f"{text}{self._short_too()}"

    def _ahead(self) -> str:
        """By how much the first is ahead of the next one, by what the table says of both."""
        (id_,) = self._found.first
        others = self._found.as_good
        if not others:
            return ""
        second = max(others, key=self._led)
        # Of what the table has of both, which somebody subtracts.
        ahead = to_four_figures(self._led(id_)) - to_four_figures(self._led(second))
        if ahead <= 0:
            return ""
        amount = priced(ahead, self._money(id_).currency)
        return f", as typed {amount} more than {self._titles[second]}"

    def _led(self, id_: str) -> float:
        """What it is worth today, as its line tells it."""
        return self._money(id_).leading(self._by_id[id_].returns).net_present_value

    def _it_takes(self) -> str:
        return f" It takes {self._takes(self._found.first[0])}."

    def _for_less(self) -> str:
        """What the one that brings most takes, and what brings less for less."""
        (id_,) = self._found.first
        text = f" It takes {self._takes(id_)}"
        if self._is_dearest(id_):
            text = f"{text}: it brings most and takes most"
        return f"{text}.{self._less()}"

    def _less(self) -> str:
        """What brings less than the first, and takes less."""
        less = self._found.for_less
        if not less:
            return ""
        return f" {self._titles[less]} brings {self._value(less)} and takes {self._takes(less)}."

    def _is_dearest(self, id_: str) -> bool:
        """Whether no other one that is better takes as many hours or people."""
        takes = self._by_id[id_].takes
        others = [
            it.takes
            for it in self._found.alternatives
            if it.is_better and it.scenario != id_ and it.same_as != id_ and it.takes is not None
        ]
        if takes is None or not others or takes.takes_nothing:
            return False
        if takes.is_priced and all(each.is_priced for each in others):
            return takes.over_years > max(each.over_years for each in others)
        most = max((round(each.paid_hours, 1), each.people) for each in others)
        return (round(takes.paid_hours, 1), takes.people) > most

    def _value(self, id_: str) -> str:
        """What it is judged by, as its likely range."""
        value = self._by_id[id_].value
        assert value is not None
        if self._found.basis is not Basis.WORTH:
            return f"{leading_range_text(value, self._answers[id_].gains.saleable)} %"
        low = priced(to_four_figures(value[0]), self._money(id_).currency)
        return f"{low} to {result_told(value[2])}"

    def _overlap(self) -> str:
        values = [self._by_id[id_].value for id_ in self._found.first]
        if self._found.basis is Basis.WORTH:
            money = self._money(self._found.first[0])
            each = [f"{result_told(a)} to {result_told(b)}" for a, _, b in filter(None, values)]
            terms = self._terms(self._found.first[0])
            text = f"Their likely worth today overlaps ({terms}"
            return f"{text}; {money.currency}{_SPACE}{listed(each[:_NAMED])})"
        each = [f"{leading_range_text(value)} %" for value in values if value is not None]
        return f"Their likely ranges overlap ({listed(each[:_NAMED])})"

    def _others_do(self) -> str:
        """What keeps the others behind the best."""
        if not any(it.is_better for it in self._behind()):
            return f", and no other is clearly better than {self._reference}"
        if self._found.may_be:
            which = listed([self._titles[id_] for id_ in self._found.may_be[:_NAMED]])
            known = f", more than any other of known price ({which} may be better, see below)"
            return "; ".join(filter(None, (known, self._short())))
        if short := self._short():
            return f", more than any other: {short}"
        return ", more than any other: no other likely range reaches it"

    def _short_too(self) -> str:
        short = self._short()
        return f" {short[0].upper()}{short[1:]}." if short else ""

    def _short(self) -> str:
        """Whose ranges overlap that of the one ahead, and by how much they are less all the same.

        Whoever sees ranges that overlap would ask why these are not as good.
        """
        short, is_worth = self._found.short, self._found.basis is Basis.WORTH
        if not short:
            return ""
        each = []
        for id_ in list(short)[:_NAMED]:
            low, _, high = short[id_]
            if is_worth:
                less = f"worth {amounts(low, high, self._money(id_).currency)} less"
            else:
                less = f"{leading_range_text((low, low, high))} points less".replace("+", "")
            each.append(f"{self._titles[id_]} {'is' if is_worth else 'brings'} {less}")
        more = f", and {len(short) - _NAMED} more are less too" if len(short) > _NAMED else ""
        ahead = self._found.ahead
        than = "" if ahead in self._found.first[:1] else f" than {self._titles[ahead]}"
        ranges = "likely ranges overlap" if len(short) > 1 else "its likely range overlaps"
        return f"in the same draws {listed(each)}{more}{than}, though {ranges}"

    def _behind(self) -> list[Alternative]:
        apart = {*self._found.first, *self._found.may_be}
        return [
            it
            for it in self._found.alternatives
            if it.scenario not in apart and it.same_as not in self._found.first
        ]

    def _takes(self, id_: str) -> str:
        takes = self._by_id[id_].takes
        assert takes is not None
        return costs_words(takes, prices_of(self._base.plan).currency)

    def _is_as_dear(self) -> str:
        each = {self._takes(id_) for id_ in self._found.first}
        if len(each) == 1:
            return f", and each takes {each.pop()}: none can be told apart"
        return ", and by what they take none can be told apart either"

    def _none(self) -> str:
        """Why none comes first."""
        ones = self._found.alternatives
        said: list[str] = []
        for words, of in _BEHIND:
            names = [it.scenario for it in ones if (it.against or _OPEN)[0] in of]
            if names:
                said.append(f"{self._names(names)} {words[len(names) > 1]}")
        return f"{'; '.join(said)}." if said else ""

    # -- what it rests on ------------------------------------------------------------------

    def turns(self) -> list[str]:
        """By what it is judged, who is as good or stands apart, and what would turn it."""
        found = self._found
        said = (
            [_BASES[found.basis]] if found.conclusion is not Conclusion.NOTHING_TO_COMPARE else []
        )
        if found.conclusion is Conclusion.ALIKE and found.as_good:
            said.append(f"As good, and taking more: {self._names(found.as_good)}.")
        said += [self._people(), *self._unlike(), *self._other_demand()]
        return [*said, *self._turn()]

    def rests(self) -> list[str]:
        """Who may be better still, and what has to come true."""
        found, said = self._found, self._first_again()
        said += self._may_be()
        for id_ in found.first[:1]:
            answer = self._answers[id_]
            meters = gain_by_meters(answer, "its gain")
            said += [self._in_its_way(id_), no_time_left_sentence(answer.held_back)]
            said += [meters, self._rests_on(answer)]
        said += self._said_and_found()
        if any(self._answers[it.scenario].is_gap_open for it in found.alternatives):
            said.append(DECIDES)
        if any(self._answers[id_].plan.rush for id_ in self._compared()):
            said.append(_RUSH_APART)
        return said

    def floor_beside(self) -> str:
        """The floor of the reference, where a column has that of others and they differ."""
        others = tuple(self._by_id)
        of = self._found.reference, others, self._answers, self._titles
        # Where none is compared there is no sentence in whose place it would stand.
        return floor_beside_words(*of, self._units) if self._compared() else ""

    def _compared(self) -> list[str]:
        return [it.scenario for it in self._found.alternatives if it.is_ranked and it.is_feasible]

    def amounts(self) -> tuple[str, ...]:
        """Pieces that are sold, and floor, beside the reference."""
        reference, answers, titles = self._found.reference, self._answers, self._titles
        known = self._compared()
        each = (
            sold_words(reference, known, answers, titles),
            floor_words(reference, known, answers, titles, self._units),
        )
        return tuple(filter(None, each))

    def _people(self) -> str:
        """Who needs other people than the reference: a row of amounts does not show it."""
        named: dict[int, list[str]] = {}
        for it in self._found.alternatives:
            if it.takes is not None and it.takes.people:
                named.setdefault(it.takes.people, []).append(it.scenario)
        each = [f"{people_words(many)} in {self._names(ids)}" for many, ids in named.items()]
        return f"Against {self._reference}: {'; '.join(each)}." if each else ""

    def alone(self) -> str:
        """Where one person is alone or nobody is there, and who decides whether that may be."""
        more, still, runs = map(
            self._apart_by, (Against.LONE_WORK, Against.STILL_ALONE, Against.RUNS_ALONE)
        )
        less = [id_ for id_ in still if is_alone_less(self._answers[id_], self._base)]
        still = [id_ for id_ in still if id_ not in less]
        # Where all have it alike no name tells anything.
        every = len(self._found.alternatives)

        def names(of: Sequence[str]) -> str:
            if len(of) == every > 1:
                return "all"
            return (
                self._names(of) if len(of) <= _NAMED else f"{len(of)} of the {every} alternatives"
            )

        alone = [*([names(more)] if more else [])]
        alone += [f"as before in {names(still)}"] if still else []
        alone += [f"for less in {names(less)}"] if less else []
        said = [f"lone working ({'; '.join(alone)})"] if alone else []
        said += [f"{RUNS_ALONE} ({names(runs)})"] if runs else []
        text = ", ".join(said)
        return LONE_WORK_IN_SHORT.format(f"{text[0].upper()}{text[1:]}") if said else ""

    def _unlike(self) -> list[str]:
        """Whose money is counted by other rates than the reference's, the first one's apart.

        What the first one rests on says that of itself.
        """
        named = [
            it.scenario
            for it in self._found.alternatives
            if it.scenario not in self._found.first[:1]
            and (money := self._answers[it.scenario].money) is not None
            and money.unlike
        ]
        if not named:
            return []
        is_many = len(named) > 1
        return [
            f"{self._names(named)} {'are' if is_many else 'is'} counted by other rates than "
            f"{self._reference}, and cannot be held against the others by money; "
            f"{'their pages say' if is_many else 'its page says'} which."
        ]

    def _apart_by(self, against: Against) -> list[str]:
        return [it.scenario for it in self._found.alternatives if against in it.against]

    def apart(self) -> str:
        """What stands above the lines that are not ranked."""
        why = []
        if self._apart_by(Against.CHANGES_NOTHING):
            why.append("changes nothing yet, or any more: remove it, or enter its change")
        if self._apart_by(Against.OTHER_RATES):
            why.append(f"counted by other rates than {self._reference}")
        if self._apart_by(Against.OTHER_DEMAND):
            why.append(f"its demand is not that of {self._reference}")
        return f"not ranked: {', or '.join(why)}" if why else ""

    def _other_demand(self) -> list[str]:
        """Who wants other amounts than the reference, so that its sales are no gain of its own."""
        named = self._apart_by(Against.OTHER_DEMAND)
        if not named:
            return []
        return [
            f"{self._names(named)}: demand is not that of {self._reference}, so that more may be "
            "sold with nothing done for it. With the same demand, or against a reference that has "
            "it, it is ranked."
        ]

    def order(self) -> str:
        """What the lines are ordered by, as the figures beside them show it."""
        if self._found.conclusion is Conclusion.WAITING:
            return ""
        is_worth = self._found.basis is Basis.WORTH
        shown = [
            self._led(it.scenario) if is_worth else drawn[1]
            for it in self._found.alternatives
            if (drawn := self.line(it).drawn) is not None
            and it.is_ranked
            and it.is_feasible
            and not it.same_as
            # Of no clear difference no number is shown.
            and is_clear(it.value)
        ]
        in_order = all(a >= b for a, b in pairwise(shown))
        if not in_order:
            return _BY_RANK
        is_last = [not it.is_feasible for it in self._found.alternatives if it.is_ranked]
        some = any(is_last) and not all(is_last)
        return (_NO_GO_LAST if some else _ORDERS)[is_worth]

    def _first_again(self) -> list[str]:
        """What the first one comes to with stops, or whatever else is no choice of the shop's."""
        again = [
            (it, words)
            for it in self._found.alternatives
            if it.again is not None
            and (words := again_words(it.again))
            and it.again.but
            and it.same_as in self._found.first
            and it.value is not None
        ]
        # One alone is known by what stands beside its name.
        names = {it.scenario: f" ({self._titles[it.scenario]})" for it, _ in again if again[1:]}
        return [
            f"{words[0].upper()}{words[1:]}{names.get(it.scenario, '')}: "
            f"likely {self._value(it.scenario)}."
            for it, words in again
        ]

    def _turn(self) -> list[str]:
        """What would make the first one first no longer, by money alone."""
        turn = self._found.turn
        if turn is None:
            return []
        other = self._titles.get(turn.other, "")
        then = {
            Then.NOT_BACK: "then the low end of its likely range does not come back in the years "
            "counted",
            Then.NOT_ALONE: f"then {other} may be as good",
            Then.SECOND: f"then {other} is worth more today",
        }[turn.then]
        # Ends of ranges are no closer known, and would differ from what is as typed.
        once, a_year = map(to_two_figures, (turn.once, turn.a_year))
        currency = prices_of(self._base.plan).currency
        return [
            f"What would turn it: that it alone costs about {priced(once, currency)} more at "
            f"once, or brings {grouped(a_year)} less a year; {then}."
        ]

    def _may_be(self) -> list[str]:
        said = []
        for id_ in self._found.may_be[:_NAMED]:
            takes = self._by_id[id_].takes
            missing = () if takes is None else takes.missing
            if self._base.money is None:
                # By output hours decide, and not what they cost.
                missing = tuple(each for each in missing if each.what != "wage")
            why = not_priced_words(missing)
            said.append(f"{self._titles[id_]} may be better still, or not: {why}.")
        return said

    def _in_its_way(self, id_: str) -> str:
        # Who is alone and what runs with nobody there stands in a sentence of its own.
        of = self._by_id[id_]
        weighs = tuple(each for each in of.against if each not in _OF_PEOPLE_ALONE)
        against = against_words(replace(of, against=weighs), self._answers[id_], self._base)
        return f"Drawbacks of {self._titles[id_]}: {'; '.join(against)}." if against else ""

    def _rests_on(self, answer: Answer) -> str:
        if answer.money is not None:
            return rests_sentence(answer.money)
        cell, said = answer.plan.cell, list[str]()
        if answer.figures is not None and answer.figures.unsold_hours > _WORTH_A_WORD:
            hours = rounded(answer.figures.unsold_hours)
            said.append(f"{hours} h a week are for unsold pieces, and count as nothing.")
        if cell is not None and cell.stops:
            said.append(f"It rests on stops as entered, over {answer.plan.runs} runs.")
        else:
            said.append("No stops are entered, so that no machine ever stops.")
        if answer.laid_gap is not None:
            said.append(laid_words(answer.laid_gap, answer.metered))
        return " ".join(said)

    def _said_and_found(self) -> list[str]:
        """What was said of a scenario beside what is found; the same of several, once."""
        told = dict[object, str]()
        for id_ in (self._found.reference, *self._by_id):
            answer = self._answers.get(id_)
            text = "" if answer is None else said_warning(answer)
            if answer is not None and text:
                words = f"{self._titles[id_]}: {text[0].lower()}{text[1:]}"
                told.setdefault(answer.plan.said, words)
        return list(told.values())

    def line(self, of: Alternative) -> AlternativeLine:
        id_ = of.scenario
        is_first = id_ in self._found.first
        return alternative_line(
            of,
            self._answers[id_],
            self._base,
            self._titles[id_],
            is_first=is_first,
            is_by_hours=self.is_by_hours,
            units=self._units,
            behind=self._why_behind(of),
        )

    def _why_behind(self, of: Alternative) -> tuple[str, str]:
        """Why it stands behind those above it, of one and of several."""
        if self._found.conclusion is Conclusion.WAITING:
            return "", ""
        why = of.against[:1] if not of.is_better else _OPEN if of.scenario in self._open else ()
        known = next((words for words, those in _BEHIND if why and why[0] in those), None)
        if known is not None:
            return known
        if of.again is not None:
            return "is another one again", "are others again"
        # The first ones may be worth less, and cost less or take fewer hours.
        if self._found.basis is Basis.WORTH:
            return "is worth less than others above", "are worth less than others above"
        return "brings less than others above", "bring less than others above"

    @property
    def _open(self) -> set[str]:
        """Those that money cannot place, as not all that they take is priced."""
        return {
            it.scenario
            for it in self._found.alternatives
            if self._found.basis is Basis.WORTH
            and {Against.NOT_PRICED, Against.CYCLE_NOT_PRICED} & set(it.against)
        }

    @property
    def is_by_hours(self) -> bool:
        """Whether some take hours that have no wage."""
        return self._is_by_hours

    # -- names -----------------------------------------------------------------------------

    @property
    def _reference(self) -> str:
        return self._titles[self._found.reference]

    def _money(self, id_: str) -> MoneyFigures:
        money = self._answers[id_].money
        assert money is not None
        return money

    def _names(self, ids: Sequence[str]) -> str:
        if len(ids) > _NAMED + 1:
            named = ", ".join(self._titles[id_] for id_ in ids[:_NAMED])
            return f"{named} and {len(ids) - _NAMED} more"
        return listed([self._titles[id_] for id_ in ids])


_TWO = 2

_BEHIND_MOST: Final = "the part furthest behind"

_FAR_BEHIND: Final = 5.0
"""Percent of what is wanted by which the first makes less than others, so that it is told."""

_OF_PEOPLE_ALONE: Final = (Against.LONE_WORK, Against.RUNS_ALONE, Against.STILL_ALONE)

_WORTH_A_WORD = 0.5
"""Hours a week for pieces that nobody buys, from which they are worth a word."""

_OPEN = (Against.NOT_PRICED,)

_BEHIND: Final = (
    (("changes nothing", "change nothing"), {Against.CHANGES_NOTHING}),
    (("is counted by other rates", "are counted by other rates"), {Against.OTHER_RATES}),
    (("has other demand", "have other demand"), {Against.OTHER_DEMAND}),
    (("brings less", "bring less"), {Against.LESS}),
    (("brings no more", "bring no more"), {Against.NO_GAIN}),
    (("is not clearly better", "are not clearly better"), {Against.NOT_CLEAR}),
    (
        ("does not come back in the years counted", "do not come back in the years counted"),
        {Against.NOT_BACK},
    ),
    (
        ("cannot be done as entered", "cannot be done as entered"),
        {Against.NOTHING_RUN, Against.NOT_MADE, Against.STANDS_FOR_GOOD},
    ),
    (("is not priced yet", "are not priced yet"), {Against.NOT_PRICED, Against.CYCLE_NOT_PRICED}),
)
"""Why an alternative is not better, of one and of several."""

_BASES: Final = {
    Basis.WORTH: "",
    Basis.OUTPUT_NO_MONEY: (
        "No part has a contribution: output alone decides, whether an alternative pays is not "
        "known, and what nobody has priced counts as nothing."
    ),
    Basis.OUTPUT_NOT_PRICED: (
        "No alternative is priced wholly: output alone decides, and whether one pays is not known."
    ),
    Basis.OUTPUT_NO_YEARS: "No years are counted to come back in: output alone decides.",
}
