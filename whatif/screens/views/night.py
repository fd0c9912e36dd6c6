"""The night: how long the spindles go on, what ends it, what waits in the morning."""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from typing import TYPE_CHECKING

from rich.cells import cell_len
from typing_extensions import override

from whatif.answers.night.of_study import ScenarioNights, StudyNights
from whatif.cell.model import DAY
from whatif.screens.views.view import (
    Look,
    View,
    ViewHost,
    ViewKey,
    across,
    cautions_told,
    no_answer,
)
from whatif.screens.widgets.columns import in_two_lines
from whatif.screens.widgets.drawing import (
    EDGE,
    Chooses,
    Presses,
    Span,
    SpanRow,
    Spot,
    Tone,
    cut,
    left_in,
    paragraph,
    row,
    wrap,
)
from whatif.session.calculate.questions import NightsOf, PalletsThatLast
from whatif.telling.cautions import NAMES, WHO_DECIDES, caution_text
from whatif.telling.night import (
    FEWEST_UNKNOWN,
    HOW_PALLETS_ARE_TRIED,
    NO_NIGHT_TO_LAST,
    begun_words,
    in_a_sentence,
    like_it,
    night_in_words,
    night_label,
    no_night,
    pallets_for,
    pallets_in_words,
    side_by_side,
)
from whatif.telling.night_pictures import (
    SIGNS,
    Shade,
    group_label,
    night_bar,
    night_found,
    one_clock,
)

if TYPE_CHECKING:
    from whatif.answers.night.night import Nights, NightsAfter
    from whatif.session.calculate.requests import Question
    from whatif.telling.said import Said

TONES: dict[Shade, Tone] = {
    Shade.PEOPLE: "serving",
    Shade.CUTS: "high",
    Shade.STANDS: "waiting",
    Shade.NOT_ALLOWED: "plain",
}

_ROOMY = 24
"""Rows from which on there is room for what the clock and the line of keys tell too."""

_AFTER_SHIFT = ("unattended", "after_shift")


class _Page(Enum):
    NIGHT = "night"
    PALLETS = "f"
    WORDS = "w"


