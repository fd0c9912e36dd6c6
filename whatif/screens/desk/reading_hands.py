"""What the desk lays out to be read: help, the scenario in words, problems."""

from __future__ import annotations

from whatif.screens.desk.command import Command
from whatif.screens.desk.desk import Desk
from whatif.screens.desk.help import KEYS, view_words
from whatif.screens.dialogs.dialogs import Reading
from whatif.session.about_value import meaning_words
from whatif.telling.in_words import key_words, scenario_words

COMMANDS = (
    Command("help", "Help", "what the value is, and the keys", "f1", "F1", "help"),
    Command(
        "scenario",
        "Scenario in words",
        "limits, fit, warnings, cautions",
        "f2",
        "F2",
        "in words",
        roomy=True,
    ),
)


class ReadingHands(Desk):
    """What is read and changes nothing."""

    def action_help(self) -> None:
        """What the open view says; what the value under the cursor is; the keys."""
        line = self.line
        about = ""
        if line is not None:
            about = f"{line.label}\n{meaning_words(line.path)}\n{key_words(line.path)}\n\n"
        if self.view is None:
            self.app.push_screen(Reading("Help", about + KEYS))
            return
        if self.view.whole or line is None:
            said = view_words(self.view)
        else:
            said = f"{view_words(self.view)}\nThe value in the line of inputs: {about}"
        self.app.push_screen(Reading(f"Help: {self.view.title}", f"{said}\n{KEYS}"))

    def action_scenario(self) -> None:
        """The chosen scenario in words."""
        answer = self.current().get(self.chosen or "")
        if answer is None:
            self.notice = "Its answer is being worked out."
            self.repaint()
            return
        self.app.push_screen(
            Reading(
                answer.plan.title,
                scenario_words(
                    answer,
                    self.session.shown.reference_id or "",
                    self.arrangement.per,
                    self.result_units(),
                ),
            )
        )
