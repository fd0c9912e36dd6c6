"""What has to be known before a scenario's figures are believed, in sentences."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import TYPE_CHECKING

from whatif.answers.meters.reading import leaves_no_gap
from whatif.answers.money.missing import (
    MoneyGap,
    NoContribution,
    NotPriced,
    OtherContribution,
)
from whatif.cell.model import MINUTE
from whatif.plan.model import (
    FloorNotEntered,
    LoadedFewer,
    NobodyRepairs,
    NotMade,
    Plan,
    PlanWarning,
    SetterGoesAway,
    SetUpByEach,
    SetUpOnce,
)
from whatif.study.problem import TOLD_ONCE, Problem, ProblemKind
from whatif.telling.amounts import listed, rounded
from whatif.telling.fit import not_made_sentence
from whatif.telling.gain_texts import percent_text
from whatif.telling.limits import loss_in_short
from whatif.telling.meters import laid_words, meter_warnings, no_gap_words
from whatif.telling.money.rests import no_worth_sentence, not_priced_sentence
from whatif.telling.problems import warning_sentence

if TYPE_CHECKING:
    from whatif.answers.answer import Answer


def warnings_of(answer: Answer) -> tuple[str, ...]:
    """Every warning of a scenario: of the study, of hour meters, of money, of what is said."""
    return (*map(plan_warning, answer.plan.warnings), *_of_answer(answer))


def new_warnings(answer: Answer, parent: Answer | None) -> tuple[str, ...]:
    """The same less what its parent has been warned of too: told where it arises."""
    if parent is None:
        return warnings_of(answer)
    known = {_news(warning) for warning in parent.plan.warnings}
    of_plan = (each for each in answer.plan.warnings if _news(each) not in known)
    above = set(_of_answer(parent))
    of_answer = (text for text in _of_answer(answer) if text not in above)
    return (*map(plan_warning, of_plan), *of_answer)


def of_places(found: Mapping[str, Plan]) -> Iterator[Problem]:
    """Warnings with a place that the plans alone know, each where it arises."""
    for plan in found.values():
        above = found.get(plan.parent or "")
        known = set() if above is None else {_news(warning) for warning in above.warnings}
        for warning in plan.warnings:
            if (
                isinstance(warning, Problem)
                and warning.kind is ProblemKind.TOO_FEW_TOOL_PLACES
                and _news(warning) not in known
            ):
                yield warning


def _news(warning: PlanWarning) -> object:
    """What is the same for a warning and for the one that it is inherited from."""
    if not isinstance(warning, Problem):
        return warning
    if warning.kind in TOLD_ONCE:
        return warning.kind
    return warning.kind, warning.path, warning.value, warning.details


def _of_answer(answer: Answer) -> tuple[str, ...]:
    """Those that the figures call for."""
    plan = answer.plan
    said: list[str] = []
    if answer.metered is not None and plan.meters is not None and plan.meters.own:
        said += meter_warnings(answer.metered)
    if answer.laid_gap is not None:
        said.append(laid_words(answer.laid_gap, answer.metered))
    if plan.meters is not None and leaves_no_gap(plan):
        said.append(no_gap_words(plan.meters.gap))
    if not answer.settled:
        said.append(_not_settled(answer))
    if answer.drift is not None:
        said.append(_drifts(answer, answer.drift))
    said += map(gap_sentence, answer.money_gaps)
    differs = said_warning(answer)
    return (*said, differs) if differs else tuple(said)


def _not_settled(answer: Answer) -> str:
    """The gains over the halves of the weeks are apart (rule `results.settled`)."""
    first, second = (
        "no gain in percent" if half.saleable is None else percent_text(half.saleable)
        for half in answer.halves
    )
    more = "" if answer.plan.settled else ' Measure more weeks, or as many as it takes: "settled".'
    return (
        f"The gain is not settled: {first} over the first half of the weeks measured, {second} "
        f"over the second. The likely range is widened to hold both.{more}"
    )


def _drifts(answer: Answer, percent: float) -> str:
    """Its own output depends on the weeks measured (rule `results.drift`)."""
    plan = answer.plan
    depends = "the output depends"
    if answer.money is not None:
        depends = "the output and the money a year depend"
    rule = ""
    if plan.cell is not None and plan.cell.keep_setup:
        rule = ', or take "earliest_due_date" as the next order'
    return (
        f"{plan.title} does not come to rest: its saleable output is {rounded(abs(percent))} % "
        f"{'more' if percent > 0 else 'less'} over the second half of the weeks measured than "
        f"over the first. More is wanted than it can make, so the backlog grows, and {depends} on "
        f"how many weeks are measured. Enter as weekly what is really made{rule}."
    )


def plan_warning(warning: PlanWarning) -> str:
    """What is odd in what was entered, or cannot be done as it was."""
    match warning:
        case Problem():
            return warning_sentence(warning)
        case NotMade():
            return not_made_sentence(warning)
        case LoadedFewer(part, group, count):
            return (
                f"{part} on {group}: more pieces per pallet are entered than fit; {count} are "
                "loaded."
            )
        case SetUpOnce():
            return _set_up_once(warning)
        case SetUpByEach():
            return _set_up_by_each(warning)
        case SetterGoesAway():
            return (
                "Whoever sets up is assumed to go away before the prove-out, so that machines wait "
                'for it, and nobody has entered that. Enter "setter stays", yes or no: it may '
                "decide the answer."
            )
        case NobodyRepairs(stops):
            return (
                f"Nobody in any shift may see to stops, and {listed(stops)} needs somebody: a "
                "machine that stops so stands for good; enter repair under what a shift may do."
            )
        case FloorNotEntered(groups):
            return (
                f"The floor has a price, but no floor is entered for {', '.join(groups)}: the "
                "year's money counts none for this scenario."
            )


def _set_up_once(warning: SetUpOnce) -> str:
    entered = listed([_OF_SETUPS[key] for key in warning.silent])
    counts = "count" if warning.silent[1:] else "counts"
    where = "on its machines" if warning.among_others else "here"
    text = (
        f"{warning.part} is set up once on each table or pallet and never changed over, since no "
        f"other part is made {where}: its {entered} {counts} at the start only. Enter the other "
        "parts"
    )
    if "first_piece" in warning.silent:
        text += ', or enter "order" for "first piece after" where each order waits for one.'
    else:
        text += " that are made there."
    return f"{text} Where it stands for several part numbers, enter how many."


def _set_up_by_each(warning: SetUpByEach) -> str:
    minutes = rounded(warning.seconds / MINUTE, 1 if warning.seconds % MINUTE else 0)
    return (
        f"Each pallet or table at an order of {warning.part} is set up by itself: up to "
        f"{warning.setups} setups of {minutes} min an order instead of one. Enter 1 for pallets at "
        "one order where one alone may do it; where one setup serves them all, enter its share for "
        "each."
    )


_OF_SETUPS = {"setup": "setup", "prove_out": "prove-out", "first_piece": "first piece"}


def said_warning(answer: Answer) -> str:
    """Which way it and the simulation differ (rule `said.against`); "" where they do not."""
    if answer.said is None or answer.held_back is None or not answer.said_differs:
        return ""
    hours, found = answer.said.hours_per_day, answer.said.found_per_day or 0.0
    text = (
        f"{rounded(hours)} spindle hours a day are said; the model finds {rounded(found)} h a day, "
    )
    # Of what stands beside it, which somebody subtracts: 5.2 less 4.6.
    apart = rounded(abs(float(rounded(found)) - float(rounded(hours))))
    if found > hours:
        return f"{text}{apart} h more."
    held_back = answer.held_back
    why = "no more is wanted" if held_back.is_demand_met else loss_in_short(held_back)
    held = f"What limits it: {why}."
    return f"{text}{apart} h fewer. {held}"


# -- money -----------------------------------------------------------------------------------


def gap_sentence(gap: MoneyGap) -> str:
    """What is not entered, or not alike, and what to do about it."""
    match gap:
        case NoContribution():
            return no_worth_sentence(gap)
        case OtherContribution():
            return _other_contribution(gap)
        case NotPriced():
            return not_priced_sentence(gap)


def _other_contribution(gap: OtherContribution) -> str:
    end = (
        f"enter it in {gap.reference}"
        if gap.there is None
        else "enter it here too"
        if gap.here is None
        else "enter the same in both, unless the price is what changes"
    )
    return (
        f"The contribution of {gap.part} is {_given(gap.here)} here and {_given(gap.there)} in "
        f"{gap.reference}: the gains compare different prices; {end}."
    )


def _given(contribution: Fraction | None) -> str:
    return "not given" if contribution is None else f"{float(contribution):.12g}"
