"""The commands of the command line, each with its arguments, its forms and what answers it.

What answers is loaded only where it is asked: a command loads what it needs, and help nothing.
"""

from __future__ import annotations

import os

from whatif.command.unanswered import Misput

TYPE_CHECKING = False  # as `typing` has it, which help has no other need of
if TYPE_CHECKING:
    from argparse import Namespace
    from collections.abc import Callable, Mapping
    from typing import Any, Final

    from whatif.command.parser import Parser
    from whatif.command.terminal import ProgressLine
    from whatif.reports.document import Document

ALL_FORMS: Final = ("text", "markdown", "csv", "json")
"""The keys of :data:`whatif.reports.document.WRITERS`."""


_ROOM: Final = 80
"""Cells of a terminal that does not tell how many it has."""


def help_width() -> int:
    """Cells for help; `argparse` would load a quarter as much again to find out."""
    try:
        return int(os.environ.get("COLUMNS") or os.get_terminal_size(1).columns or _ROOM) - 2
    except (OSError, ValueError):
        return _ROOM - 2


class Argument:
    """An argument as `argparse` takes it: its names, and everything else."""

    def __init__(self, *names: str, **options: Any) -> None:
        self.names, self.options = names, options


class Subcommand:
    """A command.

    Attributes:
        usages: how it is written, behind its name, and what it does then.
        arguments: beside ``--format``, which all of them have.
        forms: in which it answers; the first where none is named.
        answer: what answers it; it may raise `NotAnswered`, `Misput` or `Refused`.
        is_kept: whether an answer about a study is kept as it was printed; not what takes no
            longer to work out than to look for.
    """

    def __init__(
        self,
        usages: tuple[tuple[str, str], ...],
        arguments: tuple[Argument, ...],
        forms: tuple[str, ...],
        answer: Callable[[Namespace, ProgressLine], Document],
        *,
        is_kept: bool = True,
    ) -> None:
        self.usages, self.arguments, self.forms = usages, arguments, forms
        self.answer, self.is_kept = answer, is_kept

    def parser(self, name: str) -> Parser:
        """What reads its part of the command line."""
        # Imported only now: a study that is opened on the screen has no need of it.
        from argparse import HelpFormatter

        from whatif.command.parser import Parser

        _, does = self.usages[0]
        parser = Parser(
            prog=f"whatif {name}",
            description=f"{does[0].upper()}{does[1:]}.",
            formatter_class=lambda prog: HelpFormatter(prog, width=help_width()),
        )
        for argument in self.arguments:
            parser.add_argument(*argument.names, **argument.options)
        parser.add_argument("--format", choices=self.forms, default=self.forms[0])
        return parser


def _study(text: str) -> str:
    """The study that is named; what can be read only once is read, since several ask for it."""
    from whatif.command.read_once import study_named

    try:
        return study_named(text)
    except OSError as fault:
        from argparse import ArgumentTypeError

        raise ArgumentTypeError(f"standard input cannot be read: {fault}") from fault


STUDY: Final = Argument("study", metavar="STUDY", help="a study file (TOML)")
_STUDY: Final = Argument(
    "study", metavar="STUDY", type=_study, help="a study file (TOML), or - for standard input"
)
_SCENARIO: Final = Argument(
    "scenario", metavar="SCENARIO", help="a scenario in it: its id, or its title"
)
_KEY: Final = Argument(
    "key", metavar="KEY", help="an input as the file has it, such as machine.mill.pallets"
)


def _or_none(argument: Argument, **options: Any) -> Argument:
    """The same argument, which may be left out."""
    return Argument(*argument.names, **{**argument.options, "nargs": "?", **options})


# -- what answers, each loaded only when it is asked --------------------------------------------


def _compare(asked: Namespace, progress: ProgressLine) -> Document:
    from whatif.command.comparing import compare_scenarios

    return compare_scenarios(asked, progress)


def _vary(asked: Namespace, progress: ProgressLine) -> Document:
    from whatif.command.moving import vary_input

    return vary_input(asked, progress)


def _rank(asked: Namespace, progress: ProgressLine) -> Document:
    from whatif.command.moving import rank_inputs

    return rank_inputs(asked, progress)


def _break_even(asked: Namespace, progress: ProgressLine) -> Document:
    from whatif.command.moving import find_break_even

    return find_break_even(asked, progress)


def _search(asked: Namespace, progress: ProgressLine) -> Document:
    from whatif.command.searching import find_next_step

    return find_next_step(asked, progress)


