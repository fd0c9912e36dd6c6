"""Hour meters: measured against simulated, and the gap read as people or as machines."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from typing_extensions import override

from whatif.answers.gains import is_difference
from whatif.answers.meters.metered import Metered
from whatif.screens.views.drawing import Span, SpanRow, Tone, left_in, paragraph, right_in, row
from whatif.screens.views.view import Look, View, ViewHost, column_titles, not_yet
from whatif.session.calculate.questions import MetersOfStudy
from whatif.session.calculate.requests import Question
from whatif.telling.table import gain_text

_ASSUMED = {
    "people": "{} a visit that nobody entered are now assumed to be the people's",
    "machine": "{} a load that nobody entered are now assumed to be the machine's",
}
_READ = {
    "people": "people are away: every visit takes {} longer",
    "machine": "the machine is tied up: every load holds its spindle {} longer",
}


class MetersView(View):
    """What the meters say, how the gap may be read, and the gains under each reading."""

    name: ClassVar[str] = "meters"
    title: ClassVar[str] = "Hour meters"
    asks: ClassVar[str] = "the model against the machines' own meters"
    reads: ClassVar[str] = """\
What the machines' own meters say, beside what the model finds for the same scenario. Where the
model finds more, something that costs time has not been entered: it may lie with people, or with
the machines. The rows say what the gains would be under either, so that one sees whether it
matters."""
    keys: ClassVar[str] = """\
b    edit the hours switched on
g    edit the hours in cut
v    edit how the gap is read: shown, laid to people, or to machines"""

    _edits: ClassVar[dict[str, str]] = {"b": "switched_on", "g": "in_cut", "v": "gap"}

    @override
    def question(self, look: Look) -> Question | None:
        """Both readings of every scenario that has meters."""
        return MetersOfStudy()

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Edit what the chosen scenario's meters say."""
        if key not in self._edits:
            return False
        host.edit_value(("hour_meters", self._edits[key]))
        return True

    @override
    def touch(self, spot: str, look: Look, host: ViewHost) -> bool:
        """A click on an edit's word, or on a scenario's gains."""
        if spot in self._edits:
            return self.press(spot, look, host)
        host.choose(spot)
        return True

    @override
    def figure(self, look: Look) -> str:
        """The meters' own account."""
        return "hour_meters"

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """A block for each scenario with meters."""
        head = row(
            Span(" Hour meters against the model   ", "title"),
            Span("b switched on  ", "dim", "b"),
            Span("g in cut  ", "dim", "g"),
            Span("v the gap is read as", "dim", "v"),
        )
        if not isinstance(look.result, tuple):
            return [head, *(not_yet(look, width) or [])]
        if not look.result:
            return [
                head,
                *paragraph(
                    "No scenario has hour-meter readings yet. Read switched-on hours and hours in "
                    "cut at every machine, at the begin and at the end of a period of some weeks; "
                    "add up the differences of all machines; b and g enter them here.",
                    width, "dim", indent=1,
                ),
            ]  # fmt: skip
        blocks = [line for metered in look.result for line in self._block(look, metered, width)]
        return [head, *blocks]

    def _block(self, look: Look, metered: Metered, width: int) -> list[SpanRow]:
        modelled = "-" if metered.modelled is None else f"{metered.modelled:.1f} %"
        rows = [
            row(Span(f" {look.title_of(metered.scenario)}", "title")),
            row(f"   in cut, of the hours switched on:  measured {metered.measured:.1f} %, "
                f"the model finds {modelled}"),
            *paragraph(self._gap(metered), width, "accent", indent=3),
        ]  # fmt: skip
        if metered.gap is None or metered.gap <= 0:
            return rows
        rows.append(row(left_in("   saleable output if", look.columns.label, "dim"),
                        *column_titles(look)))  # fmt: skip
        rows.append(self._gains(look, "   the gap left open", metered.left_open))
        rows += [self._gains(look, f"   read as {read.kind}", read.gains) for read in metered.reads]
        return [*rows, row("")]

    def _gap(self, metered: Metered) -> str:
        if metered.gap is None:
            return "There is nothing to hold them against: the scenario has no parts."
        if metered.gap <= 0:
            return (
                "The model finds no more than the meters: there is no gap to explain. If it finds "
                "much less, a time that was entered is too long, or hours are missing."
            )
        begins = f"The gap of {metered.gap:.1f} points is explained by nothing entered."
        if metered.assumed:
            assumed = _ASSUMED[metered.laid_to].format(f"{metered.assumed} s")
            return f"{begins} {assumed}: they are what to go and measure, with a stop-watch."
        ways = "; or ".join(
            _READ[read.kind].format(f"{read.seconds} s")
            for read in metered.reads
            if read.seconds is not None
        )
        may_be = f" It may be that {ways}." if ways else ""
        lays = {
            "show": "shows it and lays it to neither",
            "people": "lays it to people",
            "machine": "lays it to machines",
        }[metered.laid_to]
        return (
            f"{begins}{may_be} The study {lays}. Watch a shift with a stop-watch to find out which."
        )

    def _gains(self, look: Look, label: str, gains: Mapping[str, float | None]) -> SpanRow:
        cells = []
        for i in look.columns.visible:
            id_ = look.ids[i]
            answer = look.answers.get(id_)
            grain = None if answer is None or answer.grain is None else answer.grain.saleable
            gain = gains.get(id_)
            tone: Tone = "plain"
            if gain is not None and is_difference(gain, grain):
                tone = "gain" if gain > 0 else "loss"
            text = "reference" if id_ == look.reference else gain_text(gain, grain)
            cells.append(right_in(text, look.columns.width, tone, id_))
        return row(left_in(label, look.columns.label), *cells)
