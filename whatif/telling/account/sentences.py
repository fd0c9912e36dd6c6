"""The sentences of accounts: what a figure means, what holds it there, what a check reckons.

A text in {braces} stands for what the study says: names as {0}, {1}, ..., numbers as {n0} to {n2}.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from whatif.answers.account.account import Check, Figure, FitLimit, Note, WorkedLine
from whatif.answers.account.origins import See
from whatif.answers.account.terms import Term, plain
from whatif.answers.answer import Answer
from whatif.answers.indicators import Indicator
from whatif.answers.limits import HeldBack, MayNot
from whatif.answers.money.missing import NotPriced
from whatif.answers.money.money import MoneyFigures
from whatif.plan.model import NotMade
from whatif.telling.amounts import grouped, listed, rounded, to_two_figures
from whatif.telling.caveats import caveat_sentences, unclear_sentence
from whatif.telling.clock import duration_text
from whatif.telling.fit import HOLDS, fit_limit_words, not_made_sentence
from whatif.telling.gain_texts import NOT_CLEAR, gain_text, percent_text, range_text
from whatif.telling.limits import eased_by_text, limit_in_short, limit_text
from whatif.telling.money.rests import first_pallets_sentence, not_priced_sentence, rests_sentence
from whatif.telling.origins import origin_words
from whatif.telling.rush import rush_figure_words
from whatif.telling.set_up_anew import ANEW, STANDS_FOR_IT
from whatif.telling.table import indicator_words
from whatif.telling.warnings import said_warning

if TYPE_CHECKING:
    from whatif.answers.ranks import Range

_OFF = "in hours from Monday 00:00 of the first week measured."
_IN_CYCLE = "Hours a week in which the spindles are in cycle"
_IN_CUT = "Hours in which metal is cut, nights included, over"
_AFTER_ARRIVAL = "in the two weeks after its arrival"

WORDS: Final = {
    "gain_percent": "gains",
    "gain_percent.saleable": "What the good pieces that somebody buys are worth, against the "
    "reference. It takes at most the pieces wanted of each part, and real orders in full.",
    "gain_percent.output": "What all good pieces are worth, sold or not, against the reference.",
    "gain_percent.spindle_hours": "Spindle hours against the reference.",
    "gain_percent.per_paid_hour": "Worth of all good pieces over the hours that people are paid "
    "for, against the reference.",
    "gain_percent.per_floor_area": "Spindle hours over the floor that machines and pallets take, "
    "against the reference.",
    "likely_percent": "likely ranges by draws alone",
    "likely_percent.*": "Where the gain lies in eight draws of ten, and its middle: in each draw "
    "all stated times and demands are moved as far as they may be off, here and in the reference "
    "alike. Where 0 lies within, there is no clear difference. What hour meters leave open is not "
    "in it; the range beside the gain above the sheet has that too.",
    "spindle_hours": "spindle hours",
    "spindle_hours.total": f"{_IN_CYCLE}, all machines together.",
    "spindle_hours.attended": f"{_IN_CYCLE} with somebody on duty.",
    "spindle_hours.breaks": f"{_IN_CYCLE} while all who are there are on a break.",
    "spindle_hours.after_hours": f"{_IN_CYCLE} from the end of a shift to the start of the next. "
    "They depend on how many pieces stand loaded when the people leave, how long their cycles are, "
    "for how long pieces may be begun after the shift, and on stops that nobody is there to mend.",
    "hours_by_state": "machine hours by state",
    "hours_by_state.*": "{2} All machines together.",
    "utilization_percent": "share in cut",
    "utilization_percent.of_shift": f"{_IN_CUT} the hours that a shift runs.",
    "utilization_percent.of_powered": f"{_IN_CUT} the hours in which the machines are powered.",
    "utilization_percent.of_week": f"{_IN_CUT} all 168 hours of the week.",
    "simulated": "what is simulated",
    "simulated.*": "What the simulation finds.",
    "weeks": "weeks, limit and band",
    "weeks.*": "Weeks over which everything is counted; figures a week are divided by them.",
    "limit": "weeks, limit and band",
    "limit.*": "The largest loss within the hours with somebody on duty, and the next one; what "
    "ends the run after hours is told apart.",
    "band": "weeks, limit and band",
    "band.*": "The runs differ in when stops come. One run in ten has fewer spindle hours than "
    "the first number, one in ten more than the second.",
    "indicators_percent": "indicators (ISO 22400-2)",
    "indicators_percent.itself": "Indicators of the machines' week.",
    "indicators_percent.*": "The {1} of ISO 22400-2: {2}.",
    "indicators_percent.loading_loss_product": "What is {1} (Nakajima's loading losses, as "
    "reprinted in textbooks): {2}.",
    "pieces": "pieces",
    "pieces.*": "Good pieces of {0} a week: pieces cut, less scrap. They count when the last "
    "piece of their load is cut.",
    "demand_met_percent": "demand met",
    "demand_met_percent.*": "Good pieces of {0} over those that are wanted a week.",
    "could_make_percent": "it could make",
    "could_make_percent.itself": "What the machines could make at most, over the worth of what is "
    "wanted: a second run in which orders are begun however far ahead.",
    "people_hours": "people's hours",
    "people_hours.paid": "Hours a week that people are paid for: their shifts, breaks among them "
    "where they are paid.",
    "people_hours.on_duty": "Hours a week that people are there and not on a break, all people "
    "together.",
    "people_hours.busy": "Hours a week that people work for the cell, other duties that slow them "
    "included.",
    "people_hours.free_stretches": "Hours a week that people are free for at least half an hour "
    "on end, enough to tend something else.",
    "fit": "fit",
    "fit.*": "Pieces in one load of this part on this machine: on all faces, under all limits.",
    "money": "money",
    "money.itself": "What a year brings, and what has to be invested for it.",
    "money.year": "What a year brings: the contribution of the pieces that somebody buys, less "
    "material of scrapped pieces, wages, and what spindle hours, floor and machines cost.",
    "money.year_gain": "What a year brings more than in the reference.",
    "money.capital": "What has to be invested against what stands in the shop today, what is given "
    "up taken off.",
    "money.payback_years": "Years from the start until what is invested more than for the "
    "reference has come back, without interest.",
    "money.net_present_value": "What the years bring, worth today, less the capital.",
    "money.rate_of_return_percent": "The yearly rate at which the net present value is 0.",
    "orders": "orders",
    "orders.first_off": f"When its first piece is off the pallet, {_OFF}",
    "orders.last_off": f"When its last piece is off the pallet, {_OFF}",
    "orders.late_hours": "Hours from its due date to its last piece off; 0 where it is on time.",
    "orders.on_time_percent": "Share of the runs in which its last piece is off when it is due.",
    "orders.worst_last_off": f"The same in the run in which it is latest, {_OFF}",
    "orders.worst_late_hours": "The same in the run in which it is latest.",
    "rush": "rush jobs",
    "rush.*": "Hours from its arrival until its last piece is off.",
    "rush.lost_spindle_hours": f"Spindle hours that other work loses {_AFTER_ARRIVAL}.",
    "rush.lost_contribution": f"Contribution that other work loses {_AFTER_ARRIVAL}, so what the "
    "rush order costs it.",
    "said": "said",
    "said.*": "What is said in the meeting, kept apart from what the model finds.",
    "hour_meters": "hour meters",
    "hour_meters.*": "Hours in cut over hours switched on, by the machines' own hour meters.",
    "hour_meters.gain_range_percent": "The saleable gain if the hours that the model finds beyond "
    "the hour meters are lost by people who are away, and if they are lost by machines that are "
    "tied up.",
}
"""Each family of figures by what its ids begin with: its theme in two or three words, and below
it in the words of a shop what each of its figures is, "*" where no other row says it.
{0}, {1}, ... are a figure's names."""

