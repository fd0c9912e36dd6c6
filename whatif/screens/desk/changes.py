"""Changes of the study: made, told, undone and done again."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from whatif.session.history import changed_place, taking_after

if TYPE_CHECKING:
    from collections.abc import Sequence

    from whatif.screens.desk.host import DeskHost
    from whatif.screens.desk.state import DeskState
    from whatif.session.history import Step
    from whatif.study.edits import Edit
    from whatif.study.raw import Path


class Changes:
    """What changes the study, each time by an edit that can be undone."""

    def __init__(self, state: DeskState, host: DeskHost) -> None:
        self._state = state
        self._host = host

    def do(
        self, edit: Edit, choose: str | None = None, *, mends: bool = False, also: str = ""
    ) -> None:
        """Make a change, or say why it cannot be made; ``choose`` a scenario after it.

        ``also``: what is told behind it.
        """
        from whatif.study.edits import EditError
        from whatif.telling.refusals import refusal_words

        self._host.settle()
        try:
            says = self._state.session.do(edit, mends=mends)
        except EditError as fault:
            self._host.refuse(refusal_words(fault))
            return
        self.tell(says, also=also)
        if choose is not None:
            self._state.choose(choose)
        self._host.ask()

    def do_if_yes(self, question: str, yes: str, edit: Edit) -> None:
        """Make a change where the question is answered with yes."""
        from whatif.screens.dialogs.ask import Ask

        self._host.lay_over(Ask(question, {"y": (yes, partial(self.do, edit))}))

    def tell(self, says: str, typed_in: str = "", also: str = "") -> None:
        """After a change was kept: tell it, and put it where a cut line cannot lose it.

        ``typed_in`` is the scenario whose value was typed over. In the reference that moves the
        gains of all the others, which surprises who only wanted to try something. Which scenarios
        take the value from there is told in any case.
        """
        session = self._state.session
        if says:
            from whatif.telling.edits import follow_words

            others = typed_in == session.draft.reference_id and len(self._state.ids) > 1
            of, beside = (", the reference", "; a tries beside it") if others else ("", "")
            done = session.history.done
            follow = follow_words(taking_after(done[-1])) if done else ""
            behind = f"; {also}" if also else ""
            said = says[0].upper() + says[1:]
            self._state.notice = f"{said}{of}{follow}{behind}.  (u undoes it{beside})"
        self._host.program.note(None if session.is_saved else session.draft)

    # -- undone and done again ---------------------------------------------------------

    def undo(self) -> None:
        """Undo the last change."""
        self._host.settle()
        done = self._state.session.history.done
        says = self._state.session.undo()
        self._moved(
            f"Undone: {says}.  (r does it again)" if says else "Nothing to undo.", done[-1:]
        )

    def redo(self) -> None:
        """Do the change undone last again."""
        self._host.settle()
        undone = self._state.session.history.undone
        says = self._state.session.redo()
        self._moved(f"Done again: {says}." if says else "Nothing to do again.", undone[:1])

    def offer_all(self) -> None:
        """Offer all changes, the newest first, those undone among them."""
        from whatif.screens.dialogs.lists import ChooseOne

        self._host.settle()
        history = self._state.session.history
        steps, done = history.steps, len(history.done)
        if not steps:
            self._host.say("Nothing has been changed yet.")
            return
        offered = {
            str(place): f"{_sign(place, done)} {place:4}  {steps[place - 1].says}"
            for place in range(len(steps), 0, -1)
        }
        offered["0"] = f"{_sign(0, done)}    0  as it was at first"
        self._host.lay_over(
            ChooseOne("Changes, the newest first. Go to which of them?", offered, at=str(done)),
            lambda place: self._go_to(int(place)),
        )

    def _go_to(self, place: int) -> None:
        session = self._state.session
        before = len(session.history.done)
        says = session.go_to(place)
        count = abs(place - before)
        what = f"{count} change{'' if count == 1 else 's'}"
        at = f"Now after: {says}" if says else "Now as it was at first"
        if place < before:
            self._moved(f"{what} undone. {at}.  (r does the next one again)")
        elif place > before:
            self._moved(f"{what} done again. {at}.")

    def _moved(self, words: str, steps: Sequence[Step] = ()) -> None:
        """Say what has been undone or done again, with the cursor on the value that it changed.

        A view goes on looking at what it looks at: of the reference some have nothing to show.
        """
        self.tell("")
        if self._state.view is None:
            for place in filter(None, map(changed_place, steps)):
                self._go_to_value(*place)
        self._state.notice = words
        self._host.ask()

    def _go_to_value(self, scenario: str, path: Path) -> None:
        state = self._state
        if state.draft.has(scenario):
            state.choose(scenario)
            state.go_to_value(path)


def _sign(place: int, done: int) -> str:
    if place == done:
        return "now   "
    return "undone" if place > done else "      "
