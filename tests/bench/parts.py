"""What the bench measures, part by part; each tells lines of the table."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from subprocess import TimeoutExpired
from typing import Any

import made
from table import FLOOR, Row, at_least, at_most
from variants import ROOT, Variant, alternately, middle, spent

DEMOS = sorted((ROOT / "scenarios").glob("*.toml"))
GROWS = "bare python"


@dataclass(frozen=True)
class Bench:
    """What is measured, and how long: ``quick`` once or twice, with less of everything."""

    variants: list[Variant]
    quick: bool

    @property
    def times(self) -> int:
        """Rounds of a measurement."""
        return 2 if self.quick else 3

    def ask(self, do: str, times: int = 0, **asked: Any) -> dict[str, float]:
        """Seconds of processor that something takes in each worker, the least of some rounds."""
        return alternately(
            self.variants, lambda each: each.ask(do, **asked)["seconds"], times or self.times
        )


# -- the engine --------------------------------------------------------------------------


def engine(bench: Bench) -> Iterator[Row]:
    """Runs from the start, week by week: against the independent model, and an earlier engine."""
    weeks = 4 if bench.quick else 13
    ratios: dict[str, list[float]] = {}
    for demo in DEMOS:
        names = bench.variants[-1].ask("scenarios", study=str(demo))["scenarios"]
        cells = [{"study": str(demo), "scenario": id_} for id_ in names]
        found = _sum(bench.ask("run", cell=cell, weeks=weeks) for cell in cells)
        yield _ms("engine", f"{demo.stem}: {weeks} weeks of a scenario, ms", found, len(cells))
        for name, seconds in found.items():
            ratios.setdefault(name, []).append(seconds)
    yield from _engine(bench, ratios, "all demos")
    found = bench.ask("run", cell=made.BIG, weeks=weeks)
    each = {name: 1000 * seconds for name, seconds in found.items()}
    aim, meets = at_most(100 * weeks / 13, " ms")
    what = f"big cell (8 machines, 48 pallets, 20 parts): {weeks} weeks, ms"
    yield Row("engine", what, each, aim, meets)
    yield from _engine(bench, {name: [seconds] for name, seconds in found.items()}, "big cell")
    slow = min(weeks, 3)
    for what, cell in (
        ("big cell", made.BIG),
        *((demo.stem, {"study": str(demo), "scenario": "today"}) for demo in DEMOS[:1]),
    ):
        simpy = bench.variants[-1].ask("simpy", cell=cell, weeks=slow)["seconds"]
        ran = bench.ask("run", cell=cell, weeks=slow)
        aim, meets = at_least(15)
        times = {name: simpy / seconds for name, seconds in ran.items()}
        yield Row("engine", f"{what}: independent model / engine, times", times, aim, meets)


def _engine(bench: Bench, found: dict[str, list[float]], what: str) -> Iterator[Row]:
    if "before" in found:
        before = sum(found["before"])
        times = {name: before / sum(spent_) for name, spent_ in found.items()}
        aim, meets = at_least(2.5)
        yield Row("engine", f"{what}: before / engine, times", times, aim, meets, ("plain",))


def weeks(bench: Bench) -> Iterator[Row]:
    """Weeks that repeat need not be run."""
    few, many = 12, 26 if bench.quick else 104
    cells: dict[str, dict[str, Any]] = {
        demo.stem: {"study": str(demo), "scenario": "today"} for demo in DEMOS
    }
    for wanted in ("401", "200"):
        cells[f"ten answers, {wanted} wanted"] = {
            "answers": {"wanted": wanted},
            "scenario": "today",
        }
    for what, cell in cells.items():
        short = bench.ask("counted", cell=cell, warm_up=2, weeks=few)
        long = bench.ask("counted", cell=cell, warm_up=2, weeks=many)
        yield _ms("weeks", f"{what}: {many} weeks after 2, ms", long)
        ratio = {name: long[name] / short[name] for name in long}
        yield Row("weeks", f"{what}: {many} weeks / {few} weeks, times", ratio)
    found = bench.ask("counted", cell=made.BIG, warm_up=2, weeks=many)
    yield _ms("weeks", f"big cell: {many} weeks after 2, ms", found)


def growth(bench: Bench) -> Iterator[Row]:
    """What a load costs in a large cell, over what it costs in a small one."""
    large = 16 if bench.quick else 64
    tried: list[tuple[str, dict[str, Any], dict[str, Any], int]] = [
        (f"4 to {large} machines", {"machines": 4}, {"machines": large}, 4),
        (f"4 to {large} machines, to order", {"machines": 4, "flat_out": False},
         {"machines": large, "flat_out": False}, 4),
        (f"1 to {large} machines, 1 person", {"machines": 1, "people": 1},
         {"machines": large, "people": 1}, 6),
        (f"4 to {large} machines, 2 fixtures a part", {"machines": 4, "fixtures": 2},
         {"machines": large, "fixtures": 2}, 2),
        (f"1 to {large} pallets, 1 machine", {"machines": 1, "pallets": 1},
         {"machines": 1, "pallets": large}, 13),
        (f"1 to {large} pallets, 2 fixtures a part", {"machines": 1, "pallets": 1, "fixtures": 2},
         {"machines": 1, "pallets": large, "fixtures": 2}, 6),
        ("8 machines, 1 to 8 pallets each", {"machines": 8, "pallets": 1},
         {"machines": 8, "pallets": 8}, 4),
        ("1 to 50 parts", {"parts": 1}, {"parts": 50}, 6),
        ("1 to 50 parts, to order", {"parts": 1, "flat_out": False},
         {"parts": 50, "flat_out": False}, 6),
        ("0 to 1000 real orders", {}, {"orders": 1000}, 6),
    ]  # fmt: skip
    for what, small, big, weeks_ in tried:
        yield _grown(bench, what, (small, weeks_), (big, weeks_))
    many = 26 if bench.quick else 104
    yield _grown(bench, f"4 to {many} weeks", ({}, 4), ({}, many))


def _grown(
    bench: Bench, what: str, few: tuple[dict[str, Any], int], many: tuple[dict[str, Any], int]
) -> Row:
    def a_load(which: tuple[dict[str, Any], int]) -> Callable[[Variant], float]:
        cell, weeks_ = which

        def measure(variant: Variant) -> float:
            answer = variant.ask("run", cell=cell, weeks=weeks_)
            return float(answer["seconds"] / max(answer["cut"], 1))

        return measure

    # By turns, as often: what else the machine does meanwhile slows both.
    small: dict[str, list[float]] = {}
    large: dict[str, list[float]] = {}
    for _ in range(bench.times):
        for which, found in ((few, small), (many, large)):
            for name, seconds in alternately(bench.variants, a_load(which), 1).items():
                found.setdefault(name, []).append(seconds)
    ratio = {name: min(large[name]) / min(small[name]) for name in large if name in small}
    return Row("growth", f"a load, {what}: times", ratio, *at_most(1.25))


def studies(bench: Bench) -> Iterator[Row]:
    """What a scenario costs among many, over what it costs among few."""
    few, many = (10, 100) if bench.quick else (100, 1000)
    for what, deep in (("all of one reference", False), ("each of the one before", True)):
        for do, does in (("checked", "read and checked"), ("listed", "planned")):
            small, large = (
                bench.ask(do, times=2, text=made.study(count, deep=deep)) for count in (few, many)
            )
            each = {name: (large[name] / many) / (small[name] / few) for name in large}
            aim, meets = at_most(1.25)
            said = f"a scenario {does}, {few} to {many}, {what}: times"
            yield Row("studies", said, each, aim, meets)
            if do == "checked":
                yield _ms("studies", f"{many} scenarios, {what}, checked: ms", large)
    small, large = (
        bench.ask("checked", times=2, text=made.study(20, count))
        for count in (few // 10, many // 10)
    )
    each = {name: (large[name] / many) / (small[name] / few) for name in large}
    said = f"a part checked, {few // 10} to {many // 10}, in 20 scenarios: times"
    yield Row("studies", said, each, *at_most(1.25))
    fits = bench.ask("fitted", kinds=50, rounds=1)
    yield _ms("studies", "a size of piece laid on a face, ms", fits, 50)


# -- commands ----------------------------------------------------------------------------


def commands(bench: Bench) -> Iterator[Row]:
    """Processor's time of commands, as multiples of what Python needs to begin."""
    demo = str(DEMOS[0])
    bare = _program(bench, "pass")
    with_pydantic = _program(bench, "import pydantic")
    pydantic = {name: with_pydantic[name] / bare[name] for name in bare}
    yield Row("commands", "import pydantic / bare python, times", pydantic)
    told: list[tuple[str, tuple[str, ...], dict[str, float], str, float | None]] = [
        ("--help", ("--help",), bare, "bare python", 3),
        ("check", ("check", demo), with_pydantic, "import pydantic", 2),
        ("compare", ("compare", demo), with_pydantic, "import pydantic", None),
        ("explain, names", ("explain", demo, "night"), with_pydantic, "import pydantic", None),
        ("explain --rule people.visit", ("explain", "--rule", "people.visit"),
         with_pydantic, "import pydantic", None),
    ]  # fmt: skip
    for what, words, base, base_name, most in told:
        found = _commanded(bench, *words, times=None if most else 1)
        ratio = {name: found[name] / base[name] for name in found}
        aim, meets = at_most(most) if most else ("", None)
        yield Row("commands", f"{what} / {base_name}, times", ratio, aim, meets)
    yield Row("commands", "explain after compare / import pydantic, times", {
        name: seconds / with_pydantic[name]
        for name, seconds in _after(bench, ("compare", demo), ("explain", demo, "night")).items()
    })  # fmt: skip


