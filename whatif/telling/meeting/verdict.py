"""What a comparison comes to, in words: a line an alternative, who comes first, and why."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Final

from whatif.answers.gains import is_clear, is_nothing, lies_outside
from whatif.answers.verdict import Against, Alternative, Basis, Conclusion, Verdict, is_priced
from whatif.plan.model import LoadedFewer
from whatif.records import dataclass
from whatif.telling.amounts import NOTHING, grouped, listed, priced, rounded, signed, whole
from whatif.telling.caveats import caveat_mark, sense_of
from whatif.telling.gain_texts import (
    NOT_CLEAR,
    SAME,
    percent_text,
    range_text,
    whole_percent_text,
)
from whatif.telling.meters import laid_words
from whatif.telling.money.ranges import (
    NEVER,
    NOT_PRICED,
    NOTHING_LAID_OUT,
    leading_returns,
    money_standing,
    payback_texts,
    signed_amount,
    worth_texts,
    years_between,
)
from whatif.telling.money.rests import least, most, not_priced_words, rests_sentence
from whatif.telling.said import NOTHING_SAID, Said, Sense
from whatif.telling.warnings import said_warning

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.answers.money.money import MoneyFigures
    from whatif.answers.money.returns import LikelyReturns
    from whatif.answers.ranks import Range

_SPACE = "\u00a0"

_NAMED = 3
"""Alternatives that are named one by one."""


@dataclass(frozen=True, slots=True)
class AlternativeLine:
    """One alternative's line.

    Attributes:
        is_first: whether it is marked.
        takes, worth, payback: said of money alone.
        against: what stands in its way, "–" where nothing does.
    """

    scenario: str
    title: str
    is_first: bool
    is_feasible: bool
    gain: Said
    takes: Said
    worth: Said
    payback: Said
    against: Said


@dataclass(frozen=True, slots=True)
class VerdictTold:
    """All that the meeting begins with.

    Attributes:
        lead: who comes first, or that none does.
        sense: good where one alone does.
        why: one sentence, "" where there is nothing to add.
        lines: of every alternative, the first ones first.
        currency: of the amounts; "" without money.
        rests: what it rests on, a sentence each.
    """

    lead: str
    sense: Sense
    why: str
    lines: tuple[AlternativeLine, ...]
    currency: str
    rests: tuple[str, ...]


def verdict_told(
    found: Verdict, answers: Mapping[str, Answer], titles: Mapping[str, str]
) -> VerdictTold:
    """A verdict in words; ``titles`` by scenario."""
    teller = _Teller(found, answers, titles)
    base = answers[found.reference]
    return VerdictTold(
        lead=teller.lead(),
        sense="good" if len(found.first) == 1 else "plain",
        why=teller.why(),
        lines=tuple(map(teller.line, found.alternatives)),
        currency="" if base.money is None else base.money.currency,
        rests=tuple(filter(None, teller.rests())),
    )


class _Teller:
    """Tells one verdict."""

    def __init__(
        self, found: Verdict, answers: Mapping[str, Answer], titles: Mapping[str, str]
    ) -> None:
        self._found, self._answers, self._titles = found, answers, titles
        self._base = answers[found.reference]
        self._by_id = {it.scenario: it for it in found.alternatives}

    # -- who comes first -------------------------------------------------------------------

    def lead(self) -> str:
        """The verdict in a few words."""
        first = self._names(self._found.first)
        match self._found.conclusion:
            case Conclusion.BEST:
                return f"Best: {first}"
            case Conclusion.CHEAPER:
                return f"First: {first}, the cheapest of equals"
            case Conclusion.ALIKE:
                return f"No single best: {first}"
            case Conclusion.NONE:
                return "Not that: no alternative is clearly better"
            case Conclusion.WAITING:
                return "The verdict is being worked out ..."
            case Conclusion.NOTHING_TO_COMPARE:
                return "There is no alternative yet"

    def why(self) -> str:
        """Why, in a sentence."""
        found = self._found
        match found.conclusion:
            case Conclusion.BEST:
                return f"{self._is_likely(found.first[0])}{self._others_do()}."
            case Conclusion.CHEAPER:
                (id_,) = found.first
                return (
                    f"{self._is_likely(id_)}, which cannot be told from "
                    f"{self._names(found.as_good)}; it takes the least, {self._takes(id_)}."
                )
            case Conclusion.ALIKE:
                return f"{self._overlap()}{self._is_as_dear()}."
            case Conclusion.NONE:
                return self._none()
            case Conclusion.WAITING:
                return "It needs the likely range of every gain."
            case Conclusion.NOTHING_TO_COMPARE:
                return "Esc goes back to the sheet, where e makes another scenario."

    def _is_likely(self, id_: str) -> str:
        if self._found.basis is Basis.WORTH:
            terms = self._money(id_).terms
            return (
                f"Over the {terms.years:g} years counted, at {100 * terms.rate:g} % a year, it is "
                f"likely to be worth {self._value(id_)} today"
            )
        return f"Its saleable output is likely {self._value(id_)} against {self._reference}"

    def _value(self, id_: str) -> str:
        """What it is judged by, as its likely range."""
        value = self._by_id[id_].value
        assert value is not None
        if self._found.basis is not Basis.WORTH:
            return f"{range_text(value)} %"
        low, high = priced(value[0], self._money(id_).currency), grouped(value[2])
        return f"{low} to {high}"

    def _overlap(self) -> str:
        values = [self._by_id[id_].value for id_ in self._found.first]
        if self._found.basis is Basis.WORTH:
            money = self._money(self._found.first[0])
            each = [f"{grouped(low)} to {grouped(high)}" for low, _, high in filter(None, values)]
            text = f"Over the {money.terms.years:g} years counted their likely worth today overlaps"
            return f"{text} ({money.currency}{_SPACE}{listed(each[:_NAMED])})"
        each = [f"{range_text(value)} %" for value in values if value is not None]
        return f"Their likely ranges overlap ({listed(each[:_NAMED])})"

    def _others_do(self) -> str:
        """What keeps the others behind the best."""
        if not any(it.is_better for it in self._behind()):
            return f", and no other is clearly better than {self._reference}"
        return ", more than any other: no other likely range reaches it"

    def _behind(self) -> list[Alternative]:
        apart = {*self._found.first, *self._found.may_be}
        return [it for it in self._found.alternatives if it.scenario not in apart]

    def _takes(self, id_: str) -> str:
        money = self._money(id_)
        return "nothing" if not money.more_capital else priced(money.more_capital, money.currency)

    def _is_as_dear(self) -> str:
        first = self._found.first
        if self._found.basis is Basis.OUTPUT_NO_MONEY or not all(
            is_priced(self._answers[id_]) for id_ in first
        ):
            return ", and what they take is not known"
        return f", and each takes {self._takes(first[0])}"

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

    def rests(self) -> list[str]:
        """By what it is judged, who is as good or may be, and what has to come true."""
        found = self._found
        said = (
            [_BASES[found.basis]] if found.conclusion is not Conclusion.NOTHING_TO_COMPARE else []
        )
        if found.conclusion is Conclusion.ALIKE and found.as_good:
            said.append(f"As good, and dearer: {self._names(found.as_good)}.")
        said += self._may_be()
        for id_ in found.first[:1]:
            answer = self._answers[id_]
            said += [self._in_its_way(id_), self._rests_on(answer)]
        said += self._said_and_found()
        return said

    def _may_be(self) -> list[str]:
        said = []
        for id_ in self._found.may_be[:_NAMED]:
            missing = not_priced_words(self._money(id_).not_priced)
            said.append(f"{self._titles[id_]} may be better still, or not: {missing}.")
        return said

    def _in_its_way(self, id_: str) -> str:
        against = self._against(self._by_id[id_])
        return f"In its way: {'; '.join(against)}." if against else ""

    def _rests_on(self, answer: Answer) -> str:
        if answer.money is not None:
            return rests_sentence(answer.money)
        cell, said = answer.plan.cell, list[str]()
        if answer.figures is not None and answer.figures.unsold_hours > _WORTH_A_WORD:
            hours = rounded(answer.figures.unsold_hours)
            said.append(f"{hours} h a week are for pieces that nobody buys, and count as nothing.")
        if cell is not None and cell.stops:
            said.append(f"It rests on stops as entered, over {answer.plan.runs} runs.")
        else:
            said.append("No stops are entered, so that no machine ever stops.")
        if answer.laid_gap is not None:
            said.append(laid_words(answer.laid_gap))
        return " ".join(said)

    def _said_and_found(self) -> list[str]:
        """What was said of a scenario beside what is found; what others inherit of it, once."""
        told = dict[object, str]()
        for id_ in (self._found.reference, *self._by_id):
            answer = self._answers.get(id_)
            text = "" if answer is None else said_warning(answer)
            if answer is not None and text:
                words = f"{self._titles[id_]}: {text[0].lower()}{text[1:]}"
                told.setdefault(answer.plan.said, words)
        return list(told.values())

    # -- a line an alternative -------------------------------------------------------------

    def line(self, of: Alternative) -> AlternativeLine:
        """One alternative's line."""
        answer = self._answers[of.scenario]
        money = answer.money
        likely = None if answer.likely is None else answer.likely.saleable
        gain = _gain_said(answer, answer.gains.saleable, likely)
        against = self._against(of)
        joined = "; ".join(against) or NOTHING
        more = len(against) - 1
        shorter = (f"{against[0]}; {more} more", against[0]) if more > 0 else ()
        return AlternativeLine(
            of.scenario,
            self._titles[of.scenario],
            of.scenario in self._found.first,
            of.is_feasible,
            gain,
            NOTHING_SAID if money is None else _takes_said(money),
            NOTHING_SAID if money is None else _worth_said(money, of.returns),
            NOTHING_SAID if money is None else _payback_said(money, of.returns),
            Said(joined, "bad" if not of.is_feasible else "plain", shorter),
        )

    def _against(self, of: Alternative) -> list[str]:
        answer = self._answers[of.scenario]
        return [_WORDS[each](answer, self._base) for each in of.against]

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


