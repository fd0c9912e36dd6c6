"""Values that are not one number: each is asked for in a form or a list that fits."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Final

from whatif.screens.dialogs.forms import (
    BACK,
    KEEP,
    TYPE,
    AskedValue,
    BreaksForm,
    DaysForm,
    Form,
    MachinesForm,
    SidesForm,
    WordsForm,
)
from whatif.screens.dialogs.lists import ChooseOne, Offer
from whatif.session.sheet import AS_TYPED, editable_text, result_units
from whatif.study.edits import SetValue
from whatif.study.resolve import GIVEN_BACK, Resolved
from whatif.study.schema.catalogue import Key, key_for
from whatif.study.schema.kinds import Breaks, Days, Ids, KindError, Lengths, Several
from whatif.telling.in_words import scenario_title
from whatif.telling.sheet_cell import help_words, meaning_words

if TYPE_CHECKING:
    from whatif.screens.desk.changes import Changes
    from whatif.screens.desk.host import DeskHost
    from whatif.screens.desk.state import DeskState
    from whatif.screens.desk.values import Values
    from whatif.study.raw import Path, Raw

_NO_PART: Final = (GIVEN_BACK, "none", "it comes after no other part")


class Forms:
    """What is laid over the desk in the place of the one-line editor."""

    def __init__(self, state: DeskState, host: DeskHost, changes: Changes, values: Values) -> None:
        self._state = state
        self._host = host
        self._changes = changes
        self._values = values

    def ask(self) -> bool:
        """Ask for the value under the cursor in a list or a form; whether one fits it."""
        line, scenario = self._state.line, self._state.chosen
        resolved = self._state.session.checked.resolved
        if line is None or scenario is None or scenario not in resolved:
            return False
        self._host.settle()
        given = self._resolved(scenario).values.get(line.path)
        key = key_for(line.path)
        if given is None or key is None:
            return False
        if self._offer_words(scenario, line.path, key, given.raw):
            return True
        form = self._form(scenario, line.path, key, given.raw)
        if form is None:
            return False
        self._state.notice = ""
        is_assumed = given.raw not in (None, "") and self._is_assumed(scenario, line.path)
        confirms = SetValue(scenario, line.path, given.raw or "") if is_assumed else None
        self._host.lay_over(form, partial(self._end, form, confirms))
        return True

    def _resolved(self, scenario: str) -> Resolved:
        return self._state.session.checked.resolved[scenario]

    def _is_assumed(self, scenario: str, path: Path) -> bool:
        return self._resolved(scenario).origin(*path).is_assumed

    def _title(self, scenario: str, key: Key, path: Path) -> str:
        whose = f" of {path[1]}" if len(path) > 2 else ""
        return f"{key.label}{whose}, {scenario_title(self._state.session.checked, scenario)}"

    # -- one of a few ------------------------------------------------------------------

    def _offer_words(self, scenario: str, path: Path, key: Key, raw: Raw | None) -> bool:
        """Lay out what can be chosen, where that is one of a few."""
        offered = self._words(scenario, path, key)
        if not offered:
            return False
        raws = {text: raw for raw, text, _ in offered}
        now = (_NO_PART[1] if key.says.names else "") if raw is None else key.kind.written(raw)

        def chosen(text: str) -> None:
            if text != now or (raw is not None and self._is_assumed(scenario, path)):
                self._changes.do(SetValue(scenario, path, raws[text]))
            self._go_on()

        offers = [Offer(text, text, words) for _, text, words in offered]
        question = f"{self._title(scenario, key, path)}\nTo find it: {key.says.find}"
        self._host.lay_over(ChooseOne(question, offers, now), chosen)
        return True

    def _words(self, scenario: str, path: Path, key: Key) -> tuple[tuple[Raw, str, str], ...]:
        if key.says.names == "part":
            resolved = self._resolved(scenario)
            parts = tuple(
                (part, part, "removed here" if resolved.is_out("part", part) else "")
                for part in resolved.ids("part")
                if path[:2] != ("part", part)
            )
            return parts if key.required or not parts else (_NO_PART, *parts)
        return key.choices

    # -- forms -------------------------------------------------------------------------

    def _form(self, scenario: str, path: Path, key: Key, raw: Raw | None) -> Form | None:
        """The form that fits, None where none does or what stands there cannot be read."""
        if raw is not None and not isinstance(raw, tuple):
            return None
        asked = AskedValue(
            self._title(scenario, key, path),
            meaning_words(path),
            editable_text(self._state.session.checked, scenario, path),
            help_words(path),
            partial(self._try, scenario, path),
        )
        items = tuple(map(str, raw or ()))
        if isinstance(key.kind, Days):
            return DaysForm(asked, items, may_be_none=key.kind.may_be_none)
        if not _is_sound(key, raw):
            return None
        if isinstance(key.kind, Breaks):
            return BreaksForm(asked, items)
        if isinstance(key.kind, Several):
            return WordsForm(asked, dict(key.kind.words), items)
        if isinstance(key.kind, Lengths):
            units = result_units(AS_TYPED, self._state.shown)
            return SidesForm(asked, key.kind.sides, items, units)
        if isinstance(key.kind, Ids):
            return MachinesForm(asked, _machines(self._resolved(scenario), items), items)
        return None

    def _try(self, scenario: str, path: Path, text: str) -> str:
        wrong = self._state.session.type(scenario, path, text)
        self._host.ask()
        return wrong

    def _end(self, form: Form, confirms: SetValue | None, how: str) -> None:
        """Keep what the form says, or set it aside to be taken up again, or go on typing it.

        ``confirms`` enters what was only assumed: kept as it stands it is so no more.
        """
        state, session = self._state, self._state.session
        self._host.focus_sheet()
        if how == TYPE:
            session.drop()
            self._values.type_over(form.text if form.is_touched else None)
            return
        if how == BACK:
            if form.is_touched:
                said = form.text or "nothing"
                if session.set_aside():
                    state.notice = f"Back to the old value. r takes {said} up again."
                else:
                    state.notice = f"Back to the old value. The form said {said}. {form.wrong}"
            session.drop()
        elif form.is_touched:
            self._changes.tell(session.keep())
        elif confirms is not None:
            self._changes.do(confirms)
        else:
            session.drop()
        self._host.ask()
        if how == KEEP:
            self._go_on()

    def _go_on(self) -> None:
        """Enter goes down from a list or a form as it does from the line."""
        state = self._state
        if state.view is None:
            state.go_to_next_value()
            self._host.repaint()


def _is_sound(key: Key, raw: Raw | None) -> bool:
    """Whether a value is not given, or can be read."""
    if raw is not None:
        try:
            key.kind.read(raw)
        except KindError:
            return False
    return True


def _machines(resolved: Resolved, listed: tuple[str, ...]) -> dict[str, str]:
    """The machines that can be ticked, each with what is to be known of it."""
    there = resolved.ids("machine")
    notes = {
        **{name: "  (there is none)" for name in listed if name not in there},
        **{name: "  (removed here)" for name in there if resolved.is_out("machine", name)},
    }
    return {name: name + notes.get(name, "") for name in (*there, *listed)}