NOTES = {
    # What holds a figure where it is.
    "eased by": "{0}",
    "set up anew": f"{ANEW} Counted here are {STANDS_FOR_IT}",
    "people": "People are busy {n0} of {n1} hours on duty ({share}).",
    "people of shift": "Those of {0}: {n0} of {n1} ({share}).",
    "other duties": "Of these {n1} hours {n0} are other duties: they take {share} of people's "
    "time, so that all that people do takes {n2:.2f} times as long.",
    "waits for duties": "Other duties take {share} of people's time, so that what they are waited "
    "for takes {n2:.2f} times as long.",
    "met": "All that is wanted of {all} is made: more of it finds no buyer.",
    "nearly met": "Nearly all that is wanted of {all} is made: hardly more of it finds a buyer.",
    "short": "Less than is wanted is made of {all}: there the cell is the limit.",
    "counted once": "Real orders of {all} come once: the {n0:.0f} pieces made for them are spread "
    "over the {n1:.0f} weeks simulated, so that they count for less where more are simulated.",
    "fixtures": "Fixtures of {0}: {n0:.0f}; pallets lack one {n1} machine hours a week.",
    "fixtures of each": "Fixtures of {0}: {n0:.0f} of each of its {n2:.0f} numbers; pallets lack "
    "one {n1} machine hours a week.",
    "scrap made good": "An order of {n0:.0f} of {0} is cut as {n1:.0f} pieces, a whole number, so "
    "that {n2} of them are good: more pieces an order are fewer changeovers for as many pieces, so "
    "more scrap may bring more where changeovers limit.",
    "difference": "Its likely range is {ends} %, the middle {middle}: 0 does "
    "not lie within, so it is a difference.",
    "no difference": "Its likely range is {ends} %, the middle {middle}: 0 lies "
    "within, so it is told as no clear difference.",
    "typed outside": "As typed it lies outside of that range: with times a little longer or "
    "shorter it is another, so believe the range.",
    "draws": "In each of {n0:.0f} draws every stated time and demand is multiplied by a factor of "
    "its own, visits scatter and stops have that draw's luck. Of n draws in order a percentile p "
    "lies at rank p (n + 1), between two draws in proportion.",
    "widened": "Over the halves of the weeks measured the gains are apart, so the range is widened "
    "to hold both.",
    "meters in the gain": "The gain is told with {ends} %: what the hour meters leave open is in "
    "that too.",
    "standard": "The formula is published: ISO 22400-2:2014, from an open ontology of the "
    "standard.",
    "more weeks": "More weeks make the figures steadier and the answer slower.",
    "luck": "What differs between the runs is the luck of the stops alone.",
    "shift plan": "The shift plan alone decides it, not the work.",
    "short stretches": "{n0} hours more a week are free in stretches of less than half an hour.",
    "no permission": HOLDS,
    "costs nothing": "Owned machines, and pallets and fixtures that are there today, cost nothing.",
    "ramp": "The gain grows from nothing to full over the ramp, straight.",
    "annuity": "Interest is that of the present worth of equal amounts at each year's end, in any "
    "textbook of investment.",
    "by trying": "The rate stands on both sides of its equation, so it is found by trying; the "
    "check shows that it comes out.",
    "due date first": "Among real orders the earliest due date comes first, all ahead of the mix.",
    "due date and rush": "Among real orders the earliest due date comes first, all ahead of the "
    "mix. A rush order goes ahead of it.",
    "other work gains": "Less than nothing is lost: other work gains {n0} spindle h.",
    "rush range": "With times and demands a little otherwise it is likely {n0} to {n2} {0}, the "
    "middle {n1} ({1} draws): the range is to be believed, not the one number.",
    "rush nothing": "0 lies within that range, or all of it below 0: no clear loss to other work.",
    "no price": "No price of the rush order is entered to hold it against.",
    "brings more": "The rush order brings {n0:.0f} {0} ({origin}), more than the {n1:.0f} that "
    "other work loses.",
    "brings less": "The rush order brings {n0:.0f} {0} ({origin}), less than the {n1:.0f} that "
    "other work loses.",
    "brings between": "The rush order brings {n0:.0f} {0} ({origin}), which lies within what other "
    "work is likely to lose.",
    "gap to people": "The gap is laid to people: each visit takes {n0:t} longer.",
    "gap to machines": "The gap is laid to machines: each load takes {n0:t} longer.",
    "gap open": "The gap to what the model finds is shown, and laid to nobody.",
    "longer.people": "Laid to people, each visit takes {n0:t} longer.",
    "longer.machines": "Laid to machines, each load takes {n0:t} longer.",
    "no gap.people": "There is no gap to lay to people.",
    "no gap.machines": "There is no gap to lay to machines.",
    # Why there is no figure.
    "no parts": "The scenario wants no part, by the week or by an order: nothing is simulated.",
    "no parts there": "{0} wants no part: nothing is simulated there.",
    "not simulated": "Nothing is simulated.",
    "no floor": "No floor is entered for a machine of {0}.",
    "nobody paid": "Nobody is paid in {0}.",
    "reference has none": "{0} has nothing to measure against: its figure is 0.",
    "only draws tell": "What the draws come to cannot be reckoned without running them.",
    "only a run tells": "What it makes then cannot be reckoned without running it.",
    "not all is made": "Not all that is wanted is made, so there is nothing to spare.",
    "no range yet": "It has not been worked out.",
    "a draw lacks it": "In some draw there is nothing to measure against.",
    "no hours": "There is no machine, or no shift runs: there are no such hours.",
    "no stops": "The scenario has no stops, so that all runs are alike.",
    "nothing due": "No order of it falls due in the weeks measured, and none was made: there is "
    "nothing to hold it against. Measure more weeks.",
    "no contribution": "No part of any scenario has a contribution: enter one to have answers in "
    "money.",
    "never back": "A year brings no more than in the reference, so that the capital never comes "
    "back.",
    "nothing laid out": "Nothing has to be invested, and a year brings no more than in the "
    "reference: nothing has to come back.",
    "no rate": "There is no such rate: nothing has to be invested, or a year brings no more than "
    "in the reference.",
    "not off": "It is not off within the weeks measured; measure more.",
    "not in a year": "It is not off within a year.",
    "pieces without contribution": "Other pieces are lost, or none, that have no contribution: so "
    "nobody knows what the order costs.",
    "no attended hour": "There is no attended hour at which it can come.",
    "nothing said": "Nothing is said: enter in which share of the hours a spindle is said to cut.",
    "nothing said there": "Nothing is said of {0}, or 0 hours, to hold it against.",
    "no meters": "Neither here nor above are hour meters entered.",
    "meters of": "The hour meters are those of {0}; here there are none.",
    "no range": "There is no gain to be worked out for it, or it has not been worked out.",
    # Why there is no check.
    "of the reference": "The reference is measured against itself.",
    "too few": "Too little is made for a check: what stands in the spindles when the weeks begin "
    "and end may be as much.",
    "entered": "There is none: it is a number that was entered, or taken as it stands.",
    "no work": "There is none: no work of people is entered for what is made most.",
    "nothing is cut": "There is none: nothing is made from which it could be worked out otherwise.",
    "no sizes": "There is none: sizes and masses to hold it against are not entered.",
    "no model": "There is none: the model has no such share to hold it against.",
}

