"""The rule between the strip and the sheet: what stands below it, what to beware of, the signs."""

from __future__ import annotations

from rich.cells import cell_len

from whatif.records import dataclass
from whatif.screens.widgets.drawing import Drawn, Span, Tone

_STROKE = "─"


@dataclass(frozen=True, slots=True)
class RuleState:
    """What the rule says.

    Attributes:
        title: of what stands below it.
        beware: how much there is to beware of, "" where there is nothing.
        in_short: the same where there is little room.
        legend: what signs below it mean: what stands before it gives way.
    """

    title: str
    beware: str
    legend: str
    in_short: str = ""


class TitledRule(Drawn):
    """A line with its title at the left and a legend at the right."""

    def __init__(self) -> None:
        super().__init__(id="rule")
        self._state = RuleState("", "", "")
        self._of: tuple[RuleState, int] | None = None
        """What it was drawn from last."""

    def show(self, state: RuleState) -> None:
        """Draw a state in the width there is."""
        of = state, self.size.width
        if self._of == of:
            return
        self._state, self._of = state, of
        legend = f" {state.legend} "
        before = (
            (state.title, state.beware),
            (state.title, state.in_short),
            ("", state.in_short),
            (state.title, state.beware),
        )
        for title, beware in before:
            spans = _before(title, beware)
            room = self.size.width - sum(cell_len(span.text) for span in spans)
            if room >= cell_len(legend):
                break
        # Where it is tight it ends the line.
        ends = (end for end in (_STROKE * 2, "") if cell_len(legend + end * 2) <= room)
        end = next(ends, None)
        if end is None:
            spans.append(Span(_STROKE * max(0, room), "faint"))
        else:
            strokes = _STROKE * (room - cell_len(legend + end))
            spans += [Span(strokes, "faint"), Span(legend, "dim"), Span(end, "faint")]
        self.draw([tuple(spans)])

    def on_resize(self) -> None:
        """Draw it in its new width."""
        self.show(self._state)


def _before(title: str, beware: str) -> list[Span]:
    """What stands before the legend."""
    said: tuple[tuple[str, Tone], ...] = ((title, "title"), (beware, "caution"))
    return [
        span
        for text, tone in said
        if text
        for span in (Span(_STROKE * 2, "faint"), Span(f" {text} ", tone))
    ]
