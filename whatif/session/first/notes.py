"""What the notes of a first study say: what was answered, and how it became a study.

They stand as long as nobody rewrites them, so that only what stays true after edits is said: what
is assumed is left to the sentence that follows edits (`whatif.study.guesses`).
"""

from __future__ import annotations

from collections.abc import Iterator

from whatif.session.first.questions import QUESTIONS
from whatif.session.first.shop import LIKE_PARTS, Made, Told

STAND_FOR_ALL = f"{' and '.join(LIKE_PARTS)} stand for all your parts: half of what is wanted each."
"""What two like parts are there for."""


def notes_of(told: Told, made: Made) -> str:
    """The notes of today."""
    return "\n".join(_lines(told, made))


def more_tables(order: int, tables: int) -> str:
    """The note of a scenario with more tables than today."""
    return (
        f"Your orders are no longer than today's {_pieces(order)}: {tables} tables take {tables} "
        f"of them side by side, entered as one of {order * tables}."
    )


def _lines(told: Told, made: Made) -> Iterator[str]:
    yield "Made from ten questions."
    answered = "; ".join(
        f"{one.label.lower()} {told.text(one.id)}"
        for one in QUESTIONS
        if told.raw(one.id) is not None
    )
    if answered:
        yield f"As answered at the beginning: {answered}."
    yield from _output_lines(told, made)
    if told.raw("breaks") is not None and told.seconds("breaks"):
        yield "The breaks were put together in the middle of the shift."
    if told.handling is not None:
        yield (
            "Of the time the door is open two thirds were taken for loading, one third for "
            "unloading; walking to the machine is part of it, so that no walk was added to it."
        )
    yield from _order_lines(told, made)
    yield (
        "A machine with more fixture faces is not looked at: that takes the sizes of parts and "
        "table. Enter them, then add a scenario with faces."
    )


def _output_lines(told: Told, made: Made) -> Iterator[str]:
    if told.wanted is None:
        yield (
            "Pieces wanted a week were not known at the beginning: as many were taken as today "
            "made then."
        )
    elif makes_more(told, made):
        yield (
            f"Today as answered at the beginning could make about {made.most:.0f} pieces a week, "
            f"more than the {float(told.wanted):g} wanted: if your shop in fact makes fewer, "
            "something that takes its time is missing from the answers."
        )


def makes_more(told: Told, made: Made) -> bool:
    """Whether today as answered could make more than is wanted, by a piece and more."""
    return told.wanted is not None and made.most >= told.wanted + 1


def _order_lines(told: Told, made: Made) -> Iterator[str]:
    if not told.changes_over:
        return
    yield STAND_FOR_ALL
    yield (
        "Your orders keep their size in every scenario, one on each table. The model spreads an "
        "order over all tables, so one of the model is as many of yours as there are tables: at "
        f"the beginning {_pieces(made.order)} on each of {told.tables}, "
        f"{made.order * told.tables} together."
    )
    said = told.changeovers
    if said is None:
        return
    reached = made.pieces / made.order
    if abs(reached - float(said)) > float(said) / 10:
        yield (
            f"As answered at the beginning there was not enough time for {float(said):g} "
            f"changeovers a week of that length: the model reached {reached:.0f}. Look again at "
            "their number and their hours."
        )


def _pieces(count: int) -> str:
    return f"{count} piece{'s' if count > 1 else ''}"
