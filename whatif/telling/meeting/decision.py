"""A decision for the notes of a scenario: for what, when, why, and by which figures."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from whatif.telling.amounts import NOTHING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from whatif.telling.meeting.lines import AlternativeLine
    from whatif.telling.meeting.verdict import VerdictTold


def decision_text(
    told: VerdictTold, scenario: str, title: str, against: str, when: str, reason: str
) -> str:
    """The same in plain lines, as they are to be read after years.

    Args:
        against: title of the reference.
        when: the date.
        reason: that of those who decide; "" where they give none.
    """
    line = next((each for each in told.lines if each.scenario == scenario), None)
    said = [_DECIDED.format(when=when, title=title, against=against)]
    if reason.strip():
        said.append(f"Why: {reason.strip()}")
    if line is not None:
        said.append(f"Foretold: {_figures(line, told)}.")
    said.append(f"The verdict then: {told.lead}.")
    return "\n".join(said).replace("\u00a0", " ")


_DECIDED: Final = "{when}: decided for {title}, against {against}."
_FIRST_LINE: Final = re.compile(r"(\d{4}-\d\d-\d\d): decided for (.+), against (.+)\.", re.ASCII)
"""The same as it is found again: notes alone hold a decision."""


def decided_words(notes: Iterable[str]) -> str:
    """The latest decision in the notes of scenarios: when, what, against what; "" for none."""
    found = [
        known
        for each in notes
        for line in each.splitlines()
        if (known := _FIRST_LINE.fullmatch(line.strip()))
    ]
    if not found:
        return ""
    when, title, against = max(found, key=lambda known: known[1]).groups()
    return f"Decided on {when}: {title}, against {against}."


def _figures(line: AlternativeLine, told: VerdictTold) -> str:
    each = [f"saleable output {line.gain.text}"]
    if told.is_money:
        each += [
            f"{told.currency} {line.one_off.text} once",
            _more_words(line, told),
            f"worth today {line.worth.text}",
            f"payback in years {line.payback.text}",
        ]
    if line.against.text != NOTHING:
        each.append(f"in its way {line.against.text}")
    return "; ".join(each)


def _more_words(line: AlternativeLine, told: VerdictTold) -> str:
    """What it takes beside: money is said to be a cost, so that nobody reads it as a gain."""
    text = line.more.text
    if not told.is_by_hours:
        return f"costs {text} a year"
    is_whole = text == "nothing" or text.endswith("a year")
    return f"takes {text}" if is_whole else f"takes {text} of paid time a week"
