"""``whatif search`` in each of its forms, on a study with two levers."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from moving_studies import study
from schemas import formed

from whatif.answers.search.proposals import proposals
from whatif.command.main import main
from whatif.study.file.writing import to_text
from whatif.study.levers import with_lever


@pytest.fixture
def path(tmp_path: Path) -> Path:
    draft = study(days='["mon"]')
    for each in list(proposals(draft, "today")):
        values = each.values if each.id == "machine" else ()
        draft = with_lever(draft, each.id, {**each.entries, ("values",): values})
    found = tmp_path / "study.toml"
    found.write_text(to_text(draft), "utf-8")
    return found


@pytest.mark.parametrize("form", ["text", "markdown", "csv", "json"])
def test_it_answers_in_every_form(
    path: Path, form: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["search", str(path), "--goal", "most", "--format", form]) == 0
    said = capsys.readouterr().out
    assert "machine" in said
    if form == "json":
        told = formed("search", json.loads(said))
        assert told["proved"] is True
        assert (told["tried"], told["possible"]) == (1, 1)
        assert told["front"][0]["levers"][0]["id"] == "machine"


def test_a_goal_that_is_none_is_refused(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["search", str(path), "--goal", "more"]) == 1
    assert "is no goal" in capsys.readouterr().err
