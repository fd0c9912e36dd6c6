"""An alternative's line in the meeting's verdict."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Final

from whatif.answers.again import But
from whatif.answers.cautions import Danger
from whatif.answers.gains import is_clear, is_nothing, lies_outside
from whatif.answers.money.shorter import SHORTENED
from whatif.answers.takes import NO_HOURS
from whatif.answers.verdict import Against, Alternative, alone_more, is_alone_less, more_misfits
from whatif.plan.model import LoadedFewer
from whatif.records import dataclass
from whatif.telling.amounts import NOTHING, grouped, listed, rounded, signed
from whatif.telling.cautions import NAMES
from whatif.telling.caveats import caveat_mark, sense_of
from whatif.telling.fit import fewer_words
from whatif.telling.gain_texts import CHANGES_NOTHING, SAME, percent_text
from whatif.telling.meeting.sold import floor_text
from whatif.telling.meeting.takes import people_words
from whatif.telling.money.ranges import (
    AT_ONCE,
    NEVER,
    NOT_CLEAR,
    NOT_PRICED,
    NOTHING_LAID_OUT,
    beside_range,
    payback_texts,
    signed_amount,
    signed_result,
    worth_texts,
    years_between,
    years_text,
)
from whatif.telling.money.rests import THINGS, WAGES_OPEN, least, most
from whatif.telling.said import NOTHING_SAID, Said, Sense, gain_said
from whatif.telling.strip import changes_nothing

if TYPE_CHECKING:
    from whatif.answers.again import Again
    from whatif.answers.answer import Answer
    from whatif.answers.money.money import MoneyFigures
    from whatif.answers.money.returns import LikelyReturns
    from whatif.answers.ranks import Range
    from whatif.answers.takes import Takes


@dataclass(frozen=True, slots=True)
class AlternativeLine:
    """One alternative's line.

    Attributes:
        is_first: whether it is marked.
        is_again: whether it is the one above it again, and no choice of its own.
        is_ranked: whether it stands by rank among the others, and not apart below them.
        one_off: what it takes at once.
        more: what it takes more a year, or of paid hours and people a week.
        worth, payback: said of money alone.
        floor: the floor that it takes.
        drawn: the gain as a bar has it, with the ends of its range; None where there is none.
        against: what stands in its way, "–" where nothing does.
        behind: why it stands behind others, of one such line and of several.
    """

    scenario: str
    title: str
    is_first: bool
    is_feasible: bool
    is_ranked: bool
    is_again: bool
    gain: Said
    one_off: Said
    more: Said
    worth: Said
    payback: Said
    floor: Said
    against: Said
    drawn: Range | None
    behind: tuple[str, str] = ("", "")

    def mark(self, first: str) -> str:
        """The word before it: ``first`` for the first ones, "" for most others."""
        if self.is_first:
            return first
        if not self.is_feasible:
            return NO_GO
        return AGAIN if self.is_again else ""


NO_GO, AGAIN = "no-go", "again"
"""The word of one that cannot be done as it is entered, and of the one above it again."""


def alternative_line(
    of: Alternative,
    answer: Answer,
    base: Answer,
    title: str,
    *,
    is_first: bool,
    is_by_hours: bool,
    units: str = "metric",
    behind: tuple[str, str] = ("", ""),
) -> AlternativeLine:
    """One alternative's line."""
    money, gain = answer.money, answer.gains.saleable
    likely = answer.judged
    against = against_words(of, answer, base)
    same = [] if of.again is None else [again_words(of.again)]
    joined = "; ".join([*same, *against]) or NOTHING
    more = len(same) + len(against) - 1
    first = (*same, *against)[:1]
    fewer = f"{first[0]}; {more} more" if more > 0 else ""
    briefly = [f"{fewer} drawback{'s' * (more > 1)}", fewer] if fewer else []
    short = _in_short(first[0]) if first else ""
    if fewer and short != first[0]:
        # That there are more comes before how the first one is worded.
        briefly.append(f"{short}; {more} more")
    briefly += first if fewer else []
    briefly += [short] if first and short != first[0] else []
    briefly += [_STILL_ALONE_IN_SHORT] if first == (STILL_ALONE,) else []
    shorter = tuple(text for text in briefly if len(text) < len(joined))
    return AlternativeLine(
        of.scenario,
        title,
        is_first,
        of.is_feasible,
        of.is_ranked,
        of.again is not None,
        _gain_said(answer, gain, likely),
        NOTHING_SAID if of.takes is None else _one_off_said(of.takes),
        NOTHING_SAID if of.takes is None else _more_said(of.takes, is_by_hours=is_by_hours),
        NOTHING_SAID if money is None else _worth_said(money, of.returns),
        NOTHING_SAID if money is None else _payback_said(money, of.returns),
        NOTHING_SAID if answer.plan.floor is None else Said(floor_text(answer.plan, units)),
        Said(joined, "bad" if not of.is_feasible else "plain", shorter),
        None if gain is None or likely is None else _drawn(gain, likely),
        behind,
    )


