"""What Enter and typing do on a row: each value is asked for in the way that fits it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from whatif.session.sheet import is_unknown_key
from whatif.study.edits.values import home_of, others_of

if TYPE_CHECKING:
    from whatif.screens.desk.forms import Forms
    from whatif.screens.desk.host import DeskHost
    from whatif.screens.desk.mending import Mending
    from whatif.screens.desk.scenarios import Scenarios
    from whatif.screens.desk.state import DeskState
    from whatif.screens.desk.values import Values
    from whatif.study.draft import Draft
    from whatif.study.raw import Path


class Entering:
    """Leads from the row under the cursor to the line, form, list or question that it has."""

    def __init__(
        self,
        state: DeskState,
        host: DeskHost,
        *,
        values: Values,
        forms: Forms,
        scenarios: Scenarios,
        mending: Mending,
    ) -> None:
        self._state = state
        self._host = host
        self._values = values
        self._forms = forms
        self._scenarios = scenarios
        self._mending = mending

    def press_enter(self) -> None:
        """Edit the value under the cursor as it is, or open and close a heading."""
        line = self._state.line
        if line is None:
            self._state.fold()
            self._host.repaint()
        elif self._forms.ask():
            return
        elif line.path == ("notes",):
            self._scenarios.notes()
        elif line.path == ("parent",):
            self._scenarios.base_on_another()
        else:
            self.type_over(None)

    def type_over(self, text: str | None) -> None:
        """Begin to edit the value, ``text`` being typed over it; None edits it as it is.

        A key that is not known has no value to type: it is renamed or taken out.
        """
        line = self._state.line
        if line is not None and is_unknown_key(line.path):
            self._mending.mend_key(line.path)
        else:
            self._values.type_over(text)

    def edit_value(self, path: Path) -> None:
        """Open the editor on a value of the chosen scenario, or the list or form that it has."""
        if self._state.go_to_value(path):
            self._host.repaint()
            self.press_enter()

    def edit_for_all(self, path: Path) -> None:
        """Open the editor on a value where it holds for all, and say which scenario that is."""
        self._host.settle()
        state = self._state
        draft, before = state.shown, state.chosen
        if before is None:
            return
        home = home_of(draft, path, before, draft.reference_id)
        state.choose(home)
        self._host.repaint()
        self.edit_value(path)
        if state.typing is None:
            state.choose(before)
        else:
            state.typing.back_to = before
            state.notice = _for_all_words(draft, path, home)
        self._host.repaint()


def _for_all_words(draft: Draft, path: Path, home: str) -> str:
    """Where a value is entered, and who has one of their own."""
    said = f"For the whole shop: entered in {draft.scenario(home).title}"
    others = [draft.scenario(other).title for other in others_of(draft, path, home)]
    if not others:
        return f"{said}."
    has = "has its own" if len(others) == 1 else "have their own"
    return f"{said}; {', '.join(others)} {has}."
