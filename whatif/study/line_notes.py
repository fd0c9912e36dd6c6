"""What a scenario's notes say of parts, and what goes with these.

Of lines that stand for several numbers each: written where a table is entered, read where an order
names a number. And of what the questions took of the part that they made.
"""

import re
from collections.abc import Collection, Iterable
from typing import Final

from whatif.study.draft import ScenarioDraft
from whatif.study.guesses import NOTES

BETWEEN: Final = ", "
_HEAD: Final = "Parts from {0}, numbers in lines:"
_IS_HEAD: Final = re.compile(re.escape(_HEAD).replace(re.escape("{0}"), ".+"))
_OF_PART: Final = "Of part {0} at the beginning: "
_IS_OF_PART: Final = re.compile(r"Of part ([\w-]+) at the beginning: .+")
_OF_LINE: Final = re.compile(r"([\w-]+_and_\d+_more\w*): ")


def lines_head(source: str) -> str:
    """What stands above the lines of a table."""
    return _HEAD.format(source)


def members_line(line: str, names: Iterable[str]) -> str:
    """A line of parts and the numbers that it stands for: "body_and_1_more: body, hub"."""
    return f"{line}: {BETWEEN.join(names)}"


def part_line(part: str, said: str) -> str:
    """A line that holds as long as a part is there; ``said`` is a sentence."""
    return f"{_OF_PART.format(part)}{said}"


def with_part_renamed(scenario: ScenarioDraft, part: str, name: str) -> ScenarioDraft:
    """A scenario whose notes name a part by another id, where they say something of it alone."""
    notes = scenario.entered.get(NOTES)
    if not isinstance(notes, str) or _OF_PART.format(part) not in notes:
        return scenario
    return scenario.having(NOTES, notes.replace(_OF_PART.format(part), _OF_PART.format(name)))


def without_lines(scenario: ScenarioDraft, gone: Collection[str]) -> ScenarioDraft:
    """A scenario whose notes say nothing of some parts or lines."""
    before = scenario.entered.get(NOTES)
    if not isinstance(before, str) or not any(map(_goes_with_parts, before.splitlines())):
        return scenario
    after = notes_without(before, gone)
    return scenario.having(NOTES, after) if after.strip() else scenario.without(NOTES)


def _goes_with_parts(text: str) -> bool:
    return bool(_IS_HEAD.fullmatch(text) or _IS_OF_PART.fullmatch(text))


def notes_without(notes: str, gone: Collection[str]) -> str:
    """Notes without what tables and questions said of some parts or lines.

    What is written below no head of a table stays.
    """
    kept: list[str] = []
    head = ""
    is_below = False
    for text in notes.splitlines():
        if _IS_HEAD.fullmatch(text):
            head, is_below = text, True
            continue
        of_part = _IS_OF_PART.fullmatch(text)
        if of_part is not None and of_part[1] in gone:
            continue
        of_line = _OF_LINE.match(text) if is_below else None
        is_below = of_line is not None
        if of_line is not None and of_line[1] in gone:
            continue
        if of_line is not None and head:
            # It stands as long as one of its lines does.
            kept.append(head)
        head = ""
        kept.append(text)
    return "\n".join(kept)
