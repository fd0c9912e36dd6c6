"""What each command answers: a document, out of what was asked for."""

from __future__ import annotations

from argparse import ArgumentTypeError, Namespace
from pathlib import Path
from textwrap import wrap
from typing import Any

from whatif.answers.account.explain import explain, figures
from whatif.answers.compare import compare_wholly, plans_as_read
from whatif.answers.moves.break_even import LEVEL, break_even, read_target
from whatif.answers.moves.inputs import Input, find_input
from whatif.answers.moves.ranges import read_range
from whatif.answers.moves.sensitivity import sensitivity
from whatif.answers.moves.vary import grid, vary
from whatif.answers.night.of_study import study_nights
from whatif.answers.progress import Told
from whatif.answers.week import week
from whatif.command.terminal import ProgressLine
from whatif.plan.build import plans_of
from whatif.reports.comparison import comparison_report
from whatif.reports.document import AsItIs, Document
from whatif.reports.explained import account_report, figures_report, rule_report, rules_report
from whatif.reports.moves import break_even_report, curve_report, grid_report, ranking_report
from whatif.reports.nights import nights_report
from whatif.reports.week import moment_report, week_report
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import Checked, check
from whatif.study.draft import Draft
from whatif.study.file.reading import StudyError, read_file
from whatif.study.problem import Problem
from whatif.study.refused import Refused, no_scenario
from whatif.study.schema.kinds.calendar import Moment
from whatif.study.schema.kinds.kind import KindError
from whatif.telling.problems import message, problem_sentence
from whatif.telling.refusals import refusal_words
from whatif.telling.rules import rule, rules
from whatif.telling.warnings import of_places


class NotAnswered(Exception):
    """Why there is none, line by line; ``document`` tells it to other programs, where one does."""

    def __init__(self, *lines: str, document: Document | None = None) -> None:
        super().__init__(*lines)
        self.lines = lines
        self.document = document


class Misput(Exception):
    """The command line has too much or too little in it."""


# -- studies -------------------------------------------------------------------------------


def check_file(asked: Namespace, _: ProgressLine) -> Document:
    """Every problem and warning of a study file."""
    path = asked.study
    try:
        checked = check(read_file(Path(path)).draft)
    except StudyError as fault:
        said = refusal_words(fault)
        raise NotAnswered(said, document=_checked([{"sentence": said}], [])) from fault
    warnings = list(checked.warnings)
    if not checked.problems:
        warnings += of_places(plans_of(checked))
    document = _checked(list(map(_entry, checked.problems)), list(map(_entry, warnings)))
    if checked.problems:
        raise NotAnswered(*_problem_lines(path, checked), document=document)
    lines = [f"{path}: warning: {problem_sentence(warning)}" for warning in warnings]
    return Document([AsItIs([*lines, f"{path}: no problems"])], document.data)


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


def _problem_lines(path: str, checked: Checked) -> list[str]:
    sentences = [f"{path}: {problem_sentence(problem)}" for problem in checked.problems]
    return [*sentences, f"{path}: {len(sentences)} problem{'s' if len(sentences) > 1 else ''}"]


def _sound_draft(path: str) -> Draft:
    """The draft of a study without problems; raises `NotAnswered` where it has any."""
    draft = read_file(Path(path)).draft
    checked = check(draft)
    if checked.problems:
        raise NotAnswered(*_problem_lines(path, checked))
    return draft


def _scenario(draft: Draft, named: str) -> str:
    """The id of the scenario that is named by it or by its title; raises `Refused`."""
    meant = draft.meant(named)
    if len(meant) != 1:
        raise Refused(no_scenario(draft, named))
    return meant[0]


# -- scenarios -----------------------------------------------------------------------------


def compare_scenarios(asked: Namespace, progress: ProgressLine) -> Document:
    """What every scenario brings."""
    memory = Memory(between_weeks=progress.week)
    return comparison_report(compare_wholly(check(_sound_draft(asked.study)), memory, memory.pause))


