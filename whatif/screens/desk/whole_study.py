"""What holds for the study as a whole: weeks, runs, how well things are known, what is today."""

from __future__ import annotations

from typing import TYPE_CHECKING

from whatif.screens.dialogs.ask import AskLine
from whatif.screens.dialogs.lists import ChooseOne, Offer
from whatif.study.edits import SetHead
from whatif.study.resolve import GIVEN_BACK
from whatif.study.schema.catalogue import HEAD_KEYS, Key
from whatif.telling.amounts import NOTHING

if TYPE_CHECKING:
    from whatif.screens.desk.changes import Changes
    from whatif.screens.desk.host import DeskHost
    from whatif.screens.desk.state import DeskState

_NAMED = ("reference", "today")
"""Keys that name a scenario."""


class WholeStudy:
    """Lists the root keys with what holds, and asks for another value of one."""

    def __init__(self, state: DeskState, host: DeskHost, changes: Changes) -> None:
        self._state = state
        self._host = host
        self._changes = changes

    def offer_all(self) -> None:
        """List what holds for the whole study, to change one of it."""
        self._host.settle()
        offers = [
            Offer(name, f"{key.label}: {self._now(key)}", key.says.meaning)
            for name, key in HEAD_KEYS.items()
            if name != "format"
        ]
        self._host.lay_over(ChooseOne("For the whole study:", offers, "weeks"), self._ask)

    def _now(self, key: Key) -> str:
        """What holds, as an editor writes it; a scenario by its title."""
        draft = self._state.draft
        if key.name in _NAMED:
            named = draft.reference_id if key.name == "reference" else draft.today_id
            return NOTHING if named is None else self._state.title(named)
        raw = draft.head.get(key.name, GIVEN_BACK)
        if raw == GIVEN_BACK:
            raw = key.default if key.default is not None else ""
        return key.kind.written(raw)

    def _ask(self, name: str) -> None:
        """Ask for another value."""
        key = HEAD_KEYS[name]
        question = f"{key.label}: {key.says.meaning}\nTo find it: {key.says.find}"
        if name in _NAMED:
            titles = {scenario: self._state.title(scenario) for scenario in self._state.draft.ids}
            now = self._state.draft
            at = now.reference_id if name == "reference" else now.today_id
            self._host.lay_over(
                ChooseOne(question, titles, at),
                lambda scenario: self._changes.do(SetHead(name, scenario)),
            )
        elif key.choices:
            raws = {text: raw for raw, text, _ in key.choices}
            offers = [Offer(text, text, words) for _, text, words in key.choices]
            self._host.lay_over(
                ChooseOne(question, offers, self._now(key)),
                lambda text: self._changes.do(SetHead(name, raws[text])),
            )
        else:
            self._host.lay_over(
                AskLine(f"{question}\nIt is {key.kind.typed_as}.", self._now(key)),
                lambda text: self._changes.do(SetHead(name, key.kind.typed(text))),
            )
