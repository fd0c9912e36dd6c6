"""The answer over the values of one input: bars, marks, and the value under the cursor."""

from __future__ import annotations

from typing import TYPE_CHECKING

from typing_extensions import override

from whatif.answers.moves.held import taking
from whatif.answers.moves.ranges import TriedValues, first_offered, offered
from whatif.screens.views.moves.input import InputChoice
from whatif.screens.views.view import Look, View, ViewHost, no_answer
from whatif.screens.widgets.drawing import (
    Span,
    SpanRow,
    key_spans,
    left_in,
    paragraph,
    right_in,
    row,
)
from whatif.session.calculate.questions import CurveFound, CurveOf
from whatif.telling.curve_plot import Layout, Measure, bars, layout, measures, ticks, under
from whatif.telling.moves import (
    axis_text,
    curve_in,
    curve_in_full,
    curve_lead,
    curve_sentences,
    level_in,
    marks,
    place_now,
    point_words,
)
from whatif.telling.problems import what_is_wrong

if TYPE_CHECKING:
    from whatif.answers.moves.vary import Curve
    from whatif.study.raw import Path

_GUTTER = 14
_STEPS = {"left": -1, "right": 1, "home": -10_000, "end": 10_000, "pageup": -5, "pagedown": 5}
_MORE_BARS = 8
"""Rows that the bars get before sentences are told in full."""
_FEWER_BARS = 5
"""Rows fewer than that with which they do where there is little room."""
_SHORT = {"now": "n", "stops": "s", "met": "m"}


class CurvePage(View):
    """Sentences, a bar a value with its figure, the values, marks, and one value in words."""

    def __init__(self) -> None:
        self.choice = InputChoice()
        self._measure = 0
        self._at: int | None = None
        self._began: Look | None = None
        """What was looked at when the view was opened."""

    def begin(self, look: Look) -> None:
        """Begin with the input of the row under the cursor now, wherever that goes."""
        self._began = look

    def show(self, path: Path) -> None:
        """Another input."""
        self.choice.take(path)
        self._anew()

    def _anew(self) -> None:
        """Begin with the first figure, at the value now."""
        self._measure, self._at = 0, None

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

    @override
    def question(self, look: Look) -> CurveOf | None:
        """The chosen scenario over the values."""
        self.prepare(look)
        span = self.choice.span(look)
        if look.chosen is None or not isinstance(span, TriedValues):
            return None
        return CurveOf(look.chosen, span.input.path, span.values)

    # -- keys and clicks ---------------------------------------------------------------------

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Move along the values, turn to another figure, choose input or range, take a value."""
        found = self._found(look)
        if key in _STEPS:
            if found is not None:
                at = self._place(found.curve) + _STEPS[key]
                self._at = max(0, min(at, len(found.curve.points) - 1))
        elif key in "vV" and len(key) == 1:
            self._measure += 1 if key == "v" else -1
        elif key == "f":
            self.choice.ask_range(look, host)
            self._at = None
        elif key == "o":
            self.choice.ask_input("The answer over which input?", look, host, self._anew)
        elif key == "y":
            self._take(look, host)
        else:
            return False
        return True

    @override
    def touch(self, spot: str, look: Look, host: ViewHost) -> None:
        """A click on a value goes there."""
        self._at = int(spot)

    def _take(self, look: Look, host: ViewHost) -> None:
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
            name = f"{varied.label} {point.value.text} in {look.title}"
            host.do(taking(look.draft, look.chosen, changes, name))

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
            return [head, *no_answer(look, width)]
        found = CurveFound(curve_in(found.curve, look.units), level_in(found.level, look.units))
        curve = found.curve
        offers = measures(curve)
        at = self._place(curve)
        if not offers:
            return [row for text in curve_sentences(curve) for row in paragraph(text, width)]
        measure = offers[self._measure % len(offers)]
        foot = paragraph(f"> {point_words(curve, curve.points[at])}", width)
        rows = [self._title(curve, measure, len(offers), width)]
        rows += self._sentences(look, found, width, height - len(foot) - 4 - _MORE_BARS)
        room = max(3, height - len(rows) - len(foot) - 2)
        return [*rows, *self._picture(curve, measure, at, width, min(room, 24)), *foot]

    def _title(self, curve: Curve, measure: Measure, many: int, width: int) -> SpanRow:
        over = f" {curve.varied.label}: {measure.title}"
        other = ["  v figure"] if many > 1 else []
        keys = key_spans(*other, "  o input", "  f range", "  y take it")
        room = width - sum(len(span.text) for span in keys)
        return (left_in(over, room, "title"), *keys)

    def _sentences(self, look: Look, found: CurveFound, width: int, room: int) -> list[SpanRow]:
        """In full where there is room, else in short."""
        more = f" Looking for the break-even. {look.waiting}" if look.result is None else ""
        full = curve_in_full(found.curve, found.level) + more
        rows = paragraph(full, width, "accent")
        if len(rows) <= room:
            return rows
        # The bars need a few rows: what leads has come first.
        sentences = (curve_lead(found.curve, found.level) + more).split(". ")
        while True:
            rows = paragraph(". ".join(sentences), width, "accent")
            if len(rows) <= room + _FEWER_BARS or len(sentences) == 1:
                return rows
            sentences.pop()
            sentences[-1] += "." if not sentences[-1].endswith(".") else ""

    def _picture(
        self, curve: Curve, measure: Measure, at: int, width: int, height: int
    ) -> list[SpanRow]:
        points = curve.points
        texts = [measure.text(point.outcome) for point in points]
        names = [axis_text(curve, point.value) for point in points]
        widest = max(len(text) for text in (*texts, *(f"[{name}]" for name in names)))
        laid = layout(len(points), widest, width - _GUTTER - 1, at)
        shown = [points[place] for place in laid.places]
        drawn = bars(
            [measure.of(point.outcome) for point in shown],
            [texts[place] for place in laid.places],
            laid.column,
            height,
        )
        rows = [
            row(
                right_in(f"{line.label} ", _GUTTER, "dim"),
                *(
                    Span(cell, "accent" if place == at else "plain", f"{place}")
                    for place, cell in zip(laid.places, line.cells, strict=True)
                ),
            )
            for line in drawn
        ]
        unit = next((point.value.unit for point in points if point.value.unit), "")
        gutter = unit or "value"
        return [*rows, _values(names, laid, at, gutter), _marks(curve, laid)]


def _values(names: list[str], laid: Layout, at: int, gutter: str) -> SpanRow:
    before, here, after = ticks(names, laid, at)
    label = right_in(f"{gutter} ", _GUTTER, "dim")
    return row(label, before, Span(here, "chosen"), after)


def _marks(curve: Curve, laid: Layout) -> SpanRow:
    """Words below the values that are marked, or their first letters."""
    said = [marks(curve, place) for place in laid.places]
    line = under(["+".join(each) for each in said], laid)
    if line is not None:
        return row(right_in("", _GUTTER), Span(line, "accent"))
    letters = under(["".join(_SHORT[mark] for mark in each) for each in said], laid) or ""
    return row(right_in("now stops met ", _GUTTER, "dim"), Span(letters, "accent"))
