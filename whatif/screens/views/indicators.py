"""The indicators of ISO 22400-2 side by side, and the chosen one's formula with our numbers."""

from __future__ import annotations

from collections.abc import Mapping

from whatif.answers.indicators import (
    KEYS,
    SIGNS_IN_WORDS,
    STATES_IN_WORDS,
    Indicator,
    indicators,
)
from whatif.screens.views.ink import Piece, Row, left_in, paragraph, right_in, row
from whatif.screens.views.view import EDGE, Look, no_answer
from whatif.telling.table import number

_Columns = Mapping[str, Mapping[str, Indicator]]

_NO_FIGURES = (
    "No scenario on the screen has figures yet: each needs a machine, a shift and a part that is "
    "wanted. Esc goes back to the sheet, where n adds them."
)

_LEAST = 0.05
"""Points below which a difference would be shown as 0.0."""


def no_figures(look: Look, width: int) -> list[Row]:
    """What stands where there is nothing to compare."""
    if look.answers:
        return paragraph(_NO_FIGURES, width, "dim", indent=EDGE)
    return no_answer(look, width)


def indicator_rows(look: Look, chosen: str, width: int) -> list[Row]:
    """A row an indicator, a column a scenario; below them the chosen scenario's own numbers."""
    columns = {
        id_: indicators(answer.plan, answer.figures)
        for id_, answer in look.answers.items()
        if answer.figures is not None
    }
    head = row(
        Piece(" Indicators, % (points against the reference)", "title"),
        Piece("   g back to the hours", "dim", "*g"),
    )
    if not columns:
        return no_figures(look, width)
    return [
        head,
        *(_row(look, key, columns, key == chosen) for key in KEYS),
        *_own_words(look, chosen, columns, width),
        *paragraph(SIGNS_IN_WORDS, width - 1, "dim", indent=1),
        *paragraph(STATES_IN_WORDS, width - 1, "dim", indent=1),
    ]


def _row(look: Look, key: str, columns: _Columns, chosen: bool) -> Row:
    base = columns.get(look.reference or "")
    cells: list[Piece] = []
    label = ""
    for i in look.columns.visible:
        id_, room = look.ids[i], look.columns.width
        one = columns[id_][key] if id_ in columns else None
        if one is None:
            cells.append(right_in("-", room, "dim", id_))
            continue
        label = one.name
        apart = None if base is None or id_ == look.reference else one.points_above(base[key])
        more = "" if apart is None or abs(apart) < _LEAST else f"{apart:+.1f}"
        percent = "-" if one.percent is None else f"{number(one.percent)} %"
        cells += [
            right_in(percent, room - 7, "title" if id_ == look.chosen else "plain", id_),
            right_in(more, 7, "plain", id_),
        ]
    name = f"{'>' if chosen else ' '}{label}"
    return row(left_in(name, look.columns.label, "title" if chosen else "plain", f"*{key}"), *cells)


def _own_words(look: Look, key: str, columns: _Columns, width: int) -> list[Row]:
    """The chosen scenario's formula and numbers."""
    own = columns.get(look.chosen or "")
    if own is None:
        return paragraph(f"{look.title} has no figures.", width - 1, "dim", indent=1)
    one = own[key]
    return [
        *paragraph(f"{look.title}: {one.name} = {one.formula}", width - 1, "title", indent=1),
        *paragraph(one.words, width - 1, indent=1),
    ]
