"""Machines, shifts, parts, stops, rush and real orders: added, copied, named, taken out."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, TypeAlias

from whatif.screens.desk.new_things import FROM_TABLE, NEW
from whatif.screens.dialogs.ask import AskShortName
from whatif.screens.dialogs.lists import ChooseOne, Offer
from whatif.session.things import (
    ThingAction,
    actions_on,
    adding,
    is_own,
    judge_new,
    judge_renamed,
    proposed,
    thing_at,
)
from whatif.study.edits import (
    BringBack,
    DuplicateThing,
    Edit,
    EditError,
    RemoveThing,
    RenameThing,
)
from whatif.telling.edits import called, new_thing_words, same_hours_words, sort_name, what_goes
from whatif.telling.refusals import refusal_words

if TYPE_CHECKING:
    from collections.abc import Callable

    from whatif.screens.desk.changes import Changes
    from whatif.screens.desk.host import DeskHost
    from whatif.screens.desk.state import DeskState
    from whatif.study.raw import Path

FromTable: TypeAlias = "Callable[[str], None]"
"""Asks for a table of things of a sort."""


class Things:
    """What is done with the things that a scenario has, most of it with the one here."""

    def __init__(
        self, state: DeskState, host: DeskHost, changes: Changes, from_table: FromTable
    ) -> None:
        self._state = state
        self._from_table = from_table
        self._host = host
        self._changes = changes

    def offer_all(self) -> None:
        """Offer what can be done with things where the cursor is."""
        scenario = self._scenario_to_change()
        if scenario is None:
            return
        offers = [
            Offer(f"add {group}", f"add {name}", words, letter, partial(self.add, group))
            for group, (letter, name, words) in NEW.items()
        ]
        offers += [
            Offer(f"{group} table", name, words, letter, partial(self._from_table, group))
            for group, (letter, name, words) in FROM_TABLE.items()
        ]
        place = self._state.spot.place
        thing = thing_at(place)
        if thing is not None:
            offers += self._offers_for(scenario, *thing)
        here = f"add {place[0]}" if place else None
        question = f"In {self._state.title(scenario)}:"
        self._host.lay_over(ChooseOne(question, offers, here))

    def _offers_for(self, scenario: str, group: str, thing: str) -> list[Offer]:
        draft = self._state.draft
        own = is_own(draft, scenario, group, thing)
        goes = "with all that is entered for it" if own else "here and below"
        again = "a second one with the same values"
        offered = {
            ThingAction.DUPLICATE: ("d", "duplicate", again, self.duplicate),
            ThingAction.RENAME: ("n", "rename", "in the whole study", self.rename),
            ThingAction.TAKE_OUT: ("x", "remove", goes, self.take_out),
            ThingAction.BRING_BACK: ("b", "restore", "it is removed here", self.bring_back),
        }
        offers = []
        for action in actions_on(draft, scenario, group, thing):
            letter, verb, words, does = offered[action]
            title = f"{verb} {called(group, thing)}"
            offers.append(Offer(action.value, title, words, letter, does))
        return offers

    def _scenario_to_change(self) -> str | None:
        """The chosen scenario, nothing being typed; None, with word of it, where none is."""
        self._host.settle()
        if self._state.chosen is None:
            self._host.say("There is no scenario to add to yet: press a to add one.")
        return self._state.chosen

    # -- adding ------------------------------------------------------------------------

    def add(self, group: str) -> None:
        """Add a thing to the chosen scenario, after asking for its name."""
        scenario = self._scenario_to_change()
        if scenario is None:
            return
        draft = self._state.draft
        name = proposed(draft, scenario, group)
        try:
            adding(draft, scenario, group, name)
        except EditError as fault:
            self._host.refuse(refusal_words(fault))
            return

        def named(thing: str) -> None:
            edit, row = adding(self._state.draft, scenario, group, thing)
            if self._do_at(edit, row) and edit.values:
                self._host.say(f"{new_thing_words(edit)}  (u undoes it)")

        question = f"A new {sort_name(group)} in {self._state.title(scenario)}: its short name:"
        judge = partial(judge_new, draft, scenario, group)
        self._host.lay_over(AskShortName(question, name, judge), named)

    def _do_at(self, edit: Edit, row: Path) -> bool:
        """Make a change that the cursor goes along with; whether it could be made."""
        before = self._state.draft
        self._changes.do(edit)
        if self._state.draft == before:
            return False
        self._state.put_on(row[:2], row if len(row) > 2 else None)
        self._host.repaint()
        return True

    # -- the thing under the cursor ----------------------------------------------------

    def _here(self, action: ThingAction) -> tuple[str, str, str] | None:
        """Scenario, sort and id, where that can be done; else it is said why not."""
        scenario = self._scenario_to_change()
        thing = thing_at(self._state.spot.place)
        if scenario is None:
            return None
        if thing is None:
            self._host.say("Go to a machine, shift, part, stop or order first; n adds one.")
            return None
        if action not in actions_on(self._state.draft, scenario, *thing):
            why = "not removed" if action is ThingAction.BRING_BACK else "not there"
            self._host.say(f"{self._state.title(scenario)}: {called(*thing)} is {why}.")
            return None
        return scenario, *thing

    def duplicate(self) -> None:
        """Make a second thing of the one under the cursor."""
        found = self._here(ThingAction.DUPLICATE)
        if found is None:
            return
        scenario, group, thing = found
        draft = self._state.draft
        question = (
            f"A copy of {called(group, thing)} in {self._state.title(scenario)}: its short name:"
        )
        name = proposed(draft, scenario, group, thing)
        judge = partial(judge_new, draft, scenario, group)

        def named(new: str) -> None:
            edit = DuplicateThing(scenario, group, thing, new)
            if self._do_at(edit, self._row_of(new)) and group == "shift":
                self._host.say(f"{same_hours_words(thing, new)}  (u undoes it)")

        self._host.lay_over(AskShortName(question, name, judge), named)

    def rename(self) -> None:
        """Give the thing under the cursor another name, in the whole study."""
        found = self._here(ThingAction.RENAME)
        if found is None:
            return
        _, group, thing = found

        def named(new: str) -> None:
            if new != thing:
                self._do_at(RenameThing(group, thing, new), self._row_of(new))

        question = f"Another short name for {called(group, thing)}, in the whole study:"
        judge = partial(judge_renamed, self._state.draft, group, thing)
        self._host.lay_over(AskShortName(question, thing, judge), named)

    def _row_of(self, thing: str) -> Path:
        """The row under the cursor, of another thing of the sort."""
        place, path = self._state.spot.place, self._state.spot.path
        here = place if path is None else path
        return (here[0], thing, *here[2:])

    def take_out(self) -> None:
        """Take the thing under the cursor out of the chosen scenario, after asking."""
        found = self._here(ThingAction.TAKE_OUT)
        if found is None:
            return
        edit = RemoveThing(*found)
        try:
            question = what_goes(self._state.draft, edit)
        except EditError as fault:
            self._host.refuse(refusal_words(fault))
            return
        self._changes.do_if_yes(f"{question} u undoes it.", "yes, remove it", edit)

    def bring_back(self) -> None:
        """Have the thing under the cursor again, where it was taken out."""
        found = self._here(ThingAction.BRING_BACK)
        if found is not None:
            self._changes.do(BringBack(*found))
