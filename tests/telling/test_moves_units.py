"""What matters most, and fit, in the units that key i has chosen; taken as typed."""

from __future__ import annotations

from pathlib import Path

import pytest
from moving_studies import CHILD, HEAD, ONE_TABLE, WHOLE_WEEK
from screen import Screen, on_screen

from whatif.answers.moves.held import Moved
from whatif.answers.moves.inputs import Input, Value
from whatif.answers.moves.ranges import offered
from whatif.answers.moves.trial import AskedAbout, Outcome, Point
from whatif.answers.moves.vary import Curve
from whatif.screens.views.pane import ViewPane
from whatif.study.resolve import Origin, Source
from whatif.study.schema.catalogue import key_for
from whatif.telling.moves.curve import curve_sentences
from whatif.telling.moves.in_units import curve_in

FACE = (
    'machine.mill.table = ["600 mm", "500 mm"]\n'
    'part.body.size = ["4 in", "4 in", "50 mm"]\n'
    'part.body.gap = "50.8 mm"\n'
    'part.body.edge = "1 in"\n'
)
STUDY = "\n".join((HEAD.replace(WHOLE_WEEK, '["mon"]') + "\n".join(ONE_TABLE), *CHILD, FACE))
GAP = ("part", "body", "gap")


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "study.toml"
    path.write_text(STUDY)
    return path


def pane(screen: Screen) -> str:
    lines = screen.text.splitlines()
    region = screen.app.desk.query_one(ViewPane).region
    return " ".join(" ".join(lines[region.y : region.bottom]).split())


async def on_gap(screen: Screen, *keys: str) -> Screen:
    await screen.go_to("gap between pieces", 1)
    return await screen.press(*keys)


@pytest.mark.long
async def test_the_curve_is_told_in_the_chosen_units_and_taken_as_typed(study: Path) -> None:
    async with on_screen(study) as screen:
        await on_gap(screen, "f9", "c", "v")
        await screen.type("25.4 mm..76.2 mm..25.4 mm")
        await screen.press("enter")
        assert "mm 25.4 50.8 76.2" in pane(screen)
        await screen.press("i", "i")
        assert "in 1 2 3" in pane(screen)
        assert " gap between pieces 2 in: saleable gain" in pane(screen)
        assert "mm" not in pane(screen)
        await screen.press("right", "k")
        assert screen.session.draft.scenario("child").entered[GAP] == "76.2 mm"
        assert "in 1 2 3" in pane(screen)
        await screen.press("i")
        assert "mm 25.4 50.8 76.2" in pane(screen)


@pytest.mark.long
async def test_values_now_are_told_in_the_chosen_units(study: Path) -> None:
    async with on_screen(study, (120, 32)) as screen:
        await on_gap(screen, "f9")
        lines = [line for line in screen.text.splitlines() if "edge left free  " in line]
        assert any(" 1 in " in line for line in lines)
        await screen.press("i")
        lines = [line for line in screen.text.splitlines() if "edge left free  " in line]
        assert any(" 25.4 mm " in line for line in lines)
        await screen.press("c", "o")
        assert "edge left free   25.4 mm" in screen.text


@pytest.mark.long
async def test_a_table_of_two_is_told_in_the_chosen_units_and_taken_as_typed(study: Path) -> None:
    async with on_screen(study) as screen:
        await on_gap(screen, "f9", "g", "O", "home")
        inputs = offered(screen.session.draft, screen.session.checked, "child")
        paths = [one.path for one in inputs if one.path != ("shift", "all", "people")]
        await screen.press(*["down"] * paths.index(GAP), "enter", "V")
        await screen.type("25.4 mm..76.2 mm..25.4 mm")
        await screen.press("enter", "i", "i")
        assert "gap between pieces 2 in, people 1" in pane(screen)
        assert "mm" not in pane(screen)
        await screen.press("down", "k")
        assert screen.session.draft.scenario("child").entered[GAP] == "76.2 mm"


@pytest.mark.long
async def test_fit_is_told_in_the_chosen_units(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.press("right")
        screen.app.desk.controllers.views.open("fit")
        await screen.settle()
        assert "600 mm" in pane(screen)
        await screen.press("i", "i")
        assert "23.622 in" in pane(screen)
        assert " mm" not in pane(screen)
        await screen.press("i")
        assert "600 mm" in pane(screen)


def test_sentences_are_told_of_what_was_turned() -> None:
    key = key_for(GAP)
    assert key is not None
    values = [Value("5 mm", 5.0, "mm"), Value("25 mm", 25.0, "mm"), Value("2.5 mm", 2.5, "mm")]
    curve = Curve(
        asked=AskedAbout("child", "Child", "Today", False, 1, 1, 5, 19, 12, False),
        varied=Input(
            "child",
            GAP,
            key,
            "gap",
            "25 mm",
            Origin(Source.ENTERED, "child"),
            "mm",
            "",
            Moved.ALONE,
        ),
        points=tuple(Point(one, Outcome()) for one in values),
        better=1,
        knee=0,
        beyond=0.0,
        met=None,
        met_is_clear=True,
        unmet=(),
        is_flat=False,
        falls=True,
        rises=True,
    )
    turned = curve_in(curve, "inch")
    assert curve_sentences(turned) == (
        "Saleable output is largest at 0.197 in, tried from 0.0984 in to 0.197 in: both ends bring "
        "less.",
        "Moved in Child alone.",
        "It rests on 12 weeks, and likely ranges on 5 draws (the sheet's are on 19).",
    )
    assert turned.varied.now_text == "0.984 in"
    assert [one.value.number for one in turned.points] == [0.197, 0.984, 0.0984]
    assert curve_in(curve, "as typed") == curve
