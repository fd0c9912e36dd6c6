"""Scenarios: added, copied, named, annotated, based on others, measured against, removed."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from whatif.screens.dialogs.ask import AskLine
from whatif.screens.dialogs.lists import ChooseOne, Offer
from whatif.screens.dialogs.texts import WeighText, WriteNotes
from whatif.study.edits import (
    AddScenario,
    DuplicateScenario,
    MoveKeeping,
    MoveScenario,
    RemoveScenario,
    RenameScenario,
    SetHead,
    SetValue,
)
from whatif.study.edits.moving import Moving, moving, new_parents
from whatif.study.edits.starting import fresh_id
from whatif.telling.edits import WEEKS_SETTLE_ANEW, change_line, obstacle_sentence
from whatif.telling.strip import leading_gain_text

if TYPE_CHECKING:
    from collections.abc import Callable

    from whatif.screens.desk.calculation import Calculation
    from whatif.screens.desk.changes import Changes
    from whatif.screens.desk.host import DeskHost
    from whatif.screens.desk.state import DeskState

_NO_NAME = "A scenario needs a name: type one, or Esc goes back."

_NONE = "*"
"""In the list of parents: none; no scenario can have this id."""


class Scenarios:
    """What is done with whole scenarios, most of it with the chosen one."""

    def __init__(
        self, state: DeskState, host: DeskHost, changes: Changes, calculation: Calculation
    ) -> None:
        self._state = state
        self._host = host
        self._changes = changes
        self._calculation = calculation

    def offer_all(self) -> None:
        """Offer what can be done with the chosen scenario; where there is none, add one."""
        scenario = self._state.chosen
        if scenario is None:
            self.add()
            return
        self._host.settle()
        offers = [
            Offer(letter, title, words, letter, does)
            for letter, title, words, does in (
                ("a", "add one", "based on it: only what is different is entered", self.add),
                ("r", "rename", "its title", self.rename),
                ("b", "base on another", "shows first what would change", self.base_on_another),
                ("n", "notes", "where its numbers are from, what else is to be known", self.notes),
                ("d", "duplicate", "a copy beside it", self.duplicate),
                ("m", "measure against it", "it becomes the reference", self.measure_against),
                ("i", "change its id", f"its name in the file, now {scenario}", self.rename_id),
                ("x", "remove", "and what is based on it, after asking", self.remove),
            )
        ]
        self._host.lay_over(ChooseOne(f"The scenario {self._state.title(scenario)}:", offers))

    # -- added and removed -------------------------------------------------------------

    def add(self) -> None:
        """Add a scenario that is based on the chosen one."""
        parent = self._state.chosen
        question = (
            f"A new scenario based on {self._state.title(parent)}: what is different in it? "
            "Its name:"
            if parent
            else "The first scenario: what is it called?"
        )
        asked = AskLine(question, tries=self._twice(), empty=_NO_NAME)
        self._host.lay_over(asked, lambda name: self._add(name, parent))

    def add_root(self) -> None:
        """Add a scenario that is based on none."""
        question = "A new scenario that is based on none (a second tree): its name:"
        asked = AskLine(question, tries=self._twice(), empty=_NO_NAME)
        self._host.lay_over(asked, lambda name: self._add(name, None))

    def _add(self, name: str, parent: str | None) -> None:
        scenario = fresh_id(self._state.draft, name)
        self._changes.do(AddScenario(scenario, parent, name), choose=scenario)

    def duplicate(self) -> None:
        """Duplicate the chosen scenario."""
        source = self._state.chosen
        if source is None:
            return
        title = self._state.title(source)

        def named(name: str) -> None:
            scenario = fresh_id(self._state.draft, name)
            self._changes.do(DuplicateScenario(source, scenario, name), choose=scenario)

        asked = AskLine(
            f"A copy of {title}: its name:", f"{title} 2", self._twice(), empty=_NO_NAME
        )
        self._host.lay_over(asked, named)

    def remove(self) -> None:
        """Remove the chosen scenario, with those based on it, after asking."""
        scenario = self._state.chosen
        if scenario is None:
            return
        edit = RemoveScenario(scenario)
        gone = [self._state.title(removed) for removed in edit.removes(self._state.draft)]
        also = f" and what is based on it ({', '.join(gone[1:])})" if len(gone) > 1 else ""
        self._changes.do_if_yes(f"Remove {gone[0]}{also}? u undoes it.", "yes, remove", edit)

    def measure_against(self) -> None:
        """Measure gains against the chosen scenario."""
        if self._state.chosen is not None:
            study = self._state.session.checked.study
            also = WEEKS_SETTLE_ANEW if study is not None and study.settled else ""
            self._changes.do(SetHead("reference", self._state.chosen), also=also)

    # -- names and notes ---------------------------------------------------------------

    def _twice(self, own: str | None = None) -> Callable[[str], str]:
        """Warns once of a name that another scenario has; the same name again is taken."""
        warned = ""

        def wrong(name: str) -> str:
            nonlocal warned
            draft = self._state.draft
            taken = any(
                other != own and draft.scenario(other).title.lower() == name.lower()
                for other in draft.ids
            )
            if not taken or name == warned:
                return ""
            warned = name
            return (
                f"Another scenario is called {name}: in the columns nobody can tell them apart. "
                "Type another name, or Enter again to have both."
            )

        return wrong

    def rename(self) -> None:
        """Give the chosen scenario another title."""
        scenario = self._state.chosen
        if scenario is None:
            return
        title = self._state.title(scenario)
        self._host.lay_over(
            AskLine(f"What is {title} to be called?", title, self._twice(scenario), empty=_NO_NAME),
            lambda name: self._changes.do(SetValue(scenario, ("title",), name)),
        )

    def rename_id(self) -> None:
        """Give the chosen scenario another id; what names it follows."""
        scenario = self._state.chosen
        if scenario is None:
            return
        question = (
            f"The id of {self._state.title(scenario)} in the file and on the "
            "command line (letters, digits, - and _):"
        )
        self._host.lay_over(
            AskLine(question, scenario),
            lambda name: self._changes.do(RenameScenario(scenario, name), choose=name),
        )

    def notes(self) -> None:
        """Write notes on the chosen scenario."""
        scenario = self._state.chosen
        if scenario is None:
            return
        self._host.settle()
        raw = self._state.draft.scenario(scenario).entered.get(("notes",))
        notes = raw if isinstance(raw, str) else ""

        def written(text: str) -> None:
            if text != notes.strip():
                self._changes.do(SetValue(scenario, ("notes",), text))

        self._host.lay_over(WriteNotes(f"Notes on {self._state.title(scenario)}", notes), written)

    # -- the place in the tree ---------------------------------------------------------

    def base_on_another(self) -> None:
        """Choose what the chosen scenario is to be based on."""
        scenario = self._state.chosen
        if scenario is None:
            return
        self._host.settle()
        draft = self._state.draft
        title, parent = self._state.title(scenario), draft.scenario(scenario).parent
        offered = {
            other: draft.scenario(other).title
            for other in new_parents(draft, scenario)
            if other != parent
        }
        if parent is not None:
            offered[_NONE] = "none: a tree of its own"
        if not offered:
            self._host.say(f"There is no other scenario that {title} could be based on.")
            return
        self._host.lay_over(
            ChooseOne(f"Base {title} on which scenario? {self._based_words(parent)}", offered),
            lambda to: self._weigh(MoveScenario(scenario, None if to == _NONE else to)),
        )

    def _based_words(self, parent: str | None) -> str:
        if parent is None:
            return "Now it is based on none."
        if not self._state.draft.has(parent):
            return f'Now it names "{parent}", which is not there.'
        return f"Now it is based on {self._state.title(parent)}."

    def _weigh(self, edit: MoveScenario) -> None:
        """Show what a move would change, and let it be decided."""
        found = moving(self._state.draft, edit, self._state.session.new_problems)
        answers = {}
        if found.edit is not None:
            words = "move it (Enter)" if found.count else "move it; no value changes (Enter)"
            answers["y"] = (words, partial(self._changes.do, found.edit, mends=found.mends))
        if found.keeping is not None:
            words = "move it, and enter in it what would change: all values stay"
            answers["k"] = (words, partial(self._changes.do, MoveKeeping(edit.id, edit.new_parent)))
        under = "by itself" if edit.new_parent is None else self._state.title(edit.new_parent)
        title = f"{self._state.title(edit.id)} -> {under}"
        self._host.lay_over(WeighText(title, self._moving_words(edit.id, found), answers))

    def _moving_words(self, scenario: str, found: Moving) -> str:
        said: list[str] = []
        draft = self._state.draft
        if found.wrong:
            head = "Problems that are hidden now:" if found.mends else "It cannot be moved there:"
            said += [head, *(f"  {obstacle_sentence(draft, wrong)}" for wrong in found.wrong)]
            if found.keeping is not None:
                said.append("With all values kept it can.")
            said.append("")
        if not found.count and not found.wrong:
            said.append("No value would change, here or below.")
        for changed, changes in found.changes.items():
            if found.count:
                said.append(self._heading(changed, scenario, len(changes)))
                said += [*(change_line(draft, change) for change in changes), ""]
        if found.not_kept is not None:
            why = obstacle_sentence(draft, found.not_kept)
            said.append(f"Its values cannot all be kept: {why}")
        return "\n".join(said).rstrip()

    def _heading(self, scenario: str, moved: str, count: int) -> str:
        answer = self._calculation.current().get(scenario)
        gain = ""
        if scenario == self._state.draft.reference_id:
            gain = "; it is the reference"
        elif answer is not None:
            gain = f"; its gain now: {leading_gain_text(answer)}"
        changes = f"{count} change{'' if count == 1 else 's'}"
        below = "" if scenario == moved else ", below it"
        return f"{self._state.title(scenario)}{below}: {changes}{gain}"