def folded_words(lines: Sequence[AlternativeLine]) -> str:
    """What stands in place of lines that there is no room for: how many, and why these.

    Why is told of as many each: "4 more: 2 bring less than those above, 1 is not clearly better".
    """
    why = Counter(line.behind for line in lines)
    each = [f"{count} {words[count > 1]}" for words, count in why.items() if words[0]]
    return f"{len(lines)} more{': ' if each else ''}{', '.join(each)}"


_SAME: Final = "the same"

_BUT: Final = {
    But.STOPS: "with stops",
    But.SCATTER: "with other scatter",
    But.GAP: "meters read otherwise",
}


def again_words(again: Again) -> str:
    """Which it is again: "the same with stops"; "the same" where nothing lies between."""
    return " ".join((_SAME, " and ".join(_BUT[each] for each in again.but))).rstrip()


def drawbacks_of(lines: Sequence[AlternativeLine], scenario: str | None) -> str:
    """All that stands in one alternative's way, in a sentence; "" where nothing does."""
    text = next((line.against.text for line in lines if line.scenario == scenario), NOTHING)
    if text == NOTHING:
        return ""
    # The cautions of the same page name lone working.
    is_left = RUNS_ALONE in text and _LONE_WORK not in text
    is_done = any(line.is_feasible for line in lines if line.scenario == scenario)
    head = "Drawbacks" if is_done else f"{NO_GO.capitalize()}, as entered"
    return f"{head}: {text}{_WHO_COMES_BACK if is_left else ''}."


_WHO_COMES_BACK: Final = "; whoever returns works alone"


_NOT_ALL_PRICED: Final = "not all is priced"


def _in_short(words: str) -> str:
    """The same where there is little room."""
    if words.endswith("not clear"):
        return "not clear"
    if words.endswith("not priced") or words == _NOT_ALL_PRICED:
        return "not priced"
    if words == WAGES_OPEN:
        return "no wage"
    if words == RUNS_ALONE:
        return "unattended"
    if words.startswith(_LONE_WORK):
        return "alone as before" if words == STILL_ALONE else _LONE_WORK
    return words.removeprefix(f"{_SAME} ")


def against_words(of: Alternative, answer: Answer, base: Answer) -> list[str]:
    """What stands in its way, in a few words each; lone working for less time is no drawback.

    Its caution stands where it is told who works alone.
    """
    is_less = is_alone_less(answer, base)
    said = [
        _work_words(of) if each is Against.WORK_NOT_PRICED else _WORDS[each](answer, base)
        for each in of.against
        if not (is_less and each is Against.STILL_ALONE)
    ]
    takes = of.takes
    is_bare = takes is not None and any(each.what == "wage" for each in takes.missing)
    if of.is_ranked and takes is not None and is_bare and takes.paid_hours >= NO_HOURS:
        # Of what has no price it would else be the one with nothing against it.
        said.append(WAGES_OPEN)
    return said


def _work_words(of: Alternative) -> str:
    """What takes less time for nothing; where what is bought is not told yet, that before it."""
    missing = () if of.takes is None else of.takes.missing
    those = [each.what for each in missing if not each.reference and each.what != "wage"]
    bought = [] if Against.NOT_PRICED in of.against else [*dict.fromkeys(those)]
    work = [each for each in SHORTENED if each in those and each != "cycle"]
    named = [each for each in bought if each not in SHORTENED] + work
    return f"{listed([THINGS[each] for each in named])} not priced"


def _drawn(gain: float, likely: Range) -> Range:
    low, middle, high = likely
    if not is_clear(likely):
        return low, 0.0, high
    return (low, middle if lies_outside(gain, likely) else gain, high)


