"""What was predicted and what was measured after it was done, week by week."""

from __future__ import annotations

from typing import Final

from whatif.answers.meters.afterwards import Afterwards
from whatif.reports.document import (
    Column,
    Document,
    TextHeading,
    TextTable,
    lines_of,
    paragraph_of,
)
from whatif.telling.afterwards import LIES, afterwards_sentences, foretold_sentence
from whatif.telling.amounts import rounded, signed

_COLUMNS: Final = (
    Column("week of", at_left=True),
    Column("predicted", "h"),
    Column("from", "h"),
    Column("to", "h"),
    Column("measured", "h"),
    Column("more", "h"),
    Column("unknown", "h"),
    Column("", at_left=True),
)


def afterwards_report(found: Afterwards) -> Document:
    """A row a week, then what is to be made of it."""
    foretold = found.foretold
    rows = [
        [
            week.begin.isoformat(),
            *(rounded(each) for each in (foretold.hours, *foretold.week, week.cut)),
            signed(found.more(week)),
            rounded(week.unknown),
            LIES[found.lies(week)],
        ]
        for week in found.weeks
    ]
    heads = [each.head or "lies" for each in _COLUMNS]
    return Document(
        [
            TextHeading(f"{foretold.title}: done on {found.done_on.isoformat()}, and afterwards"),
            paragraph_of(foretold_sentence(found)),
            TextTable(_COLUMNS, rows),
            lines_of(afterwards_sentences(found)),
        ],
        {
            "scenario": foretold.scenario,
            "done_on": found.done_on.isoformat(),
            "foretold": {
                "in_cut_hours": foretold.hours,
                "week_range": foretold.week,
                "mean_range": foretold.mean,
                "in_cut_percent_of_switched_on": foretold.powered,
                "machines": foretold.machines,
            },
            "machines_read": found.machines,
            "weeks": [
                {
                    "begin": week.begin.isoformat(),
                    "switched_on": week.on,
                    "in_cut": week.cut,
                    "unknown": week.unknown,
                    "lies": found.lies(week),
                }
                for week in found.weeks
            ],
            "in_words": afterwards_sentences(found),
        },
        [heads, *rows],
        width=79,
    )
