"""``whatif readings``: what machines and hour meters have told, and entering it in a scenario."""

from __future__ import annotations

from argparse import Namespace
from datetime import tzinfo
from pathlib import Path as FilePath

from whatif.command.studies import file_to_enter, problem_lines, scenario, sound_draft
from whatif.command.terminal import ProgressLine
from whatif.command.unanswered import Misput, NotAnswered
from whatif.readings.fault import Unreadable
from whatif.readings.understood import Understood, to_enter, understand
from whatif.reports.document import Document
from whatif.reports.readings import readings_report
from whatif.study.check.check import check
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.edits.metering import enter_meters
from whatif.study.file.writing import to_text, write_file
from whatif.telling.readings import nothing_to_enter, unreadable_lines

_ANY = "SCENARIO"
"""In the place of a scenario that is not named."""


def understood_of(asked: Namespace) -> Understood:
    """The documents that a command line names; raises `NotAnswered`."""
    try:
        return understand(
            asked.files, zone_of(asked.zone), on=asked.on, cut=asked.cut, only=asked.machine
        )
    except Unreadable as fault:
        raise NotAnswered(*unreadable_lines(fault)) from fault


def zone_of(named: str | None) -> tzinfo | None:
    """The zone of a name such as Europe/Berlin; None, which is this computer's, without one."""
    if named is None:
        return None
    from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

    try:
        return ZoneInfo(named)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise Misput(f"there is no time zone {named}; write one such as Europe/Berlin") from None


def tell_readings(asked: Namespace, _: ProgressLine) -> Document:
    """What the documents say of each machine, and the lines that enter it, or that it was."""
    if asked.enter is None:
        understood = understood_of(asked)
        found = to_enter(understood)
        if found is None:
            return readings_report(understood, None, (), ())
        lines = _lines(enter_meters(_ANY, found.on, found.cut, found.weeks).apply(_blank()), _ANY)
        offer = (
            "Put these lines below the scenario that is as the shop was then, or let --enter STUDY "
            "SCENARIO do it."
        )
        return readings_report(understood, found, lines, (offer,))
    study, named = asked.enter
    read = file_to_enter(study)
    sound_draft(study)  # what is wrong with it is told first
    id_ = scenario(read.draft, named)
    understood = understood_of(asked)
    found = to_enter(understood)
    if found is None:
        raise NotAnswered(nothing_to_enter(understood))
    draft = enter_meters(id_, found.on, found.cut, found.weeks).apply(read.draft)
    checked = check(draft)
    if checked.problems:
        raise NotAnswered(*problem_lines(study, checked))
    written = write_file(draft, FilePath(study), read.fingerprint)
    title = draft.scenario(id_).title
    after = [f"Entered in {title} of {study}; hour_meters that stood there are replaced."]
    if written.copied_to is not None:
        after.append(f"Comments are dropped by saving; {written.copied_to.name} has them.")
    return readings_report(understood, found, _lines(draft, id_), after)


def _blank() -> Draft:
    return Draft(scenarios=(ScenarioDraft(_ANY),))


def _lines(draft: Draft, scenario: str) -> list[str]:
    """The lines of a study file that have a scenario's hour meters, without its own heading."""
    own = draft.scenario(scenario).entered
    meters = {path: raw for path, raw in own.items() if path[0] == "hour_meters"}
    text = to_text(Draft(scenarios=(ScenarioDraft(scenario, meters),)))
    _, *lines = (line for line in text.splitlines() if line.strip())
    return lines
