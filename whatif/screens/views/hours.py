"""Where the hours go: each scenario's machine hours as one bar, and state by state."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Final, TypeAlias

from rich.cells import cell_len
from textual.geometry import clamp
from typing_extensions import override

from whatif.answers.answer import Answer
from whatif.answers.cautions import OF_NIGHTS, Danger
from whatif.answers.families import StateFamily
from whatif.answers.indicators import KEYS, Indicator, indicators
from whatif.answers.shares import Scope, Share, Stretch, lengths, seen, shares, stacked
from whatif.answers.states import IN_CYCLE, NIGHT, RESTING, UNSOLD, StateRow
from whatif.screens.views.view import Look, View, ViewHost, ViewKey, caution_rows, no_answer
from whatif.screens.widgets.drawing import (
    EDGE,
    SENSES,
    Chooses,
    Presses,
    Span,
    SpanRow,
    Tone,
    cut,
    left_in,
    paragraph,
    right_in,
    row,
)
from whatif.telling.amounts import NOTHING, rounded
from whatif.telling.blocks import BLOCKS, segment
from whatif.telling.said import NOTHING_SAID, Said
from whatif.telling.shares import (
    BAND_LEGENDS,
    BAND_WORDS,
    DUTIES_TITLE,
    SHARE_TITLES,
    WEEK_TITLE,
    duties_said,
    has_hours,
    share_said,
    shares_total,
    shift_said,
    total_title,
    week_said,
)
from whatif.telling.table import (
    SIGNS_IN_WORDS,
    STATES_IN_WORDS,
    indicator_texts,
    indicator_words,
)

_SCOPES = {
    Scope.ATTENDED: "hours with somebody on duty",
    Scope.WEEK: "the whole week, 168 h per machine",
    Scope.AFTER_HOURS: "hours after the last shift",
}
"""In the order that ``h`` goes through them: what is paid for first."""

_AS_KEYS = {Scope.ATTENDED: "attended", Scope.WEEK: "whole week", Scope.AFTER_HOURS: "after hours"}
"""What ``h`` goes on to, in the line of keys."""

_NO_FIGURES = (
    "No scenario on the screen has figures yet: each needs a machine, a shift and a part that is "
    "wanted. Esc goes back to the sheet, where n adds them."
)

_HOURS, _PERCENT, _MORE, _POINTS = 5, 4, 6, 7
"""Cells of hours at least, of a share, and of differences in hours and points, with their gaps."""

_HEAD_ROWS = 2
"""Rows above the first state, and above the first indicator."""

_ROOMY = 18
"""Cells of figures from which those within a column stand further apart."""

_ON: Final[Mapping[StateFamily, Tone]] = {
    "cutting": "on-cutting",
    "serving": "on-serving",
    "waiting": "waiting",
}
"""How words stand on blocks, on dense ones turned round: so that they are no hole in the bar."""

_UNDER = "─"
"""What stands above a sum."""


class HoursView(View):
    """Bars, then a table: a row a state, a column a scenario."""

    name = "hours"
    in_columns = True
    reads = """\
Hours a week of all machines by what these do in them, their percent of all, and how much more or
less than in the reference. "Rounded" stands where figures as they read miss their sum by a little.
Look for the largest row that is not "in cycle": it is what holds the
machines up. Below the sum stand the hours of the whole week, where it is of a part of them, and the
hours for which the people of each shift are busy, with their percent of those on duty. "Of this
other duties" is the share of people's time that other things take: every hour of their work holds
it, and so do loading, changing the work holding and prove-outs. The bars have the same hours, a bar
a scenario on one scale, rows of one sort together: what a bar is made of stands above the bars,
and in them where there is room."""
    keys = """\
up down   choose a row; F4 accounts for it"""

    reads_of_indicators = """\
