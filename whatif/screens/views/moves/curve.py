"""The answer over the values of one input: bars, marks, and the value under the cursor."""

from __future__ import annotations

from typing import TYPE_CHECKING

from typing_extensions import override

from whatif.answers.moves.break_even import read_percent
from whatif.answers.moves.held import stands_elsewhere, taking, taking_alone
from whatif.answers.moves.inputs import Unanswerable
from whatif.answers.moves.ranges import TriedValues, first_offered, offered
from whatif.screens.views.moves.input import InputChoice
from whatif.screens.views.view import Look, View, ViewHost, ViewKey, no_answer
from whatif.screens.widgets.drawing import (
    Span,
    SpanRow,
    Tone,
    left_in,
    paragraph,
    right_in,
    row,
)
from whatif.screens.widgets.plotted import placed_row, plotted
from whatif.session.calculate.questions import CurveFound, CurveOf
from whatif.telling.moves.break_even import wanted_then_words
from whatif.telling.moves.curve import (
    CurveFinding,
    curve_sentences,
    curve_told,
    instead_words,
    marks,
    place_now,
    point_words,
)
from whatif.telling.moves.curve_plot import (
    BAND,
    BAND_SIGN,
    GAIN,
    LINE,
    MARK,
    WANTED,
    WANTED_SIGN,
    Measure,
    curve_legends,
    curve_plot,
    is_told_of,
    measure_of,
    measures,
)
from whatif.telling.moves.in_units import curve_in, level_in
from whatif.telling.moves.tried import draws_in_short
from whatif.telling.problems import what_is_wrong
from whatif.telling.refusals import refusal_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from whatif.answers.moves.vary import Curve
    from whatif.study.raw import Path

_GUTTER = 11
"""Cells for the amounts beside the axis."""

_TONES: dict[str, Tone] = {
    LINE: "lead", BAND: "faint", MARK: "dim", WANTED: "dim",
}  # fmt: skip
_STEPS = {"left": -1, "right": 1, "home": -10_000, "end": 10_000, "pageup": -5, "pagedown": 5}
_FIGURE = ViewKey("f,F", "f", "figure", "another figure, F the one before")
_CHOOSING = (
    ViewKey("o", "o", "input", "the answer over another input"),
    ViewKey("v", "v", "values", "the values that are tried"),
    ViewKey("w", "w", "wanted", "a gain that is wanted, in percent: from which value on"),
)
_MORE = (
    ViewKey("k", "k", "keep", "keep the value under the cursor in the study"),
    ViewKey("left,right,home,end,pageup,pagedown", "←→", "", "along the values"),
)
_HERE = ViewKey("K", "K", "here alone", "keep it in this scenario alone, whatever it inherits")

_LEAST_PLOT = 6
"""Rows that the plot gets before anything is said below it."""
_MOST_PLOT = 60
"""Rows from which more would tell no more."""


