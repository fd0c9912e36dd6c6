"""The desk's hands on what is wrong in a study: gone to from a list, and put right."""

from __future__ import annotations

from dataclasses import replace

from textual import events, on

from whatif.screens.desk.command import Command
from whatif.screens.desk.tree_hands import TreeHands
from whatif.screens.desk.view_hands import ViewHands
from whatif.screens.dialogs.dialogs import Ask, Name, Reading
from whatif.screens.dialogs.pick import Pick
from whatif.session.about_value import unknown_key_fault
from whatif.session.session import in_short
from whatif.session.sheet import is_stray
from whatif.study.check.entries import known_instead
from whatif.study.check.problem import Problem
from whatif.study.edits import ClearValue, RenameHead, RenameKey, SetHead
from whatif.study.raw import Path, shown
from whatif.study.schema.catalogue import HEAD_KEYS, dotted

_NONE = "The file has no problems. What is to be heeded in a scenario, F2 tells."

COMMANDS = (Command("problems", "Problems of the file", "go to one, and mend it", "f3", "F3"),)


class MendHands(TreeHands, ViewHands):
    """What goes to problems and mends what has no value to be typed over."""

    @on(events.Click, "#head")
    def _head_clicked(self) -> None:
        """The head says how many problems there are; a click on it lists them."""
        if self.session.checked.problems:
            self.action_problems()

    def action_problems(self) -> None:
        """List all problems and warnings of the study, to go to one."""
        self.close_editor(keep=True)
        checked = self.session.checked
        found = (*checked.problems, *checked.warnings)
        if not found:
            self.app.push_screen(Reading("Problems", _NONE))
            return
        count = len(checked.problems)
        offered = {
            str(i): f"{'!' if i < count else 'Warning:'} {one.sentence}"
            for i, one in enumerate(found)
        }

        def chosen(one: str | None) -> None:
            if one is not None:
                self.go_to_problem(found[int(one)])

        self.app.push_screen(Pick("Problems and warnings. Enter goes to one.", offered), chosen)

    # -- going there -------------------------------------------------------------------

    def go_to_problem(self, problem: Problem) -> None:
        """Put the cursor on what is wrong, or ask at once where no row shows it."""
        scenario = problem.scenario
        if scenario is None:
            self._mend_head(problem)
            return
        if not self.session.shown.has(scenario):
            return
        self.arrangement = replace(self.arrangement, only_differing=False)
        self.choose(scenario)
        self.repaint()
        if problem.key == "parent":
            self.action_move_scenario()
        elif problem.key == f"scenario.{scenario}":
            self.action_rename_id()
        else:
            self._go_to_row(scenario, problem)

    def _go_to_row(self, scenario: str, problem: Problem) -> None:
        checked = self.session.checked
        paths = (*checked.resolved[scenario].values, *checked.strays.get(scenario, ()))
        path = next((one for one in paths if dotted(one) == problem.key), None)
        if path is None or not self.go_to_value(path):
            # The whole thing is meant, or a list of it that has no row of its own.
            self._place, self._path = tuple(problem.key.split(".")[:2]), None
            self.repaint()
        # Of a key that is not known the line below the sheet says more, and what to do.
        self.notice = "" if path is not None and is_stray(path) else in_short(problem)
        self.repaint()

    def go_to_value(self, path: Path) -> bool:
        """Put the cursor on a value's row, its heading open; whether there is one."""
        if is_stray(path):
            rows = self._all_rows(frozenset())
            place = next((row.place for row in rows if getattr(row, "path", None) == path), None)
            if place is None:
                return False
            self._folded -= {place}
            self._place, self._path = place, path
            self.repaint()
            return True
        return super().go_to_value(path)

    # -- keys that are not known -------------------------------------------------------

    def type_over(self, text: str | None) -> None:
        """A key that is not known is renamed or taken out; all else is edited."""
        line = self.line
        if line is not None and is_stray(line.path):
            self._mend_key(line.path)
        else:
            super().type_over(text)

    def _mend_key(self, path: Path) -> None:
        scenario = self.chosen
        if scenario is None or path not in self.session.checked.strays.get(scenario, {}):
            self.notice = f"{dotted(path)} is not entered in this scenario."
            self.repaint()
            return
        meant, title = known_instead(path), self.session.draft.scenario(scenario).title
        if meant is not None and meant in self.session.draft.scenario(scenario).entered:
            meant = None
        answers = {} if meant is None else {"y": f"rename it to {dotted(meant)}"}
        answers["t"] = "take it out, with its value (Del)"

        def decided(answer: str | None) -> None:
            if answer == "y" and meant is not None:
                self.do(RenameKey(scenario, path, meant), mends=True)
                self.go_to_value(meant)
            elif answer == "t":
                self.do(ClearValue(scenario, path), mends=True)

        value = shown(self.session.draft.scenario(scenario).entered[path])
        question = (
            f"{title}, {dotted(path) or 'the scenario'} = {value}: {unknown_key_fault(path)}."
        )
        self.app.push_screen(Ask(question, answers, safe=""), decided)

    # -- what holds for the whole study ------------------------------------------------

    def _mend_head(self, problem: Problem) -> None:
        name, head = problem.key, self.session.draft.head
        key = HEAD_KEYS.get(name)
        if name == "reference":
            self._pick_reference(problem)
        elif name == "format":
            self._ask_head(problem, {"y": "write format = 1"}, SetHead("format", 1))
        elif key is not None:

            def typed(text: str | None) -> None:
                if text:
                    self.do(SetHead(name, key.kind.typed(text)))

            now = head.get(name)
            old = key.kind.written(now) if isinstance(now, str | int) else ""
            question = f"{problem.sentence} {key.label}, as it is to be:"
            self.app.push_screen(Name(question, old), typed)
        elif (meant := problem.nearest) is not None and meant in HEAD_KEYS and meant not in head:
            self._ask_head(problem, {"y": f"rename it to {meant}"}, RenameHead(name, meant))
        else:
            self._ask_head(problem, {}, None)

    def _ask_head(
        self, problem: Problem, answers: dict[str, str], edit: RenameHead | SetHead | None
    ) -> None:
        offered = dict(answers)
        if problem.key in self.session.draft.head and problem.key != "format":
            offered["t"] = "take it out, with its value"

        def decided(answer: str | None) -> None:
            if answer == "y" and edit is not None:
                self.do(edit, mends=True)
            elif answer == "t":
                self.do(SetHead(problem.key, ""), mends=True)

        self.app.push_screen(Ask(problem.sentence, offered, safe=""), decided)

    def _pick_reference(self, problem: Problem) -> None:
        draft = self.session.draft
        titles = {one: draft.scenario(one).title for one in draft.ids}

        def chosen(one: str | None) -> None:
            if one is not None:
                self.do(SetHead("reference", one), choose=one)

        self.app.push_screen(
            Pick(f"{problem.sentence} Measure against:", titles, problem.nearest), chosen
        )