_WORTH_A_WORD = 0.5
"""Hours a week for pieces that nobody buys, from which they are worth a word."""

_OPEN = (Against.NOT_PRICED,)

_BEHIND: Final = (
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
    (("is not priced yet", "are not priced yet"), {Against.NOT_PRICED}),
)
"""Why an alternative is not better, of one and of several."""

_BASES: Final = {
    Basis.WORTH: "",
    Basis.OUTPUT_NO_MONEY: (
        "Nothing is priced, as no part has a contribution: output alone decides, and what an "
        "alternative takes and whether it pays is not known."
    ),
    Basis.OUTPUT_NOT_PRICED: (
        "Nothing that has to be bought is priced: output alone decides, and what an alternative "
        "takes and whether it pays is not known."
    ),
    Basis.OUTPUT_NO_YEARS: "No years are counted to come back in: output alone decides.",
}


def _gain_said(answer: Answer, gain: float | None, likely: Range | None) -> Said:
    """The gain and its likely range; in little room the range alone, which is what is judged."""
    if gain is None:
        return NOTHING_SAID
    mark = caveat_mark(answer)
    if likely is None:
        return Said(f"{mark}{whole_percent_text(gain)} as typed", "none")
    if is_nothing(likely):
        return Said(f"{mark}{SAME}", "none", (f"{mark}none",))
    between = f"{range_text(likely)} %"
    shorter = tuple(f"{mark}{text}" for text in (between, *_whole(likely)))
    if not is_clear(likely):
        return Said(f"{mark}{NOT_CLEAR} ({between})", "none", shorter)
    sense = sense_of(answer, "good" if likely[0] > 0 else "bad")
    if lies_outside(gain, likely):
        return Said(f"{mark}likely {between}", sense, shorter)
    beside = range_text(likely, gain)
    return Said(f"{mark}{percent_text(gain, likely)} ({beside} %)", sense, shorter)


