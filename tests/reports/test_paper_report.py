"""The report on paper: it says what the screen says, and can be printed and handed on."""

from __future__ import annotations

import re
import shutil
import subprocess
import xml.etree.ElementTree as ET
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

import demos
import pytest
from answer_studies import TODAY, sound, today, wholly
from remembered import remembered
from whole_comparison import WHOLE, whole

from whatif.answers.answer import Comparison
from whatif.answers.doubts import Doubt, Tried
from whatif.answers.moves.sensitivity import Ranking, sensitivity
from whatif.answers.progress import Told
from whatif.answers.verdict import Conclusion
from whatif.command.main import main
from whatif.reports.document import Document, TextLine, TextLines, as_text
from whatif.reports.html import as_html
from whatif.reports.paper.facts import Asked, Imprint, PaperFacts, paper_facts
from whatif.reports.paper.inputs import inputs_told
from whatif.reports.paper.report import paper_report
from whatif.reports.writers import ALL_WRITERS
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import Checked
from whatif.telling.meeting import verdict
from whatif.telling.meeting.decision import decision_text
from whatif.telling.meeting.verdict import verdict_told
from whatif.telling.paper import NO_RANKING, NOT_ASKED

MADE = Imprint("study.toml", "0123456789ab", "2030-01-31", "whatif report study.toml", "whatif 1")
CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)
SVG = "{http://www.w3.org/2000/svg}svg"


def nothing_told(done: int, of: int) -> None:
    """Nobody looks how far it is."""


def facts_of(checked: Checked, found: Comparison, **asked: str) -> PaperFacts:
    words = Asked(MADE, is_quick=True, **asked)  # type: ignore[arg-type]  # texts alone
    return paper_facts(checked, found, words, Memory(), lambda what: nothing_told)


@cache
def whole_facts() -> PaperFacts:
    return facts_of(sound(WHOLE), whole())


@cache
def ranking() -> Ranking:
    more = '[scenario.more]\nparent = "today"\nmachine.mill.pallets = 3\n'
    text = today("part.body.weekly = 900") + more
    return remembered(
        f"ranking for paper\n{text}",
        lambda: sensitivity(sound(text).draft, "more", Memory(), nothing_told),
    )


def pictures(page: str) -> list[ET.Element]:
    return [ET.fromstring(each) for each in re.findall(r"<svg.*?</svg>", page, re.DOTALL)]


