"""A picture of the screen: beside the study, else in the working folder, and where is said."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest
from looks import Silent
from screen import on_screen
from small_study import STUDY

from whatif.screens.desk.palette import Palette
from whatif.screens.picture import TITLE, NotSaved, save_picture

SMALL = (80, 24)


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "shop" / "study.toml"
    path.parent.mkdir()
    path.write_text(STUDY, "utf-8")
    return path


async def test_it_lies_beside_the_study_and_the_desk_says_so(
    study: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # There is no folder for downloads here.
    monkeypatch.setenv("HOME", str(tmp_path))
    async with on_screen(study, SMALL, calculator=Silent) as screen:
        screen.app.picture_soon()
        while not screen.app.desk.state.notice:
            await asyncio.sleep(0.02)
        (made,) = study.parent.glob("study-*.svg")
        assert made.read_text("utf-8").startswith("<svg")
        assert screen.app.desk.state.notice == (
            f"The picture of the screen is {made.name}, beside the study."
        )


async def test_where_it_cannot_lie_it_goes_elsewhere_or_says_why(
    study: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    async with on_screen(study, SMALL, calculator=Silent) as screen:
        gone = tmp_path / "gone" / "study.toml"
        assert save_picture(screen.app, gone).endswith(f".svg, in {tmp_path}.")
        monkeypatch.setattr(Path, "cwd", lambda: gone.parent)
        with pytest.raises(NotSaved, match="No such file or directory"):
            save_picture(screen.app, gone)


async def test_where_the_working_folder_has_been_removed_it_says_so(
    study: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()
    async with on_screen(study, SMALL, calculator=Silent) as screen:
        monkeypatch.chdir(gone)
        gone.rmdir()
        assert save_picture(screen.app, study).endswith(".svg, beside the study.")
        with pytest.raises(NotSaved, match="No such file or directory"):
            save_picture(screen.app, Path("study.toml"))


async def test_its_plain_name_finds_it(study: Path) -> None:
    async with on_screen(study, SMALL, calculator=Silent) as screen:
        palette = Palette(screen.app.screen)
        for typed in ("picture", "screenshot"):
            hits = [hit async for hit in palette.search(typed)]
            assert str(max(hits, key=lambda hit: hit.score).match_display) == TITLE