CHECKS: Final = {
    "bound": {
        "all wanted": "If all that is wanted were made, the gain would be this: more pallets, "
        "people or hours cannot sell more.",
        "whole week": "If all machines were in cycle for 168 hours a week, the gain would be this.",
        "room": "No machine cuts longer than those hours last.",
        "work.visit": "While a machine stands so a person works at it, and at no other: loading "
        "and setups together take no more hours than people spend on it.",
        "work.machine": "While a machine stands so a person works at it, and at no other: it takes "
        "no more hours than people spend on it.",
        "pallet changes": "Each load comes in by one change: full loads need at least this.",
        "in cycle": "No more is cut than the spindles are in cycle.",
        "cut in shift hours": "Pieces cut times their cycle{0}, over the hours that a shift runs; "
        "powered hours are no fewer.",
        "mean of runs": "The runs from the lower end up have at least that many hours each, the "
        "others no fewer than 0: their mean is no less than this.",
        "whole weeks": "No run has more than all machines cutting for 168 hours a week.",
        "whole": "Nobody is busy longer than on duty.",
        "all runs": "There are no more runs in time than runs.",
        "least scrap": "No more is good than the part with the least scrap leaves.",
        "most scrap": "No less is good than the part with the most scrap leaves.",
        "most pieces": "If nothing else were made: no more than the spindles could cut in 168 "
        "hours, and no more than the people could load.",
        "everybody.paid": "No more than if all people of all shifts were there whenever a shift "
        "runs.",
        "everybody.on_duty": "No more than if all people of all shifts were there in every hour "
        "that the machines were attended.",
        "busy": "Loading, unloading, walking and bench work of the pieces alone take this; setups "
        "and what else people do come on top.",
        "on duty": "Nobody is busy longer than on duty.",
        "free": "No more than all free time.",
        "table load": "No more than the table bears.",
        "plain rows": "Plain rows alone hold this.",
        "area": "Each piece takes its own face and its gap: no more than the area has room for.",
        "year of all wanted": "If all that is wanted were made and nothing were paid for it, a "
        "year would bring this: it cannot bring more.",
        "all new": "If everything here were bought new and nothing given up, the capital would be "
        "this: it cannot be more.",
        "all given up": "If nothing were bought and all of today given up, the capital would be "
        "this: it cannot be less.",
        "soonest": "If all that is wanted were made and nothing were paid for it, the capital "
        "would be back after this: it cannot be back sooner.",
        "no interest": "Without interest: the years' gains less the capital.",
        "for ever": "If the gain came every year for ever.",
        "in the weeks": "It is off within the weeks measured: else it would not be known.",
        "one piece cut": "It must be at hand, and one piece of it be cut.",
        "all cut.last_off": "It must be at hand, and all its pieces be cut, by all machines that "
        "may make it at once.",
        "all cut.late_hours": "It must be at hand, and all its pieces be cut, by all machines that "
        "may make it at once: that is past its due date by this.",
        "rush cut": "All its pieces must be cut, by all machines that may make it at once.",
        "two whole weeks": "No more can be lost in two weeks than all machines have hours.",
        "two weeks of the best": "No more can be lost than if all machines cut, for two weeks, "
        "what brings most an hour.",
        "all hours": "No more than all machines cutting all those hours.",
    },
    "conservation": {
        "states": "Every machine is in one state at a time, so all states together fill the week.",
        "attended": "Attended hours and breaks fill the hours that a shift runs, on every machine.",
        "nights": "No machine has more nights than shifts end.",
    },
    "other route": {
        "output from hours": "The same from other counts: the pieces that fill the hours in cycle "
        "at their cycle{0}, in place of the pieces counted.",
        "hours from pieces": "The same from other counts: pieces cut times their cycle{0}, in "
        "place of the hours counted.",
        "cycles.part": "Pieces cut{0} times their cycle are the hours in cycle on it.",
        "cycles.all": "Pieces cut{0} times their cycle are the hours in cycle, all machines "
        "together.",
        "cycles.rest": "Pieces cut{0} times their cycle are all hours in cycle; less those of the "
        "other kinds, these are left.",
        "cut from pieces": "The same from other counts: pieces cut times their cycle{0}, in place "
        "of the hours in cycle.",
        "from pieces": "The same from other counts: pieces cut times their cycle, in place of the "
        "hours in cycle.",
        "scrap": "What scrap leaves of the pieces made.",
        "demand from hours": "The same from other counts: the pieces that fill the hours in cycle "
        "on it{0}, over those wanted.",
        "not yet back": "In so many whole years ({0}) the gains add up to this: not yet the "
        "capital.",
        "back": "In so many whole years ({0}) the gains add up to this: the capital is back.",
        "year by year": "Each year's gain brought to today by itself, and added up.",
        "worth the capital": "At that rate what the years bring, worth today, is what is invested, "
        "once: the net present value is 0.",
        "model a day": "What the model finds of spindle hours a day, to hold what is said against.",
        "model of powered": "What the model finds; what is more than the meters nothing entered "
        "explains.",
        "gap open": "The gain with the gap laid to nobody, to hold the range against.",
    },
}
"""What a check reckons, by what makes it a check: a limit that nothing can pass, a law that
something adds up, or the number found once more from other inputs or other counts."""

