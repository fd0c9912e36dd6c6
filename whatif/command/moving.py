"""``whatif vary``, ``sensitivity`` and ``breakeven``: what moves a scenario."""

from __future__ import annotations

from argparse import Namespace

from whatif.answers.moves.break_even import LEVEL, break_even, read_target
from whatif.answers.moves.inputs import Input, find_input
from whatif.answers.moves.ranges import read_range
from whatif.answers.moves.sensitivity import sensitivity
from whatif.answers.moves.vary import grid, vary
from whatif.answers.progress import Stage, Told
from whatif.command.simulating import simulating
from whatif.command.studies import scenario, sound_draft
from whatif.command.terminal import ProgressLine
from whatif.reports.document import Document
from whatif.reports.moves import (
    break_even_report,
    curve_report,
    grid_report,
    ranking_report,
    told_in,
)
from whatif.study.draft import Draft


def vary_input(asked: Namespace, progress: ProgressLine) -> Document:
    """A scenario answered for each value of an input, or for each pair of two inputs' values."""
    draft = sound_draft(asked.study)
    id_, told = scenario(draft, asked.scenario), _tried(progress)
    down, values = _ranged(draft, id_, asked.key, asked.range)
    if asked.other is None:
        with simulating(progress.week) as memory:
            found = vary(draft, id_, down.path, values, memory, told)
            return curve_report(found, told_in(draft))
    across, others = _ranged(draft, id_, *asked.other)
    with simulating(progress.week) as memory:
        pairs = grid(draft, id_, down.path, values, across.path, others, memory, told)
        return grid_report(pairs, told_in(draft))


def rank_inputs(asked: Namespace, progress: ProgressLine) -> Document:
    """Every input moved up and down by a tenth."""
    draft = sound_draft(asked.study)
    id_ = scenario(draft, asked.scenario)
    with simulating(progress.week) as memory:
        return ranking_report(sensitivity(draft, id_, memory, _tried(progress)), told_in(draft))


def find_break_even(asked: Namespace, progress: ProgressLine) -> Document:
    """The value at which the reference is met, or a target reached."""
    draft = sound_draft(asked.study)
    id_, told = scenario(draft, asked.scenario), _tried(progress)
    path = _input(draft, id_, asked.key).path
    target = LEVEL if asked.target is None else read_target(asked.target, draft, id_)
    with simulating(progress.week) as memory:
        found = break_even(draft, id_, path, target, memory, told, asked.range)
        return break_even_report(found, told_in(draft))


def _tried(progress: ProgressLine) -> Told:
    progress.begin(Stage.AS_TYPED, 0)
    return progress.steps(lambda far: f"{far.done} of {far.of} tried")


def _input(draft: Draft, id_: str, key: str) -> Input:
    return find_input(draft, id_, tuple(key.strip().split(".")))


def _ranged(draft: Draft, id_: str, key: str, text: str) -> tuple[Input, tuple[str, ...]]:
    return read_range(_input(draft, id_, key), text)
