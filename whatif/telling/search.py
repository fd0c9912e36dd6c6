"""The best next step in words: levers, combinations, what was tried, what it rests on."""

from __future__ import annotations

import re
from collections.abc import Collection, Container, Mapping
from typing import TYPE_CHECKING, Final

from whatif.answers.gains import lies_outside
from whatif.answers.search.goal import Aim
from whatif.answers.search.proposals import sort_of_lever
from whatif.answers.takes import NO_HOURS
from whatif.study.levers import also_text, key_of_lever
from whatif.study.resolve import GIVEN_BACK
from whatif.study.schema.catalogue import ANY, THINGS, label_at
from whatif.study.schema.kinds import Days
from whatif.study.typed import things_words
from whatif.telling.amounts import NOTHING, grouped, listed, result_told, rounded, signed
from whatif.telling.edits import called
from whatif.telling.gain_texts import percent_text, short_gain_texts
from whatif.telling.limits import limited_by_words
from whatif.telling.money.rests import WAGES_OPEN, missing_words
from whatif.telling.moves.tried import WITHOUT_GAP

if TYPE_CHECKING:
    from whatif.answers.search.goal import Goal
    from whatif.answers.search.options import Combination, Option
    from whatif.answers.search.search import NextStep, NextSteps
    from whatif.study.levers import SearchLever
    from whatif.study.raw import Path

_WORDS: Final[Mapping[str, str]] = {
    "person": "one person more in shift {thing}",
    "helper": "helper, {hours}",
    "half_shift": "half a shift more, {hours}",
    "longer": "shift {thing} until {new}",
    "unattended": "run on unattended {new} after the shift",
    "nights": "run on unattended until done, nights of {value}",
    "pallets": "{new} pallets per {thing}, with fixtures",
    "machine": "machine {thing}: {new} in all",
    "quick_change": "quick-change work holding (setups at {value})",
    "next_order": "next order: {new}",
    "setter_stays": "the setter stays for the prove-out",
    "release": "shift {thing} may release first pieces",
    "first_piece": "first pieces released by the operator, {value}",
    "duties": "other duties down to {value}",
    "order_size": "orders of {value} of today's size",
    "walk": "machines closer, walk {value}",
    "bench": "bench work moved elsewhere",
    "per_load": "{value} of the pieces per load",
}
"""What is said of a proposed lever, by its sort."""

_OFFERED: Final[Mapping[str, str]] = {
    "person": "more people in shift {thing}: {value}",
    "longer": "shift {thing} longer: {value}",
    "unattended": "run on unattended after the shift: {value}",
    "machine": "more machines {thing}: {value}",
    "pallets": "{value} pallets per {thing}, with fixtures",
    "next_order": "next order: {value}",
}
"""What is said of a proposed lever before a value is chosen, where that is not the same."""

_ONE_MORE: Final[Mapping[tuple[str, str], str]] = {
    ("person", "+1"): "one person more in shift {thing}",
    ("machine", "+1"): "one machine {thing} more",
    ("machine", "1"): "a new machine: {thing}",
}
"""The same of a single value."""

_NAMES: Final[Mapping[str, str]] = {
    "person": "more people in shift {thing}",
    "helper": "helper",
    "half_shift": "half a shift more",
    "longer": "shift {thing} longer",
    "unattended": "running on unattended",
    "nights": "nights run unattended",
    "pallets": "pallets per {thing}",
    "machine": "machines {thing}",
    "quick_change": "quick-change work holding",
    "next_order": "next order",
    "setter_stays": "the setter's staying for the prove-out",
    "release": "release by shift {thing}",
    "first_piece": "first-piece release by the operator",
    "duties": "other duties",
    "order_size": "order size",
    "walk": "walk",
    "bench": "bench work moved",
    "per_load": "pieces per load",
}
"""What a proposed lever is called in a sentence that is not of its values."""

_CHOICES: Final[Mapping[str, str]] = {
    "keep_setup": "like orders together",
    "earliest_due_date": "earliest due date first",
}


