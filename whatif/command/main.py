"""``whatif [STUDY]`` opens the screen; each command answers on standard output.

What is wrong goes to standard error, and then nothing to standard output.
"""

from __future__ import annotations

import gc
import os
import signal
import sys

from whatif.command.commands import COMMANDS, STUDY, Subcommand, help_width
from whatif.command.stopping import INTERRUPTED, leave_ctrl_c
from whatif.command.unanswered import Misput, NotAnswered

TYPE_CHECKING = False  # as `typing` has it, which help has no other need of
if TYPE_CHECKING:
    from argparse import Namespace
    from collections.abc import Sequence
    from pathlib import Path as FilePath
    from typing import Final, NoReturn

    from whatif.reports.document import Document
    from whatif.screens.desk.host import ReportAtWork
    from whatif.session.kept.answers import KeptAnswer

OK, WRONG = 0, 1
"""Exit statuses; 2, for a command line that cannot be read, is `argparse`'s."""

_STATUSES: Final = (
    "exit status: 0 answered; 1 no answer, and standard error says why; 2 the command",
    "line cannot be read; 130 after Ctrl-C",
)

_COLUMN: Final = 32
"""Where the list of commands says what each does."""


def main(words: Sequence[str]) -> int:
    """Do what the command line says; the exit status is returned."""
    command = COMMANDS.get(words[0]) if words else None
    return _open(words) if command is None else _answer(command, words)


def _answer(command: Subcommand, words: Sequence[str]) -> int:
    name, *rest = words
    parser = command.parser(name)
    asked = parser.parse_args(rest)
    room = _room(asked.format)
    kept = _kept(command, name, asked, room)
    told = None if kept is None else kept.told()
    if told is not None:
        return _printed(told)
    # Imported only now: neither help nor an answer that was given before has need of a study.
    from whatif.command.terminal import ProgressLine, tell
    from whatif.study.refused import Refused

    try:
        with ProgressLine() as progress:
            text = _text(command.answer(asked, progress), asked.format, room)
    except Misput as fault:
        parser.error(str(fault))
    except Refused as fault:
        from whatif.telling.refusals import refusal_words

        tell(refusal_words(fault))
        return WRONG
    except NotAnswered as fault:
        if fault.document is not None and asked.format == "json":
            _printed(_text(fault.document, asked.format, room))
        else:
            tell(*fault.lines)
        return WRONG
    status = _printed(text)
    if kept is not None:
        kept.keep(text)
    return status


def _kept(command: Subcommand, name: str, asked: Namespace, room: int | None) -> KeptAnswer | None:
    """What the same words have been answered before; None where that is not kept."""
    if not command.is_kept or asked.study is None:
        return None
    from whatif.command.read_once import read_already
    from whatif.session.kept.answers import KeptAnswer

    words = (name, sorted(vars(asked).items()), room)
    return KeptAnswer(asked.study, words, content=read_already(asked.study))


def _room(form: str) -> int | None:
    """Cells that a text is folded to: those of the terminal, or that COLUMNS says, else 80.

    Off a terminal too: whoever pipes a text or keeps it reads it all the same.
    """
    if form != "text":
        return None
    from shutil import get_terminal_size

    return get_terminal_size().columns


def _text(document: Document, form: str, room: int | None) -> str:
    from dataclasses import replace

    from whatif.reports.document import LEAST_ROOM
    from whatif.reports.writers import ALL_WRITERS

    if room is not None:
        width = min(document.width or room, max(room, LEAST_ROOM))
        document = replace(document, room=room, width=width)
    return ALL_WRITERS[form](document)


def _printed(text: str) -> int:
    from whatif.command.terminal import tell, writable

    try:
        print(writable(text), flush=True)
    except OSError as fault:
        # Keep Python from trying to write what is left when it ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        if isinstance(fault, BrokenPipeError):
            return OK
        tell(f"the answer could not be written: {fault.strerror}")
        return WRONG
    return OK


def _open(words: Sequence[str]) -> int:
    if len(words) > 1 or any(word.startswith("-") for word in words):
        return _open_as_asked(words)
    # A study alone needs nothing that reads options, which takes a while to load.
    return _show(*words)


def _open_as_asked(words: Sequence[str]) -> int:
    from argparse import RawDescriptionHelpFormatter

    from whatif.command.parser import Parser

    parser = Parser(
        prog="whatif",
        description=(
            "What-if sessions for a machining cell: where the spindle hours go, and what more "
            "machines, pallets, people or unattended hours would bring."
        ),
        epilog="\n".join([*_usages(), "", *_STATUSES]),
        formatter_class=lambda prog: RawDescriptionHelpFormatter(prog, width=help_width()),
    )
    parser.add_argument(*STUDY.names, **STUDY.options, nargs="?")
    parser.add_argument("--version", action="store_true", help="tell the version, and end")
    if len(words) > 1 and not words[0].startswith("-"):
        from difflib import get_close_matches

        near = get_close_matches(words[0], COMMANDS, 1)
        hint = f" Did you mean {near[0]}?" if near else f" There are {', '.join(COMMANDS)}."
        parser.error(f"there is no command {words[0]}.{hint}")
    asked = parser.parse_args(words)
    if asked.version:
        from whatif.command.version import version

        print(version())
        return OK
    if asked.study == "-":
        parser.error("the screen has its keys from standard input; name a file")
    return _show(asked.study)


def _show(study: str | None = None) -> int:
    # Imported only now: the screen takes longer to load than an answer takes to print.
    from whatif.screens.terminal import open_study

    leave_ctrl_c()
    try:
        return open_study(study, _report_beside)
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        return INTERRUPTED


def _report_beside(
    study: FilePath, text: str | None, out: FilePath, replaces: bool
) -> ReportAtWork:
    # Only now: the screen is there long before anybody wants a report.
    from whatif.command.beside import ReportBeside

    return ReportBeside(study, text, out, replaces)


def _usages() -> list[str]:
    """Every way of putting a command, with what it does beside it, or below where it is long."""
    known = [
        ("whatif", "begin a study, or open a demo or one opened lately"),
        ("whatif STUDY", "open a study and change it"),
    ]
    for name, command in COMMANDS.items():
        known += [(f"whatif {name} {usage}".rstrip(), does) for usage, does in command.usages]
    lines = []
    for usage, does in known:
        is_short = len(usage) < _COLUMN
        lines += [f"{usage:<{_COLUMN}}{does}"] if is_short else [usage, " " * _COLUMN + does]
    return lines


_YOUNG: Final = 100_000
"""Objects made before garbage is looked for: what a command loads and reads is none."""


def run_command() -> None:
    """The ``whatif`` command."""
    gc.set_threshold(_YOUNG)
    _be_somewhere()
    words = sys.argv[1:]
    if not words or words[0] not in COMMANDS:
        sys.exit(main(words))
    # Whoever reads an answer may stop reading; the screen has no such reader.
    if hasattr(signal, "SIGPIPE"):
        signal.signal(signal.SIGPIPE, signal.SIG_DFL)
    _end(main(words))


def _be_somewhere() -> None:
    """Work in the root where the folder that one is in has been removed: nothing is found there."""
    try:
        os.getcwd()
    except FileNotFoundError:
        os.chdir(os.path.abspath(os.sep))
        print("this folder has been removed; name files from the root on", file=sys.stderr)


def _end(status: int) -> NoReturn:
    """End at once: Python would spend a fifth of a command's time on clearing all away."""
    try:
        sys.stdout.flush()
        sys.stderr.flush()
    except OSError:
        sys.exit(status)
    os._exit(status)
