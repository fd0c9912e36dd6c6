"""What is wrong or odd in a study, in sentences."""

import re
from collections.abc import Mapping
from typing import Final

from whatif.study.problem import Problem, ProblemKind
from whatif.study.schema.catalogue import key_for

_PROBLEMS: Final[Mapping[ProblemKind, str]] = {
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
    ProblemKind.MORE_THAN_SWITCHED_ON: "it is more than switched_on, {0}",
    ProblemKind.NO_SUCH_THING: "there is no {0} {1} in this scenario",
    ProblemKind.NO_SCENARIO: "there is no scenario",
    ProblemKind.NO_SUCH_SCENARIO: "there is no such scenario",
    ProblemKind.OWN_PARENT: "it is its own parent",
    ProblemKind.HAS_NO_EFFECT: "on {0} it has no effect, because {1} = {2}, {3}, holds there",
    ProblemKind.SHORT_METERS: "hour meters under 40 h are too short to tell much",
    ProblemKind.METER_MISSING: "it is not given, so the hour meters tell nothing",
    ProblemKind.BEGUN_WITHOUT_COUNT: (
        "it is not given, and no scenario above has this machine; if it is meant, enter it"
    ),
    ProblemKind.NO_MEANING_WITH_ONE_PALLET: "it has no meaning with one pallet",
    ProblemKind.TOO_FEW_TOOL_PLACES: ("the tools of all parts that may run on it take {0} places"),
    ProblemKind.DUE_BEFORE_IT_ARRIVES: "it is due before it arrives",
}


def problem_sentence(problem: Problem) -> str:
    """A problem with its place and all that helps to mend it, as it stands in a list of them."""
    scenario = f"scenario {problem.scenario}" if problem.scenario else ""
    place = ", ".join(part for part in (scenario, problem.key) if part)
    value = f" = {problem.value}" if problem.value else ""
    allowed = f" Allowed: {problem.allowed}." if problem.allowed else ""
    text = f"{place}{value}: {message(problem)}.{allowed}{_meant(problem.nearest)}"
    return text[0].upper() + text[1:] if problem.scenario else text


def what_is_wrong(problem: Problem) -> str:
    """A problem without its place, for a value that was tried."""
    text = message(problem)
    allowed = f" Allowed: {problem.allowed}." if problem.allowed else ""
    return f"{text[0].upper()}{text[1:]}.{allowed}"


def problem_in_short(problem: Problem) -> str:
    """A problem without its place, which whoever types can see."""
    said, key = message(problem), key_for(problem.path)
    text = f"{said}."
    if problem.allowed:
        # What the editor takes, where that is simpler than what the file holds.
        is_kinds = key is not None and problem.allowed == key.kind.allowed
        allowed = key.kind.typed_as if key is not None and is_kinds else problem.allowed
        text += f" Allowed is {allowed}."
    text += _meant(problem.nearest)
    # What was typed stays as it is: "Mm" would be another unit than "mm".
    is_typed = said.split()[0] in re.split(r"\W+", problem.value)
    return text if is_typed else text[0].upper() + text[1:]


def message(problem: Problem) -> str:
    """What is wrong with the value, as a part of a sentence."""
    if problem.kind is ProblemKind.PARENTS_IN_CIRCLE:
        way = " -> ".join((*problem.details, problem.details[0]))
        return f"the parents go in a circle ({way}); one of these scenarios needs another"
    if problem.kind is ProblemKind.PALLETS_LIKE_TABLES:
        scenario, *names = problem.details
        keys = (key_for((*problem.path[:2], name)) for name in names)
        return (
            f"{' and '.join(key.label for key in keys if key is not None)} inherited from "
            f"{scenario}, where the machine has one pallet: pallets are seldom as large as the "
            "table they replace"
        )
    return _PROBLEMS[problem.kind].format(*problem.details)


def _meant(nearest: str | None) -> str:
    return f" Did you mean {nearest}?" if nearest else ""