class Balanced(HTMLParser):
    """Holds that every element that is opened is closed in its turn."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        if tag not in ("meta", "wbr", "br", "col"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def parsed(page: str) -> Balanced:
    reader = Balanced()
    reader.feed(page)
    reader.close()
    assert reader.open == []
    return reader


@pytest.mark.long
def test_it_tells_the_verdict_and_the_gains_of_the_screen() -> None:
    facts = whole_facts()
    told = verdict_told(facts.verdict, facts.found.answers, facts.titles, ("rate", "years"))
    text = " ".join(ALL_WRITERS["text"](paper_report(facts)).split())
    assert told.lead in text
    assert " ".join(told.why.split()) in text
    for line in told.lines:
        assert f"{line.mark(told.word)} {line.title}".lstrip() in text
        assert " ".join(line.gain.text.split()) in text
        assert line.payback.text in text


def test_pieces_and_floor_stand_below_the_verdict(monkeypatch: pytest.MonkeyPatch) -> None:
    floor = "Floor: 9 m² in Today; 12 m² in Pallets."
    monkeypatch.setattr(verdict._Teller, "amounts", lambda _teller: (floor,))
    assert floor in " ".join(ALL_WRITERS["text"](paper_report(whole_facts())).split())


def test_a_decision_stands_beside_the_verdict_with_what_was_predicted() -> None:
    facts = whole_facts()
    told = verdict_told(facts.verdict, facts.found.answers, facts.titles, ("rate", "years"))
    title, against = (facts.titles[id_] for id_ in ("child", facts.found.reference))
    note = decision_text(told, "child", title, against, "2030-01-31", "the orders are there")
    head = "[scenario.child]\n"
    decided = WHOLE.replace(head, f'{head}notes = """{note}"""\n')
    text = " ".join(
        ALL_WRITERS["text"](paper_report(replace(facts, checked=sound(decided)))).split()
    )
    verdict = text[text.index("The verdict") : text.index("The alternatives")]
    said = f"Decided on 2030-01-31: {title}, against {against}. Why: the orders are there. "
    predicted = next(line for line in note.splitlines() if line.startswith("Predicted: "))
    assert f"{said}Predicted then: {predicted.removeprefix('Predicted: ')} So it is now." in verdict
    assert "Decided on" not in ALL_WRITERS["text"](paper_report(facts))


def test_it_tells_how_the_verdict_ends_under_doubts() -> None:
    facts = whole_facts()
    tried = (Tried(Doubt.LESS_DEMAND, Conclusion.NONE, ()),)
    said = "Tried: demand a fifth less: "
    text = " ".join(ALL_WRITERS["text"](paper_report(replace(facts, tried=tried))).split())
    assert said in text[text.index("The verdict") : text.index("The alternatives")]
    assert said not in ALL_WRITERS["text"](paper_report(facts))


@pytest.mark.long
def test_doubts_are_tried_unless_it_is_to_be_quick() -> None:
    more = '[scenario.more]\nparent = "today"\nmachine.mill.count = 2\n'
    checked = sound(today("part.body.weekly = 400") + more)
    heard: list[str] = []

    def told(what: str) -> Told:
        heard.append(what)
        return nothing_told

    facts = paper_facts(checked, wholly(checked), Asked(MADE), Memory(), told)
    assert [each.doubt for each in facts.tried] == [Doubt.LESS_DEMAND, Doubt.LONGER_CYCLES]
    assert heard == ["nights", "doubts", "inputs"]


def test_all_forms_have_all_sections() -> None:
    document = paper_report(whole_facts(), is_full=True)
    heads = ("The question", "The verdict", "The alternatives", "Where the hours go", "The night")
    for form in ("text", "markdown", "html"):
        text = ALL_WRITERS[form](document)
        for head in (*heads, "What would change the answer", "What went in", "How to repeat it"):
            assert head in text, (form, head)


def test_the_page_is_one_file_that_fetches_and_runs_nothing() -> None:
    page = as_html(paper_report(whole_facts(), is_full=True))
    tags = parsed(page).tags
    assert not tags & {"script", "link", "img", "iframe", "object", "a", "base", "form"}
    assert "url(" not in page
    assert "@import" not in page
    outside = set(re.findall(r"https?://[^\s\"'<]+", page))
    assert outside == {"http://www.w3.org/2000/svg"}


def test_pictures_are_well_formed_and_say_what_they_show() -> None:
    found = pictures(as_html(paper_report(whole_facts())))
    assert len(found) == 2
    for picture in found:
        assert picture.tag == SVG
        assert picture.get("aria-label")
        assert float(picture.get("viewBox", "").split()[3]) > 0
    texts = ["".join(picture.itertext()) for picture in found]
    assert "in cycle" in texts[0]


HOSTILE = "<script>alert(1)</script> & \"q\" 's' ]]> \u202e <svg onload=x> " + "W" * 60


def test_texts_of_the_user_are_texts_and_nothing_else() -> None:
    facts = whole_facts()
    answers = {
        id_: replace(answer, plan=replace(answer.plan, title=HOSTILE))
        for id_, answer in facts.found.answers.items()
    }
    found = replace(facts.found, answers=answers, title=HOSTILE)
    hostile = replace(facts, found=found, question=HOSTILE, made=replace(MADE, file=HOSTILE))
    page = as_html(paper_report(hostile, is_full=True))
    tags = parsed(page).tags
    assert "script" not in tags
    assert "<svg onload" not in page
    assert "\u202e" not in page
    assert len(pictures(page)) >= 2


def test_inputs_are_each_entered_inherited_or_assumed() -> None:
    facts = whole_facts()
    told, left_out = inputs_told(facts.checked, "child", "metric")
    by_text = {each.text: each.sort for each in told if each.thing == "machine mill"}
    assert by_text["pallets each 3"] == "entered"
    assert {each.sort for each in told} == {"entered", "inherited", "assumed"}
    assert left_out > 0


def test_what_was_not_worked_out_is_said() -> None:
    assert NOT_ASKED[:40] in ALL_WRITERS["markdown"](paper_report(whole_facts()))
    none = replace(whole_facts(), is_quick=False)
    assert NO_RANKING in ALL_WRITERS["markdown"](paper_report(none))


def test_one_scenario_alone_is_told_too() -> None:
    checked = sound(TODAY)
    page = as_html(paper_report(facts_of(checked, wholly(checked)), is_full=True))
    parsed(page)
    assert "Where do the machines&#x27; hours go" in page


def test_where_the_hours_go_says_of_which_hours_and_what_other_duties_take_of_them() -> None:
    checked = sound(today('handling.other_duties = "20 %"'))
    report = paper_report(facts_of(checked, wholly(checked)))
    text = ALL_WRITERS["text"](report)
    assert re.search(r"all, 168 h per machine +168\.0\n", text)
    assert "168 h each, nights and days off among them" in as_html(report)
    said = " ".join(text.split())
    assert re.search(r"busy [\d.]+ h are other duties \(20 %\)", said)


@pytest.mark.long
def test_what_matters_is_told_with_what_is_assumed() -> None:
    text = ALL_WRITERS["markdown"](paper_report(replace(whole_facts(), ranking=ranking())))
    assert ranking().moving
    for effect in ranking().moving[:6]:
        assert effect.input.label in text


def test_what_has_no_price_is_named_where_nothing_is_sold_for_money() -> None:
    more = '[scenario.more]\nparent = "today"\nmachine.mill.count = 3\n'
    checked = sound(TODAY + more)
    facts = facts_of(checked, wholly(checked))
    assert facts.base.money is None
    assert "not priced yet: machines of mill" in ALL_WRITERS["markdown"](paper_report(facts))


# -- on paper ----------------------------------------------------------------------------------


def printed_pages(page: str, size: str, folder: Path) -> int:
    file, pdf = folder / f"{size}.html", folder / f"{size}.pdf"
    file.write_text(page.replace("<style>", f"<style>@page {{ size: {size}; }}"), "utf-8")
    browser(folder, f"--print-to-pdf={pdf}", "--no-pdf-header-footer", file.as_uri())
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf.read_bytes()))


def browser(folder: Path, *words: str) -> str:
    assert CHROMIUM is not None
    still = ("--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={folder / 'profile'}")
    done = subprocess.run(
        [CHROMIUM, *still, *words], capture_output=True, text=True, timeout=120, check=True
    )
    return done.stdout


_WIDE = """<script>document.body.textContent = "wide " + document.documentElement.scrollWidth
+ " of " + innerWidth</script></body>"""


@pytest.mark.long
@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium here that could print it")
@pytest.mark.parametrize(
    ("demo", "size"),
    [
        (demos.PALLETS, "Letter"),
        *(
            pytest.param(demo, size, marks=pytest.mark.long)
            for demo in (demos.PALLETS, demos.SMALL_ORDERS, demos.ONE_PERSON)
            for size in ("A4", "Letter")
            if (demo, size) != (demos.PALLETS, "Letter")
        ),
    ],
)
def test_a_demo_is_two_pages_and_no_wider(demo: str, size: str, tmp_path: Path) -> None:
    """Letter has less room, and the demo of pallets takes most."""
    page = as_html(paper_report(demo_facts(demo)))
    assert printed_pages(page, size, tmp_path) <= 2
    file = tmp_path / "wide.html"
    file.write_text(page.replace("</body>", _WIDE), "utf-8")
    told = browser(tmp_path, "--window-size=820,1100", "--dump-dom", file.as_uri())
    wide, room = map(int, re.findall(r"wide (\d+) of (\d+)", told)[0])
    assert wide <= room


@cache
def demo_facts(demo: str) -> PaperFacts:
    facts = facts_of(demos.checked(demo), demos.compared(demo))
    return replace(facts, ranking=ranking())


# -- the command -------------------------------------------------------------------------------

Streams = pytest.CaptureFixture[str]


@pytest.fixture
def study(tmp_path: Path) -> str:
    path = tmp_path / "study.toml"
    path.write_text(TODAY, "utf-8")
    return str(path)


@pytest.mark.long
def test_it_is_written_into_a_file_whose_name_says_its_form(study: str, capsys: Streams) -> None:
    for end, begins in ((".html", "<!DOCTYPE html>"), (".md", "# "), (".txt", "Two ways")):
        out = Path(study).with_suffix(end)
        assert main(["report", study, "--quick", "--out", str(out)]) == 0
        assert capsys.readouterr().out == f"The report is in {out}\n"
        assert out.read_text("utf-8").startswith(begins)


def test_no_file_is_written_over_unless_told_so(study: str, capsys: Streams) -> None:
    out = Path(study).with_suffix(".md")
    out.write_text("mine", "utf-8")
    assert main(["report", study, "--quick", "--out", str(out)]) == 1
    assert "--replace" in capsys.readouterr().err
    assert out.read_text("utf-8") == "mine"
    assert main(["report", study, "--quick", "--replace", "--out", str(out)]) == 0
    assert out.read_text("utf-8") != "mine"


def test_what_cannot_be_written_is_said_before_the_work(study: str, capsys: Streams) -> None:
    assert main(["report", study, "--out", str(Path(study).parent / "no" / "r.md")]) == 1
    assert "cannot be written" in capsys.readouterr().err
    with pytest.raises(SystemExit) as stopped:
        main(["report", study, "--out", "report.pdf"])
    assert stopped.value.code == 2
    assert ".html, .md or .txt" in capsys.readouterr().err


def test_the_question_may_be_in_words_of_ones_own(study: str, capsys: Streams) -> None:
    asked = ["--question", "Do we buy a second mill?"]
    assert main(["report", study, "--quick", "--format", "markdown", *asked]) == 0
    assert "Do we buy a second mill?" in capsys.readouterr().out


LONG_TITLES = "".join(
    f'[scenario.more_{i}]\nparent = "today"\ntitle = "Pallets on every mill, and a night, way {i}"'
    f"\nmachine.mill.pallets = {i}\n"
    for i in range(2, 8)
)


@pytest.mark.long
def test_a_file_of_text_is_no_wider_than_a_page(tmp_path: Path) -> None:
    path, out = tmp_path / "study.toml", tmp_path / "report.txt"
    path.write_text(TODAY + LONG_TITLES, "utf-8")
    assert main(["report", str(path), "--quick", "--out", str(out)]) == 0
    text = out.read_text("utf-8")
    assert max(map(len, text.splitlines())) <= 100
    # No word of what went in is lost by that.
    told, _ = inputs_told(sound(TODAY + LONG_TITLES), "today", "metric")
    words = set(re.findall(r"[\w.]+", text))
    assert {word for each in told for word in re.findall(r"[\w.]+", each.label)} <= words


def test_no_amount_is_broken_in_plain_text() -> None:
    said = "It is likely to be worth USD\u00a01\u00a0084\u00a0512 today,\n more than any other."
    for width in range(20, 60):
        text = as_text(Document([TextLines([TextLine(said, rest="")])], {}, width=width))
        # Found by who searches for it as it is typed.
        assert "USD 1 084 512" in text
        assert "  " not in text
