"""One figure has one value, in whatever form it is printed (texts round what JSON says)."""

from __future__ import annotations

import csv
import io
import json
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

import pytest
from answer_studies import sound
from night_studies import silent, study
from whole_comparison import whole

from whatif.answers.night.of_study import study_nights
from whatif.reports.comparison import comparison_report
from whatif.reports.document import WRITERS, Document
from whatif.reports.nights import nights_report
from whatif.session.calculate.memory import Memory
from whatif.telling.amounts import rounded, signed, to_six
from whatif.telling.amounts import whole as whole_number


def on_paper(value: float, digits: int = 1) -> str:
    """A number of the JSON as a reader with a pencil rounds it."""
    return str(Decimal(repr(value)).quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP))


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (83.55, "83.6"),
        (83.5499999999, "83.6"),  # 83.55 in JSON
        (62.05, "62.1"),
        (62.049999, "62.0"),
        (-62.05, "-62.1"),
        (0.25, "0.3"),
        (-0.04, "0.0"),
        (38.75, "38.8"),
        (1e15, "1000000000000000.0"),
    ],
)
def test_texts_round_what_files_for_programs_say(value: float, text: str) -> None:
    assert rounded(value) == text
    assert rounded(to_six(value)) == text
    if text != "0.0":
        assert on_paper(to_six(value)) == text
    assert signed(value) == (text if text.startswith("-") else f"+{text}")


def test_halves_go_away_from_nothing_in_whole_numbers_too() -> None:
    assert [whole_number(value) for value in (0.5, 1.5, 2.5, -2.5, 2.4999999999)] == [
        1,
        2,
        3,
        -3,
        3,
    ]


def rows_of(document: Document) -> list[list[str]]:
    return list(csv.reader(io.StringIO(WRITERS["csv"](document), newline=""), strict=True))


def test_a_figure_of_a_comparison_is_the_same_in_every_format() -> None:
    document = comparison_report(whole())
    told: dict[str, Any] = json.loads(WRITERS["json"](document))["scenarios"]
    figures = {
        "spindle hours": ("simulated", "spindle_hours", "total"),
        "  attended": ("simulated", "spindle_hours", "attended"),
        "people busy": ("simulated", "people_hours", "busy"),
        "in cut, over powered hours": ("simulated", "utilization_percent", "of_powered"),
        "  availability: in cycle / planned": ("indicators_percent", "availability"),
    }
    table = {row[0].strip(): row for row in rows_of(document)}
    for label, path in figures.items():
        cells = []
        for scenario in told.values():
            found: Any = scenario
            for key in path:
                found = found and found[key]
            cells.append("-" if found is None else on_paper(found))
        assert table[label.strip()][2:] == cells, label
        for written in (WRITERS["text"](document), WRITERS["markdown"](document)):
            line = next(
                line
                for line in written.splitlines()
                if line.lstrip("| ").startswith(f"{label.strip()},")
            )
            # A dash where there is no figure, "-" in files for other programs alone.
            read = [cell.replace("-", "–") if cell == "-" else cell for cell in cells]
            assert [part for part in line.replace("|", " ").split() if part in read] == read


def test_a_figure_of_a_night_is_the_same_in_every_format() -> None:
    """A load of 3 x 21.01 min, so that hours have many decimals."""
    text = study("warm_up = 1", 'part.body.cycle = "1261 s"')
    document = nights_report(study_nights(sound(text), Memory(), silent))
    (scenario,) = json.loads(WRITERS["json"](document))["scenarios"].values()
    nights = scenario["nights"]["by_weekday"]
    rows = rows_of(document)
    for column, path, digits in (
        ("in cycle", ("spindle_hours", "mean"), 1),
        ("worst", ("spindle_hours", "worst"), 1),
        ("waiting", ("morning", "pieces_waiting", "mean"), 1),
        ("work", ("morning", "visit_minutes", "mean"), 0),
    ):
        cells = []
        for night in nights:
            for key in path:
                night = night[key]
            cells.append(on_paper(night, digits))
        assert [row[4] for row in rows if row[2] == column] == cells
        printed = WRITERS["text"](document)
        assert all(f" {cell} " in printed or f" {cell}\n" in printed for cell in cells)
