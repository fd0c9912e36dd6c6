"""The demo studies are found in a checkout and in what pip installs."""

from __future__ import annotations

import importlib.util
import subprocess
import sys
from pathlib import Path
from zipfile import ZipFile

import pytest
from screen import SCENARIOS

from whatif.session.demos import demos
from whatif.session.opened import open_demo

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


@pytest.mark.skipif(not IS_BUILDABLE, reason="hatchling, which builds the wheel, is not here")
def test_an_installed_copy_carries_them(tmp_path: Path) -> None:
    build = "import sys; from hatchling.build import build_wheel; print(build_wheel(sys.argv[1]))"
    done = subprocess.run(
        [sys.executable, "-c", build, tmp_path], cwd=ROOT, check=True, capture_output=True
    )
    wheel = tmp_path / done.stdout.decode().split()[-1]
    with ZipFile(wheel) as packed:
        packed.extractall(tmp_path / "installed")
    # As if installed: from that folder alone, and with nothing of the checkout in sight.
    listed = subprocess.run(
        [
            sys.executable,
            "-c",
            "import sys; sys.path.insert(0, sys.argv[1])\n"
            "from whatif.session.demos import demos\n"
            "print(*(one.path for one in demos()), sep='\\n')",
            tmp_path / "installed",
        ],
        cwd=tmp_path,
        env={"PATH": "/usr/bin:/bin"},
        check=True,
        capture_output=True,
    )
    paths = [Path(line) for line in listed.stdout.decode().splitlines()]
    assert {path.parent for path in paths} == {tmp_path / "installed" / "whatif" / "demo"}
    assert {path.name for path in paths} == {path.name for path in SCENARIOS.glob("*.toml")}