def option_words(option: Option) -> str:
    """What a lever at a value does, in a few words."""
    lever = option.lever
    path, (_, raw) = next(iter(option.steps.items()))
    new = str(raw)
    if lever.title:
        return f"{lever.title} ({option.value})" if len(lever.values) > 1 else lever.title
    template = _WORDS.get(sort_of_lever(lever.id), "") if lever.assumed else ""
    if not template:
        return f"{_label(lever)} {option.value}"
    also = {each[-1]: str(of) for each, of in option.changes.items() if each[0] == "shift"}
    return template.format(
        thing=path[1] if len(path) > 2 else "",
        new=_CHOICES.get(new, new),
        value=_value_words(lever, option.value),
        hours=f"{also.get('start', '')} to {also.get('end', '')}",
    )


def lever_name(lever: SearchLever) -> str:
    """What a sentence calls a lever: its title; a proposed one by its sort, else its own id."""
    template = _NAMES.get(sort_of_lever(lever.id), "") if lever.assumed else ""
    thing = lever.key[1] if len(lever.key) > 2 else ""
    return lever.title or template.format(thing=thing) or lever.id


def _label(lever: SearchLever) -> str:
    of = lever.key[1] if len(lever.key) > 2 and lever.key[1] != ANY else ""
    label = label_at(tuple("x" if part == ANY else part for part in lever.key))
    return f"{of} {label}".strip()


def entry_words(options: Combination) -> str:
    """All levers of a combination, which are done together."""
    first, *others = map(option_words, options)
    return "; ".join((first, *others[:-1], *(f"and {last}" for last in others[-1:])))


def step_title(options: Combination, taken: Collection[str]) -> str:
    """A title for the scenario of a step: all of it, if need be without details and the last ones.

    Args:
        taken: titles that other scenarios have.
    """
    whole = [option_words(option) for option in options]
    brief = [_DETAILS.split(words)[0] for words in whole]
    texts = ["; ".join(each) for each in (whole, brief)]
    for room in (_OVER_A_COLUMN, _LONGEST_TITLE):
        for text in texts:
            if len(text) <= room and text not in taken:
                return text
    for count in range(len(brief) - 1, 0, -1):
        text = "; ".join((*brief[:count], f"{len(brief) - count} more"))
        if len(text) <= _LONGEST_TITLE:
            return text
    return texts[0]


_DETAILS: Final = re.compile(r", | \(")
"""What a lever is told by stands before these, its times and values behind them."""

_OVER_A_COLUMN: Final = 30
"""Signs of a title of which two lines over a column of a narrow screen have room, as a rule."""

_LONGEST_TITLE: Final = 60

_STUDY_PRICE: Final = "at the study's price"
_IN_WAGES: Final = "paid in wages"
_RULE: Final = "no investment"

OWN_PRICES: Final = (_STUDY_PRICE, _IN_WAGES, _RULE)
"""Of levers that have no price of their own: machines, hours of people, rules of the shop."""


UNPRICED: Final = "not priced"
"""Of a lever, or a step, of which nobody has said what it costs."""


def lever_words(lever: SearchLever, unpriced: Container[str] = ()) -> str:
    """A lever as a list tells it: what is changed, to what, and for how much.

    Args:
        unpriced: ids of the levers of which nobody has said what they cost.
    """
    # Days have commas of their own.
    texts = [_value_words(lever, value) for value in lever.values]
    values = ("; or " if any("," in each for each in texts) else ", ").join(texts) or "left out"
    mark = "~ " if lever.assumed else ""
    return (
        f"{mark}{lever.id}: {changed_words(lever.key)} = {values}; {_price_words(lever, unpriced)}"
    )


def _price_words(lever: SearchLever, unpriced: Container[str]) -> str:
    prices = [
        f"{grouped(float(amount))} {words}"
        for amount, words in (
            (lever.price, "once"),
            (lever.price_each, "each"),
            (lever.yearly, "a year"),
        )
        if amount
    ]
    none = "nothing to pay" if lever.has_price else _own_price(lever.key)
    return listed(prices) if prices else UNPRICED if lever.id in unpriced else none


def _own_price(key: Path) -> str:
    if key[0] == "machine":
        return _STUDY_PRICE
    return _IN_WAGES if key[0] == "shift" and key[-1] != "does" else _RULE


def _value_words(lever: SearchLever, value: str) -> str:
    """A value as it is read; days have commas between."""
    key = key_of_lever(lever.key)
    if key is not None and isinstance(key.kind, Days):
        return ", ".join(value.replace(",", " ").split())
    return _CHOICES.get(value, value)


