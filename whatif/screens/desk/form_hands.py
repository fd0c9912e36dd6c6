"""The desk's hands on values that are not one number: each is asked for in a form that fits."""

from __future__ import annotations

from functools import partial

from whatif.screens.desk.change_hands import ChangeHands
from whatif.screens.dialogs.form_fields import BreaksForm, SidesForm
from whatif.screens.dialogs.forms import BACK, TYPE, Asked, DaysForm, Form, MachinesForm, Tries
from whatif.screens.dialogs.pick import Offer, Pick
from whatif.screens.widgets.sheet import Sheet
from whatif.session.about_value import meaning_words
from whatif.session.sheet import editable_text
from whatif.study.edits import SetValue
from whatif.study.edits.things import is_out
from whatif.study.raw import Path, Raw
from whatif.study.schema.catalogue import Key, key_for
from whatif.study.schema.kinds import DAYS, Breaks, Days, Ids, KindError, Lengths
from whatif.telling.in_words import scenario_title

_SIDES = {
    "size": ("length", "width", "height"),
    "table": ("length", "width"),
    "travel": ("along the length", "along the width"),
}


class FormHands(ChangeHands):
    """What opens forms in the place of the one-line editor."""

    def press_enter(self) -> None:
        """Ask for the value in a form where one fits it; else edit it in a line."""
        if not self._ask_in_form():
            super().press_enter()

    def _ask_in_form(self) -> bool:
        line, scenario = self.line, self.chosen
        if line is None or scenario is None or scenario not in self.session.checked.resolved:
            return False
        self.close_editor(keep=True)
        given = self.session.checked.resolved[scenario].values.get(line.path)
        key = key_for(line.path)
        if given is None or key is None:
            return False
        if self._offers_values(scenario, line.path, key, given.raw):
            return True
        form = self._form(scenario, line.path, key, given.raw)
        if form is None:
            return False
        self.notice = ""
        is_guess = given.raw is not None and self._is_guess(scenario, line.path)
        confirms = SetValue(scenario, line.path, given.raw or "") if is_guess else None
        self.app.push_screen(form, partial(self._form_ends, form, confirms))
        return True

    def _is_guess(self, scenario: str, path: Path) -> bool:
        return self.session.checked.resolved[scenario].origin(*path).guessed

    # -- one of a few ------------------------------------------------------------------

    def _offers_values(self, scenario: str, path: Path, key: Key, raw: Raw | None) -> bool:
        """Lay out what can be chosen, where that is one of a few."""
        offered = self._values(scenario, path, key)
        if not offered:
            return False
        raws = {text: one for one, text, _ in offered}
        now = "" if raw is None else key.kind.written(raw)

        def chosen(text: str | None) -> None:
            if text is not None and (text != now or self._is_guess(scenario, path)):
                self.do(SetValue(scenario, path, raws[text]))

        offers = [Offer(text, text, words) for _, text, words in offered]
        question = f"{self._title(scenario, key, path)}\nTo find it: {key.how_to_find}"
        self.app.push_screen(Pick(question, offers, now), chosen)
        return True

    def _values(self, scenario: str, path: Path, key: Key) -> tuple[tuple[Raw, str, str], ...]:
        if key.says.names == "part":
            resolved = self.session.checked.resolved[scenario]
            return tuple(
                (one, one, "taken out here" if is_out(resolved, "part", one) else "")
                for one in resolved.ids("part")
            )
        return key.choices

    # -- forms -------------------------------------------------------------------------

    def _form(self, scenario: str, path: Path, key: Key, raw: Raw | None) -> Form | None:
        """The form that fits, None where none does or what stands there cannot be read."""
        items = self._readable(key, raw)
        text = editable_text(self.session.checked, scenario, path)
        asked = Asked(self._title(scenario, key, path), meaning_words(path), text)
        tries: Tries = partial(self._try_form, scenario, path)
        if isinstance(key.kind, Days) and isinstance(raw, tuple) and items is None:
            known = [str(day) for day in raw if day in DAYS]
            return DaysForm(asked, tries, [(day, day) for day in DAYS], known, is_all=False)
        if items is None:
            return None
        if isinstance(key.kind, Days):
            return DaysForm(asked, tries, [(day, day) for day in DAYS], items)
        if isinstance(key.kind, Breaks):
            return BreaksForm(asked, tries, items)
        if isinstance(key.kind, Lengths):
            return SidesForm(asked, tries, _SIDES[key.name], items)
        if isinstance(key.kind, Ids):
            return MachinesForm(asked, tries, self._machines(scenario, items), items)
        return None

    def _readable(self, key: Key, raw: Raw | None) -> tuple[str, ...] | None:
        if raw is None:
            return ()
        try:
            key.kind.read(raw)
        except KindError:
            return None
        return tuple(map(str, raw)) if isinstance(raw, tuple) else None

    def _machines(self, scenario: str, listed: tuple[str, ...]) -> list[tuple[str, str]]:
        resolved = self.session.checked.resolved[scenario]
        there = resolved.ids("machine")
        found = [
            (one, f"{one}  (taken out here)" if is_out(resolved, "machine", one) else one)
            for one in there
        ]
        return found + [(one, f"{one}  (there is none)") for one in listed if one not in there]

    def _title(self, scenario: str, key: Key, path: Path) -> str:
        whose = f" of {path[1]}" if len(path) > 2 else ""
        return f"{key.label}{whose}, {scenario_title(self.session.checked, scenario)}"

    def _try_form(self, scenario: str, path: Path, text: str) -> str:
        wrong = self.session.type(scenario, path, text)
        self.ask()
        return wrong

    def _form_ends(self, form: Form, confirms: SetValue | None, how: str | None) -> None:
        """Keep what the form says, or set it aside for ``redo``, or go on typing it.

        ``confirms`` enters what was only a guess: kept as it stands it is one no more.
        """
        self.set_focus(self.query_one(Sheet))
        if how == TYPE:
            self.session.drop()
            self.type_over(form.text if form.is_touched else None)
            return
        if how == BACK:
            if form.is_touched:
                said = form.text or "nothing"
                if self.session.set_aside():
                    self.notice = f"Back to the old value. r takes {said} up again."
                else:
                    self.notice = f"Back to the old value. The form said {said}. {form.wrong}"
            self.session.drop()
        elif form.is_touched:
            self.changed(self.session.keep())
        elif confirms is not None:
            self.do(confirms)
        else:
            self.session.drop()
        self.ask()