def _gain_said(answer: Answer, gain: float | None, likely: Range | None) -> Said:
    """The gain and its likely range, as the strip tells them in as little room."""
    if gain is None:
        return NOTHING_SAID
    mark = caveat_mark(answer)
    if changes_nothing(answer):
        return Said(CHANGES_NOTHING, "none", ("none",))
    if likely is None:
        alone = f"{mark}{percent_text(gain)}"
        return Said(f"{alone} as typed", sense_of(answer, "none"), (alone,))
    if is_nothing(likely):
        return Said(f"{mark}{SAME}", sense_of(answer, "unsure"), (f"{mark}none",))
    said = gain_said(gain, likely, mark)
    # Its column says that a likely range stands there.
    text, *shorter = said.shorter
    return Said(text, sense_of(answer, said.sense), tuple(shorter))


def _one_off_said(takes: Takes) -> Said:
    """What it takes at once; what has no price is never nothing.

    That is also so of what makes a set-up shorter, which is nothing that is counted.
    """
    amount = grouped(takes.one_off) if abs(takes.one_off) >= _SHOWN else ""
    if takes.buys_unpriced:
        return (
            Said(f"{least('worse')}{amount}") if amount else Said(NOT_PRICED, "unsure", (NONE_YET,))
        )
    return Said(amount or "nothing", "plain", () if amount else ("0",))


NONE_YET = "open"
"""For "not priced", where there is little room."""

_SHOWN = 0.5
"""Of the currency, from which on an amount is not told as nothing."""


def _more_said(takes: Takes, *, is_by_hours: bool) -> Said:
    """What it takes more a year; where wages have no price, paid hours and people a week."""
    if not takes.is_wage_open:
        if abs(takes.yearly) < _SHOWN:
            return Said("nothing", "plain", ("0",))
        # Below a heading that is of weeks.
        amount = f"{signed_amount(takes.yearly)}{' a year' if is_by_hours else ''}"
        if not takes.people:
            return Said(amount)
        # A wage that is saved is no gain of machines: who goes or comes is told with it.
        return Said(f"{amount} ({people_words(takes.people)})", shorter=(amount,))
    people = _people_more(takes.people)
    hours, short = (f"{signed(takes.paid_hours, digits)} h" for digits in (1, 0))
    both, in_short = (", ".join(filter(None, (each, people))) for each in (hours, short))
    return Said(both, "plain", (in_short, short))


def _people_more(people: int) -> str:
    if not people:
        return ""
    return f"{people:+d} {'person' if abs(people) == 1 else 'people'}"


def _worth_said(money: MoneyFigures, likely: LikelyReturns | None) -> Said:
    """What it is worth today; in much room with what that lies between.

    Where the range leads it alone is told, as among the money, and in little room its middle,
    with no word: the gain beside it leads with a range too, and "about" would read as rounded.
    """
    stands = money.standing(likely)
    if stands == "unclear":
        return Said(worth_texts(money, likely)[0], "unsure")
    bound = most(money.lean)
    led = money.leading(likely).net_present_value
    alone = f"{bound}{signed_result(led)}"
    if likely is None:
        return Said(alone)
    low, high = (signed_result(end.net_present_value) for end in (likely.low, likely.high))
    if low == high:
        return Said(alone)
    # What prices that are missing make of it holds for its end, or that would lie beyond.
    ends = f"{low} to {bound}{high}" if bound == most("worse") else f"{bound}{low} to {high}"
    if stands == "outside":
        return Said(f"likely {ends}", shorter=(ends, alone))
    ends = beside_range(worth_texts(money, likely))[1]
    return Said(
        f"{signed_result(led)} ({ends})" if bound else f"{alone} ({ends})", shorter=(alone,)
    )


def _payback_said(money: MoneyFigures, likely: LikelyReturns | None) -> Said:
    """Years until what it takes is back; in much room with what they lie between."""
    first = payback_texts(money, likely, "")[0]
    if money.is_bare or not any(sign.isdigit() for sign in first):
        of_open: Sense = "unsure" if first in (NOT_CLEAR, NOT_PRICED) else "plain"
        sense: Sense = "bad" if first == NEVER else of_open
        return Said(first, sense, _PAYBACK_IN_SHORT.get(first, ()))
    years = money.leading(likely).payback_years
    ends = () if likely is None else (likely.low.payback_years, likely.high.payback_years)
    known = [end for end in ends if end is not None]
    alone = f"{least(money.lean)}{NEVER if years is None else years_text(years)}"
    between = years_between(*known) if len(known) == len(ends) and known else ""
    if between in ("", years_text(years or 0)):
        return Said(alone)
    if money.standing(likely) == "outside" and not least(money.lean):
        return Said(f"likely {between}", shorter=(between, alone))
    return Said(f"{alone} ({between})", shorter=(alone,))