def edits(bench: Bench) -> Iterator[Row]:
    """Answers in the calculating process, as typed: of an edit, and of a first study."""
    for demo in DEMOS:
        found = bench.ask("edit", study=str(demo), stops=False)
        yield _ms("edits", f"{demo.stem}: an edit checked and answered, ms", found)
    if not bench.quick:
        found = bench.ask("edit", times=1, study=str(DEMOS[1]), stops=True)
        yield _ms("edits", f"{DEMOS[1].stem} with stops, 9 runs: the same, ms", found)
    yield _ms("edits", "questions to figures, ms", bench.ask("questions"))


def start(bench: Bench) -> Iterator[Row]:
    """First frame and memory of a demo, over those of an application with one label."""
    import first_paint

    trees = [each.folder for each in bench.variants if each.name != "compiled"]
    found = first_paint.ratios(trees, 2 if bench.quick else 4, 3.0 if bench.quick else 6.0)
    names = {str(each.folder): each.name for each in bench.variants if each.name != "compiled"}
    for what, told, aim in (
        ("processor", "first frame of a demo, processor's time / bare application", 1.6),
        ("wall", "the same by the clock", 2.2),
        ("memory", "memory of an open demo / bare application", 1.6),
        ("memory of the calculation", "memory of the calculating processes / the same", None),
    ):
        values = {names[tree]: ratio[what] for tree, ratio in found.items()}
        yield Row("start", told, values, *(at_most(aim) if aim else ("", None)))


