"""The rule book of the cell (``whatif/cell/RULES.md``), rule by rule.

In the book a chapter is a heading of the second degree and a rule one of the third, which begins
with the rule's name as an anchor: ``### <a id="people.visit"></a>What a visit takes``.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from textwrap import wrap
from typing import Final

import whatif
from whatif.records import dataclass
from whatif.study.refused import RULE, NotThere, Refused

_HEADING: Final = re.compile(r'^(?:## (.+)|### <a id="([a-z0-9.-]+)"></a>(.+))$', re.MULTILINE)
_LINK: Final = re.compile(r"\[([^\]]+)\]\(#[a-z0-9.-]+\)")
_ITEM: Final = re.compile(r"(?:- |[0-9]+\. )")
_MARKS: Final = re.compile(r"`|\*\*?(?=\w)|(?<=\w)\*\*?")
_BLANK: Final = re.compile(r"\n\n+")

_WIDTH: Final = 80
_NEAREST: Final = 3
_ALIKE: Final = 0.5
"""Names less like the one asked for than this are not what was meant."""


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule; ``text`` in Markdown as it stands in the book, below its heading."""

    name: str
    title: str
    chapter: str
    text: str

    @property
    def plain(self) -> str:
        """The text without marks, broken to 80 cells; of a table each row by itself."""
        return self.in_width(_WIDTH)

    def in_width(self, width: int) -> str:
        """The same, broken to as many cells."""
        return "\n\n".join(_plain(block, width) for block in _BLANK.split(self.text))


@cache
def rules() -> Mapping[str, Rule]:
    """Every rule by its name, in the book's order."""
    # It stands beside the code; `importlib.resources` would find it as well, and load much more.
    book = Path(whatif.__path__[0], "cell", "RULES.md").read_text("utf-8")
    headings = list(_HEADING.finditer(book))
    ends = [heading.start() for heading in headings[1:]] + [len(book)]
    found: dict[str, Rule] = {}
    chapter = ""
    for heading, end in zip(headings, ends, strict=True):
        begun, name, title = heading.groups()
        if begun:
            chapter = begun
        else:
            found[name] = Rule(name, title, chapter, book[heading.end() : end].strip("\n"))
    return found


def rule(name: str) -> Rule:
    """The rule of a name; raises `Refused` where there is none."""
    found = rules().get(name)
    if found is None:
        raise Refused(NotThere(RULE, name, nearest=nearest_rules(name)))
    return found


def nearest_rules(name: str) -> tuple[str, ...]:
    """A few names of rules that a word may have meant: those that hold it, or else the likest."""
    said = name.strip().lower()
    if not said:
        return ()
    word = said.replace("_", "-").replace(" ", "-")
    found = [each for each in rules() if word in each]
    found += [each.name for each in rules().values() if said in each.title.lower()]
    if not found:
        from difflib import get_close_matches  # only now: a name is rarely misspelled

        found = get_close_matches(word, rules(), _NEAREST, _ALIKE)
    return tuple(dict.fromkeys(found))[:_NEAREST]


def _plain(block: str, width: int) -> str:
    if block.startswith("    "):
        return block
    if block.startswith("|"):
        _, _, *rows = block.split("\n")
        return "\n".join(_row(row, width) for row in rows)
    items: list[str] = []
    for line in block.split("\n"):
        if _ITEM.match(line) or not items:
            items.append(line)
        else:
            items[-1] += f" {line.strip()}"
    return "\n".join(_wrapped(item, width) for item in items)


def _row(row: str, width: int) -> str:
    """A key with what holds where it is not given, what is allowed and what it means."""
    key, default, allowed, meaning = (cell.strip() for cell in row.strip("|").split(" | "))
    words = _wrapped(f"{meaning}; {allowed}; not given: {default}", width, indent=4)
    return f"{_unmarked(key)}\n{words}"


def _wrapped(text: str, width: int, indent: int = 0) -> str:
    mark = _ITEM.match(text)
    return "\n".join(
        wrap(
            _unmarked(text),
            width,
            initial_indent=" " * indent,
            subsequent_indent=" " * (mark.end() if mark else indent),
            break_long_words=False,
            break_on_hyphens=False,
        )
    )


def _unmarked(text: str) -> str:
    return _MARKS.sub("", _LINK.sub(r"\1", text))
