"""``whatif [STUDY]`` opens the screen; ``compare`` and ``check`` answer on standard output."""

from __future__ import annotations

import argparse
import os
import signal
import sys
from collections.abc import Callable, Sequence
from difflib import get_close_matches

from whatif.command.answers import check_study, compare_study
from whatif.command.explain import explain_figure, explain_rule
from whatif.command.moves import break_even_command, sensitivity_command, vary_command
from whatif.command.night import night_of_study
from whatif.command.week import Asked, moment_of_week, show_week

_USAGE = """\
whatif                          begin a study, or open a demo or one opened lately
whatif STUDY                    open a study and change it
whatif compare STUDY [--format text|markdown|csv|json]
                                print what every scenario brings
whatif vary STUDY SCENARIO KEY FROM..TO[..STEP] [--and KEY FROM..TO[..STEP]]
                                answer a scenario for each value of an input
whatif sensitivity STUDY SCENARIO
                                rank the inputs by what they do to the gain
whatif breakeven STUDY SCENARIO KEY [FROM..TO] [--target TARGET]
                                find where the reference or a target is reached
whatif explain STUDY SCENARIO [FIGURE] [--format text|markdown|json]
                                account for a figure; without one: list them
whatif explain --rule [NAME] [--format text|markdown|json]
                                print a rule of the book; without a name: list them
whatif week STUDY SCENARIO [--week K] [--at "tue 14:20"] [--format text|json]
                                print a week of a scenario, hour by hour
whatif night STUDY [SCENARIO] [--format text|markdown|csv|json]
                                tell how long the spindles go on after each shift
whatif check STUDY              list every problem of a study file"""

OK, WRONG, INTERRUPTED = 0, 1, 130


def _parser() -> argparse.ArgumentParser:
    return argparse.ArgumentParser(
        prog="whatif",
        description=(
            "What-if sessions for a machining cell: where the spindle hours go, and what more "
            "machines, pallets, people or unattended hours would bring."
        ),
        epilog=_USAGE,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )


def _compare(words: Sequence[str]) -> int:
    parser = argparse.ArgumentParser(prog="whatif compare")
    parser.add_argument("study", metavar="STUDY", help="a study file (TOML)")
    parser.add_argument("--format", choices=("text", "markdown", "csv", "json"), default="text")
    said = parser.parse_args(words)
    return compare_study(said.study, said.format)


def _check(words: Sequence[str]) -> int:
    parser = argparse.ArgumentParser(prog="whatif check")
    parser.add_argument("study", metavar="STUDY", help="a study file (TOML)")
    parser.add_argument("--format", choices=("text", "json"), default="text")
    said = parser.parse_args(words)
    return check_study(said.study, said.format)


def _explain(words: Sequence[str]) -> int:
    parser = argparse.ArgumentParser(prog="whatif explain")
    parser.add_argument("study", metavar="STUDY", nargs="?", help="a study file (TOML)")
    parser.add_argument(
        "scenario", metavar="SCENARIO", nargs="?", help="the id of a scenario in it"
    )
    parser.add_argument(
        "figure",
        metavar="FIGURE",
        nargs="?",
        help='a figure, such as "spindle_hours.total" or "waiting for a person"; without one all '
        "are listed",
    )
    parser.add_argument(
        "--rule",
        metavar="NAME",
        nargs="?",
        const="",
        help='in place of a figure a rule of the book, such as "people.visit"; without a name all '
        "are listed",
    )
    parser.add_argument("--format", choices=("text", "markdown", "json"), default="text")
    said = parser.parse_args(words)
    if said.rule is not None:
        if said.study is not None:
            parser.error("a rule is the same in every study: name no study with --rule")
        return explain_rule(said.rule, said.format)
    if said.study is None or said.scenario is None:
        parser.error("the following arguments are required: STUDY, SCENARIO (or --rule)")
    return explain_figure(said.study, said.scenario, said.figure, said.format)


def _week(words: Sequence[str]) -> int:
    parser = argparse.ArgumentParser(prog="whatif week")
    parser.add_argument("study", metavar="STUDY", help="a study file (TOML)")
    parser.add_argument("scenario", metavar="SCENARIO", help="the id of one of its scenarios")
    parser.add_argument(
        "--week", type=int, default=1, metavar="K", help="which of the weeks measured (default 1)"
    )
    parser.add_argument(
        "--at",
        type=moment_of_week,
        metavar="MOMENT",
        help='one moment in words, such as "tue 14:20"',
    )
    parser.add_argument("--format", choices=("text", "json"), default="text")
    said = parser.parse_args(words)
    return show_week(Asked(said.study, said.scenario, said.week, said.format, said.at))


def _night(words: Sequence[str]) -> int:
    parser = argparse.ArgumentParser(prog="whatif night")
    parser.add_argument("study", metavar="STUDY", help="a study file (TOML)")
    parser.add_argument(
        "scenario", metavar="SCENARIO", nargs="?", help="a scenario's id; all of them without"
    )
    parser.add_argument("--format", choices=("text", "markdown", "csv", "json"), default="text")
    said = parser.parse_args(words)
    return night_of_study(said.study, said.scenario, said.format)


def _open(words: Sequence[str]) -> int:
    parser = _parser()
    parser.add_argument("study", metavar="STUDY", nargs="?", help="a study file (TOML)")
    if len(words) > 1 and not words[0].startswith("-"):
        near = get_close_matches(words[0], COMMANDS, 1)
        hint = f" Did you mean {near[0]}?" if near else f" There are {', '.join(COMMANDS)}."
        parser.error(f"there is no command {words[0]}.{hint}")
    said = parser.parse_args(words)
    # Imported only now: the screen takes longer to load than an answer takes to print.
    from whatif.screens.app import open_study

    return open_study(said.study)


COMMANDS: dict[str, Callable[[Sequence[str]], int]] = {
    "compare": _compare,
    "vary": vary_command,
    "sensitivity": sensitivity_command,
    "breakeven": break_even_command,
    "explain": _explain,
    "week": _week,
    "night": _night,
    "check": _check,
}


def main(words: Sequence[str]) -> int:
    """Do what the command line says; the exit status is returned."""
    command = COMMANDS.get(words[0]) if words else None
    try:
        if command is None:
            return _open(words)
        status = command(words[1:])
        sys.stdout.flush()
        return status
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        return INTERRUPTED
    except OSError as fault:
        # Keep Python from trying to write what is left when it ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        if isinstance(fault, BrokenPipeError):
            return OK
        print(f"the answer could not be written: {fault.strerror}", file=sys.stderr)
        return WRONG


def run() -> None:
    """The ``whatif`` command."""
    # Whoever reads an answer may stop reading; the screen has no such reader.
    if sys.argv[1:2] and sys.argv[1] in COMMANDS and hasattr(signal, "SIGPIPE"):
        signal.signal(signal.SIGPIPE, signal.SIG_DFL)
    sys.exit(main(sys.argv[1:]))