_SORTS = {
    "bound": "A bound",
    "conservation": "What must add up",
    "other route": "Another way to it",
}
"""How that stands before the sentence."""

_BECAUSE = {
    "pallet changes": "loads in the spindles when the weeks measured begin and end",
    "busy": "what lies on pallets when the weeks measured begin and end",
    "most pieces": "what lies on pallets when the weeks measured begin and end",
    "free": "stretches that began before the weeks measured",
}
"""Why a check may be off, where it is not what stands in the spindles at either end."""

_SOURCES = {
    # Cited from memory.
    "most pieces": "Denning and Buzen, The operational analysis of queueing network models, "
    "Computing Surveys 10 (1978): a loop makes no more than its busiest station can serve.",
}
"""Where the rule of a check is published; the others are plain arithmetic."""

_STANDS = {
    "is": "The figure found: {}.",
    "at most": "No more than that may be found. Found: {}.",
    "at least": "No less than that must be found. Found: {}.",
    "about": "To be held against it: {}.",
}


def theme(figure: Figure) -> str:
    """What a figure is about, in two or three words."""
    return WORDS[figure.theme]


def meaning(figure: Figure) -> str:
    """What a figure is."""
    key = figure.names[0] if figure.key == "*" else figure.key
    # The median and the worst of a figure are told as the figure itself.
    places = (f"{figure.theme}.{end}" for end in (key, key.partition(".")[0], "*"))
    return next(WORDS[place] for place in places if place in WORDS).format(*figure.names)


