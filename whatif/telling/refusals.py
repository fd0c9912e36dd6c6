"""Why something cannot be done or answered as it was put, and what to do, in sentences."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from whatif.study.problem import Problem
from whatif.study.refused import (
    FIGURE,
    KEY,
    RULE,
    SCENARIO,
    STUDY_KEY,
    FileFault,
    HasProblem,
    NoneAllowed,
    NotThere,
    Refusal,
    RefusalKind,
    Refused,
)
from whatif.telling.problems import problem_in_short, problem_sentence, what_is_wrong
from whatif.telling.study_file import file_fault_words

_RANGE = 'write FROM..TO or FROM..TO..STEP, such as "1..8" or "5 min..15 min..1 min"'

_TARGETS = (
    'write "gain 25" (percent over the reference), "hours 80" (spindle hours a week), '
    '"pieces {1} 1000" (good pieces of a part a week), "met 100" (percent of the demand of every '
    'part), "payback 3" (years) or "said 40" (hours a day that are said)'
)

_REFUSALS: Final[Mapping[RefusalKind | str, str]] = {
    RefusalKind.TAKEN: "There is a {0} {1} already; choose another id.",
    RefusalKind.NO_ID: '"{0}": {1}; allowed: {2}.',
    RefusalKind.PLAIN_VALUE: "{0} holds a plain value, not a table; clear it first.",
    RefusalKind.NOT_ENTERED: "{0} is not entered in {1}.",
    RefusalKind.NOT_ENTERED_FOR_STUDY: "{0} is not entered for the whole study.",
    RefusalKind.ENTERED_ALREADY: "{0} is entered already; take {1} out instead (Del).",
    RefusalKind.ENTERED_FOR_STUDY_ALREADY: "{0} is entered already; take {1} out instead.",
    RefusalKind.LAST_SCENARIO: "A study keeps at least one scenario.",
    RefusalKind.INHERITS_FROM_IT: "{0} cannot be based on {1}, which inherits from it.",
    RefusalKind.ASKED_FOR: (
        "{0} in {1} asks for {2} or comes after it; remove it or give it another part first."
    ),
    RefusalKind.MADE_THERE_ALONE: (
        "{0} in {1} is made on {2} alone; let it be made on another machine first."
    ),
    RefusalKind.NOT_TAKEN_OUT: "{0} {1} is not removed from {2}.",
    RefusalKind.NO_PART_YET: ("{0} asks for a part, and there is none yet: add a part first."),
    RefusalKind.NO_THING_YET: "This scenario has no {0} {1}; add it first.",
    RefusalKind.NO_AMOUNT_THERE: "No number above 0 stands here to take {0} of: type the value.",
    RefusalKind.MORE_THAN_ALL: "No more than 100 % can be taken off.",
    RefusalKind.LESS_THAN_ONE: "{0} of {1} comes to less than one: type the number itself.",
    RefusalKind.UNREADABLE_TIME: "{0}",
    RefusalKind.HOURS_OUT_OF_RANGE: "Attended hours a day are above 0 h and at most 24 h.",
    RefusalKind.NO_WHOLE_MINUTES: "A shift ends on a whole minute; write such as 15 h 30 min.",
    RefusalKind.NOTHING_LEFT_OF_SHIFT: (
        "That would leave nothing of shift {0} ({1}); remove the shift instead (people 0)."
    ),
    RefusalKind.SHIFT_TOO_LONG: "Shift {0} would be longer than 24 h; add a shift instead.",
    RefusalKind.SHIFTS_OVERLAP: (
        "Moving the end of shift {0} alone cannot make it {1}, since the shifts overlap; change "
        "their start and end."
    ),
    RefusalKind.NO_SHIFT_YET: "There is no shift yet; add one first.",
    RefusalKind.DAYS_DIFFER: (
        "The shifts run on different days, so hours a day differ; move the end of one shift."
    ),
    RefusalKind.UNREADABLE_DAYS: "The days of shift {0} cannot be read; mend them first.",
    RefusalKind.UNREADABLE_HOURS: "The hours of shift {0} cannot be read; mend them first.",
    # Of questions, by the `Reason` that `whatif.answers.moves.inputs` lists.
    "no machine here": "There is no machine in this scenario: n adds one.",
    "no part wanted here": "No part is wanted in this scenario: n adds one, or enter its weekly.",
    "no parts": "{0} has no parts, so there is nothing to simulate.",
    "no real orders": "There is no real order with a due date here; take another goal.",
    "no goal": (
        "{0} is no goal; write demand, orders, most, gain=25 (percent over the reference), "
        "payback=2 (years) or sum=50000 (money that may be laid out by the end of the first year)."
    ),
    "no gain over nothing": (
        "The reference has no saleable output, so there is no gain over it; take another goal."
    ),
    "no lever": "There is no lever that would change anything in {0}.",
    "no contribution": (
        "No part of any scenario has a contribution, so nothing pays back; enter one."
    ),
    "nothing due": (
        "Nothing is due within the weeks measured, so no demand is met or missed; measure more "
        "weeks."
    ),
    "no saleable output": (
        "{0} has no saleable output, so no value is level with it; name a target to reach."
    ),
    "no gain": (
        "{0} has no saleable output, so there is no gain that an input could move. Vary one "
        "input, or look for the value that reaches a target."
    ),
    "level with itself": (
        "{0} is the reference, and level with itself; name a target to reach, or another scenario."
    ),
    "nothing said": "{0}: nothing is said of it in a meeting; enter said.with_people.cutting.",
    "of the whole study": "{0} holds for the whole study, so it is no input of a scenario.",
    "not one number": (
        "{0} is not one number, so it cannot be stepped through (it is {1}). Name a count, a time, "
        "a percentage, a mass, a single length or an amount."
    ),
    "no share": (
        "{0}: of a percentage or a time of day no share is taken, so all cannot be moved at once; "
        "name one, such as {1}."
    ),
    "none has a number": (
        "{0}: none of the {1} has a number there, and all at once are moved by a share of what "
        "each is: enter it for each first, or move that of one, such as {2}."
    ),
    "no share of each": (
        '{0}: "{1}" is no share; all at once are moved by the same share of what each is: write '
        '"50 %..200 %". For other values move that of one, such as {2}.'
    ),
    "same input": "A table needs two different inputs.",
    "no value": "No value is named, so there is nothing to try.",
    "no plain number": '{0}: "{1}" cannot be read; write a plain number.',
    "not read": '{0}: "{1}" cannot be read; {2}.',
    "not read, such as": '{0}: "{1}" cannot be read; write {2}, such as "{3}".',
    "now 0": ('{0} is 0, so it is not known how much to try: name a range, such as "{1}..{2}".'),
    "not given": (
        '{0} is not given, so it is not known how much to try: name a range, such as "{1}..{2}".'
    ),
    "where to look": (
        "{0} is 0 or not given, so it is not known where to look; name a range as FROM..TO, such "
        'as "{1}..{2}".'
    ),
    "no range": '"{0}" is no range; ' + _RANGE + ".",
    "no step wanted": '"{0}": no step is wanted here; write FROM..TO.',
    "step not above 0": '"{0}": the step must be above 0.',
    "step not whole": '"{0}": {1} goes in whole numbers, so the step must too.',
    "not whole": '"{0}": {1} goes in whole numbers.',
    "too many values": '"{0}" makes {1} values; at most {2} are tried. Take a larger step.',
    "goes down": '"{0}" goes down; write the smaller value first: {1}..{2}.',
    "one value": '"{0}" has only one value in it; ' + _RANGE + ".",
    "no target": '"{0}" is no target; ' + _TARGETS + ".",
    "no amount": '"{0}": {2} is no number above 0; ' + _TARGETS + ".",
    "no percentage": '"{0}" is no gain in percent above 0; write 25 or "+25 %".',
    "no such part": '"{0}": the scenario wants no part {1} by the week. There are: {2}.',
    "no such part, near": '"{0}": the scenario wants no part {1} by the week. Did you mean {2}?',
}
_ORDERS = {"rush": "A rush order", "order": "An order"}


def refusal_words(refused: Refused) -> str:
    """Why something cannot be done or answered, and what to do about it."""
    match refused.why:
        case NotThere() as missing:
            return _not_there(missing)
        case Refusal(RefusalKind.NO_PART_YET, (group,)):
            return _REFUSALS[RefusalKind.NO_PART_YET].format(_ORDERS[group])
        case Refusal(kind, details):
            return _REFUSALS[kind].format(*details)
        case NoneAllowed(key, problem):
            return f"{key}: {what_is_wrong(problem)}"
        case Problem() as problem:
            return problem_in_short(problem)
        case HasProblem(problem):
            return f"The study has a problem; mend it first. {problem_sentence(problem)}"
        case FileFault() as fault:
            return file_fault_words(fault)


def _not_there(missing: NotThere) -> str:
    """That a scenario, key, thing, figure or rule is not there, and what may have been meant."""
    if missing.sort == STUDY_KEY:
        text = f"There is no key {missing.name} for the whole study."
    elif missing.sort in (KEY, SCENARIO, RULE, "sort of thing"):
        text = f"There is no {missing.sort} {missing.name}."
    else:
        where = "this study" if missing.scenario is None else missing.scenario
        text = f"There is no {missing.sort} {missing.name} in {where}."
        if not missing.known:
            return f"{text} It has no {missing.sort} at all."
    if missing.nearest:
        text += f" Did you mean {' or '.join(missing.nearest)}?"
    elif missing.sort == KEY:
        text += " Write it as in the file: machine.mill.pallets."
    if missing.known and (missing.sort in (SCENARIO, FIGURE) or not missing.nearest):
        titles = missing.titles or ("",) * len(missing.known)
        told = [
            f"{id_} ({title})" if title else id_
            for id_, title in zip(missing.known, titles, strict=True)
        ]
        text += f" There are: {', '.join(told)}."
    return text
