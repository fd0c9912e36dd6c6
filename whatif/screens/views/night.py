"""The night: how long the spindles go on, what ends it, what waits in the morning."""

from __future__ import annotations

from enum import Enum
from typing import TYPE_CHECKING

from typing_extensions import override

from whatif.answers.night.of_study import ScenarioNights, StudyNights
from whatif.screens.views.view import Look, View, ViewHost, across, cautions_told, no_answer
from whatif.screens.widgets.drawing import (
    Presses,
    Span,
    SpanRow,
    Tone,
    key_spans,
    left_in,
    paragraph,
    row,
)
from whatif.session.calculate.questions import NightsOf, PalletsThatLast
from whatif.telling.cautions import UNATTENDED_IN_SHORT, caution_text
from whatif.telling.night import (
    HOW_PALLETS_ARE_TRIED,
    NO_NIGHT_TO_LAST,
    Shade,
    begun_words,
    in_a_sentence,
    night_bar,
    night_in_words,
    night_label,
    night_scale,
    no_night,
    pallets_in_words,
    side_by_side,
    then_words,
)

if TYPE_CHECKING:
    from whatif.answers.night.night import Nights, NightsAfter
    from whatif.session.calculate.requests import Question

SHADES: dict[Shade, tuple[str, Tone]] = {
    Shade.EVERY: ("█", "cutting"),
    Shade.MOST: ("▓", "cutting"),
    Shade.SOME: ("░", "cutting"),
    Shade.STANDS: ("·", "resting"),
    Shade.NOT_ALLOWED: ("-", "resting"),
}
"""A sign and a tone for each shade of a bar, so that it can be read without colour."""

_WIDE = 100
"""Cells from which the title says how long pieces are begun."""

_AFTER_SHIFT = ("unattended", "after_shift")


class _Page(Enum):
    NIGHT = "night"
    PALLETS = "b"
    WORDS = "j"


