"""A decision for the notes of a scenario: for what, when, why, and by which figures."""

from __future__ import annotations

import re
from itertools import takewhile
from typing import TYPE_CHECKING, Final

from whatif.records import dataclass
from whatif.telling.amounts import NOTHING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from whatif.study.draft import Draft
    from whatif.telling.meeting.lines import AlternativeLine
    from whatif.telling.meeting.verdict import VerdictTold


def decision_text(
    told: VerdictTold, scenario: str, title: str, against: str, when: str, reason: str
) -> str:
    """The same in plain lines, as they are to be read after years.

    Args:
        against: title of the reference; who decides for that keeps things as they are.
        when: the date.
        reason: that of those who decide; "" where they give none.
    """
    line = next((each for each in told.lines if each.scenario == scenario), None)
    is_kept = title == against
    said = [(_KEPT if is_kept else _DECIDED).format(when=when, title=title, against=against)]
    if reason.strip():
        said.append(f"{_WHY}{reason.strip()}")
    if line is not None:
        said.append(f"{_PREDICTED}{_figures(line, told)}.")
    said.append(f"{_VERDICT}{told.lead}.")
    return "\n".join(said).replace("\u00a0", " ")


_DECIDED: Final = "{when}: decided for {title}, against {against}."
_KEPT: Final = "{when}: decided to keep things as they are, {title}."
_WHY: Final = "Why: "
_PREDICTED: Final = "Predicted: "
_VERDICT: Final = "The verdict then: "
_OUTPUT: Final = "saleable output "

_FIRST_LINE: Final = re.compile(r"(\d{4}-\d\d-\d\d): decided for (.+), against (.+)\.", re.ASCII)
_KEPT_LINE: Final = re.compile(
    r"(\d{4}-\d\d-\d\d): decided to keep things as they are, (.+)\.", re.ASCII
)
"""The first line as it is found again: notes alone hold a decision."""
_THEN: Final = re.compile(rf"(?:{_PREDICTED}|Foretold: )({_OUTPUT}([^;]+?)(?:;.*?)?)\.?")
"""All that was predicted, and what of the output; in older notes it was foretold."""


@dataclass(frozen=True, slots=True)
class Decision:
    """A decision as the notes hold it.

    Attributes:
        why: the reason, "" where none was given.
        output: what was predicted of the saleable output, "" where that is not known.
        predicted: all that was predicted, that of the output first, "" where that is not known.
    """

    when: str
    title: str
    against: str
    why: str = ""
    output: str = ""
    predicted: str = ""

    @property
    def is_kept(self) -> bool:
        """Whether things are kept as they are."""
        return self.title == self.against


def decision_in(draft: Draft) -> Decision | None:
    """The latest decision that a study holds."""
    notes = (each.entered.get(("notes",)) for each in draft)
    return latest_decision(each for each in notes if isinstance(each, str))


def latest_decision(notes: Iterable[str]) -> Decision | None:
    """The latest decision in the notes of scenarios; None where there is none."""
    found = [each for note in notes for each in _decisions(note)]
    return max(found, key=lambda each: each.when, default=None)


def _decisions(note: str) -> Iterator[Decision]:
    lines = [line.strip() for line in note.splitlines()]
    for place, line in enumerate(lines):
        if known := _first_line(line):
            when, title, against = known
            # Its reason and figures stand right below it.
            below = list(takewhile(lambda each: not _first_line(each), lines[place + 1 :]))
            why = next((each for each in below[:1] if each.startswith(_WHY)), "")
            then = next((it for each in below[:2] if (it := _THEN.fullmatch(each))), None)
            predicted, output = ("", "") if then is None else (then[1], then[2])
            yield Decision(when, title, against, why.removeprefix(_WHY), output, predicted)


def _first_line(line: str) -> tuple[str, str, str] | None:
    """When, for what and against what was decided; None of any other line."""
    if known := _FIRST_LINE.fullmatch(line):
        return known[1], known[2], known[3]
    if kept := _KEPT_LINE.fullmatch(line):
        return kept[1], kept[2], kept[2]
    return None