class NightView(View):
    """One kind of nights at a time: a sentence, a picture, and the scenarios side by side."""

    name = "night"
    reads = """\
The sentence says what a usual night of the chosen scenario brings. Below it a bar a scenario, in
the order of the columns, all on one clock, from the end of the last shift to the begin of the next.
It is full where the machines still cut in all of these nights, half as high where in half of them,
with dashes where they could go on and stand. "52 % of nights" behind a reason is in how many of
them that ends the run, and no height of the bar. Weekdays with the same hours are taken together;
d shows each of them alone.
Above the bar stands until when the last spindle runs on average, and what then limits. The table
tells what people find in the morning: cut pieces that wait, and the time of loading, unloading and
setting up that is asked for. By the clock it is done sooner where several share it, and later where
they are called to other machines meanwhile."""

    def __init__(self) -> None:
        self._page = _Page.NIGHT
        self._kind = 0
        self._weekday: int | None = None
        """Which weekday's nights alone, counted along the week; None for like ones together."""

    @override
    def question(self, look: Look) -> Question | None:
        """Nights of all columns shown; or, on its own page, the search for pallets."""
        if self._page is _Page.PALLETS:
            return None if look.chosen is None else PalletsThatLast(look.chosen)
        return NightsOf(tuple(look.shown))

    @override
    def own_keys(self, look: Look) -> tuple[ViewKey, ...]:
        """Other nights, pages, and the hours that are allowed."""
        day = "weekday" if self._weekday is None else "next weekday"
        fewest = "the night" if self._page is _Page.PALLETS else "fewest pallets"
        words = "the night" if self._page is _Page.WORDS else "words"
        return (
            ViewKey("n", "n", "other nights", "other nights: before a working day, a weekend"),
            ViewKey("d", "d", day, "the nights of one weekday, the next, then all together again"),
            ViewKey("f", "f", fewest, "the fewest pallets that last the night, and back"),
            ViewKey("h", "h", "hours", "edit how long after a shift's end pieces are begun"),
            ViewKey("w", "w", words, "all nights in words, with the cautions in full, and back"),
        )

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Turn to other nights or another page, or edit how long pieces are begun."""
        if key == "n":
            self._kind, self._weekday = self._kind + 1, None
        elif key == "d":
            self._step_weekday(look)
        elif key == "h":
            host.edit_value(_AFTER_SHIFT)
        elif key in {"f", "w"}:
            page = _Page(key)
            self._page = _Page.NIGHT if self._page is page else page
        else:
            return False
        return True

    def _step_weekday(self, look: Look) -> None:
        """The next weekday's nights alone, from those together on; after the last these again."""
        nights = self._nights(look)
        if nights is None or not nights.after:
            return
        if self._weekday is None:
            first = nights.alike[self._kind % len(nights.alike)].days[0]
            days = [night.days[0] for night in nights.after]
            self._weekday = days.index(first)
        else:
            self._weekday = self._weekday + 1 if self._weekday + 1 < len(nights.after) else None

    def _nights(self, look: Look) -> Nights | None:
        found = look.result
        here = found.scenarios.get(look.chosen or "") if isinstance(found, StudyNights) else None
        return None if here is None else here.nights

    def _night(self, nights: Nights) -> NightsAfter:
        """The nights that are looked at."""
        if self._weekday is None:
            return nights.alike[self._kind % len(nights.alike)]
        return nights.after[min(self._weekday, len(nights.after) - 1)]

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
        night = self._night(nights)
        roomy = height >= _ROOMY
        if self._page is _Page.WORDS:
            return self._words(here, nights, width)
        said = f"In {look.title} {in_a_sentence(night, nights, in_short=True)}"
        rows = [
            row(Span(f" After {night_label(night)}: {begun_words(nights)}", "title", Presses("n"))),
            *paragraph(said, width, "lead"),
            *self._fewest(look, night, width, roomy=roomy),
            *self._pictures(look, night, found, width, roomy=roomy),
            *self._caution(here, width),
        ]
        return rows + self._table(look, night, found, in_full=roomy)

    # -- the page of the night -----------------------------------------------------------

    def _fewest(self, look: Look, night: NightsAfter, width: int, *, roomy: bool) -> list[SpanRow]:
        """How many pallets last, where that is known; else what works it out, where there is room.

        The line of keys tells the key in any case.
        """
        known = look.results.get(PalletsThatLast(look.chosen or ""))
        told = pallets_for(known, night) if isinstance(known, tuple) else ""
        told = told or (FEWEST_UNKNOWN if roomy else "")
        return paragraph(told, width) if told else []

    def _pictures(
        self, look: Look, night: NightsAfter, found: StudyNights, width: int, *, roomy: bool
    ) -> list[SpanRow]:
        """A picture a scenario, in the order of the columns, on one clock."""
        label = look.columns.label
        like: dict[str, tuple[NightsAfter, Nights]] = {}
        for id_ in look.shown:
            some = found.scenarios.get(id_)
            nights = None if some is None else some.nights
            other = night if id_ == look.chosen else self._like(nights, night)
            if other is not None and nights is not None:
                like[id_] = other, nights
        clock = one_clock(night, [other for other, _ in like.values()], width - label - 1)
        rows = [row(left_in("", label), Span(clock.hours(), "dim"))]
        if roomy or clock.of_days:
            rows.insert(0, row(left_in("", label), Span(clock.days(), "faint")))
        for id_, (other, nights) in like.items():
            spot, chosen = Chooses(id_), id_ == look.chosen
            tones: tuple[Tone, Tone] = ("scenario", "lead") if chosen else ("bold", "plain")
            name, usual = look.title_of(id_), label - EDGE - 1
            rows += _found_rows(name, usual, night_found(other), width, tones, spot)
            for group in other.groups:
                bar = night_bar(clock, night, other, nights, group)
                machines = left_in(f"   {group_label(group)}", label, "dim", spot)
                rows.append(row(machines, *(Span(text, TONES[shade], spot) for shade, text in bar)))
        other_hours = len({(other.start % DAY, other.length) for other, _ in like.values()}) > 1
        return [*rows, *_legend(width, people=other_hours)]

    def _like(self, nights: Nights | None, night: NightsAfter) -> NightsAfter | None:
        return like_it(nights, night, by_weekday=self._weekday is not None)

    def _table(
        self, look: Look, night: NightsAfter, found: StudyNights, *, in_full: bool
    ) -> list[SpanRow]:
        tones: list[Tone] = ["scenario" if id_ == look.chosen else "bold" for id_ in look.shown]
        shown = [found.scenarios.get(id_) for id_ in look.shown]
        others = [None if some is None else some.nights for some in shown]
        by_weekday = self._weekday is not None
        told = side_by_side(night, others, by_weekday=by_weekday, in_full=in_full)
        names, room = [look.title_of(id_) for id_ in look.shown], look.columns.figures
        titles = in_two_lines(names, ((room, room),) * len(names))
        # A title of one line stands right above its figures.
        lines = [[a if b else "" for a, b in titles], [b or a for a, b in titles]]
        some_lines = [line for line in lines if any(line)]
        # Below the pictures nothing else says that there are more, which have none either.
        labels = [f" {look.columns.beyond}", *[""] * len(some_lines[1:])]
        heads = [
            across(look, label, zip(line, _where_said(line, tones), strict=True), "dim")
            for label, line in zip(labels, some_lines, strict=True)
        ]
        return [
            *heads,
            *(
                across(look, f" {each.label}", ((of, "plain") for of in each.cells))
                for each in told
            ),
        ]

    def _caution(self, here: ScenarioNights, width: int) -> list[SpanRow]:
        """In one line; the page in words has the whole of it."""
        if not here.cautions:
            return []
        names = ", ".join(NAMES[caution.of] for caution in here.cautions)
        texts = [
            f"! Caution: {names}.{more}"
            for more in (
                f" w names the documents. {WHO_DECIDES}",
                f" {WHO_DECIDES}",
                " w reads more.",
            )
        ]
        room = width - EDGE
        said = next((text for text in texts if cell_len(text) <= room), cut(texts[-1], room))
        return [row(" " * EDGE, Span(said, "caution", Presses("w")))]

    def _pallets(self, look: Look, width: int) -> list[SpanRow]:
        head = row(
            Span(" Fewest pallets that last till the next shift", "title", Presses("f")),
        )
        how = paragraph(HOW_PALLETS_ARE_TRIED, width, "dim")
        if not isinstance(look.result, tuple):
            return [head, *no_answer(look, width), row(""), *how]
        if not look.result:
            return [head, *paragraph(NO_NIGHT_TO_LAST, width)]
        told = paragraph("\n".join(pallets_in_words(look.result)), width, "lead")
        return [head, row(Span(f" {look.title}", "title")), *told, row(""), *how]

    def _words(self, here: ScenarioNights, nights: Nights, width: int) -> list[SpanRow]:
        rows = [
            row(
                Span(f" {here.title}: its nights in words", "title", Presses("w")),
            )
        ]
        for like in nights.alike:
            rows += [*paragraph(night_in_words(like, nights), width), row("")]
        return rows + cautions_told(here.cautions, caution_text, width)


