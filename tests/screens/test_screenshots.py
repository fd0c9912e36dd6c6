"""The pictures in screenshots/ show what the program shows now."""

from __future__ import annotations

import importlib.util
import re
from pathlib import Path
from types import ModuleType

import pytest
from lengths import first_of

FOLDER = Path(__file__).parent.parent.parent / "screenshots"


def maker() -> ModuleType:
    spec = importlib.util.spec_from_file_location("make_screenshots", FOLDER / "make.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


MAKER = maker()


def said(svg: str) -> list[str]:
    """The texts of a picture; how they are drawn may change with the library."""
    return re.findall(r"<text[^>]*>([^<]*)</text>", svg)


# First what shows no demo: a demo in full takes its time.
@pytest.mark.parametrize(
    "name", first_of(sorted(MAKER.PICTURES, key=lambda name: bool(MAKER.PICTURES[name][0])))
)
async def test_a_picture_is_current(name: str) -> None:
    kept = (FOLDER / f"{name}.svg").read_text("utf-8")
    assert said(kept)
    assert said(await MAKER.picture(name)) == said(kept), "run screenshots/make.py"
    assert "http://" not in kept.replace("http://www.w3.org/", "")


def test_every_picture_is_shown_on_their_page_and_four_in_the_readme() -> None:
    page = (FOLDER / "README.md").read_text("utf-8")
    kept = {path.name for path in FOLDER.glob("*.svg")}
    assert kept == {f"{name}.svg" for name in MAKER.PICTURES}
    assert set(re.findall(r"\]\((\w[\w-]*\.svg)\)", page)) == kept
    readme = (FOLDER.parent / "README.md").read_text("utf-8")
    shown = re.findall(r"screenshots/([\w-]+\.svg)", readme)
    assert len(shown) == len(set(shown)) == 4
    assert set(shown) <= kept


def test_a_picture_has_no_window_around_it() -> None:
    for path in FOLDER.glob("*.svg"):
        assert "<circle" not in path.read_text("utf-8")
