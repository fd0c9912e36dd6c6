"""The commands of the command line, each with its arguments, its forms and what answers it."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from whatif.command import answers
from whatif.command.terminal import ProgressLine
from whatif.reports.document import WRITERS, Document

_ALL_FORMS: Final = tuple(WRITERS)


@dataclass(frozen=True, slots=True)
class Argument:
    """An argument as `argparse` takes it: its names, and everything else."""

    names: tuple[str, ...]
    options: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Subcommand:
    """A command.

    Attributes:
        usages: how it is written, behind its name, and what it does then.
        arguments: beside ``--format``, which all of them have.
        forms: in which it answers; the first where none is named.
        answer: what answers it; it may raise `answers.NotAnswered`, `answers.Misput` or `Refused`.
    """

    usages: tuple[tuple[str, str], ...]
    arguments: tuple[Argument, ...]
    forms: tuple[str, ...]
    answer: Callable[[Namespace, ProgressLine], Document]

    def parser(self, name: str) -> ArgumentParser:
        """What reads its part of the command line."""
        _, does = self.usages[0]
        parser = ArgumentParser(prog=f"whatif {name}", description=f"{does[0].upper()}{does[1:]}.")
        for argument in self.arguments:
            parser.add_argument(*argument.names, **argument.options)
        parser.add_argument("--format", choices=self.forms, default=self.forms[0])
        return parser


def _argument(*names: str, **options: Any) -> Argument:
    return Argument(names, options)


STUDY: Final = _argument("study", metavar="STUDY", help="a study file (TOML)")
_SCENARIO: Final = _argument(
    "scenario", metavar="SCENARIO", help="a scenario in it: its id, or its title"
)
_KEY: Final = _argument(
    "key", metavar="KEY", help="an input as the file has it, such as machine.mill.pallets"
)


def _or_none(argument: Argument, **options: Any) -> Argument:
    """The same argument, which may be left out."""
    return Argument(argument.names, {**argument.options, "nargs": "?", **options})


COMMANDS: Final[Mapping[str, Subcommand]] = {
    "compare": Subcommand(
        (("STUDY [--format text|markdown|csv|json]", "print what every scenario brings"),),
        (STUDY,),
        _ALL_FORMS,
        answers.compare_scenarios,
    ),
    "vary": Subcommand(
        (
            (
                "STUDY SCENARIO KEY FROM..TO[..STEP] [--and KEY FROM..TO[..STEP]]",
                "answer a scenario for each value of an input",
            ),
        ),
        (
            STUDY,
            _SCENARIO,
            _KEY,
            _argument(
                "range",
                metavar="FROM..TO[..STEP]",
                help='FROM..TO or FROM..TO..STEP, such as "1..8" or "5 min..15 min..1 min"',
            ),
            _argument(
                "--and",
                dest="other",
                nargs=2,
                metavar=("KEY", "FROM..TO[..STEP]"),
                help="a second input, which makes a table of both",
            ),
        ),
        _ALL_FORMS,
        answers.vary_input,
    ),
    "sensitivity": Subcommand(
        (("STUDY SCENARIO", "rank the inputs by what they do to the gain"),),
        (STUDY, _SCENARIO),
        _ALL_FORMS,
        answers.rank_inputs,
    ),
    "breakeven": Subcommand(
        (
            (
                "STUDY SCENARIO KEY [FROM..TO] [--target TARGET]",
                "find where the reference or a target is reached",
            ),
        ),
        (
            STUDY,
            _SCENARIO,
            _KEY,
            _argument("range", metavar="FROM..TO", nargs="?", default="", help="where to look"),
            _argument(
                "--target",
                metavar="TARGET",
                help='"hours 80" (spindle hours a week), "pieces PART 1000" (a week), "met 100" '
                '(percent of the demand of every part), "payback 3" (years) or "said 40" (hours a '
                "day that are said); without it: level with the reference",
            ),
        ),
        _ALL_FORMS,
        answers.find_break_even,
    ),
    "explain": Subcommand(
        (
            (
                "STUDY SCENARIO [FIGURE] [--format text|markdown|json]",
                "account for a figure; without one: list them",
            ),
            (
                "--rule [NAME] [--format text|markdown|json]",
                "print a rule of the book; without one: list them",
            ),
        ),
        (
            _or_none(STUDY),
            _or_none(_SCENARIO),
            _argument(
                "figure",
                metavar="FIGURE",
                nargs="?",
                help='a figure, such as "spindle_hours.total" or "waiting for a person"; without '
                "one all are listed",
            ),
            _argument(
                "--rule",
                metavar="NAME",
                nargs="?",
                const="",
                help='in place of a figure a rule of the book, such as "people.visit"; without a '
                "name all are listed",
            ),
        ),
        ("text", "markdown", "json"),
        answers.explain_figure,
    ),
    "week": Subcommand(
        (
            (
                'STUDY SCENARIO [--week K] [--at "tue 14:20"] [--format text|json]',
                "print a week of a scenario, hour by hour",
            ),
        ),
        (
            STUDY,
            _SCENARIO,
            _argument(
                "--week",
                type=int,
                default=1,
                metavar="K",
                help="which of the weeks measured (default 1)",
            ),
            _argument(
                "--at",
                type=answers.moment_of_week,
                metavar="MOMENT",
                help='one moment in words, such as "tue 14:20"',
            ),
        ),
        ("text", "json"),
        answers.show_week,
    ),
    "night": Subcommand(
        (
            (
                "STUDY [SCENARIO] [--format text|markdown|csv|json]",
                "tell how long spindles go on after each shift",
            ),
        ),
        (STUDY, _or_none(_SCENARIO, help="a scenario's id or title; all of them without")),
        _ALL_FORMS,
        answers.show_nights,
    ),
    "check": Subcommand(
        (("STUDY", "list every problem of a study file"),),
        (STUDY,),
        ("text", "json"),
        answers.check_file,
    ),
}