A row an indicator, in percent, and behind it by how many points it is above (+) or below (-) the
reference's, 0.0 where both read alike. "Left after losses" is uptime, speed and quality multiplied.
Up and down choose a row: below all of them stands its formula with its signs, and then in words
with the hours or pieces of the chosen scenario, and at the end what each sign and time is.
They are shares, no amounts: with more machines one may fall while more is made, so none is better
or worse by itself; the gain tells that."""

    def __init__(self) -> None:
        self._scope = Scope.ATTENDED
        self._of_indicators = False
        self._chosen = {False: "", True: KEYS[0]}
        """The state, and the indicator."""

    def _choices(self, look: Look) -> Sequence[str]:
        """What up and down choose among: indicators, or the states with a row."""
        if self._of_indicators:
            return KEYS
        return [state.name for state in _states(self._shares(look))]

    def _place(self, choices: Sequence[str]) -> int:
        """Where the chosen one stands; the first where it is not among them."""
        chosen = self._chosen[self._of_indicators]
        return choices.index(chosen) if chosen in choices else 0

    @property
    def _next_scope(self) -> Scope:
        scopes = list(_SCOPES)
        return scopes[(scopes.index(self._scope) + 1) % len(scopes)]

    @override
    def how_read(self, drawn: str) -> str:
        """How hours are read, or the indicators in their place."""
        return self.reads_of_indicators if self._of_indicators else self.reads

    @override
    def own_keys(self, look: Look) -> tuple[ViewKey, ...]:
        """Which hours, and the indicators."""
        if self._of_indicators:
            return (ViewKey("k", "k", "hours", "back to the hours"),)
        which = "hours with somebody on duty, the whole week, hours after the last shift"
        return (
            ViewKey("h", "h", _AS_KEYS[self._next_scope], which),
            ViewKey("k", "k", "indicators", "the key indicators of ISO 22400-2"),
        )

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """``h`` goes on to the next hours to look at, ``k`` to indicators and back."""
        if key == "k":
            self._of_indicators = not self._of_indicators
        elif key == "h":
            self._of_indicators = False
            self._scope = self._next_scope
        elif key in ("up", "down") and (choices := self._choices(look)):
            place = self._place(choices) + (1 if key == "down" else -1)
            self._chosen[self._of_indicators] = choices[clamp(place, 0, len(choices) - 1)]
        else:
            return False
        return True

    @override
    def touch(self, spot: str, look: Look, host: ViewHost) -> None:
        """Choose a row."""
        self._chosen[self._of_indicators] = spot

    @override
    def figure(self, look: Look) -> str:
        """The hours of the chosen state, or the chosen indicator."""
        choices = self._choices(look)
        chosen = choices[self._place(choices)] if choices else IN_CYCLE
        if self._of_indicators:
            return f"indicators_percent.{chosen}"
        account = {NIGHT.name: RESTING[-1], UNSOLD.name: IN_CYCLE}.get(chosen, chosen)
        return f"hours_by_state.{account}"

    @override
    def cursor(self, look: Look) -> int | None:
        """The chosen row, so that it stays in sight where the rows scroll."""
        columns = self._shares(look)
        if self._of_indicators or not columns:
            return None
        return _HEAD_ROWS + self._place(self._choices(look))

    @override
    def heads(self, look: Look) -> int:
        """Which hours, and what each column of a scenario tells."""
        return 1 if self._of_indicators else _HEAD_ROWS if self._shares(look) else 0

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """A bar a scenario, then the table; or the indicators."""
        if self._of_indicators:
            return self._indicators(look, width)
        columns = self._shares(look)
        if not columns:
            return _no_figures(look, width)
        states = _states(columns)
        at = self._place(self._choices(look))
        rows = [
            row(Span(f" {self._heading(columns, look)}", "title", Presses("h"))),
            self._heads(look, columns),
            *(self._state(look, state, columns, i == at) for i, state in enumerate(states)),
            *self._total(look, columns),
            *self._people(look),
            *self._bars(look, columns, width),
        ]
        dangers = (*OF_NIGHTS, Danger.LONE_WORK, Danger.LOCKING_OUT)
        return rows + caution_rows(look, dangers, width)

    def _heading(self, columns: _Shares, look: Look) -> str:
        """Which hours are told, and what those in the column "more" are over."""
        of = f"Machine hours a week: {_SCOPES[self._scope]}"
        return f"{of}; more: over reference" if columns.keys() - {look.reference} else of

    # -- hours, state by state -----------------------------------------------------------

    def _shares(self, look: Look) -> _Shares:
        """Of each scenario that has a column and figures."""
        base = None if look.base is None else look.base.figures
        return {
            id_: shares(answer.figures, None if id_ == look.reference else base, self._scope)
            for id_ in look.shown
            if (answer := look.answers.get(id_)) is not None and answer.figures is not None
        }

    def _bars(self, look: Look, columns: _Shares, width: int) -> list[SpanRow]:
        """What bars are made of, and a bar a scenario, each as long as its hours.

        A longer day is a longer bar.
        """
        cells = lengths(columns, width - look.columns.label - 1)
        bars = {id_: stacked(found, cells[id_]) for id_, found in columns.items()}
        rows = [self._bar(look, id_, stretches) for id_, stretches in bars.items()]
        return [*_legend(bars.values(), width), *rows]

    def _bar(self, look: Look, id_: str, stretches: Sequence[Stretch]) -> SpanRow:
        label, spot = look.columns.label, Chooses(id_)
        bar: list[Span] = []
        for stretch in stretches:
            percent = f"{rounded(stretch.percent, 0)} %"
            words = (BAND_LEGENDS[stretch.band], BAND_WORDS[stretch.band])
            said = (*(f"{each} {percent}" for each in words), percent)
            before, text, after = segment(BLOCKS[stretch.band], stretch.cells, *said)
            on_it: Tone = stretch.family if stretch.family == "resting" else _ON[stretch.family]
            bar += [Span(before, stretch.family, spot), Span(text, on_it, spot)]
            bar.append(Span(after, stretch.family, spot))
        title = cut(look.title_of(id_), label - EDGE - 1)
        own: Tone = "scenario" if id_ == look.chosen else "plain"
        return row(" " * EDGE, Span(title, own, spot), " ", *bar)

    def _heads(self, look: Look, columns: _Shares) -> SpanRow:
        """What each of a column's figures is."""
        hours, percent, more = SHARE_TITLES
        cells: list[Span] = []
        for id_ in look.shown:
            has_more = id_ in columns and id_ != look.reference
            cells += _in_column(look, (hours, percent, more if has_more else ""), "dim", id_)
        return (left_in("", look.columns.label), *cells)

    def _state(self, look: Look, state: StateRow, columns: _Shares, chosen: bool) -> SpanRow:
        cells: list[Span] = []
        for id_ in look.shown:
            share = next((share for share in columns.get(id_, ()) if share.state is state), None)
            told = None
            if share is not None:
                told = share_said(share)
            cells += _cells(look, told, id_)
        # Beside a row of what is cut for nobody it is not all that is cut.
        is_part = state.name == IN_CYCLE and any(
            share.state is UNSOLD for id_ in look.shown for share in columns.get(id_, ())
        )
        words = f"{state.in_bar}, sold" if is_part else state.in_bar
        return (*_labelled(look, words, chosen=chosen, spot=state.name), *cells)

    def _total(self, look: Look, columns: _Shares) -> list[SpanRow]:
        """The sum that closes, below a stroke."""
        cells: list[Span] = []
        strokes: list[Span] = []
        for id_ in look.shown:
            cells += _cells(look, shares_total(columns.get(id_)), id_)
            stroke = _UNDER * look.columns.figures
            strokes += _on_grid(look, Span(stroke, "faint", Chooses(id_)))
        label = look.columns.label
        title = total_title([columns[id_] for id_ in look.shown if id_ in columns])
        rows = [
            (left_in("", label), *strokes),
            (left_in(f" {title}", label, "bold"), *cells),
        ]
        if self._scope is not Scope.WEEK:
            rows.append(_below(look, WEEK_TITLE, week_said))
        return rows

    def _people(self, look: Look) -> list[SpanRow]:
        """A row a shift: the hours for which its people are busy, and how full they so are."""
        told = {id_: shift_said(answer) for id_, answer in look.answers.items()}
        shifts = dict.fromkeys(shift for id_ in look.shown for shift in told.get(id_, ()))
        shown = [look.answers[id_] for id_ in look.shown if id_ in look.answers]
        return [
            (
                left_in(f" people busy: {shift}", look.columns.label, "dim"),
                *(
                    span
                    for id_ in look.shown
                    for span in _cells(look, told.get(id_, {}).get(shift), id_)
                ),
            )
            for shift in shifts
        ] + ([_below(look, DUTIES_TITLE, duties_said)] if any(map(duties_said, shown)) else [])

    # -- indicators ----------------------------------------------------------------------

    def _indicators(self, look: Look, width: int) -> list[SpanRow]:
        """A row an indicator, a column a scenario; the chosen scenario's own numbers below."""
        columns = {
            id_: indicators(answer.plan, answer.figures)
            for id_, answer in look.answers.items()
            if answer.figures is not None
        }
        if not columns:
            return _no_figures(look, width)
        key, own = self._chosen[True], columns.get(look.chosen or "")
        against = look.title_of(look.reference or "")
        title = left_in(f" Indicators, % (points against {against})", width, "title")
        if own is None:
            about = paragraph(f"{look.title} has no figures.", width - 1, "dim")
        else:
            formula = f"{look.title}: {own[key].name} = {own[key].formula}"
            about = paragraph(formula, width - 1, "title")
            about += paragraph(indicator_words(own[key]), width - 1)
        return [
            row(title),
            *(self._indicator(look, each, columns) for each in KEYS),
            *about,
            *paragraph(SIGNS_IN_WORDS, width - 1, "dim"),
            *paragraph(STATES_IN_WORDS, width - 1, "dim"),
        ]

    def _indicator(
        self, look: Look, key: str, columns: Mapping[str, Mapping[str, Indicator]]
    ) -> SpanRow:
        base = columns.get(look.reference or "")
        cells: list[Span] = []
        for id_ in look.shown:
            room, spot = look.columns.figures, Chooses(id_)
            if id_ not in columns:
                cells += _on_grid(look, right_in(NOTHING, room, "dim", spot))
                continue
            against = None if base is None or id_ == look.reference else base[key]
            percent, points = indicator_texts(columns[id_][key], against)
            cells += _on_grid(
                look,
                right_in(percent, room - _POINTS, "plain", spot),
                right_in(points, _POINTS, "plain", spot),
            )
        name = next(iter(columns.values()))[key].name
        chosen = key == self._chosen[True]
        return (*_labelled(look, name, chosen=chosen, spot=key), *cells)