_PAYBACK_IN_SHORT: Final = {
    NOTHING_LAID_OUT: (NOTHING,),
    NOT_PRICED: (NONE_YET,),
    NOT_CLEAR: (NOTHING,),
    AT_ONCE: ("0",),
}
"""Where there is little room; that it is not clear stands among its drawbacks."""


def _unmade(answer: Answer, _: Answer) -> str:
    parts = [part.id for part in answer.plan.parts if part.unmade is not None]
    return f"{parts[0]} not made" if len(parts) == 1 else f"{len(parts)} parts not made"


def _late(answer: Answer, base: Answer) -> str:
    late, before = (
        sum(order.late > 0 for order in each.orders.values()) for each in (answer, base)
    )
    instead = f" instead of {before}" if before else ""
    return f"{late} {'order' if late == 1 else 'orders'} late{instead}"


def _alone(answer: Answer, base: Answer) -> str:
    more = alone_more(answer, base)
    hours = f" {rounded(more.hours)} h a week more" if more.hours else ""
    after = "" if hours or not more.is_left_running else ", machines left running"
    return f"{_LONE_WORK}{hours}{after}"


RUNS_ALONE: Final = NAMES[Danger.BEGUN_ALONE]
_STILL_ALONE_IN_SHORT: Final = "still alone"
STILL_ALONE: Final = f"{NAMES[Danger.LONE_WORK]} as before"


_LONE_WORK: Final = NAMES[Danger.LONE_WORK]


def _fewer(answer: Answer, _: Answer) -> str:
    parts = dict.fromkeys(
        each.part for each in answer.plan.warnings if isinstance(each, LoadedFewer)
    )
    return fewer_words(list(parts))


def _misfits(answer: Answer, base: Answer) -> str:
    more = more_misfits(answer, base)
    parts = {part for part, _ in more}
    part, group = more[0]
    return f"{part} does not fit {group}" if len(more) == 1 else f"{len(parts)} parts do not fit"


def _said(answer: Answer, _: Answer) -> str:
    gain = None if answer.said is None else answer.said.gain
    if gain is None or abs(gain) < _NO_GAIN_SAID:
        return "hours said differ"
    return f"{percent_text(gain)} was entered"


_NO_GAIN_SAID: Final = 0.05
"""Percent below which a gain reads "0.0 %"."""


def _not_clear(answer: Answer, _: Answer) -> str:
    """Which of the two is not clear, since a range of output that is clear may stand beside it."""
    return "money not clear" if is_clear(answer.judged) else "gain not clear"


def _not_back(answer: Answer, _: Answer) -> str:
    assert answer.money is not None
    terms = answer.money.terms
    return f"not surely back in {terms.years:g} years at {100 * terms.rate:g} % a year"


def _plain(words: str) -> Callable[[Answer, Answer], str]:
    return lambda _answer, _base: words


_WORDS: Final[dict[Against, Callable[[Answer, Answer], str]]] = {
    Against.NOTHING_RUN: _plain("nothing to simulate"),
    Against.NOT_MADE: _unmade,
    Against.STANDS_FOR_GOOD: _plain("nobody may see to stops"),
    Against.CHANGES_NOTHING: lambda answer, _: f"same as {answer.plan.same_as}",
    Against.OTHER_RATES: _plain("counted by other rates"),
    Against.OTHER_DEMAND: _plain("other demand"),
    Against.LESS: _plain("brings less"),
    Against.NO_GAIN: _plain("no gain"),
    Against.NOT_CLEAR: _not_clear,
    Against.NOT_BACK: _not_back,
    Against.NOT_PRICED: _plain(_NOT_ALL_PRICED),
    Against.CYCLE_NOT_PRICED: _plain("shorter cycle not priced"),
    Against.ORDERS_LATE: _late,
    Against.LONE_WORK: _alone,
    Against.RUNS_ALONE: _plain(RUNS_ALONE),
    Against.FEWER_FIT: _fewer,
    Against.MISFITS: _misfits,
    Against.TOOL_PLACES: _plain("too few tool places"),
    Against.GAP_LAID: _plain("rests on whose the meters' gap is"),
    Against.DRIFTS: _plain("backlog grows"),
    Against.SAID_DIFFERS: _said,
    Against.STILL_ALONE: _plain(STILL_ALONE),
}
"""What stands in an alternative's way, in a few words."""
