"""What is printed keeps to plain words: no coined ones, a unit to every figure, minutes."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator
from functools import partial

import pytest
from answer_studies import TODAY, sound, wholly
from demos import DEMOS, gained

from whatif.answers.answer import Comparison
from whatif.reports.comparison import comparison_report
from whatif.reports.document import WRITERS
from whatif.screens.desk.commands import COMMANDS
from whatif.screens.views.all import VIEWS
from whatif.screens.widgets.drawing import wrap
from whatif.study.schema.catalogue import KEYS
from whatif.telling.amounts import unbroken
from whatif.telling.in_words import scenario_words
from whatif.telling.table import table_rows

COINED = (
    "held back by",
    "holds it back",
    "in words",
    "brings back",
    "bring back",
    "bring it back",
    "taken out",
    "takes it out",
    "take it out",
    "What moves",
    "pieces an order",
    "a floor area",
    "a paid hour",
    "rate a year",
    "wanted a week",
    "be laid out",
    "is laid out at once",
    "than is laid out",
    "nobody buys",
    "limited by demand is met",
    "limit of hours allowed",
    "having nobody",
    "Said are",
    "large figures",
    "as said",
    "oretold",
    "least part",
    "unatt.",
    " dry",
    "% lost",
    "% cut",
    "pallet system price",
    "what moves the pallets",
    "clear from",
    "pallets at night",
    "nothing that can be told",
    "In its way",
    "of its real orders",
    "run ahead",
    "not released",
    "min of visits",
    "pieces, visits",
    "each as said below",
)
"""Words that were ours alone, and sentences that nobody would say."""

_AN_ARTICLE = re.compile(r"\b(price|mass|floor|faces|pieces|costs?|contribution|material) a \w+")
_SECONDS = re.compile(r"\b(?:[6-9]\d\d|\d{4,})(?:\.\d+)? s\b")
_NO_HOURS = re.compile(r"\bcut 0\.0 h")
_BARE = re.compile(r"[+-]?\d+(?:[.,\u00a0]\d+)*")

NO_DEMAND = TODAY.replace("part.body.weekly = 100", "part.body.weekly = 0")
ALL_MET = TODAY.replace("part.body.weekly = 100", "part.body.weekly = 3")
AT_NIGHT = TODAY + '[scenario.night]\nparent = "today"\nunattended.after_shift = "4 h"\n'
DOES_NOT_FIT = TODAY.replace(
    "machine.mill.count = 1",
    'machine.mill.table = ["20 in", "10 in"]\npart.body.size = ["30 in", "9 in", "2 in"]',
).replace("format = 1", 'format = 1\nunits = "inch"')
INCH = DOES_NOT_FIT.replace('["30 in", "9 in"', '["15 in", "7 in"').replace(
    "part.body.cycle", 'machine.mill.floor = "64 sq ft"\npart.body.mass = "40 lb"\npart.body.cycle'
)
ODD = {
    "no demand": NO_DEMAND,
    "all met": ALL_MET,
    "nobody at night": AT_NIGHT,
    "not feasible": DOES_NOT_FIT,
    "inch": INCH,
}


def sentences(found: Comparison) -> Iterator[str]:
    """All that a report and the summaries of its scenarios say, line by line."""
    yield from WRITERS["text"](comparison_report(found)).splitlines()
    for answer in found.answers.values():
        yield from scenario_words(answer, found.reference, units=found.units).splitlines()


def told_plainly(found: Comparison) -> None:
    for line in sentences(found):
        assert not [word for word in COINED if word in line], line
        assert not _SECONDS.search(line), line
        assert not _NO_HOURS.search(line), line
    for row in table_rows(found):
        if not row.unit and "a day" not in row.label:
            assert not any(_BARE.fullmatch(cell) for cell in row.cells), row


@pytest.mark.parametrize("study", ODD, ids=str)
def test_an_odd_study_is_told_in_plain_words(study: str) -> None:
    told_plainly(wholly(sound(ODD[study])))


@pytest.mark.long
@pytest.mark.parametrize("demo", [path.stem for path in DEMOS])
def test_a_demo_is_told_in_plain_words(demo: str) -> None:
    told_plainly(gained(demo))


@pytest.mark.parametrize("study", ["not feasible", "inch"])
def test_an_inch_study_is_told_in_inches(study: str) -> None:
    for line in sentences(wholly(sound(ODD[study]))):
        assert not re.search(r"\d (?:mm|m²)\b", line), line


def test_labels_commands_and_views_have_plain_names() -> None:
    names = [key.label for key in KEYS]
    names += [f"{command.title} {command.footer}" for command in COMMANDS]
    names += [view.title for view in VIEWS]
    for name in names:
        assert not [word for word in COINED if word in name], name
        assert not _AN_ARTICLE.search(name), name
        assert "thing" not in name.lower().split(), name


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("waiting 51.1 h a week", ["waiting", "51.1 h a", "week"]),
        ("it is 18 % of 30 min", ["it is", "18 % of", "30 min"]),
        ("room of 40 m² and", ["room of", "40 m² and"]),
        ("some 260 in all", ["some 260", "in all"]),
    ],
)
def test_no_line_parts_a_figure_from_its_unit(text: str, lines: list[str]) -> None:
    """The space between them is part of the value (ISO 80000-1, 7.1.4, from memory)."""
    assert wrap(text, 9) == lines
    assert unbroken(text, partial(textwrap.wrap, width=9)) == lines