def _whole(likely: Range) -> tuple[str, ...]:
    """The range in whole percent; none where an end would read as nothing."""
    ends = likely[0], likely[2]
    return (f"{signed(ends[0], 0)} to {signed(ends[1], 0)} %",) if all(map(whole, ends)) else ()


def _takes_said(money: MoneyFigures) -> Said:
    if money.is_bare:
        return Said(NOT_PRICED, "none")
    amount = grouped(money.more_capital) if money.more_capital else "nothing"
    return Said(f"{least(money.leans.capital)}{amount}")


def _worth_said(money: MoneyFigures, likely: LikelyReturns | None) -> Said:
    """What it is worth today; in much room with what that lies between."""
    stands = money_standing(money, likely)
    if stands == "unclear":
        return Said(worth_texts(money, likely)[0], "none")
    bound = most(money.lean)
    led = leading_returns(money, likely).net_present_value
    alone = f"{bound}{signed_amount(led)}"
    if likely is None:
        return Said(alone)
    low, high = (signed_amount(end.net_present_value) for end in (likely.low, likely.high))
    return Said(alone if low == high else f"{alone} ({low} to {high})", shorter=(alone,))


def _payback_said(money: MoneyFigures, likely: LikelyReturns | None) -> Said:
    """Years until what it takes is back; in much room with what they lie between."""
    first = payback_texts(money, likely, "")[0]
    if money.is_bare or not any(sign.isdigit() for sign in first):
        sense: Sense = "bad" if first == NEVER else "none"
        return Said(first, sense, (NOTHING,) if first == NOTHING_LAID_OUT else ())
    years = leading_returns(money, likely).payback_years
    ends = () if likely is None else (likely.low.payback_years, likely.high.payback_years)
    known = [end for end in ends if end is not None]
    alone = f"{least(money.lean)}{NEVER if years is None else rounded(years)}"
    between = years_between(*known) if len(known) == len(ends) and known else ""
    if between in ("", rounded(years or 0)):
        return Said(alone)
    return Said(f"{alone} ({between})", shorter=(alone,))