def keys(bench: Bench) -> Iterator[Row]:
    """Keys at thirty a second on a terminal, under a monitor of the event loop."""
    import keys as pressed

    seconds = 5 if bench.quick else 10
    with tempfile.TemporaryDirectory() as folder:
        studies_ = [*(DEMOS[:1] if bench.quick else DEMOS), pressed.grown(60, Path(folder))]
        for study in studies_:
            found = {FLOOR: pressed.floor(seconds / 2)}
            for variant in bench.variants:
                unable = suppress(AssertionError, OSError, TimeoutError, TimeoutExpired)
                with _environment(variant), unable:
                    found[variant.name] = pressed.measure(study, seconds, variant.python)
            for what, values, share, most in (
                ("an edit's key to repaint, 95 of 100, ms of processor", "edits", 0.95, 17),
                ("any key to repaint, 95 of 100, ms of processor", "processor", 0.95, None),
                ("key to repaint, 95 of 100, ms by the clock", "wall", 0.95, None),
                ("key to gain, 95 of 100, ms by the clock", "gain", 0.95, 50),
                ("loop held longest, ms of processor", "own_holds", 1.0, 20),
            ):
                told = {
                    name: pressed.quantile(getattr(each, values), share)
                    for name, each in found.items()
                    if each.processor and (getattr(each, values) or values == "own_holds")
                    if name != FLOOR or values in ("processor", "wall")
                }
                aim = at_most(most) if most is not None else ("", None)
                yield Row("keys", f"{study.stem}: {what}", told, *aim)


@contextmanager
def _environment(variant: Variant) -> Iterator[None]:
    """What is started meanwhile is started as the variant is."""
    before = dict(os.environ)
    os.environ.clear()
    os.environ.update(variant.environ())
    try:
        yield
    finally:
        os.environ.clear()
        os.environ.update(before)


def memory(bench: Bench) -> Iterator[Row]:
    """What edits leave behind in the session, and cells in the calculating process."""
    count = 500 if bench.quick else 2_000
    found = {
        each.name: each.ask("edited", edits=count, study=str(DEMOS[0]))
        for each in bench.variants
        if each.name != "compiled"
    }
    yield Row("memory", f"{count} edits: MB held, undo included",
              {name: each["held"][-1] for name, each in found.items()})  # fmt: skip
    grown = {name: each["without"] - each["begun"] for name, each in found.items()}
    yield Row("memory", f"{count} edits: MB more than after 50, undo aside", grown, *at_most(0.5))