def _explain(asked: Namespace, progress: ProgressLine) -> Document:
    if asked.rule is not None:
        if asked.study is not None:
            raise Misput("a rule is the same in every study: name no study with --rule")
        from whatif.command.rules import print_rule

        return print_rule(asked.rule)
    if asked.study is None or asked.scenario is None:
        raise Misput("the following arguments are required: STUDY, SCENARIO (or --rule)")
    from whatif.command.explaining import explain_figure

    return explain_figure(asked, progress)


def _week(asked: Namespace, progress: ProgressLine) -> Document:
    from whatif.command.showing import show_week

    return show_week(asked, progress)


def _nights(asked: Namespace, progress: ProgressLine) -> Document:
    from whatif.command.showing import show_nights

    return show_nights(asked, progress)


def _report(asked: Namespace, progress: ProgressLine) -> Document:
    from whatif.command.reporting import make_report

    return make_report(asked, progress)


def _schema(asked: Namespace, progress: ProgressLine) -> Document:
    from whatif.command.forms import print_schema

    return print_schema(asked, progress)


def _check(asked: Namespace, progress: ProgressLine) -> Document:
    from whatif.command.checking import check_file

    return check_file(asked, progress)


def _readings(asked: Namespace, progress: ProgressLine) -> Document:
    from whatif.command.reading import tell_readings

    return tell_readings(asked, progress)


def _walk(asked: Namespace, progress: ProgressLine) -> Document:
    from whatif.command.walking import walk_through

    return walk_through(asked, progress)


def _parts(asked: Namespace, progress: ProgressLine) -> Document:
    from whatif.command.entering import enter_table

    return enter_table(asked, "part")


def _orders(asked: Namespace, progress: ProgressLine) -> Document:
    from whatif.command.entering import enter_table

    return enter_table(asked, "order")


def _afterwards(asked: Namespace, progress: ProgressLine) -> Document:
    from whatif.command.after import hold_afterwards

    return hold_afterwards(asked, progress)


def _moment(text: str) -> int:
    """A second of the week from "tue 14:20"."""
    from whatif.study.schema.kinds.calendar import Moment
    from whatif.study.schema.kinds.kind import KindError

    kind = Moment()
    try:
        second = kind.read(kind.typed(text))
    except KindError:
        second = text
    if isinstance(second, str):
        from argparse import ArgumentTypeError

        raise ArgumentTypeError(f'{text!r} is no moment of a week such as "tue 14:20"')
    return second


_OF_READINGS: Final = (
    Argument(
        "--machine",
        action="append",
        default=[],
        metavar="NAME",
        help="of this machine alone; may be given several times",
    ),
    Argument("--on", metavar="ITEM", help="the timer that counts the hours switched on"),
    Argument("--cut", metavar="ITEM", help="the timer that counts the hours in cut"),
    Argument(
        "--zone",
        metavar="ZONE",
        help="whose days are told, such as Europe/Berlin (default: this computer's)",
    ),
)
"""How documents are read."""


_OF_A_TABLE: Final = (
    Argument("table", metavar="FILE.csv", help="a table that a spreadsheet has saved as CSV"),
    Argument(
        "--into",
        nargs=2,
        metavar=("STUDY", "SCENARIO"),
        help="show what it would be there; without it the lines of a study file are printed",
    ),
    Argument("--enter", action="store_true", help="enter it into the study's file"),
    Argument(
        "--column",
        action="append",
        default=[],
        metavar="HEAD=KEY",
        help='which key a column is, such as "Tempo=cycle"; "HEAD=" has it not used',
    ),
    Argument("--leave-out", action="store_true", help="leave rows with problems out, on purpose"),
    Argument(
        "--decimal",
        choices=("point", "comma"),
        help="the decimal sign, where the numbers do not show it",
    ),
    Argument(
        "--week-1", metavar="DATE", help="the Monday on which week 1 begins, such as 2026-11-30"
    ),
)
_OF_PARTS: Final = (
    Argument(
        "--alike",
        metavar="PERCENT",
        help='put numbers into one line whose times are no further apart, such as "10 %%"; "20 %%" '
        "where there are more than 20 numbers and nothing is said",
    ),
    Argument("--no-grouping", action="store_true", help="give each number a line of its own"),
    Argument("--instead", action="store_true", help="remove the parts that are there already"),
)

IN_JSON: Final = (
    *("compare", "vary", "sensitivity", "breakeven", "search", "night", "week", "explain"),
    *("readings", "walk", "afterwards", "check", "parts", "orders"),
)
"""The commands of whose JSON there is a schema."""

