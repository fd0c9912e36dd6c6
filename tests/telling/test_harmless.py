"""Texts of a study do nothing to a terminal, a spreadsheet or a page of Markdown."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from rich.segment import Segment
from small_study import STUDY
from textual.color import Color

from whatif.command.main import main
from whatif.reports.document import Document, TextHeading, as_csv, as_markdown
from whatif.screens.widgets.harmless import Harmless
from whatif.telling.harmless import harmless


@pytest.mark.parametrize(
    "evil",
    ["\x1b[2J", "\x1b]0;title\x07", "\u202egnp.exe", "\x9b31m", "a\rb", "\udcff", "\U000e0041"],
)
def test_what_would_do_something_is_spelt_out(evil: str) -> None:
    shown = harmless(f"before {evil} behind\n\tnext line")
    assert shown.replace("\n", "").replace("\t", "").isprintable()
    assert shown.startswith("before ")
    assert shown.endswith(" behind\n\tnext line")
    written = json.dumps(evil, ensure_ascii=False)
    assert json.loads(harmless(written)) == evil, "JSON says the same as before"


def test_signs_of_all_languages_stay() -> None:
    text = "Fräsen 12\u00a0mm – 加工 ✓ ½\r\n"
    assert harmless(text) == text


def test_no_sign_of_a_screen_moves_the_cursor() -> None:
    segments = [Segment("\x1b[31mred\u202e"), Segment(" and \udcff"), Segment("plain ü")]
    shown = Harmless().apply(segments, Color.parse("black"))
    assert "".join(each.text for each in shown) == "[31mred and ?plain ü"
    plain = [Segment("plain")]
    assert Harmless().apply(plain, Color.parse("black")) is plain


@pytest.mark.parametrize(
    ("cell", "written"),
    [
        ("=1+2", "'=1+2"),
        ("+18 %", "'+18 %"),
        ("-a", "'-a"),
        ("@x", "'@x"),
        ("\tx", "'\tx"),
        ("-3.5", "-3.5"),
        ("+2", "+2"),
        ("–", "-"),
        ("mill", "mill"),
        # A number stays one, however its thousands stand apart.
        ("2\u00a0000", "2000"),
        ("-1\u202f250\u202f000.5", "-1250000.5"),
        ("12 000", "12000"),
        ("4 mills", "4 mills"),
        ("1 2", "1 2"),
    ],
)
def test_a_spreadsheet_runs_no_cell_and_reads_every_number(cell: str, written: str) -> None:
    assert as_csv(Document((), {}, [(cell,)])) == written


def test_markdown_makes_no_link_and_no_picture_of_a_title() -> None:
    told = as_markdown(Document((TextHeading("![x](http://a.example/b) [y](z)", 1),), {}, []))
    assert "](" not in told.replace("\\](", "")


def test_check_prints_no_escape_of_a_file_or_its_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    study = tmp_path / "evil\x1b[31m.toml"
    study.write_text(STUDY.replace("[scenario", '"k\\u001b]0;pwned\\u0007" = 1\n[scenario', 1))
    assert main(["check", str(study)]) == 1
    printed = capsys.readouterr()
    assert "\x1b" not in printed.out + printed.err
    assert "pwned" in printed.out + printed.err
