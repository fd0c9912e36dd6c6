"""``whatif check``: every problem and warning of a study file."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterable
from typing import Any

from whatif.command.studies import bound_lines, draft_named, problem_lines
from whatif.command.terminal import ProgressLine
from whatif.command.unanswered import NotAnswered
from whatif.reports.document import AsItIs, Document
from whatif.study.check.check import Checked, check
from whatif.study.file.reading import StudyError
from whatif.study.problem import Problem
from whatif.telling.problems import message, problem_sentence
from whatif.telling.refusals import refusal_words


def check_file(asked: Namespace, _: ProgressLine) -> Document:
    """Every problem and warning of a study file."""
    path = asked.study
    try:
        checked = check(draft_named(path))
    except StudyError as fault:
        said = refusal_words(fault)
        raise NotAnswered(said, document=_checked([{"sentence": said}], [])) from fault
    warnings = list(checked.warnings)
    if not checked.problems:
        warnings += _of_tool_places(checked)
    document = Document([], {})
    if asked.format == "json":  # another way to say the same, and there may be very many
        document = _checked(list(map(_entry, checked.problems)), list(map(_entry, warnings)))
    if checked.problems:
        raise NotAnswered(*problem_lines(path, checked), document=document)
    lines = [f"{path}: warning: {problem_sentence(warning)}" for warning in warnings]
    beyond = bound_lines(path, checked)
    return Document([AsItIs([*lines, *beyond, f"{path}: no problems"])], document.data)


def _of_tool_places(checked: Checked) -> Iterable[Problem]:
    """What only plans know: they are made where a machine's tool places are entered at all."""
    if not any(
        here.has("machine", machine, "pockets")
        for here in checked.resolved.values()
        for machine in here.ids("machine")
    ):
        return ()
    from whatif.plan.build import plans_of
    from whatif.telling.warnings import of_places

    return of_places(plans_of(checked))


def _checked(problems: list[dict[str, Any]], warnings: list[dict[str, Any]]) -> Document:
    return Document([], {"problems": problems, "warnings": warnings})


def _entry(problem: Problem) -> dict[str, Any]:
    return {
        "scenario": problem.scenario,
        "key": problem.key,
        "value": problem.value,
        "message": message(problem),
        "allowed": problem.allowed,
        "nearest": problem.nearest,
        "sentence": problem_sentence(problem),
    }
