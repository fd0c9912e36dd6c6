"""What the pages of "what matters most" ask for: an input, and the range that it is tried over."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from whatif.answers.moves.inputs import Input, Unanswerable, find_input, place_of_value
from whatif.answers.moves.ranges import TriedValues, offered, span_of, usual_span
from whatif.screens.widgets.drawing import wrap
from whatif.telling.refusals import refusal_words
from whatif.telling.sheet_cell import meaning_words

if TYPE_CHECKING:
    from whatif.screens.views.view import Look, ViewHost
    from whatif.study.raw import Path

RANGE_FORM = "FROM..TO or FROM..TO..STEP"


class InputChoice:
    """An input of the chosen scenario and the range that it is tried over.

    Attributes:
        path: of the input; None until one has been chosen.
        typed: the range as it was typed; "" for the usual one.
    """

    def __init__(self, values_key: str = "v", input_key: str = "o") -> None:
        self.path: Path | None = None
        self.typed = ""
        self._values_key, self._input_key = values_key, input_key
        self._held: tuple[str, str, tuple[str, ...]] | None = None
        """The scenario, the range and the values in which one was kept."""

    def take(self, path: Path) -> None:
        """Choose an input, over its usual range."""
        if path != self.path:
            self.path, self.typed, self._held = path, "", None

    def input(self, look: Look) -> Input | None:
        """The input in the chosen scenario; None where it has none."""
        if self.path is None or look.chosen is None:
            return None
        try:
            return find_input(look.draft, look.chosen, self.path)
        except Unanswerable:
            return None

    def span(self, look: Look) -> TriedValues | str:
        """The values to try, or why there are none, in words."""
        if self.path is None or look.chosen is None:
            return "There is no input here that could be varied; n adds machines and parts."
        try:
            found = find_input(look.draft, look.chosen, self.path)
            span = span_of(found, self.typed) if self.typed else usual_span(found)
        except Unanswerable as fault:
            what_to_do = (
                f"{self._values_key} names others, {self._input_key} chooses another input."
            )
            return f"{refusal_words(fault)} {what_to_do}"
        return self._steady(span, look.chosen)

    def hold(self, look: Look, values: tuple[str, ...]) -> None:
        """One of the values is kept in the study now: they stay as they stand, so that no cursor
        comes to be on another one."""
        if look.chosen is not None:
            self._held = (look.chosen, self.typed, values)

    def _steady(self, span: TriedValues, scenario: str) -> TriedValues:
        """The values held, as long as what holds now is one of them."""
        if self._held is None or self._held[:2] != (scenario, self.typed):
            return span
        values = self._held[2]
        now = span.input.now_value
        has_now = place_of_value([span.input.value(each) for each in values], now) is not None
        return replace(span, values=values) if has_now else span

    def ask_input(
        self,
        asks: str,
        look: Look,
        host: ViewHost,
        taken: Callable[[], None],
        other: Path | None = None,
    ) -> None:
        """Have another input chosen from those offered, ``other`` left out; then call ``taken``."""
        if look.chosen is None:
            return
        inputs = {
            offer.dotted: offer
            for offer in offered(look.draft, look.checked, look.chosen)
            if offer.path != other
        }
        things = {
            key: f"{offer.label}   {offer.told_in(look.units).now_text}"
            for key, offer in inputs.items()
        }

        def take(key: str) -> None:
            self.take(inputs[key].path)
            taken()

        host.ask_which(asks, things, take, _meanings(inputs.values()))

    def ask_range(self, look: Look, host: ViewHost) -> None:
        """Have the range typed."""
        chosen = self.input(look)
        if chosen is None:
            return
        span = self.span(look)
        text = self.typed
        if not text and isinstance(span, TriedValues):
            text = f"{span.values[0]}..{span.values[-1]}"

        def take(typed: str) -> None:
            try:
                span_of(chosen, typed)
            except Unanswerable as fault:
                host.tell(refusal_words(fault))
            else:
                self.typed, self._held = typed, None

        now = f", now {chosen.now_text}" if chosen.now_text else ""
        host.ask_line(f"{chosen.label}{now}. Try which values? {RANGE_FORM}:", text, take)


def _meanings(inputs: Iterable[Input]) -> str:
    """What each input is, once where several things have the same."""
    keys = {each.key.label: each.paths[0] for each in inputs}
    return "\n".join(
        "\n".join([label, *(f"  {line}" for line in wrap(meaning_words(path), _ROOM))])
        for label, path in keys.items()
    )


_ROOM = 68
"""Cells of a line of the help, behind the two at its edge."""
