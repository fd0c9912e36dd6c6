"""The desk's hands on the tree: a scenario's name, its place, its notes."""

from __future__ import annotations

from whatif.screens.desk.command import Command
from whatif.screens.desk.scenario_hands import ScenarioHands
from whatif.screens.dialogs.dialogs import Name, Weigh
from whatif.screens.dialogs.notes import Notes
from whatif.screens.dialogs.pick import Offer, Pick
from whatif.screens.widgets.strip_rows import leading_gain
from whatif.session.moving import Change, Moving, moving, new_parents
from whatif.study.edits import MoveKeeping, MoveScenario, RenameScenario, SetValue
from whatif.telling.table import gain_text

COMMANDS = (
    Command(
        "this_scenario",
        "This scenario ...",
        "rename, move, notes, copy, remove",
        "e",
        footer="scenario",
        roomy=True,
    ),
    Command("rename", "Rename the scenario", "its title"),
    Command("rename_id", "Change the scenario's id", "its name in the file"),
    Command("move_scenario", "Base the scenario on another", "shows first what would change"),
    Command("notes", "Notes on the scenario", "where its numbers are from"),
)

_NONE = "*"
"""In the list of parents: none; no scenario can have this id."""

_LABEL = 26


class TreeHands(ScenarioHands):
    """What renames, moves and annotates scenarios."""

    def action_this_scenario(self) -> None:
        """Offer what can be done with the chosen scenario."""
        scenario = self.chosen
        if scenario is None:
            self.action_add()
            return
        self.close_editor(keep=True)
        offered = (
            Offer("add", "add one", "based on it: only what is different is entered", "a"),
            Offer("rename", "rename", "its title", "r"),
            Offer("move_scenario", "base on another", "shows first what would change", "b"),
            Offer("notes", "notes", "where its numbers are from, what else is to be known", "n"),
            Offer("duplicate", "duplicate", "a copy beside it", "d"),
            Offer("reference", "measure against it", "it becomes the reference", "m"),
            Offer("rename_id", "change its id", f"its name in the file, now {scenario}", "i"),
            Offer("remove", "remove", "and what is based on it, after asking", "x"),
        )

        def chosen(one: str | None) -> None:
            if one is not None:
                getattr(self, f"action_{one}")()

        title = self.session.draft.scenario(scenario).title
        self.app.push_screen(Pick(f"The scenario {title}:", offered), chosen)

    def type_over(self, text: str | None) -> None:
        """Notes and the parent have screens of their own; all else is edited in place."""
        path = None if self.line is None else self.line.path
        if path == ("notes",) and text is None:
            self.action_notes()
        elif path == ("parent",) and text is None:
            self.action_move_scenario()
        else:
            super().type_over(text)

    # -- names -------------------------------------------------------------------------

    def action_rename(self) -> None:
        """Give the chosen scenario another title."""
        scenario = self.chosen
        if scenario is None:
            return
        title = self.session.draft.scenario(scenario).title

        def named(name: str | None) -> None:
            if name:
                self.do(SetValue(scenario, ("title",), name))

        self.app.push_screen(Name(f"What is {title} to be called?", title), named)

    def action_rename_id(self) -> None:
        """Give the chosen scenario another id; what names it follows."""
        scenario = self.chosen
        if scenario is None:
            return

        def named(name: str | None) -> None:
            if name:
                self.do(RenameScenario(scenario, name), choose=name)

        question = (
            f"The id of {self.session.draft.scenario(scenario).title} in the file and on the "
            "command line (letters, digits, - and _):"
        )
        self.app.push_screen(Name(question, scenario), named)

    # -- notes -------------------------------------------------------------------------

    def action_notes(self) -> None:
        """Write notes on the chosen scenario."""
        scenario = self.chosen
        if scenario is None:
            return
        self.close_editor(keep=True)
        one = self.session.draft.scenario(scenario)
        raw = one.entered.get(("notes",))
        notes = raw if isinstance(raw, str) else ""

        def written(text: str | None) -> None:
            if text is not None and text != notes.strip():
                self.do(SetValue(scenario, ("notes",), text))

        self.app.push_screen(Notes(f"Notes on {one.title}", notes), written)

    # -- the place in the tree ---------------------------------------------------------

    def action_move_scenario(self) -> None:
        """Choose what the chosen scenario is to be based on."""
        scenario = self.chosen
        if scenario is None:
            return
        self.close_editor(keep=True)
        draft = self.session.draft
        one = draft.scenario(scenario)
        offered = {
            each: draft.scenario(each).title
            for each in new_parents(draft, scenario)
            if each != one.parent
        }
        if one.parent is not None:
            offered[_NONE] = "none: a tree of its own"
        if not offered:
            self.notice = f"There is no other scenario that {one.title} could be based on."
            self.repaint()
            return

        def chosen(parent: str | None) -> None:
            if parent is not None:
                self._weigh(MoveScenario(scenario, None if parent == _NONE else parent))

        question = f"Base {one.title} on which scenario? {self._based_words(scenario)}"
        self.app.push_screen(Pick(question, offered), chosen)

    def _based_words(self, scenario: str) -> str:
        draft = self.session.draft
        parent = draft.scenario(scenario).parent
        if parent is None:
            return "Now it is based on none."
        if not draft.has(parent):
            return f'Now it names "{parent}", which is not there.'
        return f"Now it is based on {draft.scenario(parent).title}."

    def _weigh(self, edit: MoveScenario) -> None:
        """Show what a move would change, and let it be decided."""
        found = moving(self.session.draft, edit, self.session.new_problems)
        answers = {}
        if found.edit is not None:
            answers["y"] = "move it (Enter)" if found.count else "move it; no value changes (Enter)"
        if found.keeping is not None:
            answers["k"] = "move it, and enter in it what would change: all values stay"

        def decided(answer: str | None) -> None:
            if answer == "y" and found.edit is not None:
                self.do(found.edit, mends=found.mends)
            elif answer == "k" and found.keeping is not None:
                self.do(MoveKeeping(edit.id, edit.new_parent))

        draft = self.session.draft
        under = "by itself" if edit.new_parent is None else draft.scenario(edit.new_parent).title
        title = f"{draft.scenario(edit.id).title} -> {under}"
        self.app.push_screen(Weigh(title, self._moving_words(edit.id, found), answers), decided)

    def _moving_words(self, scenario: str, found: Moving) -> str:
        said = []
        if found.wrong:
            head = "Problems that are hidden now:" if found.mends else "It cannot be moved there:"
            said += [head, *(f"  {text}" for text in found.wrong)]
            if found.keeping is not None:
                said.append("With all values kept it can.")
            said.append("")
        if not found.count and not found.wrong:
            said.append("No value would change, here or below.")
        for one, changes in found.changes.items():
            if found.count:
                said += [self._heading(one, scenario, len(changes)), *map(_change_words, changes)]
                said.append("")
        if found.why_not_kept:
            said += [f"Its values cannot all be kept: {found.why_not_kept}"]
        return "\n".join(said).rstrip()

    def _heading(self, one: str, moved: str, count: int) -> str:
        answer = self.current().get(one)
        gain = ""
        if one == self.session.draft.reference_id:
            gain = "; it is the reference"
        elif answer is not None:
            value, grain, _ = leading_gain(answer)
            gain = f"; its gain now: {gain_text(value, grain)}"
        changes = f"{count} change{'' if count == 1 else 's'}"
        below = "" if one == moved else ", below it"
        return f"{self.session.draft.scenario(one).title}{below}: {changes}{gain}"


def _change_words(change: Change) -> str:
    """A change in one line."""
    origin = f"  ({change.origin})" if change.origin else ""
    return f"  {change.label:{_LABEL}} {change.old} -> {change.new}{origin}"