class NightView(View):
    """One kind of nights at a time: a sentence, a picture, and the scenarios side by side."""

    name = "night"
    in_columns = True
    reads = """\
The sentence says what a usual night brings. The bar of each machine runs from the end of the
last shift to the begin of the next: dense where it cuts in every night, lighter where only in
some, dots where it stands. Below, a column a scenario: how long it goes on, what ends it, and
what people find in the morning."""
    keys = """\
v    other nights: before a working day, over a weekend
b    the fewest pallets with which a machine lasts the night, and back
g    edit how long after a shift's end pieces are begun
j    all nights in words, with the cautions in full, and back"""

    def __init__(self) -> None:
        self._page = _Page.NIGHT
        self._kind = 0

    @override
    def question(self, look: Look) -> Question | None:
        """Nights of all columns shown; or, on its own page, the search for pallets."""
        if self._page is _Page.PALLETS:
            return None if look.chosen is None else PalletsThatLast(look.chosen)
        return NightsOf(tuple(look.shown))

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Turn to other nights or another page, or edit how long pieces are begun."""
        if key == "v":
            self._kind += 1
        elif key == "g":
            host.edit_value(_AFTER_SHIFT)
        elif key in {"b", "j"}:
            page = _Page(key)
            self._page = _Page.NIGHT if self._page is page else page
        else:
            return False
        return True

    @override
    def figure(self, look: Look) -> str:
        """The hours cut with nobody there."""
        return "spindle_hours.after_hours"

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """The page that is open."""
        if self._page is _Page.PALLETS:
            return self._pallets(look, width)
        found = look.result
        if not isinstance(found, StudyNights):
            return [row(Span(" The night", "title")), *no_answer(look, width)]
        here = found.scenarios.get(look.chosen or "")
        if here is None:
            return no_answer(look, width)
        nights = here.nights
        if nights is None or not nights.after:
            return [
                row(Span(f" The night: {look.title}", "title")),
                *paragraph(no_night(nights), width),
            ]
        night = nights.alike[self._kind % len(nights.alike)]
        if self._page is _Page.WORDS:
            return self._words(here, nights, width)
        rows = [
            self._head(night, nights, width),
            *paragraph(in_a_sentence(night, nights), width, "accent"),
            *self._picture(look, night, nights, width),
            *self._table(look, night, found),
        ]
        return rows + self._caution(here, width)

    # -- the page of the night -----------------------------------------------------------

    def _head(self, night: NightsAfter, nights: Nights, width: int) -> SpanRow:
        other = [" v other"] if len(nights.alike) > 1 else []
        hours = f": {begun_words(nights)}" if width >= _WIDE else ""
        return row(
            Span(f" After {night_label(night)} ", "title", Presses("v")),
            *key_spans(*other, "  b pallets", "  j words", f"  g hours{hours}"),
        )

    def _picture(self, look: Look, night: NightsAfter, nights: Nights, width: int) -> list[SpanRow]:
        label = look.columns.label
        room = width - label - 1
        rows = [row(left_in("", label), Span(night_scale(night, room), "dim"))]
        for group in night.groups:
            name = group.group if group.count == 1 else f"{group.group}, {group.count} machines"
            shaded = night_bar(group, night.length, nights.after_shift, room)
            bars = [
                _resting(*SHADES[shade], cells, then_words(group))
                if shade in (Shade.STANDS, Shade.NOT_ALLOWED) and place == len(shaded) - 1
                else Span(SHADES[shade][0] * cells, SHADES[shade][1])
                for place, (shade, cells) in enumerate(shaded)
            ]
            rows.append(row(left_in(f" {name}", label), *bars))
        signs = "  ".join(f"{sign} {shade.value}" for shade, (sign, _) in SHADES.items())
        return [*rows, row(left_in(f" {signs}", width, "dim"))]

    def _table(self, look: Look, night: NightsAfter, found: StudyNights) -> list[SpanRow]:
        tones: list[Tone] = ["chosen" if id_ == look.chosen else "plain" for id_ in look.shown]
        shown = [found.scenarios.get(id_) for id_ in look.shown]
        told = side_by_side(night, [None if some is None else some.nights for some in shown])
        return [
            across(look, f" {line.label}", zip(line.cells, tones, strict=True)) for line in told
        ]

    def _caution(self, here: ScenarioNights, width: int) -> list[SpanRow]:
        """In one line; the page in words has the whole of it."""
        if not here.cautions:
            return []
        return paragraph(f"! Caution. {UNATTENDED_IN_SHORT}", width - 1, "caution")[:1]

    def _pallets(self, look: Look, width: int) -> list[SpanRow]:
        head = row(
            Span(" Fewest pallets that last till the next shift", "title", Presses("b")),
            *key_spans("   b back to the night"),
        )
        how = paragraph(HOW_PALLETS_ARE_TRIED, width, "dim")
        if not isinstance(look.result, tuple):
            return [head, *no_answer(look, width), row(""), *how]
        if not look.result:
            return [head, *paragraph(NO_NIGHT_TO_LAST, width)]
        told = paragraph("\n".join(pallets_in_words(look.result)), width, "accent")
        return [head, row(Span(f" {look.title}", "title")), *told, row(""), *how]

    def _words(self, here: ScenarioNights, nights: Nights, width: int) -> list[SpanRow]:
        rows = [
            row(
                Span(f" {here.title}: its nights in words", "title", Presses("j")),
                *key_spans("   j back to the night"),
            )
        ]
        for like in nights.alike:
            rows += [*paragraph(night_in_words(like, nights), width), row("")]
        return rows + cautions_told(here.cautions, caution_text, width)


def _resting(sign: str, tone: Tone, cells: int, words: str) -> Span:
    """The end of a bar, with why the machine stands written into it where it has room."""
    text = f" {words} "
    if not words or cells < len(text) + 4:
        return Span(sign * cells, tone)
    return Span(sign * 2 + text + sign * (cells - len(text) - 2), tone)