COMMANDS: Final[Mapping[str, Subcommand]] = {
    "compare": Subcommand(
        (("STUDY [--format text|markdown|csv|json]", "print what every scenario brings"),),
        (_STUDY,),
        ALL_FORMS,
        _compare,
    ),
    "vary": Subcommand(
        (
            (
                "STUDY SCENARIO KEY FROM..TO[..STEP] [--and KEY FROM..TO[..STEP]]",
                "answer a scenario for each value of an input",
            ),
        ),
        (
            _STUDY,
            _SCENARIO,
            _KEY,
            Argument(
                "range",
                metavar="FROM..TO[..STEP]",
                help='FROM..TO or FROM..TO..STEP, such as "1..8" or "5 min..15 min..1 min"',
            ),
            Argument(
                "--and",
                dest="other",
                nargs=2,
                metavar=("KEY", "FROM..TO[..STEP]"),
                help="a second input, which makes a table of both",
            ),
        ),
        ALL_FORMS,
        _vary,
    ),
    "sensitivity": Subcommand(
        (("STUDY SCENARIO", "rank the inputs by what they do to the gain"),),
        (_STUDY, _SCENARIO),
        ALL_FORMS,
        _rank,
    ),
    "breakeven": Subcommand(
        (
            (
                "STUDY SCENARIO KEY [FROM..TO] [--target TARGET]",
                "find where the reference or a target is reached",
            ),
        ),
        (
            _STUDY,
            _SCENARIO,
            _KEY,
            Argument("range", metavar="FROM..TO", nargs="?", default="", help="where to look"),
            Argument(
                "--target",
                metavar="TARGET",
                help='"gain 25" (percent of saleable output over the reference), "hours 80" '
                '(spindle hours a week), "pieces PART 1000" (a week), "met 100" (percent of the '
                'demand of every part), "payback 3" (years) or "said 40" (hours a day that are '
                "said); without it: level with the reference",
            ),
        ),
        ALL_FORMS,
        _break_even,
    ),
    "search": Subcommand(
        (
            (
                "STUDY [SCENARIO] [--goal GOAL] [--most N] [--seed N]",
                "try levers, and list what nothing beats",
            ),
        ),
        (
            _STUDY,
            _or_none(_SCENARIO, help="from where to search: an id or a title; today without"),
            Argument(
                "--goal",
                metavar="GOAL",
                help='"demand", "orders" (on time), "gain=25" (percent of saleable output over '
                'the reference), "payback=2" (years), "sum=50000" (money that may be laid out in '
                'the first year) or "most" (a year); without it: what is lacking first',
            ),
            Argument(
                "--most",
                type=int,
                choices=range(1, 7),
                default=3,
                metavar="N",
                help="levers at once, 1 to 6 (default 3)",
            ),
            Argument(
                "--seed",
                type=int,
                default=1,
                metavar="N",
                help="of what is drawn by lot (default 1)",
            ),
        ),
        ALL_FORMS,
        _search,
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
            _or_none(_STUDY),
            _or_none(_SCENARIO),
            Argument(
                "figure",
                metavar="FIGURE",
                nargs="?",
                help='a figure, such as "spindle_hours.total" or "waiting for a person"; without '
                "one all are listed",
            ),
            Argument(
                "--rule",
                metavar="NAME",
                nargs="?",
                const="",
                help='in place of a figure a rule of the book, such as "people.visit"; without a '
                "name all are listed",
            ),
        ),
        ("text", "markdown", "json"),
        _explain,
    ),
    "week": Subcommand(
        (
            (
                'STUDY SCENARIO [--week K] [--at "tue 14:20"] [--format text|json]',
                "print a week of a scenario, hour by hour",
            ),
        ),
        (
            _STUDY,
            _SCENARIO,
            Argument(
                "--week",
                type=int,
                default=1,
                metavar="K",
                help="which of the weeks measured (default 1)",
            ),
            Argument(
                "--at",
                type=_moment,
                metavar="MOMENT",
                help='one moment in words, such as "tue 14:20"',
            ),
        ),
        ("text", "json"),
        _week,
    ),
    "night": Subcommand(
        (
            (
                "STUDY [SCENARIO] [--format text|markdown|csv|json]",
                "tell how long spindles go on after each shift",
            ),
        ),
        (_STUDY, _or_none(_SCENARIO, help="a scenario's id or title; all of them without")),
        ALL_FORMS,
        _nights,
    ),
    "readings": Subcommand(
        (
            (
                "FILE|URL... [--machine NAME] [--enter STUDY SCENARIO]",
                "hours switched on and in cut, from readings",
            ),
        ),
        (
            Argument(
                "files",
                nargs="+",
                metavar="FILE|URL",
                help="MTConnect Streams documents (of /current or /sample), or tables (CSV) with "
                "the columns date, machine, switched on, in cut; several are read together",
            ),
            *_OF_READINGS,
            Argument(
                "--enter",
                nargs=2,
                metavar=("STUDY", "SCENARIO"),
                help="enter the hours as the scenario's hour_meters, and save the study",
            ),
        ),
        ALL_FORMS,
        _readings,
        is_kept=False,
    ),
    "afterwards": Subcommand(
        (
            (
                "STUDY SCENARIO [FILE|URL...] [--done DATE]",
                "measured since it was done, and predicted",
            ),
        ),
        (
            _STUDY,
            _SCENARIO,
            Argument(
                "files",
                nargs="*",
                metavar="FILE|URL",
                help="readings as whatif readings takes them; without any those of "
                "STUDY.readings.csv beside the study",
            ),
            *_OF_READINGS,
            Argument(
                "--done",
                metavar="DATE",
                help="since when the shop is so, such as 2025-03-31 (default: the scenario's "
                "done_on)",
            ),
        ),
        ALL_FORMS,
        _afterwards,
        is_kept=False,
    ),
    "walk": Subcommand(
        (
            (
                'STUDY SCENARIO [--tally FILE] [--seen "STATE COUNT, ..."]',
                "print a sheet for work sampling; tell shares",
            ),
        ),
        (
            _STUDY,
            _SCENARIO,
            Argument("--tours", type=int, default=40, metavar="N", help="of a week (default 40)"),
            Argument("--seed", type=int, default=1, metavar="K", help="of the moments (default 1)"),
            Argument(
                "--tally",
                action="append",
                default=[],
                metavar="FILE",
                help="a sheet (CSV) that was filled in, or a table of state and count; may be "
                "given several times",
            ),
            Argument("--seen", metavar="TALLIES", help='such as "in cycle 48, load 12, w 20"'),
            Argument(
                "--within",
                type=float,
                default=5.0,
                metavar="POINTS",
                help="how closely each share is wanted, either way (default 5)",
            ),
            Argument(
                "--confidence",
                type=float,
                default=95.0,
                metavar="PERCENT",
                help="of the intervals (default 95)",
            ),
        ),
        ALL_FORMS,
        _walk,
        is_kept=False,
    ),
    "report": Subcommand(
        (
            (
                "STUDY [SCENARIO] [--out FILE.html|.md|.txt] [--full] [--quick]",
                "write two pages to be handed on",
            ),
        ),
        (
            _STUDY,
            _or_none(
                _SCENARIO, help="the scenario that it goes into; the first of the verdict without"
            ),
            Argument(
                "--out",
                metavar="FILE",
                help="a file to be written, whose name ends in .html, .md or .txt; standard "
                "output without",
            ),
            Argument("--full", action="store_true", help="with further pages that have all"),
            Argument(
                "--quick",
                action="store_true",
                help="without what would change the answer, which takes longest",
            ),
            Argument(
                "--question", metavar="TEXT", default="", help="the question in words of your own"
            ),
            Argument("--replace", action="store_true", help="in the place of a file that is there"),
        ),
        ("text", "markdown", "html"),
        _report,
        is_kept=False,
    ),
    "schema": Subcommand(
        (
            ("", "print the form of a STUDY file as JSON Schema"),
            ("COMMAND", "the same of what COMMAND --format json prints"),
        ),
        (
            Argument(
                "of",
                metavar="COMMAND",
                nargs="?",
                choices=("study", *IN_JSON),
                default="study",
                help="such as compare: what it prints with --format json; a study file without",
            ),
        ),
        ("text",),
        _schema,
        is_kept=False,
    ),
    "check": Subcommand(
        (("STUDY", "list every problem of a study file"),),
        (_STUDY,),
        ("text", "json"),
        _check,
        is_kept=False,
    ),
    "parts": Subcommand(
        (
            (
                "FILE.csv [--into STUDY SCENARIO [--enter]]",
                "take part numbers from a table of a spreadsheet",
            ),
        ),
        (*_OF_A_TABLE, *_OF_PARTS),
        ("text", "json"),
        _parts,
        is_kept=False,
    ),
    "orders": Subcommand(
        (
            (
                "FILE.csv [--into STUDY SCENARIO [--enter]]",
                "take orders with due dates from a table",
            ),
        ),
        _OF_A_TABLE,
        ("text", "json"),
        _orders,
        is_kept=False,
    ),
}
