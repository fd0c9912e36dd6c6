"""The desk's hands on things: machines, shifts, parts, stops, rush and real orders."""

from __future__ import annotations

from functools import partial

from whatif.screens.desk.change_hands import ChangeHands
from whatif.screens.desk.command import Command
from whatif.screens.dialogs.dialogs import Ask
from whatif.screens.dialogs.pick import Offer, Pick
from whatif.screens.dialogs.short_name import ShortName
from whatif.session.things import (
    SORTS,
    Doing,
    adding,
    called,
    doings,
    is_own,
    judge_new,
    judge_renamed,
    proposed,
    thing_at,
    what_goes,
)
from whatif.study.edits import (
    BringBack,
    DuplicateThing,
    Edit,
    EditError,
    RemoveThing,
    RenameThing,
)
from whatif.study.raw import Path

_NEW = {
    "machine": ("m", "a machine", "equal machines, with their table and pallets"),
    "shift": ("s", "a shift", "when people are there, and how many"),
    "part": ("p", "a part", "what is made: cycle, pieces a week, setup"),
    "stop": ("t", "a stop", "what halts machines now and then"),
    "rush": ("r", "a rush order", "what it costs to slip one in"),
    "order": ("o", "an order", "a real one: so many pieces, due at a moment"),
}
"""Letter, name and a few words for each sort of thing that can be added."""

_DOING = {
    Doing.DUPLICATE: ("d", "duplicate"),
    Doing.RENAME: ("n", "rename"),
    Doing.TAKE_OUT: ("x", "take out"),
    Doing.BRING_BACK: ("b", "bring back"),
}

COMMANDS = (
    Command(
        "things",
        "Machines, shifts, parts, orders",
        "add, copy, take out",
        "n",
        footer="things",
        roomy=True,
    ),
    *(
        Command(f"add_thing('{group}')", f"Add {name}", f"to the chosen scenario (n {letter})")
        for group, (letter, name, _) in _NEW.items()
    ),
    Command("duplicate_thing", "Duplicate the thing here", "machine, shift, part ... (n d)"),
    Command("rename_thing", "Rename the thing here", "in the whole study (n n)"),
    Command("take_thing_out", "Take the thing here out", "of the chosen scenario (n x)"),
    Command("bring_thing_back", "Bring the thing here back", "that was taken out (n b)"),
)


