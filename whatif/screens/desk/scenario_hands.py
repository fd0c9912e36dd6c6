"""The desk's hands on scenarios: adding, duplicating, removing, measuring against."""

from __future__ import annotations

from whatif.screens.desk.change_hands import ChangeHands
from whatif.screens.desk.command import Command
from whatif.screens.dialogs.dialogs import Ask, Name
from whatif.study.edits import AddScenario, DuplicateScenario, RemoveScenario, SetHead
from whatif.study.edits.starting import fresh_id

COMMANDS = (
    Command("add", "Add a scenario", "based on the chosen one", "a"),
    Command("add_root", "Add a scenario of its own", "based on none: a second tree"),
    Command("duplicate", "Duplicate the scenario", "the chosen one", "d"),
    Command("remove", "Remove the scenario", "and what is based on it", "x"),
    Command("reference", "Measure against this scenario", "make it the reference", "m"),
)


class ScenarioHands(ChangeHands):
    """What adds and removes scenarios."""

    def action_add(self) -> None:
        """Add a scenario that is based on the chosen one."""
        parent = self.chosen
        title = self.session.draft.scenario(parent).title if parent else ""
        question = (
            f"A new scenario based on {title}: what is different in it? Its name:"
            if parent
            else "The first scenario: what is it called?"
        )
        self.app.push_screen(Name(question), lambda name: self._add(name, parent))

    def action_add_root(self) -> None:
        """Add a scenario that is based on none."""
        self.app.push_screen(
            Name("A new scenario that is based on none (a second tree): its name:"),
            lambda name: self._add(name, None),
        )

    def _add(self, name: str | None, parent: str | None) -> None:
        if name:
            id_ = fresh_id(self.session.draft, name)
            self.do(AddScenario(id_, parent, name), choose=id_)

    def action_duplicate(self) -> None:
        """Duplicate the chosen scenario."""
        source = self.chosen
        if source is None:
            return
        title = self.session.draft.scenario(source).title

        def made(name: str | None) -> None:
            if name:
                id_ = fresh_id(self.session.draft, name)
                self.do(DuplicateScenario(source, id_, name), choose=id_)

        self.app.push_screen(Name(f"A copy of {title}: its name:", f"{title} 2"), made)

    def action_remove(self) -> None:
        """Remove the chosen scenario, with those based on it, after asking."""
        scenario = self.chosen
        if scenario is None:
            return
        edit = RemoveScenario(scenario)
        gone = [self.session.draft.scenario(one).title for one in edit.removes(self.session.draft)]
        also = f" and what is based on it ({', '.join(gone[1:])})" if len(gone) > 1 else ""
        self.app.push_screen(
            Ask(
                f"Remove {gone[0]}{also}? u brings it back.",
                {"y": "yes, remove"},
                safe="n",
            ),
            lambda answer: self.do(edit) if answer == "y" else None,
        )

    def action_reference(self) -> None:
        """Measure gains against the chosen scenario."""
        if self.chosen is not None:
            self.do(SetHead("reference", self.chosen))
