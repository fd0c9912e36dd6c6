"""From an edit to its answers, measured at the calculating process as the screen talks to it.

    .venv/bin/python tests/bench/looked_at.py [--python OTHER/bin/python] [STUDY ...]

A study may be a number: then it is made, of so many scenarios. For each study: opened, an edit in
its last scenario with the cursor there, a price, an undo, the week with another edit, then the
ranking of that scenario. Told are milliseconds by the wall and, behind, of the processor in all
processes, until the edited column is there as typed, all columns are, the edited one has its likely
range, all have theirs, and all is known.
"""

from __future__ import annotations

import argparse
import os
import queue
import subprocess
import sys
from contextlib import suppress
from pathlib import Path
from time import monotonic

HERE = Path(__file__).parent
DEMOS = HERE.parent.parent / "scenarios"
PATIENCE = 600


def processor() -> float:
    """Seconds of the processor of all processes below this one, those that are gone among them."""
    tick = os.sysconf("SC_CLK_TCK")
    above: dict[int, int] = {}
    spent: dict[int, float] = {}
    for name in os.listdir("/proc"):
        if name.isdecimal():
            with suppress(OSError):
                stat = Path(f"/proc/{name}/stat").read_text("ascii").rpartition(")")[2].split()
                above[int(name)] = int(stat[1])
                spent[int(name)] = sum(map(int, stat[11:15])) / tick
    found, mine = 0.0, {os.getpid()}
    while more := {process for process, parent in above.items() if parent in mine} - mine:
        found += sum(spent[process] for process in more - mine)
        mine |= more
    return found


class Desk:
    """Asks the calculating process, and notes when what came back."""

    def __init__(self) -> None:
        from whatif.session.calculate.calculator import Calculator
        from whatif.session.calculate.requests import Reply

        self.replies: queue.Queue[Reply] = queue.Queue()
        self.calculator = Calculator(self.replies.put)
        self.calculator.start()
        self.revision = 0

    def ask(self, what: str, draft: object, front: str, question: object = None) -> None:
        """Ask and print when its answers have come."""
        from whatif.session.calculate.requests import Request

        self.revision += 1
        began, spent = monotonic(), processor()
        told: dict[str, str] = {}

        def note(name: str) -> None:
            if name not in told:
                wall, work = 1000 * (monotonic() - began), 1000 * (processor() - spent)
                told[name] = f"{name} {wall:.0f} ({work:.0f})"

        ids = draft.ids  # type: ignore[attr-defined]
        typed: set[str] = set()
        ranged: set[str] = set()
        largest = inputs = 0
        asked = {"front": front} if "front" in Request.__slots__ else {}
        self.calculator.ask(Request(self.revision, draft, question, **asked))  # type: ignore[arg-type]
        while True:
            reply = self.replies.get(timeout=PATIENCE)
            if reply.revision != self.revision:
                continue
            if reply.fault:
                print("   fault:", reply.fault)
            if question is not None and reply.question == question and not reply.partly:
                if reply.result is not None:
                    note("view")
            elif reply.partly:
                note("view in part")
                # A ranking that looks for likely ranges has all its inputs in order, as typed.
                effects = getattr(reply.result, "effects", ())
                if len(effects) == inputs and effects:
                    note("ranked as typed")
                inputs = max(inputs, len(effects))
            if reply.found is not None:
                typed |= reply.found.answers.keys()
                ranged |= {id_ for id_, one in reply.found.answers.items() if one.likely}
                largest = max(largest, len(reply.found.answers))
                if front in typed:
                    note("front")
                if len(typed) == len(ids):
                    note("all")
                if front in ranged:
                    note("its range")
                if len(ranged) == len(ids):
                    note("all ranges")
            if reply.final:
                note("end")
                print(f"   {what:<10}", "  ".join(told.values()), flush=True)
                return


def measure(paths: list[Path], *, ranking: bool) -> None:
    """In the process that has the program to be measured."""
    import made

    from whatif.session.calculate.questions import RankingOf, WeekOf
    from whatif.study.edits import SetValue
    from whatif.study.file.reading import read_file, read_text

    for path in paths:
        is_made = path.name.isdecimal()
        draft = read_text(made.study(int(path.name))) if is_made else read_file(path).draft
        last = draft.ids[-1]
        print(path.stem, f"({len(draft.ids)} scenarios)", flush=True)
        desk = Desk()
        desk.ask("opened", draft, last)
        edited = SetValue(last, ("handling", "walk"), "77 s").apply(draft)
        desk.ask("an edit", edited, last)
        desk.ask("a price", SetValue(last, ("money", "one_off"), 5).apply(edited), last)
        desk.ask("undone", draft, last)
        desk.ask(
            "the week",
            SetValue(last, ("handling", "walk"), "78 s").apply(draft),
            last,
            WeekOf(last, 2),
        )
        if ranking:
            desk.ask("ranking", draft, last, RankingOf(last))
        desk.calculator.close()


def main() -> None:
    """Measure this program, or that of another Python."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("studies", nargs="*", type=Path)
    parser.add_argument("--python", help="whose program is measured")
    parser.add_argument("--no-ranking", action="store_true", help="a ranking may take minutes")
    parser.add_argument("--first", action="store_true", help="go before all other programs (root)")
    asked = parser.parse_args()
    if asked.python:
        words = [word for word in sys.argv[1:] if not word.startswith("--python")]
        words = [word for word in words if word != asked.python]
        raise SystemExit(subprocess.call([asked.python, __file__, *words]))
    if asked.first:
        os.nice(-15)
    measure(asked.studies or sorted(DEMOS.glob("*.toml")), ranking=not asked.no_ranking)


if __name__ == "__main__":
    main()
