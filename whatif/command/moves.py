"""The commands that ask what moves a scenario: ``vary``, ``sensitivity`` and ``breakeven``."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence

from whatif.answers.moves.break_even import BreakEven, break_even
from whatif.answers.moves.inputs import Input, find_input
from whatif.answers.moves.ranges import read_range
from whatif.answers.moves.refused import Unanswerable
from whatif.answers.moves.sensitivity import Ranking, sensitivity
from whatif.answers.moves.targets import LEVEL, read_target
from whatif.answers.moves.vary import Curve, Grid, grid, vary
from whatif.command.answers import sound_draft, writable
from whatif.reports.moves import (
    break_even_sheet,
    curve_sheet,
    grid_rows,
    grid_sheet,
    narrow_curve_sheet,
    narrow_ranking_sheet,
    ranking_sheet,
)
from whatif.reports.moves_json import break_even_json, curve_json, grid_json, ranking_json
from whatif.reports.sheets import as_csv, as_markdown, as_text
from whatif.session.calculate.memory import Memory
from whatif.study.draft import Draft
from whatif.study.raw import Path
from whatif.telling.problems import refusal_words

_KEY = "an input as the file has it, such as machine.mill.pallets"
_RANGE = 'FROM..TO or FROM..TO..STEP, such as "1..8" or "5 min..15 min..1 min"'
_TARGET = (
    '"hours 80" (spindle hours a week), "pieces PART 1000" (a week), "met 100" (percent of the '
    'demand of every part) or "payback 3" (years); without it: level with the reference'
)


def vary_command(words: Sequence[str]) -> int:
    """``whatif vary``: one input over a range, or two of them."""
    parser = _parser("vary", "Answer a scenario for each value of an input.")
    parser.add_argument("key", metavar="KEY", help=_KEY)
    parser.add_argument("range", metavar="FROM..TO[..STEP]", help=_RANGE)
    parser.add_argument(
        "--and",
        dest="other",
        nargs=2,
        metavar=("KEY", "FROM..TO[..STEP]"),
        help="a second input, which makes a table of both",
    )
    _add_format(parser)
    said = parser.parse_args(words)

    def answer(draft: Draft) -> str:
        down, values = _ranged(draft, said.scenario, said.key, said.range)
        if said.other is None:
            curve = vary(draft, said.scenario, down.path, values, Memory(), _Steps())
            return _CURVES[said.format](curve)
        across, others = _ranged(draft, said.scenario, *said.other)
        found = grid(
            draft, said.scenario, down.path, values, across.path, others, Memory(), _Steps()
        )
        return _GRIDS[said.format](found)

    return _answer(said.study, answer)


def sensitivity_command(words: Sequence[str]) -> int:
    """``whatif sensitivity``: every input up and down by a tenth."""
    parser = _parser("sensitivity", "Rank the inputs of a scenario by what they do to its gain.")
    _add_format(parser)
    said = parser.parse_args(words)
    return _answer(
        said.study,
        lambda draft: _RANKINGS[said.format](sensitivity(draft, said.scenario, Memory(), _Steps())),
    )


def break_even_command(words: Sequence[str]) -> int:
    """``whatif breakeven``: the value at which the reference is met, or a target reached."""
    parser = _parser("breakeven", "Find the value of an input at which a target is reached.")
    parser.add_argument("key", metavar="KEY", help=_KEY)
    parser.add_argument("range", metavar="FROM..TO", nargs="?", default="", help="where to look")
    parser.add_argument("--target", metavar="TARGET", help=_TARGET)
    _add_format(parser)
    said = parser.parse_args(words)

    def answer(draft: Draft) -> str:
        target = LEVEL
        path = find_input(draft, said.scenario, _path(said.key)).path
        if said.target is not None:
            target = read_target(said.target, draft, said.scenario)
        found = break_even(draft, said.scenario, path, target, Memory(), _Steps(), said.range)
        return _BREAK_EVENS[said.format](found)

    return _answer(said.study, answer)


_CURVES: dict[str, Callable[[Curve], str]] = {
    "text": lambda found: as_text(narrow_curve_sheet(found)),
    "markdown": lambda found: as_markdown(curve_sheet(found)),
    "csv": lambda found: as_csv(curve_sheet(found)),
    "json": curve_json,
}
_GRIDS: dict[str, Callable[[Grid], str]] = {
    "text": lambda found: as_text(grid_sheet(found)),
    "markdown": lambda found: as_markdown(grid_sheet(found)),
    "csv": lambda found: as_csv(grid_rows(found)),
    "json": grid_json,
}
_RANKINGS: dict[str, Callable[[Ranking], str]] = {
    "text": lambda found: as_text(narrow_ranking_sheet(found)),
    "markdown": lambda found: as_markdown(ranking_sheet(found)),
    "csv": lambda found: as_csv(ranking_sheet(found)),
    "json": ranking_json,
}
_BREAK_EVENS: dict[str, Callable[[BreakEven], str]] = {
    "text": lambda found: as_text(break_even_sheet(found)),
    "markdown": lambda found: as_markdown(break_even_sheet(found)),
    "csv": lambda found: as_csv(break_even_sheet(found)),
    "json": break_even_json,
}


def _parser(name: str, what: str) -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog=f"whatif {name}", description=what)
    parser.add_argument("study", metavar="STUDY", help="a study file (TOML)")
    parser.add_argument("scenario", metavar="SCENARIO", help="the id of a scenario in it")
    return parser


def _add_format(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--format", choices=tuple(_CURVES), default="text")


def _path(key: str) -> Path:
    return tuple(key.strip().split("."))


def _ranged(draft: Draft, scenario: str, key: str, text: str) -> tuple[Input, tuple[str, ...]]:
    return read_range(find_input(draft, scenario, _path(key)), text)


def _answer(path: str, answer: Callable[[Draft], str]) -> int:
    """Print an answer; 1, with the reason on standard error, where there is none."""
    draft = sound_draft(path)
    if draft is None:
        return 1
    try:
        text = answer(draft)
    except Unanswerable as fault:
        _wipe()
        print(refusal_words(fault), file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        _wipe()
        raise
    print(writable(text))
    return 0


class _Steps:
    """How many values have been tried, on a terminal only and wiped out at the end."""

    def __init__(self) -> None:
        self._shown = sys.stderr.isatty()

    def __call__(self, done: int, of: int) -> None:
        if self._shown:
            _show(f"{done} of {of} tried" if done < of else "")


def _wipe() -> None:
    if sys.stderr.isatty():
        _show("")


def _show(text: str) -> None:
    print(f"\r{text:30}", end="\r", file=sys.stderr, flush=True)
