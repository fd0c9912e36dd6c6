"""A walk through the shop in words: the states to tell apart, tallies as typed, what was seen."""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Final

from whatif.answers.states import ROWS, StateRow
from whatif.answers.walk.tallies import OTHER, SeenShare, Walked
from whatif.answers.walk.tours import WalkSheet
from whatif.telling.amounts import rounded, signed
from whatif.telling.clock import clock_text

OTHER_LETTER: Final = "o"
_OTHER_WORDS: Final = "something else"
_OTHER_MEANING: Final = "Anything else: write down what."

_NEVER_ATTENDED: Final = ("nobody_on_duty",)
"""States that cannot be met while somebody is on duty."""

HEADS: Final = ("when", "machine", "state")
"""Of the sheet as a table, and of the tallies in it."""


def walk_states() -> list[tuple[str, str, str]]:
    """The states that may be met: letter, words, and what the machine does."""
    met = [row for row in ROWS if row.name not in _NEVER_ATTENDED]
    told = [(row.letter, row.in_bar, row.meaning) for row in met]
    return [*told, (OTHER_LETTER, _OTHER_WORDS, _OTHER_MEANING)]


def seen_state_words(name: str) -> str:
    """What a state is called beside a share."""
    if name == OTHER:
        return _OTHER_WORDS
    return next(row.in_bar for row in ROWS if row.name == name)


def walk_machines(sheet: WalkSheet) -> list[str]:
    """The machines as they stand on the sheet."""
    return [f"{group} {number}" if number else group for group, number in sheet.machines]


def walk_moments(sheet: WalkSheet) -> list[str]:
    """The moments as they stand there: "Mon 06:42"."""
    return [clock_text(moment) for moment in sheet.moments]


class UnknownState(ValueError):
    """A state that is none: as it was written, and in which line, 0 where there are no lines."""

    def __init__(self, written: str, line: int = 0) -> None:
        super().__init__(written, line)
        self.written, self.line = written, line


def typed_tallies(text: str) -> dict[str, int]:
    """Tallies as somebody types them: "in cycle 48, load 12, w 5"; raises `UnknownState`."""
    seen: Counter[str] = Counter()
    for each in filter(None, (part.strip() for part in re.split(r"(?<=\d)\s*[,;]", text))):
        found = re.fullmatch(r"(.*?)[ :=]*([0-9]{1,6})", each)
        if found is None:
            raise UnknownState(each)
        seen[_state(found[1])] += int(found[2])
    return dict(seen)


def read_tallies(text: str) -> dict[str, int]:
    """The tallies of a filled-in sheet, or of a table of state and count; raises `UnknownState`.

    Rows whose state is empty have not been walked yet.
    """
    first, _, _ = text.partition("\n")
    lines = csv.reader(text.splitlines(), delimiter=max(",;\t", key=first.count))
    heads = [head.strip().casefold() for head in next(lines, [])]
    if "state" not in heads:
        raise UnknownState(first.strip(), 1)
    seen: Counter[str] = Counter()
    for row in lines:
        told = dict(zip(heads, (each.strip() for each in row), strict=False))
        state, count = told.get("state", "").strip("'"), told.get("count", "1")
        if not state:
            continue
        if not re.fullmatch("[0-9]{1,6}", count):
            raise UnknownState(count, lines.line_num)
        try:
            seen[_state(state)] += int(count)
        except UnknownState as fault:
            raise UnknownState(fault.written, lines.line_num) from None
    return dict(seen)


def _state(written: str) -> str:
    """The state of a letter, a name or words; raises `UnknownState`."""
    name = _BY_WORDS.get(_plain(written))
    if name is None:
        raise UnknownState(written)
    return name


def _plain(text: str) -> str:
    return " ".join(text.replace("_", " ").casefold().split()) or text.strip()


def _words_of(row: StateRow) -> Iterable[str]:
    return row.letter, row.name, row.label, row.in_bar, row.in_lane


_BY_WORDS: Final[Mapping[str, str]] = {
    **{_plain(words): row.name for row in ROWS for words in _words_of(row)},
    **dict.fromkeys((OTHER_LETTER, OTHER, _OTHER_WORDS), OTHER),
}


def unknown_state_words(fault: UnknownState) -> str:
    """That a state is none, and which there are."""
    where = f"line {fault.line}: " if fault.line else ""
    known = ", ".join(f"{letter} {words}" for letter, words, _ in walk_states())
    return f'{where}"{fault.written}" is no state and no count. There are: {known}.'


def walk_intro(sheet: WalkSheet) -> str:
    """How the sheet is used."""
    return (
        f"{len(sheet.moments)} tours in a week, at random moments with somebody on duty (seed "
        f"{sheet.seed}; another week, another --seed). Go at the minute that is written, look at "
        "each machine once, and write down the letter of what it does at that instant, not a "
        "moment later. Tell the people what it is for."
    )


WALK_ON: Final = (
    "The same with --format csv is a table to fill in: write the letter or the words below state, "
    'and give it back with --tally FILE; or type sums, as in --seen "in cycle 48, load 12, w 5".'
)


def walked_sentences(found: Walked) -> list[str]:
    """Whether it is enough, what is furthest from the model, and whose the gap is."""
    said = []
    more = found.needed - found.count
    within = f"{rounded(found.within)} points at {rounded(found.confidence)} %"
    if more > 0:
        said.append(
            f"{more} more observations are needed to know every share to within {within}; the "
            "rows say which of them need how many."
        )
    else:
        said.append(f"Every share is known to within {within}.")
    furthest = found.furthest
    if found.people.simulated is None:
        return [*said, "There is nothing to hold them against: the scenario has no parts."]
    if furthest is None:
        return [*said, "What the model finds lies within the interval of every share."]
    said.append(
        f"Furthest from the model: {seen_state_words(furthest.state)}, seen "
        f"{_percent(furthest.share)} ({rounded(furthest.low)} to {rounded(furthest.high)}), and "
        f"the model has {_percent(furthest.simulated or 0.0)}: {signed(furthest.more)} points."
    )
    return [*said, _GAPS[found.gap_is].format(_group(found.people), _group(found.machines))]


_GAPS: Final[Mapping[str, str]] = {
    "people": (
        "Machines stood for people more than the model has it ({0}), and not for themselves ({1}): "
        'a gap of the hour meters lies with people (hour_meters.gap = "people").'
    ),
    "machine": (
        "Machines stood for themselves more than the model has it ({1}), and not for people ({0}): "
        'a gap of the hour meters lies with machines (hour_meters.gap = "machine").'
    ),
    "both": (
        "Machines stood for people ({0}) and for themselves ({1}) more than the model has it: a "
        "gap of the hour meters lies with both, and is read as neither alone."
    ),
    "": (
        "Machines stood neither for people ({0}) nor for themselves ({1}) clearly more than the "
        "model has it: whose a gap of the hour meters is, is not known yet."
    ),
}


def _group(each: SeenShare) -> str:
    return f"seen {_percent(each.share)}, model {_percent(each.simulated or 0.0)}"


def _percent(value: float) -> str:
    return f"{rounded(value)} %"


TOGETHER: Final = (
    "Machines that are seen on one tour often stand for one reason; then the intervals are "
    "narrower than they should be, and more tours say more than more machines."
)
