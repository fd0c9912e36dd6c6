"""Letters that begin a value of a row are no commands there."""

from __future__ import annotations

from pathlib import Path

import pytest
from small_study import STUDY

from whatif.session.first_letters import first_letters
from whatif.session.session import Session
from whatif.study.file.reading import read_file


@pytest.mark.parametrize(
    ("path", "letters"),
    [
        (("shift", "day", "days"), "mtwfsdae"),
        (("unattended", "nights"), "mtwfsdaen"),
        (("shift", "day", "breaks"), "n"),
        (("machine", "mill", "unattended"), "yn"),
        (("part", "plate", "machines"), "m"),
        (("part", "plate", "cycle"), ""),
        (("machine", "mill", "pallets"), ""),
        (("hours", "attended"), ""),
        (("notes",), ""),
    ],
)
def test_they_are_those_of_its_kind(tmp_path: Path, path: tuple[str, ...], letters: str) -> None:
    study = tmp_path / "small.toml"
    study.write_text(STUDY, "utf-8")
    resolved = Session(read_file(study)).checked.resolved["now"]
    assert first_letters(path, resolved) == {*letters, *letters.upper()}


def test_a_title_may_begin_with_any() -> None:
    assert {"u", "N", "z"} <= first_letters(("title",), None)
