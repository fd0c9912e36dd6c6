"""What would take hours to simulate is told before it is begun, with what to change."""

from __future__ import annotations

from pathlib import Path

import pytest
from small_study import STUDY

from whatif.command.main import main
from whatif.study.check.check import check
from whatif.study.check.loads import TooManyStops, too_much
from whatif.study.check.rules import MOST_RUSH
from whatif.study.file.reading import read_text
from whatif.study.problem import ProblemKind
from whatif.telling.problems import too_much_words

SHORT = STUDY.replace('cycle = "9 min"', 'cycle = "1 s"').replace("count = 2", "count = 200")


@pytest.mark.parametrize(
    ("text", "beyond"),
    [
        (STUDY, []),
        (SHORT, ["now", "pool"]),
        (SHORT.replace("weekly", "per_pallet = 20\nweekly"), []),
        (SHORT.replace("weekly", "per_pallet = 20\non.mill.per_pallet = 2\nweekly"), ["now"]),
        (SHORT.replace('"1 s"', '"9 min"\non.mill.cycle = "2 s"'), ["now", "pool"]),
        (SHORT.replace("count = 200", "count = 2"), []),
    ],
)
def test_more_loads_than_any_shop_cuts_are_seen_without_running_one(
    text: str, beyond: list[str]
) -> None:
    found = [each.scenario for each in too_much(check(read_text(text)))]
    assert found[: len(beyond)] == beyond
    assert bool(found) == bool(beyond)


@pytest.mark.parametrize("words", [("compare",), ("night",), ("week", "now"), ("explain", "now")])
def test_commands_refuse_them_and_tell_what_to_change(
    words: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    study = tmp_path / "short.toml"
    study.write_text(SHORT, "utf-8")
    command, *rest = words
    assert main([command, str(study), *rest]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert "121 million loads a week" in err
    assert "the cycle of plate, enter more pieces per load, or fewer machines" in err
    assert main(["check", str(study)]) == 0
    assert "121 million loads a week" in capsys.readouterr().out


def test_more_stops_than_can_be_simulated_are_seen_too() -> None:
    # 200 machines, a second run and a second stood: 200 x 604 800 / 2 (pencil).
    text = STUDY.replace("count = 2", "count = 200")
    every = '\n[scenario.now.stop.chips]\nevery = "{}"\nrepair = "1 s"\n'
    (first, *_) = too_much(check(read_text(text + every.format("1 s"))))
    assert isinstance(first, TooManyStops)
    assert (first.stops, first.stop) == (60_480_000, "chips")
    assert "60 million stops a week" in too_much_words(first)
    assert not list(too_much(check(read_text(text + every.format("12 s")))))


def rush(many: int) -> str:
    return STUDY + "".join(
        f'[scenario.now.rush.r{i}]\npart = "plate"\npieces = 2\n' for i in range(many)
    )


def test_rush_orders_are_as_many_as_can_be_tried() -> None:
    assert check(read_text(rush(MOST_RUSH))).problems == ()
    problem, *_ = check(read_text(rush(MOST_RUSH + 1))).problems
    assert problem.kind is ProblemKind.TOO_MANY_RUSH
    assert (problem.path, problem.details) == (("rush", f"r{MOST_RUSH}"), ("51",))


@pytest.mark.long
def test_how_many_of_the_rush_orders_are_tried_is_told() -> None:
    from whatif.answers.compare import compare_wholly
    from whatif.session.calculate.memory import Memory

    far: list[tuple[int, int]] = []

    def told(done: int, of: int) -> None:
        far.append((done, of))

    memory = Memory()
    text = rush(1).replace("pieces = 2", 'pieces = 2\narrives = "mon 10:00"')
    compare_wholly(check(read_text(text)), memory, memory.pause, told=told)
    assert far[-1][0] == far[-1][1] > 1
    assert far == sorted(far)


def test_an_id_that_stands_for_a_title_is_no_longer_than_one() -> None:
    problems = check(read_text(f"{STUDY}[scenario.{'y' * 1_001}]\n")).problems
    assert [each.kind for each in problems] == [ProblemKind.NOT_OF_ITS_KIND]