class CurvePage(View):
    """Sentences, a bar a value with its figure, the values, marks, and one value in words."""

    def __init__(self) -> None:
        self.choice = InputChoice()
        self._measure = 0
        """How many figures further than the first one."""
        self._at: int | None = None
        self._wanted = 0.0
        self._began: Look | None = None
        """What was looked at when the view was opened."""
        self._came_from: Path | None = None
        self._is_instead = False
        """Whether another input is drawn than that of the row one came from, which has no curve."""

    def begin(self, look: Look) -> None:
        """Begin with the input of the row under the cursor now, wherever that goes."""
        self._began, self._came_from = look, look.under

    def show(self, path: Path, *, instead_of_row: bool = False) -> None:
        """Another input; ``instead_of_row`` one of the list, as the row come from has no curve."""
        self.choice.take(path)
        self._anew()
        self._is_instead = instead_of_row

    def _anew(self) -> None:
        """Begin with the first figure, at the value now."""
        self._measure, self._at, self._is_instead = 0, None, False

    def prepare(self, look: Look) -> None:
        """Where no input has been chosen yet: that of the row under the cursor, or the pallets."""
        if self.choice.path is None:
            # Which inputs there are is found out when one is asked for.
            began, self._began = self._began or look, None
            if began.chosen is not None:
                first = first_offered(
                    offered(began.draft, began.checked, began.chosen), began.under
                )
                self.choice.path = None if first is None else first.path
                self._is_instead = self.choice.path != began.under

    @override
    def question(self, look: Look) -> CurveOf | None:
        """The chosen scenario over the values."""
        self.prepare(look)
        span = self.choice.span(look)
        if look.chosen is None or not isinstance(span, TriedValues):
            return None
        is_typed = bool(self.choice.typed)
        return CurveOf(look.chosen, span.input.path, span.values, self._wanted, is_typed)

    @override
    def own_keys(self, look: Look) -> tuple[ViewKey, ...]:
        """The cursor along the values, what is drawn, over which values of what, and keeping it."""
        found = self._found(look)
        if found is None:
            return _CHOOSING
        many = len(measures(found.curve)) > 1
        elsewhere = look.chosen is not None and any(
            stands_elsewhere(look.draft, look.chosen, path) for path in found.curve.varied.paths
        )
        here = (_HERE,) if elsewhere else ()
        return (*((_FIGURE,) if many else ()), *_CHOOSING, _MORE[0], *here, *_MORE[1:])

    # -- keys and clicks ---------------------------------------------------------------------

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Move along the values, turn to another figure, choose input or range, take a value."""
        found = self._found(look)
        if key in _STEPS:
            if found is not None:
                at = self._place(found.curve) + _STEPS[key]
                self._at = max(0, min(at, len(found.curve.points) - 1))
        elif key in ("f", "F"):
            self._measure += 1 if key == "f" else -1
        elif key == "v":
            self.choice.ask_range(look, host)
            self._at = None
        elif key == "o":
            self.choice.ask_input("The answer over which input?", look, host, self._anew)
        elif key == "w":
            self._ask_wanted(look, host)
        elif key in ("k", "K"):
            self._take(look, host, alone=key == "K")
        else:
            return False
        return True

    @override
    def touch(self, spot: str, look: Look, host: ViewHost) -> None:
        """A click on a value goes there."""
        self._at = int(spot)

    def _ask_wanted(self, look: Look, host: ViewHost) -> None:
        def take(text: str) -> None:
            try:
                self._wanted = read_percent(text) if text.strip() else 0.0
            except Unanswerable as fault:
                host.tell(refusal_words(fault))
                return
            self._measure = 0

        now = f"{self._wanted:g}" if self._wanted else "25"
        host.ask_line("Which saleable gain is wanted, in percent? Nothing for none:", now, take)

    def _take(self, look: Look, host: ViewHost, *, alone: bool) -> None:
        found = self._found(look)
        if found is None or look.chosen is None:
            return
        at = self._place(found.curve)
        point = found.curve.points[at]
        if "now" in marks(found.curve, at):
            host.tell("That is what holds already.")
        elif point.outcome.problem:
            host.tell(f"{point.value.text} is not allowed. {what_is_wrong(point.outcome.problem)}")
        else:
            varied = found.curve.varied
            changes = varied.entering(point.value.text)
            self._stay(look, found.curve, at)
            name = f"{varied.label} {point.value.text} in {look.title}"
            host.do(
                taking_alone(look.chosen, changes, f"{name} alone")
                if alone
                else taking(look.draft, look.chosen, changes, name)
            )

    def _stay(self, look: Look, curve: Curve, at: int) -> None:
        """Let the values, and the cursor on one of them, stand as they are when it is kept."""
        if curve.varied.all_of:
            # Of all parts a value is a share of what each has: what is kept is the whole again.
            self._at = None
        else:
            self._at = at
            self.choice.hold(look, tuple(point.value.text for point in curve.points))

    def _found(self, look: Look) -> CurveFound | None:
        found = look.result or look.partly
        return found if isinstance(found, CurveFound) else None

    def _place(self, curve: Curve) -> int:
        at = place_now(curve) if self._at is None else self._at
        return max(0, min(at, len(curve.points) - 1))

    # -- drawing -----------------------------------------------------------------------

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """Everything, the bars in what the words leave."""
        span = self.choice.span(look)
        if look.checked.is_sound and not isinstance(span, TriedValues):
            return paragraph(span, width)
        found = self._found(look)
        if found is None:
            varied = self.choice.input(look)
            title = "" if varied is None else f" {varied.label}"
            head = row(left_in(title, width, "title")) if title else row("")
            return [head, *no_answer(look, width), *self._looked_for_then(look, width)]
        found = CurveFound(
            curve_in(found.curve.as_answered(look.answer), look.units),
            level_in(found.level, look.units),
            level_in(found.wanted, look.units),
        )
        curve = found.curve
        offers = measures(curve)
        at = self._place(curve)
        if not offers:
            return [row for text in curve_sentences(curve) for row in paragraph(text, width)]
        measure = self._measure_of(offers)
        foot = paragraph(point_words(curve, at, look.answer), width)
        if self._is_instead:
            foot += paragraph(self._instead_words(curve), width)
        heads = 2 if self._is_long(curve, measure, width) else 1
        level_of = ""
        if found.level is not None and not is_told_of(found.level, measure):
            level_of = measure_of(found.level)
        lead, *rest = curve_told(curve, found.level, found.wanted, level_of)
        rows = paragraph(lead.text, width, "lead")
        if len(rows) > 1:
            rows = paragraph(lead.in_short, width, "lead")
        foot += self._below(look, rest, width, height - len(rows) - len(foot) - heads - 3)
        room = max(3, height - len(rows) - heads - len(foot) - 2)
        picture, band = self._picture(found, measure, at, width, min(room, _MOST_PLOT))
        if heads == 1:
            above = [_title(curve, measure, self._wanted, width, band)]
        else:
            above = paragraph(_over_what(curve, measure).strip(), width, "title")
            above.append(_title(curve, measure, self._wanted, width, band, is_below=True))
        return [*rows, *above, *picture, *foot]

    def _instead_words(self, curve: Curve) -> str:
        return instead_words(self._came_from, curve.varied.label, curve.varied.path)

    def _looked_for_then(self, look: Look, width: int) -> list[SpanRow]:
        """That a gain is wanted, while the curve that it is looked for in is worked out."""
        if not self._wanted or look.fault or look.result is not None:
            return []
        return paragraph(wanted_then_words(self._wanted), width)

    def _measure_of(self, offers: Sequence[Measure]) -> Measure:
        """What is drawn: first the gain, and a stroke across it, where one is wanted."""
        names = [each.name for each in offers]
        first = names.index(GAIN) if self._wanted and GAIN in names else 0
        return offers[(first + self._measure) % len(offers)]

    def _is_long(self, curve: Curve, measure: Measure, width: int) -> bool:
        """Whether what is drawn over what leaves no room for how line and band are read."""
        wanted = self._wanted if measure.name == GAIN else 0.0
        legend = _wanted_text(wanted) + "".join(curve_legends(curve.asked, BAND_SIGN)[-1])
        return len(_over_what(curve, measure)) + 1 + len(legend) > width

    def _below(
        self, look: Look, rest: Sequence[CurveFinding], width: int, room: int
    ) -> list[SpanRow]:
        """What else there is to say, in full where that leaves the plot its rows, else in short."""
        what = "the gain that is wanted" if self._wanted else "the break-even"
        more = [f"Looking for {what}. {look.waiting}"] if look.result is None else []
        rows = paragraph(" ".join([*more, *(each.text for each in rest)]), width)
        said = [*more, *(each.in_short for each in rest)]
        while len(rows) > max(0, room - _LEAST_PLOT):
            rows = paragraph(" ".join(said), width) if said else []
            said = said[:-1]
        return rows

    def _picture(
        self, found: CurveFound, measure: Measure, at: int, width: int, height: int
    ) -> tuple[list[SpanRow], str]:
        """The plot, the values below it, and words for what is marked, in ``height`` rows.

        Beside them the signs that are drawn of the likely range.
        """
        curve, level = found.curve, found.level
        wanted = self._wanted if self._wanted and measure.name == GAIN else None
        marked = 1
        while True:
            room = (width - _GUTTER - 2, height - 1 - marked)
            drawn = curve_plot(curve, level, measure, at, *room, wanted=wanted)
            if len(drawn.marks) <= marked:
                break
            marked = len(drawn.marks)

        def spot(column: int) -> str:
            return "" if column < 0 else f"{drawn.nearest[column]}"

        unit = next((point.value.unit for point in curve.points if point.value.unit), "")
        # The longest, "EUR an hour", has no room for a space more, and needs none.
        unit = unit if len(unit) == _GUTTER else f"{unit} "
        values = placed_row(right_in(unit, _GUTTER, "dim"), drawn.values, _TONES, spot)
        free = left_in("", _GUTTER)
        rows = [
            *plotted(drawn.plot, _GUTTER, _TONES, spot),
            values,
            *(placed_row(free, line, _TONES, spot) for line in drawn.marks),
        ]
        cells = [cell for line in drawn.plot.rows for cell in line]
        band = (cell.sign if cell.ink == BAND else cell.beside for cell in cells)
        return rows, "".join(band)


def _over_what(curve: Curve, measure: Measure) -> str:
    return f" {measure.title}, over {curve.varied.label}"


def _wanted_text(wanted: float) -> str:
    return f"{WANTED_SIGN} +{wanted:g} %  " if wanted else ""


def _title(
    curve: Curve,
    measure: Measure,
    wanted: float,
    width: int,
    drawn_band: str,
    *,
    is_below: bool = False,
) -> SpanRow:
    """What is drawn over what, and how the line and the band are read; that alone ``is_below``."""
    title = "" if is_below else _over_what(curve, measure)
    before: list[Span] = []
    if text := _wanted_text(wanted if measure.name == GAIN else 0.0):
        before.append(Span(text, _TONES[WANTED]))
    left = width - len(title) - 1 - sum(len(span.text) for span in before)
    texts = curve_legends(curve.asked, drawn_band)
    line, band = next((each for each in texts if sum(map(len, each)) <= left), texts[-1])
    legend = [*before, Span(line, _TONES[LINE]), Span(band, _TONES[BAND])]
    room = width - sum(len(span.text) for span in legend)
    left = room - len(title) - 1
    draws = draws_in_short(curve.asked, left) if drawn_band else ""
    if not draws:
        return (left_in(title, room, "title"), *legend)
    # What it goes on from stands in the line above.
    draws = f" {draws.removeprefix('; ')}" if is_below else draws
    return (Span(title, "title"), left_in(draws, left + 1, "dim"), *legend)
