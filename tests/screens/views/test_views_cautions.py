"""Cautions in the views that tell of what is dangerous, and that nothing said is a permission."""

from __future__ import annotations

from pathlib import Path

import pytest
from looks import Looking
from screen import on_screen

from whatif.answers.cautions import Caution, Danger, Heavy
from whatif.telling.cautions import (
    FIRE,
    LOCKING_OUT,
    MACHINES,
    NAMES,
    UNATTENDED_IN_SHORT,
    WHO_DECIDES,
    caution_text,
)

ALL = tuple(Caution(danger, (Heavy("piece", "body"),)) for danger in Danger)
FULL = tuple(map(caution_text, ALL))
DECIDE = "codes, the machine's manual and a qualified person decide"


@pytest.mark.parametrize("text", [*FULL, UNATTENDED_IN_SHORT])
def test_each_says_that_it_is_no_permission_and_who_decides(text: str) -> None:
    assert "Nothing here is a permission" in text
    assert DECIDE in text


def test_each_danger_has_a_name_and_a_text_of_its_own() -> None:
    assert set(NAMES) == set(Danger)
    assert len(set(NAMES.values())) == len(set(FULL)) == len(Danger)
    assert "a piece of body" in caution_text(Caution(Danger.LIFTING, (Heavy("piece", "body"),)))


STUDY = """\
format = 1
title = "Heavy and unattended"
weeks = 1
warm_up = 0
[scenario.today]
machine.mill.table = ["900 mm", "500 mm"]
part.body.size = ["140 mm", "90 mm", "60 mm"]
part.body.mass = "20 kg"
part.body.cycle = "30 min"
part.body.contribution = 10
part.body.weekly = 100
stop.chips.every = "20 h"
stop.chips.repair = "20 min"
[scenario.today.shift.early]
days = ["mon", "tue"]
start = "06:00"
end = "14:00"
[scenario.more]
parent = "today"
machine.mill.count = 2
unattended.after_shift = "5 h"
"""

HOLDS = 'unattended.at_limit = "hold"'
"""No piece is finished after everybody has gone."""

SAYS = {
    "hours": ("Caution: fire, unattended running", "today too: lone working", "F2"),
    "fit": ("Caution: today too: lifting and clamping", "F2 reads more"),
    "night": ("Caution: fire, unattended running", WHO_DECIDES),
    "money": ("Caution: fire, unattended running, machines changed", "today too: "),
    "meeting": (
        "Caution: fire, unattended running, machines changed",
        "today too: lone working",
    ),
}


@pytest.mark.parametrize("size", [(80, 24), (120, 32)], ids=str)
@pytest.mark.parametrize("name", SAYS)
def test_a_view_cautions_where_its_scenario_calls_for_it(
    name: str, size: tuple[int, int], tmp_path: Path
) -> None:
    study = tmp_path / "heavy.toml"
    study.write_text(STUDY, "utf-8")
    text = Looking(study, name, size).words.replace("│ ", "")
    assert "! Caution" in text
    if size == (120, 32):
        for words in SAYS[name]:
            assert words in text


@pytest.mark.parametrize("name", SAYS)
def test_a_scenario_without_danger_is_not_cautioned(name: str, tmp_path: Path) -> None:
    study = tmp_path / "light.toml"
    calm = [line for line in STUDY.splitlines() if "stop." not in line and "mass" not in line]
    text = "\n".join(calm).replace('end = "14:00"', 'end = "14:00"\npeople = 2') + "\n"
    if name == "meeting":
        # The verdict cautions for whichever comes first, and that is not today.
        text = text.partition("[scenario.more]")[0]
    study.write_text(text.replace("machine.mill.table", f"{HOLDS}\nmachine.mill.table"), "utf-8")
    assert "! Caution" not in Looking(study, name, column=0).text


async def test_f2_reads_all_of_them_in_full(tmp_path: Path) -> None:
    study = tmp_path / "heavy.toml"
    study.write_text(STUDY, "utf-8")
    async with on_screen(study, state=tmp_path) as screen:
        await screen.press("right", "f2")
        for text in (FIRE, MACHINES, LOCKING_OUT):
            assert text in screen.app.screen.text


def test_no_name_of_a_caution_is_cut(tmp_path: Path) -> None:
    """Those that there is no room for are counted; F2 has all of them."""
    study = tmp_path / "heavy.toml"
    study.write_text(STUDY, "utf-8")
    text = Looking(study, "meeting", (80, 24)).text
    (line,) = (line.rstrip() for line in text.splitlines() if "! Caution" in line)
    assert "…" not in line
    assert line.endswith(", 2 more: F2")
