"""The desk's hands on the list of changes: back to any of them, and forward again."""

from __future__ import annotations

from whatif.screens.desk.change_hands import ChangeHands
from whatif.screens.desk.command import Command
from whatif.screens.dialogs.pick import Pick

COMMANDS = (
    Command(
        "changes",
        "List of changes",
        "go back to any of them, or forward",
        "l",
        footer="changes",
        roomy=True,
    ),
)


class ChangesHands(ChangeHands):
    """What goes to and fro among the changes."""

    def action_changes(self) -> None:
        """Offer all changes, the newest first, those undone among them."""
        self.close_editor(keep=True)
        history = self.session.history
        steps, done = history.steps, len(history.done)
        if not steps:
            self.notice = "Nothing has been changed yet."
            self.repaint()
            return
        offered = {
            str(place): f"{_sign(place, done)} {place:4}  {steps[place - 1].says}"
            for place in range(len(steps), 0, -1)
        }
        offered["0"] = f"{_sign(0, done)}    0  as it was at first"

        def chosen(place: str | None) -> None:
            if place is not None:
                self._go_to_change(int(place))

        self.app.push_screen(
            Pick("Changes, the newest first. Go to which of them?", offered, at=str(done)), chosen
        )

    def _go_to_change(self, place: int) -> None:
        before = len(self.session.history.done)
        says = self.session.go_to(place)
        self.changed("")
        count = abs(place - before)
        what = f"{count} change{'' if count == 1 else 's'}"
        at = f"Now after: {says}" if says else "Now as it was at first"
        if place < before:
            self.notice = f"{what} undone. {at}.  (r does the next one again)"
        elif place > before:
            self.notice = f"{what} done again. {at}."
        self.ask()


def _sign(place: int, done: int) -> str:
    if place == done:
        return "here >"
    return "undone" if place > done else "      "