def _unmade(answer: Answer, _: Answer) -> str:
    parts = [part.id for part in answer.plan.parts if part.unmade is not None]
    return f"{parts[0]} not made" if len(parts) == 1 else f"{len(parts)} parts not made"


def _late(answer: Answer, base: Answer) -> str:
    late, before = (
        sum(order.late > 0 for order in each.orders.values()) for each in (answer, base)
    )
    instead = f" instead of {before}" if before else ""
    return f"{late} {'order' if late == 1 else 'orders'} late{instead}"


def _fewer(answer: Answer, _: Answer) -> str:
    parts = dict.fromkeys(
        each.part for each in answer.plan.warnings if isinstance(each, LoadedFewer)
    )
    return f"fewer of {listed(list(parts))} fit than entered"


def _said(answer: Answer, _: Answer) -> str:
    gain = None if answer.said is None else answer.said.gain
    return "hours said differ" if gain is None else f"{whole_percent_text(gain)} was said"


def _not_back(answer: Answer, _: Answer) -> str:
    assert answer.money is not None
    return f"not surely back in {answer.money.terms.years:g} years"


def _plain(words: str) -> Callable[[Answer, Answer], str]:
    return lambda _answer, _base: words


_WORDS: Final[dict[Against, Callable[[Answer, Answer], str]]] = {
    Against.NOTHING_RUN: _plain("nothing to simulate"),
    Against.NOT_MADE: _unmade,
    Against.STANDS_FOR_GOOD: _plain("nobody may see to stops"),
    Against.LESS: _plain("brings less"),
    Against.NO_GAIN: _plain("no gain"),
    Against.NOT_CLEAR: _plain("gain not clear"),
    Against.NOT_BACK: _not_back,
    Against.NOT_PRICED: _plain("not all is priced"),
    Against.ORDERS_LATE: _late,
    Against.FEWER_FIT: _fewer,
    Against.TOOL_PLACES: _plain("too few tool places"),
    Against.GAP_LAID: _plain("rests on a laid gap"),
    Against.DRIFTS: _plain("backlog grows"),
    Against.SAID_DIFFERS: _said,
}
"""What stands in an alternative's way, in a few words."""
