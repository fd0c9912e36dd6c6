"""A list laid over the desk, to choose one thing from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from rich.cells import cell_len
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option


class Pick(ModalScreen[str | None]):
    """Things by name, or by name and words on it; dismissed with the id of the chosen one, or None.

    Args:
        at: the id of the one that the cursor begins at.
    """

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss(None)", "back")]

    def __init__(
        self, question: str, things: Mapping[str, str | tuple[str, str]], at: str | None = None
    ) -> None:
        super().__init__()
        self._question = question
        self._things = things
        self._at = at

    def compose(self) -> ComposeResult:
        """The question, the list, and how to get back."""
        with Vertical(classes="dialog"):
            yield Static(self._question, markup=False)
            yield OptionList(
                *(Option(line, id=id_) for id_, line in self._lines().items()),
                markup=False,
                compact=True,
            )
            yield Static("  Enter take it   Esc go back", classes="answer", markup=False)

    def on_mount(self) -> None:
        """Put the cursor where it begins."""
        if self._at is not None:
            self.query_one(OptionList).highlighted = list(self._things).index(self._at)

    def _lines(self) -> dict[str, str]:
        names = [one[0] for one in self._things.values() if not isinstance(one, str)]
        wide = max((cell_len(name) for name in names), default=0)

        def line(one: str | tuple[str, str]) -> str:
            if isinstance(one, str):
                return one
            return f"{one[0]}{' ' * (wide - cell_len(one[0]))}  {one[1]}"

        return {id_: line(one) for id_, one in self._things.items()}

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Take what was chosen."""
        event.stop()
        self.dismiss(event.option_id)