_Shares = Mapping[str, tuple[Share, ...]]


def _states(columns: _Shares) -> list[StateRow]:
    """The states with a row: those that some column tells hours of."""
    return seen([tuple(share for share in of if has_hours(share)) for of in columns.values()])


def _legend(bars: Iterable[Sequence[Stretch]], width: int) -> list[SpanRow]:
    """What the parts are that can be seen in bars, in as many rows as it takes."""
    rows: list[SpanRow] = []
    room = 0
    families = {stretch.band: stretch.family for stretches in bars for stretch in stretches}
    for band in filter(families.__contains__, BAND_LEGENDS):
        takes = 2 + cell_len(BAND_LEGENDS[band])
        if takes > room:
            rows.append((Span(" " * EDGE),))
            room = width - EDGE
        said = f" {BAND_LEGENDS[band]}  "
        rows[-1] = (*rows[-1], Span(BLOCKS[band], families[band]), Span(said, "dim"))
        room -= takes + 2
    return rows


def _labelled(look: Look, text: str, *, chosen: bool, spot: str) -> tuple[Span, Span, Span]:
    """The edge, a row's label, and what is left of the room for labels."""
    room = look.columns.label - EDGE
    label = text if cell_len(text) <= room else cut(text, room)
    tone: Tone = "chosen" if chosen else "plain"
    rest = " " * (room - cell_len(label))
    return Span(" " * EDGE), Span(label, tone, spot), Span(rest, "plain", spot)