def offered_words(lever: SearchLever, unpriced: Container[str] = ()) -> str:
    """A lever as somebody says it: what might be done, and for how much."""
    values = [_value_words(lever, value) for value in lever.values]
    joined = " or ".join(filter(None, (", ".join(values[:-1]), *values[-1:]))) or "left out"
    sort = sort_of_lever(lever.id)
    template = ""
    if lever.assumed and values and not lever.title:
        template = (
            _ONE_MORE.get((sort, joined), "") or _OFFERED.get(sort, "") or _WORDS.get(sort, "")
        )
    also = {path[-1]: str(raw) for path, raw in lever.also if path[0] == "shift"}
    said = template.format(
        thing=lever.key[1] if len(lever.key) > 2 else "",
        new=joined,
        value=joined,
        hours=f"{also.get('start', '')} to {also.get('end', '')}",
    )
    mark = "~ " if lever.assumed else ""
    said = said or f"{lever.title or changed_words(lever.key)}: {joined}"
    return f"{mark}{said}, {_price_words(lever, unpriced)}"


def changed_words(path: Path) -> str:
    """A key as a lever names it, in the sheet's words: "setup of all parts", "end of shift day"."""
    label = label_at(tuple("any machine" if part == ANY else part for part in path))
    if len(path) < 3 or path[0] not in THINGS:
        return label
    of = f"all {things_words(path)}" if path[1] == ANY else called(path[0], path[1])
    return f"{label} of {of}"


def also_words(lever: SearchLever) -> str:
    """What goes with every value of a lever; "" where nothing does."""
    given = [f"{changed_words(path)} as it is where nobody enters it"
             for path, raw in lever.also if raw == GIVEN_BACK]  # fmt: skip
    entered = [f"{changed_words(path)} {also_text([(path, raw)]).partition(' = ')[2]}"
               for path, raw in lever.also if raw != GIVEN_BACK]  # fmt: skip
    return "; ".join((*entered, *given))


WRITE_ALSO: Final = "write KEY = VALUE, such as part.*.fixtures = 2, with ; between several"
"""How what goes with a lever is typed."""


_AIMS: Final[Mapping[Aim, str]] = {
    Aim.DEMAND: "demand met",
    Aim.ORDERS: "real orders on time",
    Aim.GAIN: "a gain of {0} % in saleable output",
    Aim.PAYBACK: "paid back within {0} years",
    Aim.SUM: "the most for {0} in the first year",
    Aim.MOST: "the most a year",
}


GOALS: Final[Mapping[str, str]] = {
    "": "what is lacking first",
    "demand": "demand met",
    "orders": "real orders on time",
    "gain": "a gain in percent",
    "payback": "a payback",
    "sum": "the most for a sum",
    "most": "the most a year",
}
"""Goals to choose from, by what is typed for them."""


AS_TODAY: Final = "as today"


def goal_words(goal: Goal) -> str:
    """What the search is for."""
    if goal.aim is Aim.GAIN:
        amount = f"{goal.amount:g}"
    else:
        amount = rounded(goal.amount, 1) if goal.aim is Aim.PAYBACK else grouped(goal.amount)
    return _AIMS[goal.aim].format(amount)


def lead_sentence(found: NextSteps) -> str:
    """What would do it, or what comes nearest."""
    best = found.best
    if best is None:
        return "Nothing that was tried beats the scenario as it stands."
    said = _best_words(found, best)
    free = found.best_unpriced
    if free is None:
        return said
    return f"{said} {_IF_FREE}{_which(found, free)}: {entry_words(free.options)}."


_IF_FREE: Final = "If what has no price yet cost nothing, this would come first"
"""Before what would come first by the goal then."""


def _which(found: NextSteps, entry: NextStep) -> str:
    """Which line of the list a sentence names, and that all of its levers are meant."""
    many = len(entry.options)
    together = "" if many < 2 else "both together" if many == 2 else f"all {many} together"
    at = next((at for at, each in enumerate(found.front, start=1) if each is entry), 0)
    line = f"line {at}" if at and found.front[1:] else ""
    said = ", ".join(filter(None, (line, together)))
    return f" ({said})" if said else ""