def notes_in_a_row(notes: str) -> str:
    """Notes without their line breaks: what stands in lines of its own ends with a full stop.

    Lines that are broken for their length alone go on as they are.
    """
    lines = [" ".join(line.split()) for line in notes.splitlines()]
    ends = [not then or _is_of_decision(then) for then in lines[1:]]
    return " ".join(
        f"{line}." if ends_here and line[-1] not in _STOPS else line
        for line, ends_here in zip(lines, (*ends, False), strict=False)
        if line
    )


_STOPS: Final = ".!?:;,"


def _is_of_decision(line: str) -> bool:
    return line.startswith((_WHY, _PREDICTED, _VERDICT)) or _first_line(line) is not None


def why_decided(told: VerdictTold, title: str, against: str) -> str:
    """What is asked before a decision is written; for the reference, that nothing is changed.

    Where another one leads the verdict, that is said: who comes from elsewhere may mean that one.
    """
    what = f"Keep things as they are, {title}" if title == against else f"Decide for {title}"
    leads = [line.title for line in told.lines if line.is_first]
    other = f" ({told.lead})" if leads and title not in leads else ""
    return f"{what}{other}. Why, in a few words (or only Enter)?"


def decided_words(found: Decision | None, told: VerdictTold, reference: str) -> str:
    """What was decided, why, and where its figures are others by now; "" for no decision.

    Args:
        reference: title of what alternatives are held against now.
    """
    if found is None:
        return ""
    return " ".join(filter(None, (*_decided(found), _since(found, told, reference))))


def decision_on_paper(found: Decision | None, told: VerdictTold, reference: str) -> tuple[str, ...]:
    """The same for who was not there: what was decided, why, all that was predicted, and now."""
    if found is None:
        return ()
    now = _all_since(found, told, reference)
    if found.predicted:
        return (*_decided(found), f"Predicted then: {found.predicted}. {now}".rstrip())
    return (*_decided(found), *([now] if now else []))


def _decided(found: Decision) -> tuple[str, ...]:
    """What was decided, and why."""
    what = "keep things as they are, {0}" if found.is_kept else "{0}, against {1}"
    said = f"Decided on {found.when}: {what.format(found.title, found.against)}."
    return (said, f"Why: {found.why.rstrip('.')}.") if found.why else (said,)


def _since(found: Decision, told: VerdictTold, reference: str) -> str:
    """What has changed since; "" where nothing that is known has."""
    if reference != found.against:
        return _HELD_NOW.format(reference=reference)
    line = next((each for each in told.lines if each.title == found.title), None)
    if line is None or line.drawn is None or not found.output:
        return ""  # its likely range may still be looked for
    now = line.gain.text.replace(_SPACE, " ")
    if now == found.output:
        return ""
    return f"Predicted then: {_OUTPUT}{found.output}; now {now}: look at it again."


def _all_since(found: Decision, told: VerdictTold, reference: str) -> str:
    """Whether all that was predicted still is, and what is now where it is not."""
    if reference != found.against:
        return _HELD_NOW.format(reference=reference)
    if found.is_kept:
        return ""
    line = next((each for each in told.lines if each.title == found.title), None)
    if line is None:
        return "No alternative has that name now."
    now = _figures(line, told).replace(_SPACE, " ")
    if not found.predicted:
        return f"Predicted now: {now}."
    # In older notes the one-off cost was what it takes once.
    then = found.predicted.replace(" once; ", " one-off; ")
    return "So it is now." if now == then else f"Now it is other: {now}."


_HELD_NOW: Final = "All is held against {reference} now."
_SPACE: Final = "\u00a0"


def _figures(line: AlternativeLine, told: VerdictTold) -> str:
    each = [f"{_OUTPUT}{line.gain.text}"]
    if told.is_money:
        each += [
            f"{told.currency} {line.one_off.text} one-off",
            _more_words(line, told),
            f"worth today {line.worth.text}",
            f"payback in years {line.payback.text}",
        ]
    if line.against.text != NOTHING:
        each.append(f"drawbacks: {line.against.text}")
    return "; ".join(each)


def _more_words(line: AlternativeLine, told: VerdictTold) -> str:
    """What it takes beside: money is said to be a cost, so that nobody reads it as a gain."""
    text = line.more.text.partition(" (")[0]  # who goes or comes the title tells
    if not told.is_by_hours:
        return f"costs {text} a year"
    is_whole = text == "nothing" or text.endswith("a year")
    return f"takes {text}" if is_whole else f"takes {text} of paid time a week"