def _in_column(look: Look, texts: tuple[str, str, str], tone: Tone, id_: str) -> list[Span]:
    """Three texts in a scenario's column, each at the right of its own."""
    more = _MORE if look.columns.figures < _ROOMY else _MORE + 2
    room = look.columns.figures - more
    percent = _PERCENT if room >= _HOURS + _PERCENT else _PERCENT - 1
    return _on_grid(
        look,
        *(
            right_in(text, cells, tone, Chooses(id_))
            for text, cells in zip(texts, (room - percent, percent, more), strict=True)
        ),
    )


def _on_grid(look: Look, *figures: Span) -> list[Span]:
    """Figures with the free cells around them that those of the strip and the sheet have."""
    behind = look.columns.width - 1 - look.columns.figures
    return [Span(" "), *figures, Span(" " * behind)]


_Told: TypeAlias = tuple[Said, Said, Said]


def _cells(look: Look, told: _Told | None, id_: str) -> list[Span]:
    """Hours, their percent, and how many more they are, in a scenario's column."""
    said = (NOTHING_SAID, Said(""), Said("")) if told is None else told
    before, *texts, behind = _in_column(
        look, (said[0].text, said[1].text, said[2].text), "plain", id_
    )
    toned = [replace(span, tone=SENSES[each.sense]) for span, each in zip(texts, said, strict=True)]
    return [before, *toned, behind]


def _below(look: Look, label: str, tell: Callable[[Answer], _Told | None]) -> SpanRow:
    """A row below the sum, of what is told of each scenario."""
    answers = look.answers
    cells = (
        _cells(look, tell(answers[id_]) if id_ in answers else None, id_) for id_ in look.shown
    )
    spans = (span for each in cells for span in each)
    return (left_in(f" {label}", look.columns.label, "dim"), *spans)


def _no_figures(look: Look, width: int) -> list[SpanRow]:
    """What stands where there is nothing to compare."""
    if look.answers:
        return paragraph(_NO_FIGURES, width, "dim")
    return no_answer(look, width)
