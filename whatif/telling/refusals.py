"""Why a question has no answer as it was put, and what to do, in sentences."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from whatif.study.refused import RefusalKind

_RANGE = 'write FROM..TO or FROM..TO..STEP, such as "1..8" or "5 min..15 min..1 min"'

_TARGETS = (
    'write "hours 80" (spindle hours a week), "pieces body 1000" (good pieces of a part a week), '
    '"met 100" (percent of the demand of every part) or "payback 3" (years)'
)

UNANSWERED: Final[Mapping[RefusalKind | str, str]] = {
    "no machine here": "There is no machine in this scenario: n adds one.",
    "no part wanted here": "No part is wanted in this scenario: n adds one, or enter its weekly.",
    "no parts": "{0} has no parts, so there is nothing to simulate.",
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
    "of the whole study": "{0} holds for the whole study, so it is no input of a scenario.",
    "not one number": (
        "{0} is not one number, so it cannot be stepped through (it is {1}). Name a count, a time, "
        "a percentage, a mass, a single length or an amount."
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
    "no amount": '"{0}": {1} is no number above 0; ' + _TARGETS + ".",
    "no such part": '"{0}": the scenario wants no part {1} by the week. There are: {2}.',
    "no such part, near": '"{0}": the scenario wants no part {1} by the week. Did you mean {2}?',
}
"""By the `Reason` that `whatif.answers.moves.inputs` lists."""
