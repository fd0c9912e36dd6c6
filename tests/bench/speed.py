"""How fast the engine is, as ratios measured in one run; by hand, never in a timed test.

    .venv/bin/python tests/bench/speed.py

Prints the engine against the independent SimPy model on the same cells, one edit of a demo study
against its first answer, and the likely ranges against the gains.
"""

from __future__ import annotations

import sys
from pathlib import Path
from time import perf_counter

TESTS = Path(__file__).parent.parent
sys.path.insert(0, str(TESTS))

from hypothesis import HealthCheck, Phase, given, settings  # noqa: E402 - after the path is set
from oracle.model import simulate  # noqa: E402 - after the path is set
from oracle.specs import cells, study_text  # noqa: E402 - after the path is set

from whatif.answers.compare import compare, with_likely  # noqa: E402 - after the path is set
from whatif.plan.build import plans_of  # noqa: E402 - after the path is set
from whatif.session.calculate.memory import Memory  # noqa: E402 - after the path is set
from whatif.study.check.check import check  # noqa: E402 - after the path is set
from whatif.study.draft import Draft  # noqa: E402 - after the path is set
from whatif.study.edits import SetValue  # noqa: E402 - after the path is set
from whatif.study.file.reading import read_file, read_text  # noqa: E402 - after the path is set

CELLS = 60


def engine_against_oracle() -> None:
    """Random cells, both models; the sum of all."""
    spent = [0.0, 0.0]

    @settings(
        max_examples=CELLS,
        deadline=None,
        database=None,
        derandomize=True,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(cells(stops=False))
    def measure(spec: dict[str, object]) -> None:
        plan = plans_of(check(read_text(study_text(spec))))["base"]
        if plan.cell is None:
            return
        start = perf_counter()
        Memory()(plan.cell, plan.warm_up, plan.weeks)
        middle = perf_counter()
        simulate(spec)
        spent[0] += middle - start
        spent[1] += perf_counter() - middle

    measure()
    print(f"engine 1 : independent model {spent[1] / spent[0]:.1f}  ({CELLS} random cells)")


def timed(draft: Draft, memory: Memory, *, likely: bool) -> float:
    """Seconds for the answer of a draft."""
    start = perf_counter()
    found = compare(check(draft), memory)
    if likely:
        with_likely(found, memory)
    return perf_counter() - start


def demo_edits() -> None:
    """The first answer of each demo, then one edit in its last scenario."""
    for path in sorted((TESTS.parent / "scenarios").glob("*.toml")):
        draft = read_file(path).draft
        memory = Memory()
        first = timed(draft, memory, likely=False)
        ranges = timed(draft, memory, likely=True)
        last = draft.ids[-1]
        edited = SetValue(last, ("handling", "walk"), "77 s").apply(draft)
        edit = timed(edited, memory, likely=False)
        print(
            f"{path.stem}: first answer 1 : its likely ranges {ranges / first:.1f} : "
            f"one edit {edit / first:.2f}  ({first * 1000:.0f} ms, {len(draft.ids)} scenarios)"
        )


if __name__ == "__main__":
    engine_against_oracle()
    demo_edits()
