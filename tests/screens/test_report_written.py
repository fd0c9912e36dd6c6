"""The report from the screen: of what stands there, beside the study, while one works on."""

from __future__ import annotations

import re
import time
from pathlib import Path

import pytest
from desk_host import NotingHost, host_of
from screen import MIDDLE, on_screen
from small_study import ONE_SHIFT, STUDY

from whatif.command.beside import ReportBeside
from whatif.screens.desk.commands import BY_NAME
from whatif.study.edits import SetValue
from whatif.study.file.reading import read_text

WALK = SetValue("now", ("handling", "walk"), "2 min")


class Written:
    """Notes what report is asked for; ``said`` is what comes of it."""

    def __init__(self) -> None:
        self.asked: list[tuple[Path, str | None, Path, bool]] = []
        self.said: str | None = None
        self.stopped = 0

    def __call__(self, study: Path, text: str | None, out: Path, replaces: bool) -> Written:
        self.asked.append((study, text, out, replaces))
        return self

    def stop(self) -> None:
        self.stopped += 1


def run(host: NotingHost) -> None:
    BY_NAME["report"].run(host.controllers)


@pytest.fixture
def made() -> Written:
    return Written()


@pytest.fixture
def host(tmp_path: Path, made: Written) -> NotingHost:
    host = host_of(tmp_path, STUDY)
    host.program.make_report = made
    return host


def test_it_is_of_the_file_and_says_where_it_is(
    host: NotingHost, made: Written, tmp_path: Path
) -> None:
    run(host)
    out = tmp_path / "study.report.html"
    assert made.asked == [(tmp_path / "study.toml", None, out, False)]
    assert "study.report.html is being worked out" in host.notice
    host.to_do()
    assert host.controllers.report.status == "report 0 s"
    made.said = f"The report is in {out}"
    host.to_do()
    assert (host.notice, host.controllers.report.status) == (made.said, "")


def test_what_is_not_saved_is_in_it(host: NotingHost, made: Written) -> None:
    host.controllers.changes.do(WALK)
    run(host)
    [(_, text, _, _)] = made.asked
    assert text is not None
    assert read_text(text) == host.state.session.draft


def test_none_is_written_where_the_folder_has_been_removed(
    host: NotingHost, made: Written, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    host.state.session.path = Path("study.toml")
    run(host)
    assert made.asked == []
    assert "save the study first" in host.notice


def test_it_asks_before_it_writes_over_a_file(
    host: NotingHost, made: Written, tmp_path: Path
) -> None:
    (tmp_path / "study.report.html").write_text("mine", "utf-8")
    run(host)
    assert made.asked == []
    host.answer("o")
    assert [replaces for *_, replaces in made.asked] == [True]


@pytest.mark.parametrize("again", [False, True], ids=["s", "asked for again"])
def test_it_can_be_stopped(host: NotingHost, made: Written, again: bool) -> None:
    run(host)
    if again:
        run(host)
        host.answer("s")
    else:
        BY_NAME["stop"].run(host.controllers)
    assert (made.stopped, len(made.asked)) == (1, 1)
    assert host.notice == "The report was stopped; nothing is written."
    host.to_do()
    assert host.controllers.report.status == ""


def test_it_ends_with_the_study(host: NotingHost, made: Written) -> None:
    run(host)
    host.controllers.report.close()
    assert made.stopped == 1


def test_there_is_none_of_a_study_with_problems(tmp_path: Path, made: Written) -> None:
    host = host_of(tmp_path, STUDY.replace("weeks = 1", 'weeks = "few"'))
    host.program.make_report = made
    run(host)
    assert "mend them first" in host.notice
    assert made.asked == []


@pytest.mark.long
async def test_it_is_chosen_from_the_list_of_commands(tmp_path: Path, made: Written) -> None:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    async with on_screen(path, MIDDLE) as screen:
        screen.app.make_report = made
        await screen.press("ctrl+p")
        await screen.type("write the rep")
        await screen.settle()
        await screen.press("down", "enter")
        assert [out.name for _, _, out, _ in made.asked] == ["small.report.html"]
        assert re.search(r"report \d+ s", screen.text)
        await screen.press("down", "s")
        assert made.stopped == 1
        assert "The report was stopped" in screen.text


def came(report: ReportBeside) -> str:
    end = time.monotonic() + 60
    while report.said is None:
        assert time.monotonic() < end
        time.sleep(0.01)
    return report.said


@pytest.mark.long
def test_another_process_writes_it(tmp_path: Path) -> None:
    out = tmp_path / "study.report.html"
    said = came(ReportBeside(tmp_path / "study.toml", ONE_SHIFT, out, False))
    assert said == f"The report is in {out}"
    assert "<html" in out.read_text("utf-8")


@pytest.mark.long
def test_what_goes_wrong_there_is_told(tmp_path: Path) -> None:
    out = tmp_path / "study.report.html"
    said = came(ReportBeside(tmp_path / "study.toml", None, out, False))
    assert said.startswith("No report: ")
    assert "study.toml" in said
