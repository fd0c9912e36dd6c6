"""The demo studies are found in a checkout and in what pip installs."""

from __future__ import annotations

import importlib.util
import os
import subprocess
import sys
from pathlib import Path
from zipfile import ZipFile

import pytest
from screen import SCENARIOS

from whatif.session.opened import demos, open_demo
from whatif.telling.rules import rules

ROOT = Path(__file__).parent.parent.parent
IS_BUILDABLE = importlib.util.find_spec("hatchling") is not None


def test_a_checkout_has_its_demos_beside_the_package() -> None:
    found = demos()
    assert {one.path.name for one in found} == {path.name for path in SCENARIOS.glob("*.toml")}
    assert all(one.title and one.about.endswith("?") for one in found)


def test_where_there_are_none_there_are_none(tmp_path: Path) -> None:
    assert demos((tmp_path / "nowhere",)) == ()


def test_a_demo_that_cannot_be_read_hides_no_other(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text("format = ", "utf-8")
    (tmp_path / "b.toml").write_text('# What?\n# Why?\nformat = 1\ntitle = "B"\n', "utf-8")
    (found,) = demos((tmp_path,))
    assert (found.title, found.about) == ("B", "What? Why?")


def test_a_demo_opens_as_a_copy_that_needs_a_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    demo = demos()[0]
    (tmp_path / demo.path.name).write_text("", "utf-8")
    opened = open_demo(demo, tmp_path / "state")
    opened.recovery.close()
    assert opened.session.needs_name
    assert opened.session.is_saved
    assert opened.session.path == Path(f"{demo.path.stem}-2.toml")


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What pip would unpack, in a folder with nothing of the checkout in sight."""
    if not IS_BUILDABLE:
        pytest.skip("hatchling, which builds the wheel, is not here")
    folder = tmp_path_factory.mktemp("wheel")
    build = "import sys; from hatchling.build import build_wheel; print(build_wheel(sys.argv[1]))"
    done = subprocess.run(
        [sys.executable, "-c", build, folder],
        cwd=ROOT,
        env={**os.environ, "WHATIF_COMPILE": "0"},
        check=True,
        capture_output=True,
    )
    with ZipFile(folder / done.stdout.decode().split()[-1]) as packed:
        packed.extractall(folder / "installed")
    return folder / "installed"


def _printed(installed: Path, code: str) -> list[str]:
    """The lines that some code prints where only the installed copy is found."""
    done = subprocess.run(
        [sys.executable, "-c", f"import sys; sys.path.insert(0, sys.argv[1])\n{code}", installed],
        cwd=installed.parent,
        env={"PATH": "/usr/bin:/bin"},
        check=True,
        capture_output=True,
    )
    return done.stdout.decode().splitlines()


@pytest.mark.long
def test_an_installed_copy_carries_them(installed: Path) -> None:
    code = (
        "from whatif.session.opened import demos\nprint(*(one.path for one in demos()), sep='\\n')"
    )
    paths = [Path(line) for line in _printed(installed, code)]
    assert {path.parent for path in paths} == {installed / "whatif" / "demo"}
    assert {path.name for path in paths} == {path.name for path in SCENARIOS.glob("*.toml")}


@pytest.mark.long
def test_an_installed_copy_carries_the_rule_book(installed: Path) -> None:
    code = "import whatif\nfrom whatif.telling.rules import rules\nprint(whatif.__file__, *rules())"
    ((place, *names),) = (line.split() for line in _printed(installed, code))
    assert Path(place).is_relative_to(installed)
    assert names == list(rules())