def note_sentence(note: Note) -> str:
    """What holds a figure where it is, why there is none, or why it has no check."""
    if isinstance(note.of, HeldBack):
        return limit_text(note.of)
    if isinstance(note.of, MayNot):
        return eased_by_text(note.of)
    if isinstance(note.of, Indicator):
        return indicator_words(note.of)
    if isinstance(note.of, MoneyFigures):
        if note.id == "rests":
            return rests_sentence(note.of)
        if note.id == "first pallets":
            return first_pallets_sentence(note.of.rests.first_pallets)
        return not_priced_sentence(NotPriced(note.of.not_priced, note.of.lean))
    if isinstance(note.of, Answer):
        if note.id == "sells no more":
            return unclear_sentence(note.of)
        if note.id == "caveats":
            return " ".join(caveat_sentences(note.of, with_unmade=False))
        return said_warning(note.of)
    if isinstance(note.of, NotMade):
        return not_made_sentence(note.of)
    if isinstance(note.of, FitLimit):
        limit = note.of
        return fit_limit_words(limit.limit, limit.part, limit.group, limit.units)
    origin = "" if note.origin is None else origin_words(note.origin)
    first, second, third = (*note.numbers, 0.0, 0.0, 0.0)[:3]
    share = f"{rounded(100 * first / second, 0)} %" if second else ""
    numbers = {"n0": _Number(first), "n1": _Number(second), "n2": _Number(third), "share": share}
    likely = (first, second, third)
    gain = {"ends": range_text(likely), "middle": percent_text(second, likely)}
    words = {"all": listed(note.names), "origin": origin, **gain}
    return NOTES[note.id].format(*note.names, **words, **numbers)


