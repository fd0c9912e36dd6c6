"""Each view without colour: the same words and signs, in grey, and what is chosen still marked."""

from __future__ import annotations

from pathlib import Path

import pytest
from screen import SCENARIOS, Screen, on_screen
from syrupy.assertion import SnapshotAssertion

from whatif.screens.views.all import VIEWS
from whatif.screens.views.night import SHADES
from whatif.telling.week.signs import MACHINE_SIGNS

ONE = SCENARIOS / "one-person.toml"
SMALL = (80, 24)


@pytest.fixture(autouse=True)
def _no_color(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")


def _segments(screen: Screen) -> list[tuple[str, object]]:
    # As for the text: Textual has no public way to what stands in the cells.
    lines = screen.app.screen._compositor.render_strips()
    return [(part.text, part.style) for line in lines for part in line]


@pytest.mark.parametrize("name", [view.name for view in VIEWS])
async def test_a_view_without_colour(
    name: str, tmp_path: Path, snapshot: SnapshotAssertion
) -> None:
    async with on_screen(ONE, SMALL, state=tmp_path) as screen:
        assert screen.app.no_color
        await screen.press("right")
        screen.app.desk.controllers.views.open(name)
        await screen.settle()
        assert screen.text == snapshot
        for _, style in _segments(screen):
            for color in (style.color, style.bgcolor):
                if color is not None and color.triplet is not None:
                    assert len(set(color.triplet)) == 1, color
        if not screen.app.desk.state.view.whole:
            # The chosen scenario is marked by signs, and turned round.
            title = next(text for text, style in _segments(screen) if style.reverse)
            assert title.strip().startswith(">")
            assert title.strip().endswith("<")


async def test_the_cursor_of_the_sheet_is_turned_round(tmp_path: Path) -> None:
    async with on_screen(ONE, SMALL, state=tmp_path) as screen:
        await screen.go_to("pallets each", 1)
        shown = [text.strip() for text, style in _segments(screen) if style.reverse]
        assert len(shown) >= 2


def test_no_two_states_or_shades_have_one_sign() -> None:
    assert len(set(MACHINE_SIGNS.values())) == len(MACHINE_SIGNS)
    assert len({sign for sign, _ in SHADES.values()}) == len(SHADES)
