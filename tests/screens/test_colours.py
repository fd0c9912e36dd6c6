"""Colours: every text can be read on what is behind it, in both sets, and in 256 colours."""

from __future__ import annotations

import colorsys
import re
from pathlib import Path
from typing import get_args

import pytest
from looks import Silent
from rich.cells import cell_len
from rich.color import Color, ColorSystem
from rich.style import Style
from screen import SCENARIOS, on_screen, on_start
from textual.filter import ANSIToTruecolor
from textual.theme import Theme
from textual.widget import Widget
from textual.widgets import Static

from whatif.screens.views.pane import ViewPane
from whatif.screens.widgets.colours import DARK, LIGHT, look_of
from whatif.screens.widgets.drawing import Tone, Toned
from whatif.screens.widgets.editor import Editor
from whatif.screens.widgets.sheet import Sheet
from whatif.screens.widgets.strip import ResultStrip
from whatif.screens.widgets.tree import ScenarioTree
from whatif.telling.signs import COLOURS

LEAST = 4.5
"""WCAG 2.2, success criterion 1.4.3 (contrast, minimum), level AA, for text of common size."""


def _luminance(color: Color) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [part / 255 for part in color.get_truecolor()]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: Color, other: Color) -> float:
    darker, lighter = sorted((_luminance(one), _luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


@pytest.mark.outside("WCAG 2.2: contrast of black and of grey on white", values=2)
def test_contrast_as_the_criterion_has_it() -> None:
    """From 1 to 21 by the definition; the grey is the lightest that passes 4.5 on
    white. From memory; the helper here is checked, which the tests below hold all colours to."""
    black, white, grey = (Color.parse(text) for text in ("#000000", "#ffffff", "#767676"))
    assert contrast(black, white) == pytest.approx(21)
    assert contrast(grey, white) == pytest.approx(4.54, abs=0.01)  # the well-known limit


def _ratios(name: str, style: Style) -> list[tuple[str, float]]:
    assert style.color is not None, name
    assert style.bgcolor is not None, name
    few = [color.downgrade(ColorSystem.EIGHT_BIT) for color in (style.color, style.bgcolor)]
    return [
        (f"{name} in all colours", contrast(style.color, style.bgcolor)),
        (f"{name} in 256 colours", contrast(*few)),
    ]


def _styles(widget: Widget) -> list[tuple[str, Style]]:
    tones = [
        (f"{widget.id}--{tone}", widget.style_of(tone))
        for tone in get_args(Tone)
        if isinstance(widget, Toned)
    ]
    named = tones + [
        (name, widget.get_component_rich_style(name))
        for name in sorted(widget.COMPONENT_CLASSES)
        if "scrollbar" not in name and "separator" not in name  # lines, no text
    ]
    return [(str(widget.id), widget.rich_style), *named]


@pytest.mark.parametrize("colours", ["dark", "light"])
async def test_every_text_stands_out_from_what_is_behind_it(colours: str, tmp_path: Path) -> None:
    async with on_screen(SCENARIOS / "one-person.toml", state=tmp_path) as screen:
        app = screen.app
        if colours == "light":
            app.action_colours()
        assert app.theme == colours
        app.desk.controllers.views.open("hours")
        await screen.settle()
        widgets: list[Widget] = [
            *(app.desk.query_one(one) for one in (Sheet, ResultStrip, ScenarioTree, ViewPane)),
            *app.desk.query(Static),
        ]
        styles = [pair for one in widgets for pair in _styles(one)]
        await screen.press("f6")
        for one in app.screen.query("Static, OptionList"):
            styles += _styles(one)
        found = [pair for name, style in styles for pair in _ratios(name, style)]
        assert len(found) > 60
        assert [(name, round(ratio, 2)) for name, ratio in found if ratio < LEAST] == []


HUES = {
    "grey": None,
    "green": (95, 165),
    "blue": (195, 245),
    "violet": (260, 310),
    "amber": (25, 55),
    "brown": (25, 55),
    "red": (330, 375),
}
"""Degrees around the circle of hues between which a colour has that name; own reasoning."""


def _is_called(name: str, color: Color) -> bool:
    red, green, blue = (part / 255 for part in color.get_truecolor())
    hue, _, saturation = colorsys.rgb_to_hls(red, green, blue)
    if (between := HUES[name]) is None:
        return saturation < 0.3
    low, high = between
    degrees = hue * 360
    return saturation > 0.15 and (low <= degrees <= high or low <= degrees + 360 <= high)


@pytest.mark.parametrize("level", [ColorSystem.TRUECOLOR, ColorSystem.EIGHT_BIT])
@pytest.mark.parametrize("colours", [DARK, LIGHT], ids=lambda colours: colours.name)
def test_a_colour_has_the_name_that_the_help_calls_it_by(
    colours: Theme, level: ColorSystem
) -> None:
    """The nearest of 256 may be of another hue: a soft blue was teal, a pale one lilac."""
    named = colours.to_color_system().generate() | colours.variables
    called = []
    for told in COLOURS:
        names = [name for name in HUES if re.search(rf"\b{name}\b", told.shown)]
        for tone in told.tones:
            look = look_of(tone, named)
            seen = look.bgcolor if "ground" in told.shown else look.color
            if "block" in told.shown and tone.startswith(("waiting", "on-")):
                seen = look.bgcolor  # few of its cells are letters
            if names and seen is not None:
                is_so = any(_is_called(name, seen.downgrade(level)) for name in names)
                called.append((tone, told.shown, is_so))
    assert len(called) >= 18
    assert [pair for *pair, is_so in called if not is_so] == []


@pytest.mark.parametrize("colours", ["dark", "light"])
@pytest.mark.long
async def test_a_scroll_bar_is_seen(colours: str, tmp_path: Path) -> None:
    """By 3 to 1 from what it moves on and from what lies beside it (WCAG 2.2, criterion 1.4.11)."""
    async with on_screen(SCENARIOS / "one-person.toml", (80, 24), state=tmp_path) as screen:
        if colours == "light":
            screen.app.action_colours()
        styles = screen.app.desk.query_one(Sheet).styles
        bar = styles.scrollbar_color.rich_color
        for behind in (styles.scrollbar_background, screen.app.desk.background_colors[1]):
            for level in (ColorSystem.TRUECOLOR, ColorSystem.EIGHT_BIT):
                pair = (bar.downgrade(level), behind.rich_color.downgrade(level))
                assert contrast(*pair) >= 3


@pytest.mark.parametrize("colours", [DARK, LIGHT], ids=lambda colours: colours.name)
def test_what_waits_is_seen_on_the_ground_of_the_screen(colours: Theme) -> None:
    """Its blocks are a quarter letters: their ground stands out by 3 to 1 (criterion 1.4.11)."""
    assert colours.background is not None
    behind = Color.parse(colours.background)
    ground = look_of("waiting", colours.variables).bgcolor
    assert ground is not None
    for level in (ColorSystem.TRUECOLOR, ColorSystem.EIGHT_BIT):
        assert contrast(ground.downgrade(level), behind.downgrade(level)) >= 3


async def test_the_palette_switches_the_colours_and_offers_no_others(tmp_path: Path) -> None:
    async with on_screen(SCENARIOS / "one-person.toml", state=tmp_path) as screen:
        commands = {one.title: one for one in screen.app.get_system_commands(screen.app.screen)}
        assert "Theme" not in commands
        commands["Theme: light or dark"].callback()
        await screen.settle()
        assert screen.app.theme == "light"
        commands["Theme: light or dark"].callback()
        assert screen.app.theme == "dark"


@pytest.mark.long
async def test_the_colours_chosen_last_are_those_of_the_next_start(tmp_path: Path) -> None:
    for before, after in (("dark", "light"), ("light", "dark")):
        async with on_screen(SCENARIOS / "one-person.toml", state=tmp_path) as screen:
            assert screen.app.theme == before
            screen.app.action_colours()
            assert screen.app.theme == after


async def test_without_colours_what_is_marked_in_a_list_is_turned_round(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with on_start(tmp_path, (80, 24)) as screen:
        for marked in ("A few questions", "An empty study"):
            turned = [
                part.text
                for line in screen.app.screen._compositor.render_strips()
                for part in line
                if part.style is not None and part.style.reverse
            ]
            assert marked in "".join(turned)
            assert all(
                part.style is None or (part.style.color or part.style.bgcolor) is None
                for line in screen.app.screen._compositor.render_strips()
                for part in line
            )
            await screen.press("down")


async def test_without_colours_the_place_where_one_types_is_turned_round(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Neither over a value nor in a form could one see where the next letter goes."""
    monkeypatch.setenv("NO_COLOR", "1")
    async with on_screen(SCENARIOS / "one-person.toml", (80, 24), state=tmp_path) as screen:
        await screen.press(*["down"] * 4, "right", "5")
        editor = screen.app.desk.query_one(Editor)
        editor.cursor_blink = False
        await screen.settle()
        line = screen.app.screen._compositor.render_strips()[editor.cursor_screen_offset.y]
        at = cell_len(line.text.partition("5")[0]) + 1
        (cell,) = line.crop(at, at + 1)
        assert cell.style is not None
        assert cell.style.reverse


@pytest.mark.parametrize("colours", ["dark", "light"])
async def test_no_tone_needs_what_makes_true_colours_of_others(
    colours: str, tmp_path: Path
) -> None:
    """Neither one of a terminal's sixteen colours nor faint letters, so nobody looks for them."""
    async with on_screen(SCENARIOS / "one-person.toml", state=tmp_path) as screen:
        app = screen.app
        if colours == "light":
            app.action_colours()
        await screen.press("f5")
        toned = [one for one in app.desk.query("*") if isinstance(one, Toned)]
        assert len(toned) >= 6
        for one in toned:
            assert not [
                each for each in one.get_line_filters() if isinstance(each, ANSIToTruecolor)
            ]
            for style in map(one.style_of, get_args(Tone)):
                for colour in (style.color, style.bgcolor):
                    assert colour is not None
                    assert colour.triplet is not None
                assert not style.dim


@pytest.mark.long
async def test_without_colours_words_on_a_dense_bar_are_no_part_of_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with on_screen(SCENARIOS / "one-person.toml", state=tmp_path) as screen:
        await screen.press("f5")
        on_bars = [
            part.style
            for line in screen.app.screen._compositor.render_strips()
            for part in line
            if re.fullmatch(r" (in cycle )?\d+ % ", part.text) and part.style is not None
        ]
        assert on_bars
        assert not any(style.reverse for style in on_bars)


async def test_without_colours_the_help_names_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    one, read = SCENARIOS / "one-person.toml", ""
    async with on_screen(one, (120, 60), state=tmp_path, calculator=Silent) as screen:
        await screen.press("f1")
        for _ in range(5):
            read += screen.text
            await screen.press("pagedown")
    assert "underlined         the scenario that is chosen" in read
    assert "slanted            assumed" in read
    assert "blue" not in read