class _Number(float):
    """A number that is told with one decimal where its sentence says no other, or as a time (t)."""

    def __format__(self, spec: str) -> str:
        if spec == "t":
            return duration_text(float(self))
        sign, _, digits = spec.rstrip("f").partition(".")
        return rounded(self, int(digits or 1), sign)


def sort_of(check: Check) -> str:
    """What makes it a check."""
    return next(sort for sort, rules in CHECKS.items() if check.id in rules)


def check_rule(check: Check) -> str:
    """What a check reckons."""
    return CHECKS[sort_of(check)][check.id].format(*check.names)


def check_sentence(check: Check) -> str:
    """What a check reckons, and what makes it one."""
    return f"{_SORTS[sort_of(check)]}. {check_rule(check)}"


def because(check: Check) -> str:
    """Why a check may be off; "" where it may not."""
    in_spindles = "what stands in the spindles when the weeks measured begin and end"
    return _BECAUSE.get(check.id, in_spindles) if check.slack else ""


def source(check: Check) -> str:
    """Where its rule is published, "" where it is plain arithmetic."""
    return _SOURCES.get(check.id, "")


def stands(check: Check, figure: Figure) -> str:
    """How what was found, which need not be the figure itself, stands to what the pencil gives."""
    line, found = check.line, check.found
    text = _STANDS[check.relation].format(amount(found.value, line.unit, line.digits or 0))
    if not (isinstance(found, Term) and found.origin == See(figure.id)):
        text = f"{text.replace('The figure found', 'Found')[:-1]} ({found.words()})."
    if check.slack and check.relation != "about":
        text += f" The two may be {_apart(check.slack, line.unit)} apart: {because(check)}."
    if not check.holds:
        text += " This does not come out as it should: trust neither until you know why."
    return text