def _best_words(found: NextSteps, best: NextStep) -> str:
    words = entry_words(best.options)
    if best.unpriced:
        words += f" ({UNPRICED}: {listed(list(map(lever_name, best.unpriced)))})"
    which = _which(found, best)
    if found.goal.aim is Aim.MOST:
        return f"Most a year of what was tried{which}: {words}."
    is_open = wages_are_open(found, best)
    words += f" ({WAGES_OPEN})" if is_open else ""
    # What nobody has priced is not known to be the cheapest.
    if best.reaches and (best.unpriced or is_open):
        return (
            f"{goal_words(found.goal).capitalize()}. Of what was tried this does{which}: {words}."
        )
    if best.reaches:
        first = "Most for it" if found.goal.aim in (Aim.SUM, Aim.PAYBACK) else "Cheapest that does"
        return f"{goal_words(found.goal).capitalize()}. {first} of what was tried{which}: {words}."
    return f"Nothing that was tried does it ({goal_words(found.goal)}). Nearest{which}: {words}."


def how_sentences(found: NextSteps) -> list[str]:
    """How it was searched and what is not claimed, a sentence each."""
    asked = found.asked
    whole = f"{grouped(found.tried)} of {grouped(found.possible)} combinations tried"
    gap = [f"Likely ranges here are {WITHOUT_GAP}, which the sheet's have."] * asked.is_metered
    apart = [] if found.apart is None else [_APART.format(*map(_levers_words, found.apart))]
    if found.is_proved:
        return [
            f"All {grouped(found.possible)} combinations of up to {found.most} of these levers "
            f"were measured in full ({asked.weeks} weeks, {asked.draws} draws): of them nothing "
            "beats what stands here.",
            *gap,
            *apart,
        ]
    said = [
        f"{whole} in short runs of {found.short_weeks} weeks, {found.in_full} of them in full "
        f"({asked.weeks} weeks, {asked.draws} draws); seed {found.seed}."
    ]
    if found.passed_over:
        said.append(
            f"{grouped(found.passed_over)} more that nothing beat in the short runs were not "
            "measured in full and do not stand here."
        )
    why = "some were not tried" if found.tried < found.possible else "most were run short only"
    return [*said, f"No optimum is claimed: {why}.", *gap, *apart]


def _levers_words(entry: NextStep) -> str:
    return entry_words(entry.options)


_APART: Final = (
    "Not tried together: {0}, and {1}. On the screen (F6, what would do it?) Enter makes a "
    "scenario of one, to enter the other in."
)


def has_wages(found: NextSteps) -> bool:
    """Whether the money of steps has wages in it, as they are entered."""
    return not any(each.what == "wage" for each in found.start.not_priced)


def money_is_of(found: NextSteps) -> str:
    """What the money of a step is of; it stands where the money does (rule `search.measure`)."""
    wages = (
        ", and a year with wages" if has_wages(found) else " and a year, without wages, not entered"
    )
    return f"{found.currency}: once{wages}"


def counted_words(found: NextSteps) -> str:
    """What money and hours of a list are of, and from what they and gains count.

    A gain is over the reference, and what a step takes is more than the scenario takes that is
    searched from: where that is another one, both are named.
    """
    said = f"{money_is_of(found)}; people: hours a week more"
    if found.asked.is_reference:
        return said
    return f"{said}; both from {found.asked.title} on, gains over {found.asked.against}"


def more_people_words(found: NextSteps, entry: NextStep) -> str:
    """The hours of people a week that it takes or frees, "" where it is none."""
    more = more_hours_words(found, entry)
    return "" if more == AS_TODAY else f"people {more}"


def wages_are_open(found: NextSteps, entry: NextStep) -> bool:
    """Whether it takes more hours of people, and what an hour costs is not entered."""
    more = entry.measure.hours - found.start.measure.hours
    bare = (*found.start.not_priced, *entry.not_priced)
    return more >= NO_HOURS and any(each.what == "wage" for each in bare)


def cost_words(found: NextSteps, entry: NextStep) -> str:
    """What it costs; where nothing is bought, that hours of people are not priced."""
    said = money_words(entry)
    return WAGES_OPEN if said == _NOTHING_BOUGHT and wages_are_open(found, entry) else said


_NOTHING_BOUGHT: Final = "no investment"


