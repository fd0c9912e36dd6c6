"""What a scenario's notes say of lines of parts that stand for several numbers each.

They are written where a table is entered, read where an order names a number, and go with their
lines.
"""

import re
from collections.abc import Collection, Iterable
from typing import Final

from whatif.study.draft import ScenarioDraft
from whatif.study.guesses import NOTES

BETWEEN: Final = ", "
_HEAD: Final = "Parts from {0}, numbers in lines:"
_IS_HEAD: Final = re.compile(re.escape(_HEAD).replace(re.escape("{0}"), ".+"))
_OF_LINE: Final = re.compile(r"([\w-]+_and_\d+_more\w*): ")


def lines_head(source: str) -> str:
    """What stands above the lines of a table."""
    return _HEAD.format(source)


def members_line(line: str, names: Iterable[str]) -> str:
    """A line of parts and the numbers that it stands for: "body_and_1_more: body, hub"."""
    return f"{line}: {BETWEEN.join(names)}"


def without_lines(scenario: ScenarioDraft, gone: Collection[str]) -> ScenarioDraft:
    """A scenario whose notes say nothing of some lines."""
    before = scenario.entered.get(NOTES)
    if not isinstance(before, str) or not any(map(_IS_HEAD.fullmatch, before.splitlines())):
        return scenario
    after = notes_without(before, gone)
    return scenario.having(NOTES, after) if after.strip() else scenario.without(NOTES)


def notes_without(notes: str, gone: Collection[str]) -> str:
    """Notes without what tables said of some lines; what is written below no such head stays."""
    kept: list[str] = []
    head = ""
    is_below = False
    for text in notes.splitlines():
        if _IS_HEAD.fullmatch(text):
            head, is_below = text, True
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