def long(bench: Bench) -> Iterator[Row]:
    """Whole answers: seconds by the processor, and by the clock on one core and on all."""
    one, pallets, small = (str(demo) for demo in DEMOS)
    asked: list[tuple[str, tuple[str, ...], float]] = [
        ("compare, one-person (meters)", ("compare", one), 60),
        ("compare, pallets-until-demand", ("compare", pallets), 60),
        ("ranking, one-person", ("sensitivity", one, "night"), 60),
        ("curve, pallets-until-demand",
         ("vary", pallets, "today", "machine.mill.pallets", "1..8"), 60),
        ("night, pallets-until-demand", ("night", pallets), 60),
        ("week, small-orders", ("week", small, "today"), 60),
    ]  # fmt: skip
    if bench.quick:
        asked = asked[1:2] + asked[3:4] + asked[5:]
    cores = sorted(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else [0]
    for what, words, patience in asked:
        processor: dict[str, float] = {}
        wall: dict[str, float] = {}
        for variant in bench.variants:
            with tempfile.TemporaryDirectory() as state:
                took = variant.run(*words, patience=patience, state=Path(state))
            processor[variant.name] = took.processor if took.ended else float("inf")
            wall[variant.name] = took.wall if took.ended else float("inf")
        yield Row("long", f"{what}: s of processor, all {len(cores)} cores", processor)
        yield Row("long", f"{what}: s by the clock, all {len(cores)} cores", wall)
        if len(cores) > 1 and not bench.quick:
            alone: dict[str, float] = {}
            for variant in bench.variants:
                if processor[variant.name] > patience / 2:
                    continue
                with tempfile.TemporaryDirectory() as state:
                    os.sched_setaffinity(0, cores[:1])
                    took = variant.run(*words, patience=patience, state=Path(state))
                    os.sched_setaffinity(0, cores)
                alone[variant.name] = took.wall if took.ended else float("inf")
            yield Row("long", f"{what}: s by the clock, 1 core", alone)


def _program(bench: Bench, text: str) -> dict[str, float]:
    """Processor's time of a line of Python."""
    return alternately(
        bench.variants,
        lambda each: spent([each.python, "-c", text], each.environ()).processor,
        5 * bench.times,
        middle,
    )


def _commanded(bench: Bench, *words: str, times: int | None = None) -> dict[str, float]:
    def measure(variant: Variant) -> float:
        with tempfile.TemporaryDirectory() as state:
            took = variant.run(*words, state=Path(state))
        return took.processor if took.ended else float("inf")

    return alternately(bench.variants, measure, times or 3 * bench.times, middle)


def _after(bench: Bench, first: tuple[str, ...], then: tuple[str, ...]) -> dict[str, float]:
    """Processor's time of a command in the state that another one has left."""

    def measure(variant: Variant) -> float:
        with tempfile.TemporaryDirectory() as state:
            variant.run(*first, state=Path(state))
            return variant.run(*then, state=Path(state)).processor

    return alternately(bench.variants, measure, 1)


# -- helpers -----------------------------------------------------------------------------


def _ms(part: str, what: str, seconds: dict[str, float], of: int = 1) -> Row:
    return Row(part, what, {name: 1000 * each / of for name, each in seconds.items()})


def _sum(found: Iterator[dict[str, float]]) -> dict[str, float]:
    total: dict[str, float] = {}
    for each in found:
        for name, seconds in each.items():
            total[name] = total.get(name, 0.0) + seconds
    return total


@dataclass(frozen=True)
class Need:
    """What a part cannot be measured without, in words, and whether it is there."""

    what: str
    is_met: Callable[[], bool]


def _has(*modules: str) -> Callable[[], bool]:
    return lambda: all(find_spec(name) is not None for name in modules)


_TERMINAL = Need("terminals of its own (POSIX)", _has("fcntl", "pty", "termios"))
_HELD = Need("what a process holds (Linux)", Path("/proc/self/smaps_rollup").exists)
_MODEL = Need("SimPy, which the independent model runs on", _has("simpy"))

NEEDS = {"engine": (_MODEL,), "start": (_TERMINAL, _HELD), "keys": (_TERMINAL,)}
"""All parts need this Python with what the program is made with, and nothing else in a checkout."""

PARTS: dict[str, Callable[[Bench], Iterator[Row]]] = {
    each.__name__: each
    for each in (engine, weeks, growth, studies, commands, edits, start, keys, memory, long)
}
