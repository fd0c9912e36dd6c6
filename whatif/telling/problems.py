"""What is wrong, odd or not used in a study, in sentences."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from whatif.study.check.loads import MOST_LOADS, MOST_STOPS, TooManyStops, TooMuch
from whatif.study.problem import Problem, ProblemKind
from whatif.study.schema.catalogue import THINGS, key_for, label_at
from whatif.study.schema.says import NoMachineHas, UnusedWhen
from whatif.telling.amounts import listed
from whatif.telling.sources import GUESSED

if TYPE_CHECKING:
    from whatif.study.check.unused import WhyUnused

_PROBLEMS: Mapping[ProblemKind, str] = {
    ProblemKind.NOT_OF_ITS_KIND: "{0}",
    ProblemKind.NO_FORMAT: "the file does not say format = {0}",
    ProblemKind.LATER_FORMAT: "the file is of a later form than this version reads",
    ProblemKind.NO_TABLES: "it is {0}, and tables are wanted",
    ProblemKind.NO_TABLE: "it is {0}, and a table is wanted",
    ProblemKind.LIST_OF_TABLES: "it is a list of tables; a table has single brackets",
    ProblemKind.UNKNOWN_KEY: "there is no such key",
    ProblemKind.BELONGS_TO_SCENARIO: "it stands under a scenario",
    ProblemKind.BELOW_A_VALUE: "{0} is one value, and nothing stands below it",
    ProblemKind.NO_ID: "the id of the {0} is missing",
    ProblemKind.MISSING: "it is missing",
    ProblemKind.BREAK_OUTSIDE: "the break {0} is not inside the shift {1}",
    ProblemKind.BREAKS_OVERLAP: "the breaks {0} and {1} overlap",
    ProblemKind.BREAK_PAID_AND_UNPAID: (
        "the paid break {0} of `breaks` and the unpaid one {1} of `unpaid_breaks` overlap; "
        "`breaks` are the paid ones, and an unpaid one stands in `unpaid_breaks` alone"
    ),
    ProblemKind.MORE_THAN_SWITCHED_ON: "it is more than the hours switched on, {0}",
    ProblemKind.NO_SUCH_THING: "there is no {0} {1} in this scenario",
    ProblemKind.TOO_MANY_RUSH: (
        "there are {0} rush orders, each of which is tried by itself; enter as orders what is "
        "known beforehand"
    ),
    ProblemKind.SETS_UP_WITHOUT_LOADING: "whoever sets up has to load too",
    ProblemKind.AFTER_ITSELF: "{0} comes after itself",
    ProblemKind.TWO_AFTER_ONE: "{1} comes after {0} already, and one part alone can",
    ProblemKind.NO_SCENARIO: "there is no scenario",
    ProblemKind.NO_SUCH_SCENARIO: "there is no such scenario",
    ProblemKind.OWN_PARENT: "it is its own parent",
    ProblemKind.HAS_NO_EFFECT: (
        "on {0} it has no effect, because {1} = {2}, inherited from {3}, holds there"
    ),
    ProblemKind.HAS_NO_EFFECT_FOR_A_GUESS: (
        "on {0} it has no effect, because {1} = {2}, inherited from {3}, "
        f"{GUESSED}, holds there"
    ),
    ProblemKind.SHORT_METERS: "hour meters under 40 h are too short to tell much",
    ProblemKind.METER_MISSING: "it is not given, so the hour meters tell nothing",
    ProblemKind.BEGUN_WITHOUT_COUNT: (
        "it is not given, and no scenario above has this machine; if it is meant, enter it"
    ),
    ProblemKind.NO_MEANING_WITH_ONE_PALLET: "it has no meaning with one pallet",
    ProblemKind.TOO_FEW_TOOL_PLACES: "the tools of all parts that are made on it take {0} places",
    ProblemKind.DUE_BEFORE_IT_ARRIVES: "it is due before it arrives",
    ProblemKind.STOCK_OF_NO_USE: "no part comes after it, so nothing is made of what lies there",
    ProblemKind.EVERY_PART_KEEPS_ITS_PALLET: (
        "the {0} pallets and tables are at least as many as the {1} part numbers, so that every "
        "part keeps its pallet and is hardly ever set up anew; enter under "
        '"part numbers it covers" how many you make'
    ),
    ProblemKind.LONGER_THAN_A_DAY: (
        "it is longer than somebody is there on any day ({0}): were minutes meant?"
    ),
}


def problem_sentence(problem: Problem) -> str:
    """A problem with its place and all that helps to mend it, as it stands in a list of them."""
    scenario = f"scenario {problem.scenario}" if problem.scenario else ""
    if problem.kind is ProblemKind.OTHER_THAN_ABOVE:
        # Of all its parts, so that one place would mislead.
        return f"Scenario {problem.scenario} {message(problem)}."
    place = ", ".join(part for part in (scenario, problem.key) if part)
    value = f" = {problem.value}" if problem.value else ""
    text = f"{place}{value}: {_with_allowed(message(problem), problem.allowed)}{_meant(problem)}"
    return text[0].upper() + text[1:] if problem.scenario else text


def warning_sentence(warning: Problem) -> str:
    """A warning as it stands below its scenario's title: in the words of a sheet, without ids.

    The scenario that a value is inherited from is the one above, as the sheet's ↑ has it.
    """
    if warning.kind is ProblemKind.OTHER_THAN_ABOVE:
        return f"It {_other_than_above('', *warning.details[1:])}."
    if warning.kind in (ProblemKind.HAS_NO_EFFECT, ProblemKind.HAS_NO_EFFECT_FOR_A_GUESS):
        machine, key, value, _ = warning.details
        holds = label_at(tuple(key.split("."))), value.strip('"')
        warning = replace(warning, details=(machine, *holds, "above"))
    elif warning.kind is ProblemKind.PALLETS_LIKE_TABLES:
        warning = replace(warning, details=("above", *warning.details[1:]))
    label, path = label_at(warning.path), warning.path
    is_named = path[0] in THINGS and key_for(path) is not None
    place = f"{path[1]}, {label}" if is_named else f"{label[:1].upper()}{label[1:]}"
    value = warning.value.strip('"')
    is_value = f" = {value}" * bool(value)
    said = _with_allowed(message(warning), warning.allowed)
    return f"{place}{is_value}: {said}{_meant(warning)}"


def too_much_words(found: TooMuch) -> str:
    """That a scenario is more than can be simulated, and what to change."""
    if isinstance(found, TooManyStops):
        return (
            f"Scenario {found.scenario}: up to {found.stops / 1_000_000:,.0f} million stops a week "
            f"would be simulated, and {MOST_STOPS // 1_000_000} million are the most; look at how "
            f"often {found.stop} comes, or enter fewer machines."
        )
    return (
        f"Scenario {found.scenario}: up to {found.loads / 1_000_000:,.0f} million loads a week "
        f"would be simulated, and {MOST_LOADS // 1_000_000} million are the most; look at the "
        f"cycle of {found.part}, enter more pieces per load, or fewer machines."
    )


def what_is_wrong(problem: Problem | None) -> str:
    """Why a value that was tried is not allowed; "" where it is.

    It is told with its place where that is in another scenario.
    """
    if problem is None:
        return ""
    if problem.scenario:
        return problem_sentence(problem)
    text = _with_allowed(message(problem), problem.allowed)
    return text[0].upper() + text[1:]


def _with_allowed(said: str, allowed: str) -> str:
    """One sentence of what is wrong and what may stand there instead."""
    return f"{said}; allowed is {allowed}." if allowed else f"{said}."


def problem_in_short(problem: Problem) -> str:
    """A problem without its place, which whoever types can see."""
    said, key = message(problem), key_for(problem.path)
    # What the editor takes, where that is simpler than what the file holds.
    is_kinds = key is not None and problem.allowed == key.kind.allowed
    allowed = key.kind.typed_as if key is not None and is_kinds else problem.allowed
    text = _with_allowed(said, allowed) + _meant(problem)
    # What was typed stays as it is: "Mm" would be another unit than "mm".
    is_typed = said.split()[0] in re.split(r"\W+", problem.value)
    return text if is_typed else text[0].upper() + text[1:]


def message(problem: Problem) -> str:
    """What is wrong with the value, as a part of a sentence."""
    if problem.kind is ProblemKind.PARENTS_IN_CIRCLE:
        way = " -> ".join((*problem.details, problem.details[0]))
        return f"the parents go in a circle ({way}); one of these scenarios needs another"
    if problem.kind is ProblemKind.AFTER_EACH_OTHER:
        way = " after ".join((*problem.details, problem.details[0]))
        return f"the parts come after each other in a circle ({way})"
    if problem.kind is ProblemKind.OLD_KEY:
        now, how = problem.details[:2]
        return f"this key is now {now}" + (f": {how}" if how else "")
    if problem.kind is ProblemKind.YEARLY_OF_SOME_ALONE:
        return (
            f"not entered, though {problem.details[0]} has some: counted as 0, so that work moved "
            "here seems to save them; enter them, or 0"
        )
    if problem.kind is ProblemKind.PALLETS_LIKE_TABLES:
        scenario, *names = problem.details
        keys = (key_for((*problem.path[:2], name)) for name in names)
        return (
            f"{' and '.join(key.label for key in keys if key is not None)} inherited from "
            f"{scenario}, where the machine has one pallet: pallets are seldom as large as the "
            "table they replace"
        )
    if problem.kind is ProblemKind.OTHER_THAN_ABOVE:
        return _other_than_above(*problem.details)
    if problem.kind is ProblemKind.NOTHING_MAKES_IT:
        before, part, stock = problem.details[:3]
        beyond = "" if stock == "0" else f" beyond the {stock} in stock"
        return (
            f"nothing makes pieces of {before} for {part}{beyond}: enter weekly of {before}, or "
            f"{'more ' if beyond else ''}stock"
        )
    if problem.kind is ProblemKind.OUT_OF_THE_MIX:
        return _out_of_the_mix(*problem.details[:3])
    return kind_words(problem.kind, *problem.details)


def kind_words(kind: ProblemKind, *details: str) -> str:
    """The same for those of one wording, of something that is in no study yet."""
    return _PROBLEMS[kind].format(*details)


def _out_of_the_mix(before: str, asked: str, beside: str) -> str:
    """Whose pieces an order takes, and what to enter."""
    have = "" if beside == "0" else f" (only {beside} of {before} are ordered)"
    return (
        f"the {asked} pieces ordered are made of what {before} makes for the weekly pieces, and "
        f"those will lack them{have}; enter an order for {before} of {asked} pieces too, due "
        "earlier"
    )


def _other_than_above(scenario: str, *named: str) -> str:
    """Which of order sizes, fixtures and loads are others, and of which parts, in a line."""
    parts: dict[str, list[str]] = {}
    for key, part in zip(named[::2], named[1::2], strict=True):
        parts.setdefault(key, []).append(part)
    others = listed(
        [
            f"{_NOT_THE_MACHINES[key]} ({of if len(names) <= _NAMED else f'{len(names)} parts'})"
            for key, every in parts.items()
            if (of := listed(names := list(dict.fromkeys(every))))
        ]
    )
    return (
        f"has other {others} than its parent{f' {scenario}' if scenario else ''}: a part of the "
        "gain may come of that alone"
    )


_NOT_THE_MACHINES = {"batch": "order sizes", "fixtures": "fixtures", "per_pallet": "loads"}
_NAMED = 3
"""Parts that are named one by one."""


def _meant(problem: Problem) -> str:
    """The name that was most likely meant, where the sentence does not say it already."""
    is_said = not problem.nearest or problem.kind is ProblemKind.OLD_KEY
    return "" if is_said else f" Did you mean {problem.nearest}?"


_UNUSED: Mapping[UnusedWhen, str] = {
    UnusedWhen.TAKEN_OUT: "{0} is removed here ({1} is 0)",
    UnusedWhen.PART_TAKEN_OUT: "{0} is removed here (weekly is 0), and no order asks for it",
    UnusedWhen.NOT_MADE_THERE: "{0} is not to be made on {1}",
    UnusedWhen.ONE_PALLET: "there is only the machine's own table (pallets each is 1)",
    UnusedWhen.ONE_PALLET_IN_ALL: "there is one table or pallet in all",
    UnusedWhen.NOTHING_AFTER_IT: "no part comes after it",
    UnusedWhen.NO_SCRAP: "no piece of it is scrapped",
    UnusedWhen.NOTHING_AFTER_SHIFT: "nothing is begun after any shift (hours after the shift is 0)",
    UnusedWhen.ONE_PART: "only one part is made, so there is nothing to choose",
    UnusedWhen.NO_MONEY: "no part of any scenario has a contribution, so nothing is told in money",
    UnusedWhen.OF_REFERENCE: "the reference is measured against itself",
    UnusedWhen.TOLD_BY_REFERENCE: "the reference's currency is shown",
    UnusedWhen.OF_TODAY: "this stands in the shop now, so none of it is bought",
    UnusedWhen.TODAYS_RESALE: (
        "what a machine brings that is given up is told by the scenario that stands in the shop now"
    ),
    UnusedWhen.NO_SIZED_PART: "no part that may run here has a size",
    UnusedWhen.NOTHING_LAID_OUT: (
        "how many pieces a face holds is not known (size, or table and travel)"
    ),
    UnusedWhen.NO_TOOL_PLACES: (
        "of no part that may run here it is known how many magazine places its tools take"
    ),
    UnusedWhen.NO_SIZE: "the size of the part is not given",
    UnusedWhen.NO_TOOL_LIFE: "no tool life is given",
    UnusedWhen.NO_FIRST_PIECE: "there is no wait for a first piece",
    UnusedWhen.NO_PROVE_OUT: "no part has a prove-out",
    UnusedWhen.NO_BREAKS: "no shift has breaks",
    UnusedWhen.NEVER_AFTER_HOURS: "the shifts cover the whole week, so it is never after hours",
    UnusedWhen.NO_LIMIT: "somebody is there all week, so there is no limit",
    UnusedWhen.NOTHING_SAID: "nothing is said until a share of the hours with people is entered",
    UnusedWhen.NO_HOURS_SAID: "no hours with nobody there are said",
    UnusedWhen.NO_METERS: "no hour meters are entered here; the gap is told where they are",
    UnusedWhen.NO_HOURS_IN_CUT: "the hours in cut are missing",
    UnusedWhen.NO_HOURS_ON: "the hours switched on are missing",
}


def unused_words(why: WhyUnused | None) -> str:
    """Why a value changes no answer; "" where it may."""
    if why is None:
        return ""
    if isinstance(why.when, NoMachineHas):
        keys = [key_for(("machine", "machine", name)) for name in why.when.keys]
        labels = " or ".join(key.label for key in keys if key is not None)
        return f"no machine that it may run on has its {labels} given"
    if why.when in (UnusedWhen.HOLDS_THERE, UnusedWhen.HOLDS_THERE_IN_MONEY):
        return f"what is entered for {', '.join(why.names)} holds there"
    return _UNUSED[why.when].format(*why.names)
