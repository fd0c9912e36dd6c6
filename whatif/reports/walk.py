"""The sheet of a walk through the shop, and what its tallies come to."""

from __future__ import annotations

from typing import Any, Final

from whatif.answers.walk.tallies import SeenShare, Walked
from whatif.answers.walk.tours import WalkSheet
from whatif.reports.document import (
    Column,
    Document,
    TextHeading,
    TextTable,
    lines_of,
    paragraph_of,
)
from whatif.telling.amounts import NOTHING, rounded, signed
from whatif.telling.walk import (
    HEADS,
    TOGETHER,
    WALK_ON,
    seen_state_words,
    walk_intro,
    walk_machines,
    walk_moments,
    walk_states,
    walked_sentences,
)

_ROOM_TO_WRITE: Final = "___"


def sheet_report(sheet: WalkSheet) -> Document:
    """The moments with room to write for each machine, then the letters; as CSV a row for each."""
    machines, moments = walk_machines(sheet), walk_moments(sheet)
    table = TextTable(
        [Column("tour", at_left=True), *(Column(each, at_left=True) for each in machines)],
        [[moment, *([_ROOM_TO_WRITE] * len(machines))] for moment in moments],
    )
    letters = lines_of(
        [f"{letter} {words}: {meaning}" for letter, words, meaning in walk_states()], rest="    "
    )
    return Document(
        [
            TextHeading(f"{sheet.title}: a walk through the shop"),
            paragraph_of(walk_intro(sheet)),
            table,
            letters,
            paragraph_of(WALK_ON),
        ],
        {
            "scenario": sheet.scenario,
            "seed": sheet.seed,
            "tours": moments,
            "machines": machines,
            "states": [
                {"letter": letter, "state": words, "meaning": meaning}
                for letter, words, meaning in walk_states()
            ],
        },
        [HEADS, *((moment, machine, "") for moment in moments for machine in machines)],
        width=79,
    )


_COLUMNS: Final = (
    Column("state", at_left=True),
    Column("seen"),
    Column("share", "%"),
    Column("from", "%"),
    Column("to", "%"),
    Column("model", "%"),
    Column("more", "points"),
    Column("needed"),
    Column("", at_left=True),
)


def walked_report(found: Walked) -> Document:
    """A row for each state: seen, its interval, the model's share, observations needed."""
    rows = [_row(found, each) for each in found.states]
    heads = [each.head for each in _COLUMNS[:-1]]
    return Document(
        [
            TextHeading(f"{found.title}: {found.count} observations"),
            paragraph_of(
                f"Shares of hours with somebody on duty; from and to: the interval at "
                f"{rounded(found.confidence)} % (Wilson); needed: observations in all for "
                f"{rounded(found.within)} points either way."
            ),
            TextTable(_COLUMNS, rows),
            lines_of([*walked_sentences(found), TOGETHER]),
        ],
        _data(found),
        [heads, *(row[:-1] for row in rows)],
        width=79,
    )


def _row(found: Walked, each: SeenShare) -> list[str]:
    return [
        seen_state_words(each.state),
        f"{each.count}",
        *(rounded(value) for value in (each.share, each.low, each.high)),
        NOTHING if each.simulated is None else rounded(each.simulated),
        NOTHING if each.simulated is None else signed(each.more),
        f"{each.needed}",
        "apart" if each.is_apart else "",
    ]


def _data(found: Walked) -> dict[str, Any]:
    return {
        "scenario": found.scenario,
        "observations": found.count,
        "confidence_percent": found.confidence,
        "within_points": found.within,
        "needed": found.needed,
        "states": {each.state: _share(each) for each in found.states},
        "together": {"people": _share(found.people), "machine": _share(found.machines)},
        "gap_is": found.gap_is or None,
        "in_words": walked_sentences(found),
    }


def _share(each: SeenShare) -> dict[str, Any]:
    return {
        "seen": each.count,
        "percent": each.share,
        "interval_percent": [each.low, each.high],
        "simulated_percent": each.simulated,
        "is_apart": each.is_apart,
        "needed": each.needed,
    }