def _apart(slack: float, unit: str) -> str:
    """By how much two figures may differ, as somebody writes it."""
    much = to_two_figures(slack)
    text = grouped(much) if much >= _WHOLE_APART else f"{much:g}"
    return f"{'less than 0.01' if slack < _LEAST_APART else text} {unit}".rstrip()


_LEAST_APART, _WHOLE_APART = 0.01, 10


# -- figures and results of lines as they are shown -------------------------------------------


def amount(value: float, unit: str, digits: int) -> str:
    """A number as the tables round it, with its unit; a large one in groups of three digits."""
    text = grouped(value) if abs(value) >= _IN_GROUPS and not digits else rounded(value, digits)
    return f"{text} {unit}".rstrip()


_IN_GROUPS: Final = 10_000


def line_shown(line: WorkedLine) -> str:
    """What a line gives."""
    if line.digits is None:
        return f"{plain(line.result)} {line.unit}".rstrip()
    return amount(line.result, line.unit, line.digits)


def is_alone(line: WorkedLine) -> bool:
    """Whether a line is a number by itself, which needs no line that repeats it."""
    return " " not in line.expr.numbers()


def figure_shown(figure: Figure) -> str:
    """A figure's value with its unit; what a gain or a fit comes to in words."""
    value = figure.value
    if value is None:
        return "nothing is simulated" if figure.theme == "limit" else "none"
    if isinstance(value, HeldBack):
        return limit_text(value)
    if isinstance(value, tuple):
        if len(value) == 3:
            return f"{range_text(value, figure.gain)} {figure.unit}"
        ends = " to ".join(dict.fromkeys(rounded(end, figure.digits) for end in value))
        reference = ", this is the reference" if figure.is_reference else ""
        return f"{ends} {figure.unit}".rstrip() + reference
    if figure.theme == "fit":
        return f"fits, {value:.0f} a load" if value else "does not fit"
    if figure.is_gain:
        return _gain_shown(figure, value)
    if figure.theme == "rush" and figure.likely is not None:
        return _rush_shown(figure, value, figure.likely)[0]
    return amount(value, figure.unit, figure.digits)


def figure_in_short(figure: Figure) -> str:
    """The same in a list of figures: without what comes behind the value."""
    value = figure.value
    if isinstance(value, HeldBack):
        return limit_in_short(value)
    if isinstance(value, float) and figure.theme == "fit":
        # Not that it fits: whether there are sizes to hold it against stands in its account.
        return f"{rounded(value, 0)} a load" if value else "does not fit"
    if isinstance(value, float) and figure.is_gain:
        return "0.0 %" if figure.is_reference else gain_text(value, figure.likely)
    if isinstance(value, float) and figure.theme == "rush" and figure.likely is not None:
        return _rush_shown(figure, value, figure.likely)[1]
    return figure_shown(figure)


def _rush_shown(figure: Figure, typed: float, likely: Range) -> tuple[str, str]:
    is_loss = figure.key != "hours"
    return rush_figure_words(typed, likely, figure.unit, figure.digits, is_loss=is_loss)


def _gain_shown(figure: Figure, gain: float) -> str:
    if figure.is_reference:
        return "0.0 %, this is the reference"
    text = gain_text(gain, figure.likely)
    return f"{text} (as typed {percent_text(gain, figure.likely)})" if text == NOT_CLEAR else text