class ThingHands(ChangeHands):
    """What adds, copies, names and removes the things that a scenario has."""

    def action_things(self) -> None:
        """Offer what can be done with things where the cursor is."""
        scenario = self._scenario_to_change()
        if scenario is None:
            return
        offers = [
            Offer(f"add {group}", f"add {name}", words, letter)
            for group, (letter, name, words) in _NEW.items()
        ]
        thing = thing_at(self._place)
        if thing is not None:
            offers += self._offers_for(scenario, *thing)
        here = f"add {self._place[0]}" if self._place else None
        title = self.session.draft.scenario(scenario).title
        self.app.push_screen(Pick(f"In {title}:", offers, here), self._picked)

    def _offers_for(self, scenario: str, group: str, one: str) -> list[Offer]:
        draft = self.session.draft
        own = is_own(draft, scenario, group, one)
        words = {
            Doing.DUPLICATE: "a second one with the same values",
            Doing.RENAME: "in the whole study",
            Doing.TAKE_OUT: "with all that is entered for it" if own else "here and below",
            Doing.BRING_BACK: "it is taken out here",
        }
        return [
            Offer(doing.value, f"{_DOING[doing][1]} {called(group, one)}", words[doing], letter)
            for doing in doings(draft, scenario, group, one)
            for letter in _DOING[doing][0]
        ]

    def _picked(self, chosen: str | None) -> None:
        if chosen is None:
            return
        if chosen.startswith("add "):
            self.action_add_thing(chosen.removeprefix("add "))
            return
        actions = {
            Doing.DUPLICATE: self.action_duplicate_thing,
            Doing.RENAME: self.action_rename_thing,
            Doing.TAKE_OUT: self.action_take_thing_out,
            Doing.BRING_BACK: self.action_bring_thing_back,
        }
        actions[Doing(chosen)]()

    def _scenario_to_change(self) -> str | None:
        """The chosen scenario, the editor being closed; None, with word of it, where none is."""
        self.close_editor(keep=True)
        if self.chosen is None:
            self._say("There is no scenario to add to yet: press a to add one.")
        return self.chosen

    def _say(self, words: str) -> None:
        self.notice = words
        self.repaint()

    # -- adding ------------------------------------------------------------------------

    def action_add_thing(self, group: str) -> None:
        """Add a thing to the chosen scenario, after asking for its name."""
        scenario = self._scenario_to_change()
        if scenario is None:
            return
        draft = self.session.draft
        title = draft.scenario(scenario).title
        name = proposed(draft, scenario, group)
        try:
            adding(draft, scenario, group, name)
        except EditError as fault:
            self._say(str(fault))
            return

        def named(one: str | None) -> None:
            if one is not None:
                edit, row = adding(self.session.draft, scenario, group, one)
                if self._do_at(edit, row) and edit.guessed:
                    new = called(group, one)
                    self._say(f"New {new}: what is marked ~ is only assumed.  (u undoes it)")

        question = f"A new {SORTS[group]} in {title}: its short name:"
        judge = partial(judge_new, draft, scenario, group)
        self.app.push_screen(ShortName(question, name, judge), named)

    def _do_at(self, edit: Edit, row: Path) -> bool:
        """Make a change that the cursor goes along with; whether it could be made."""
        before = self.session.draft
        self.do(edit)
        if self.session.draft == before:
            return False
        self._folded -= {row[:2]}
        self._place, self._path = row[:2], row if len(row) > 2 else None
        self.repaint()
        return True

    # -- the thing under the cursor ----------------------------------------------------

    def _thing(self, doing: Doing) -> tuple[str, str, str] | None:
        """Scenario, sort and id, where that can be done; else it is said why not."""
        scenario = self._scenario_to_change()
        thing = thing_at(self._place)
        if scenario is None:
            return None
        if thing is None:
            self._say("Go to a machine, shift, part, stop or order first; n adds one.")
            return None
        if doing not in doings(self.session.draft, scenario, *thing):
            title, words = self.session.draft.scenario(scenario).title, called(*thing)
            is_there = doing is Doing.BRING_BACK
            self._say(f"{title}: {words} is {'not taken out' if is_there else 'not there'}.")
            return None
        return scenario, *thing

    def action_duplicate_thing(self) -> None:
        """Make a second thing of the one under the cursor."""
        found = self._thing(Doing.DUPLICATE)
        if found is None:
            return
        scenario, group, one = found
        draft = self.session.draft

        def named(new: str | None) -> None:
            if new is not None:
                self._do_at(DuplicateThing(scenario, group, one, new), self._row_of(new))

        title = draft.scenario(scenario).title
        question = f"A copy of {called(group, one)} in {title}: its short name:"
        judge = partial(judge_new, draft, scenario, group)
        name = proposed(draft, scenario, group, one)
        self.app.push_screen(ShortName(question, name, judge), named)

    def _row_of(self, one: str) -> Path:
        """The row under the cursor, of another thing of the sort."""
        path = self._place if self._path is None else self._path
        return (path[0], one, *path[2:])

    def action_rename_thing(self) -> None:
        """Give the thing under the cursor another name, in the whole study."""
        found = self._thing(Doing.RENAME)
        if found is None:
            return
        _, group, one = found
        draft = self.session.draft

        def named(new: str | None) -> None:
            if new is not None and new != one:
                self._do_at(RenameThing(group, one, new), self._row_of(new))

        question = f"Another short name for {called(group, one)}, in the whole study:"
        judge = partial(judge_renamed, draft, group, one)
        self.app.push_screen(ShortName(question, one, judge), named)

    def action_take_thing_out(self) -> None:
        """Take the thing under the cursor out of the chosen scenario, after asking."""
        found = self._thing(Doing.TAKE_OUT)
        if found is None:
            return
        edit = RemoveThing(*found)
        try:
            question = what_goes(self.session.draft, edit)
        except EditError as fault:
            self._say(str(fault))
            return
        self.app.push_screen(
            Ask(f"{question} u brings it back.", {"y": "yes, take it out"}, safe="n"),
            lambda answer: self.do(edit) if answer == "y" else None,
        )

    def action_bring_thing_back(self) -> None:
        """Have the thing under the cursor again, where it was taken out."""
        found = self._thing(Doing.BRING_BACK)
        if found is not None:
            self.do(BringBack(*found))


def _a(name: str) -> str:
    """A thing's name with its article."""
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"
