"""What only a report on paper says: its question, and what stands above its tables and below."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from whatif.telling.amounts import listed
from whatif.telling.night import in_a_sentence, night_label, pallets_in_words

if TYPE_CHECKING:
    from whatif.answers.night.night import Nights, NightsAfter
    from whatif.answers.night.pallets import Fewest
    from whatif.plan.model import Plan

_NAMED = 6
"""Alternatives that are named one by one."""


def question_words(against: str, titles: Sequence[str], *, in_money: bool) -> str:
    """What the report is an answer to; ``titles`` of the alternatives."""
    if not titles:
        return f"Where do the machines' hours go in {against}?"
    more = len(titles) - _NAMED
    named = list(titles) if more <= 1 else [*titles[:_NAMED], f"{more} more"]
    pays = ", and does that pay for what it takes" if in_money else ""
    return f"What would each of these bring against {against}{pays}: {listed(named)}?"


HOURS_DRAWN = (
    "Hours of all machines in a week, 168 h each, nights and days off among them; all bars to one "
    "scale."
)
"""What the picture of hours shows."""


def night_words(title: str, night: NightsAfter, nights: Nights) -> str:
    """A scenario's night in a sentence, with the shift that it follows."""
    return f"{title}, after {night_label(night)}: {in_a_sentence(night, nights)}"


PICTURE_OF_NIGHT = (
    "A bar is as high as the share of these nights in which the machines still cut; where it is "
    "hatched nothing may be begun any more."
)
"""How the picture of nights is read."""

CASH = "Money that has come in, less the investment"


def but_words(part: str, without: Sequence[str]) -> str:
    """What holds for all alternatives but a few: "no stops (not Six each, with stops)"."""
    return f"{part} (not {listed(list(without))})" if without else part


def inputs_words(title: str, left_out: int) -> str:
    """What the table of inputs holds."""
    others = f" {left_out} that have no effect in it, or are not given, are left out."
    return (
        f"What {title} is worked out from: entered in it, inherited from the scenarios above it, "
        f"or assumed, as nobody has entered it.{others if left_out else ''}"
    )


def further_words(count: int) -> str:
    """Behind the items of a cell for which there is no room."""
    return f"and {count} more"


def cut_short_words(what: str, count: int) -> str:
    """Below a table that is cut short: "3 more alternatives stand on the further pages"."""
    return f"{count} more {what} stand on the further pages (--full)."


def worked_out_words(plan: Plan) -> str:
    """Over how many weeks, runs and draws everything was worked out."""
    runs = f" in {plan.runs} seeded runs" if plan.cell is not None and plan.cell.stops else ""
    weeks = "1 week" if plan.weeks == 1 else f"{plan.weeks} weeks"
    return (
        f"Every scenario was simulated over {weeks}{runs}; a likely range holds eight of ten "
        "draws in which every time and demand is off by as much as it may be. The same file gives "
        "the same figures again."
    )


def made_words(version: str, day: str, file: str) -> str:
    """Below the title: when it was made, of what."""
    of = f", of {file}" if file else ""
    return f"A report made on {day} with {version}{of}."


def repeat_words(version: str, digest: str, *, is_saved: bool) -> str:
    """Before the command that makes the report again."""
    same = "the same file" if is_saved else "the same text, which no file had, on standard input"
    return f"With {version} and {same} (its SHA-256 begins with {digest}) this makes it again:"


def fewest_words(found: Fewest) -> str:
    """How many pallets last."""
    return " ".join(pallets_in_words([found]))


ALL_REST_ON = "All alternatives rest on:"
"""Before what is the same of all alternatives, or all but a few."""

NOT_ASKED = (
    "What would change the answer most was not worked out (--quick). On the screen F9 shows it, "
    "and so does a report without --quick."
)
NO_RANKING = "There is no gain that could be moved, so nothing is ranked."
NO_NIGHT = "There is no night: nothing is simulated, or some shift always runs."


def written_words(file: str) -> str:
    """Where a report was written."""
    return f"The report is in {file}"


def being_written_words(file: str) -> str:
    """That a report is being worked out."""
    return f"{file} is being worked out, which may take minutes. Go on working; s stops it."


AT_WORK_ALREADY = "A report is being worked out already."
NO_FILE_YET = "The report is written beside the study's file: save the study first (F10)."
PROBLEMS_FIRST = "There is no report of a study that has problems: mend them first (F3)."
NOBODY_WRITES = "Reports are written where whatif was started by its command."
STOPPED = "The report was stopped; nothing is written."


def no_report_words(why: str) -> str:
    """That none was written; ``why`` in words, "" where nobody says."""
    return f"No report: {why or 'it ended without a word'}"


def is_there_words(file: str) -> str:
    """Why none is written over another file."""
    return f"{file} is there already; --replace writes the report in its place"


def not_written_words(file: str, why: str) -> str:
    """That it could not be written."""
    return f"{file} cannot be written: {why}"