def explain_figure(asked: Namespace, progress: ProgressLine) -> Document:
    """An account of a figure or a rule of the book; without a name of it those that there are."""
    if asked.rule is not None:
        if asked.study is not None:
            raise Misput("a rule is the same in every study: name no study with --rule")
        return _rule(asked.rule)
    if asked.study is None or asked.scenario is None:
        raise Misput("the following arguments are required: STUDY, SCENARIO (or --rule)")
    draft = _sound_draft(asked.study)
    id_ = _scenario(draft, asked.scenario)
    checked = check(draft)
    memory = Memory(between_weeks=progress.week)
    found = compare_wholly(checked, memory, memory.pause)
    if asked.figure is None:
        return figures_report(id_, found.answers[id_].plan.title, figures(found, checked, id_))
    try:
        return account_report(explain(found, checked, id_, asked.figure))
    except Refused as fault:
        # There are many figures, so the list of them takes several lines.
        raise NotAnswered(*wrap(refusal_words(fault), 80, break_on_hyphens=False)) from fault


def _rule(name: str) -> Document:
    if not name:
        return rules_report(tuple(rules().values()))
    try:
        return rule_report(rule(name))
    except Refused as fault:
        raise NotAnswered(f"{refusal_words(fault)} The names: whatif explain --rule") from fault


def show_nights(asked: Namespace, progress: ProgressLine) -> Document:
    """How long the spindles go on after each shift, in a scenario or in all."""
    draft = _sound_draft(asked.study)
    only = None if asked.scenario is None else _scenario(draft, asked.scenario)
    told = progress.steps(lambda far: f"nights of scenario {far.done + 1} of {far.of}")
    return nights_report(study_nights(check(draft), Memory(), told, only))


def show_week(asked: Namespace, progress: ProgressLine) -> Document:
    """A week of a scenario, or one moment of it."""
    draft = _sound_draft(asked.study)
    id_ = _scenario(draft, asked.scenario)
    plan = plans_as_read(check(draft), Memory(between_weeks=progress.week))[id_]
    if plan.cell is not None and not 1 <= asked.week <= plan.weeks:
        raise NotAnswered(
            f"week {asked.week} is not measured; weeks 1 to {plan.weeks} are; choose one with "
            "--week"
        )
    found = week(plan, asked.week, lambda done, of: progress.week())
    if found is None:
        raise NotAnswered(
            f"scenario {plan.scenario} has no parts, so there is no week to show; enter a part's "
            "weekly pieces"
        )
    return week_report(found) if asked.at is None else moment_report(found, asked.at)


def moment_of_week(text: str) -> int:
    """A second of the week from "tue 14:20", for a parser of command lines."""
    kind = Moment()
    try:
        second = kind.read(kind.typed(text))
    except KindError:
        second = text
    if isinstance(second, str):
        raise ArgumentTypeError(f'{text!r} is no moment of a week such as "tue 14:20"')
    return second


# -- what moves a scenario -----------------------------------------------------------------


def vary_input(asked: Namespace, progress: ProgressLine) -> Document:
    """A scenario answered for each value of an input, or for each pair of two inputs' values."""
    draft = _sound_draft(asked.study)
    id_, told = _scenario(draft, asked.scenario), _tried(progress)
    down, values = _ranged(draft, id_, asked.key, asked.range)
    if asked.other is None:
        return curve_report(vary(draft, id_, down.path, values, Memory(), told))
    across, others = _ranged(draft, id_, *asked.other)
    return grid_report(grid(draft, id_, down.path, values, across.path, others, Memory(), told))


def rank_inputs(asked: Namespace, progress: ProgressLine) -> Document:
    """Every input moved up and down by a tenth."""
    draft = _sound_draft(asked.study)
    id_ = _scenario(draft, asked.scenario)
    return ranking_report(sensitivity(draft, id_, Memory(), _tried(progress)))


def find_break_even(asked: Namespace, progress: ProgressLine) -> Document:
    """The value at which the reference is met, or a target reached."""
    draft = _sound_draft(asked.study)
    id_, told = _scenario(draft, asked.scenario), _tried(progress)
    path = _input(draft, id_, asked.key).path
    target = LEVEL if asked.target is None else read_target(asked.target, draft, id_)
    return break_even_report(break_even(draft, id_, path, target, Memory(), told, asked.range))


def _tried(progress: ProgressLine) -> Told:
    return progress.steps(lambda far: f"{far.done} of {far.of} tried")


def _input(draft: Draft, scenario: str, key: str) -> Input:
    return find_input(draft, scenario, tuple(key.strip().split(".")))


def _ranged(draft: Draft, scenario: str, key: str, text: str) -> tuple[Input, tuple[str, ...]]:
    return read_range(_input(draft, scenario, key), text)