def money_words(entry: NextStep) -> str:
    """What it costs, wages in it as far as they are entered."""
    found = entry.measure
    said = [f"{grouped(found.once)} once"] if round(found.once) else []
    if round(found.yearly):
        said.append(f"{grouped(found.yearly)} a year")
    if entry.unpriced:
        return f"{listed(said)}, rest {UNPRICED}" if said else UNPRICED
    return listed(said) if said else _NOTHING_BOUGHT


def short_money_words(found: NextSteps, entry: NextStep) -> str:
    """The same where there are few cells: what is not all priced costs at least what is known."""
    measure = entry.measure
    once, yearly = round(measure.once), round(measure.yearly)
    if not once and not yearly:
        return cost_words(found, entry)
    # Where both stand the words above the column say which comes first.
    said = f"{grouped(once)}, {grouped(yearly)} a year" if once and yearly else ""
    said = said or (f"{grouped(once)} once" if once else f"{grouped(yearly)} a year")
    return f"from {said}" if entry.unpriced else said


def once_text(entry: NextStep) -> str:
    """Money once in a column of figures: what is known of it, where not all is priced."""
    once = entry.measure.once
    if not entry.unpriced:
        return grouped(once)
    return f"from {grouped(once)}" if round(once) else UNPRICED


def yearly_text(entry: NextStep, *, wages_open: bool = False) -> str:
    """Costs a year likewise; "–" where nobody has said whether there are any."""
    yearly = entry.measure.yearly
    if wages_open and not round(yearly):
        return NOTHING
    if not entry.unpriced:
        return grouped(yearly)
    return f"from {grouped(yearly)}" if round(yearly) else NOTHING


def year_gain_text(entry: NextStep) -> str:
    """A year's gain likewise; at most that, where not all is priced."""
    gain = entry.measure.year_gain
    text = NOTHING if gain is None else result_told(gain)
    return text if gain is None or not entry.unpriced else f"up to {text}"


def rests_sentences(entry: NextStep, goal: Goal) -> list[str]:
    """What an entry rests on."""
    said = []
    likely = entry.likely
    if goal.aim is Aim.GAIN and entry.reaches and likely is not None and likely[0] < goal.amount:
        said.append("it reaches the goal as typed; its likely range begins below it")
    proposed = [option.lever for option in entry.options if option.lever.assumed]
    for what, is_priced in (("values and prices", True), ("values", False)):
        assumed = [lever_name(lever) for lever in proposed if lever.has_price is is_priced]
        if assumed:
            said.append(f"{what} of {listed(assumed)} are assumed (~)")
    bare = list(map(lever_name, entry.unpriced))
    bare += [missing_words(each) for each in entry.not_priced]
    if bare:
        said.append(f"{UNPRICED}: {listed(bare)}")
    if lies_outside(entry.measure.gain, entry.likely):
        said.append("its gain as typed lies outside the likely range, which leads")
    if entry.likely is not None and not entry.is_clear:
        said.append("no clear difference in output from the scenario as it stands")
    if entry.held_back is not None:
        said.append(f"{limited_by_words(entry.held_back)} then")
    return said


def gain_words(entry: NextStep) -> str:
    """The gain with its likely range, as the strip tells it of a scenario."""
    if entry.measure.gain is not None and entry.likely is None:
        return f"{percent_text(entry.measure.gain)} so far"
    whole, *shorter = short_gain_texts(entry.measure.gain, entry.likely)
    return shorter[0] if shorter else whole


def short_gain_words(entry: NextStep) -> str:
    """The same where there are few cells: what leads, with a range where it is a difference."""
    if entry.measure.gain is not None and entry.likely is None:
        return gain_words(entry)
    texts = short_gain_texts(entry.measure.gain, entry.likely)
    ranged = [text for text in texts if " %" in text and "likely" not in text]
    return ranged[0] if ranged else texts[-1]


def gain_alone(entry: NextStep) -> str:
    """The same where there is no room for a range that does not lead."""
    if entry.measure.gain is not None and entry.likely is None:
        return gain_words(entry)
    return short_gain_texts(entry.measure.gain, entry.likely)[-1]


def more_hours_words(found: NextSteps, entry: NextStep) -> str:
    """People's hours a week against those of the scenario as it stands."""
    more = entry.measure.hours - found.start.measure.hours
    return AS_TODAY if abs(more) < 0.05 else f"{signed(more)} h"