def _where_said(texts: Sequence[str], tones: Sequence[Tone]) -> list[Tone]:
    """Nothing is painted where a title has no line."""
    return [tone if text else "plain" for text, tone in zip(texts, tones, strict=True)]


def _found_rows(
    name: str, label: int, found: Said, width: int, tones: tuple[Tone, Tone], spot: Spot
) -> list[SpanRow]:
    """A scenario's name, and behind it what is found with its reason; below it where that is long.

    Neither is cut: what is found is told in short first. ``label`` are the cells
    of a usual name, ``tones`` those of the name and of what is found.
    """
    taken, (named, tone) = max(label, cell_len(name)), tones
    room = width - EDGE - taken - 1
    texts = (found.text, *found.shorter)
    fitting = next((text for text in texts if cell_len(text) <= room), None)
    if fitting is not None:
        head = left_in(name, taken, named, spot)
        return [row(" " * EDGE, head, " ", Span(fitting, tone, spot))]
    below = " " * (EDGE + 2)
    return [
        *(row(" " * EDGE, Span(line, named, spot)) for line in wrap(name, width - EDGE)),
        *(row(below, Span(line, tone, spot)) for line in wrap(texts[-1], width - len(below))),
    ]


def _legend(width: int, *, people: bool) -> list[SpanRow]:
    """What the shades of the bars say, in as many rows as it takes."""
    rows: list[SpanRow] = []
    room = 0
    for shade in Shade:
        if shade is Shade.PEOPLE and not people:
            continue
        sign = SIGNS[shade].strip()
        words = f" {shade.value}  " if sign else f"{shade.value}  "
        takes = cell_len(sign + words.rstrip())
        if takes > room:
            rows.append((Span(" " * EDGE),))
            room = width - EDGE
        rows[-1] = (*rows[-1], Span(sign, TONES[shade]), Span(words, "dim"))
        room -= takes + 2
    return rows
