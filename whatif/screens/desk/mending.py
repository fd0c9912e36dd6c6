"""What is wrong in a study: gone to from a list, and put right."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from whatif.screens.dialogs.ask import Ask, AskLine
from whatif.screens.dialogs.lists import ChooseOne
from whatif.screens.dialogs.reading import ReadText
from whatif.session.sheet import is_unknown_key
from whatif.study.check.entries import known_instead
from whatif.study.edits import ClearValue, Edit, RenameHead, RenameKey, SetHead, SetLever
from whatif.study.raw import Path, shown
from whatif.study.schema.catalogue import HEAD_KEYS, LEVER, dotted
from whatif.telling.problems import problem_in_short, problem_sentence
from whatif.telling.sheet_cell import unknown_key_fault

if TYPE_CHECKING:
    from whatif.screens.desk.changes import Changes
    from whatif.screens.desk.host import DeskHost
    from whatif.screens.desk.scenarios import Scenarios
    from whatif.screens.desk.state import DeskState
    from whatif.screens.dialogs.dialog import Answers
    from whatif.study.problem import Problem

_NONE = "The file has no problems. What is to be heeded in a scenario, F2 tells."


class Mending:
    """What goes to problems and mends what has no value to be typed over."""

    def __init__(
        self, state: DeskState, host: DeskHost, changes: Changes, scenarios: Scenarios
    ) -> None:
        self._state = state
        self._host = host
        self._changes = changes
        self._scenarios = scenarios

    def offer_all(self) -> None:
        """List all problems and warnings of the study, to go to one."""
        self._host.settle()
        checked = self._state.session.checked
        found = (*checked.problems, *checked.warnings)
        if not found:
            self._host.lay_over(ReadText("Problems", _NONE, of_problems=True))
            return
        count = len(checked.problems)
        offered = {
            str(i): f"{'!' if i < count else 'Warning:'} {problem_sentence(problem)}"
            for i, problem in enumerate(found)
        }
        self._host.lay_over(
            ChooseOne("Problems and warnings. Enter goes to one.", offered),
            lambda number: self.go_to(found[int(number)]),
        )

    # -- going there -------------------------------------------------------------------

    def go_to(self, problem: Problem) -> None:
        """Put the cursor on what is wrong, or ask at once where no row shows it."""
        state, scenario = self._state, problem.scenario
        if scenario is None:
            self._mend_head(problem)
            return
        if not state.shown.has(scenario):
            return
        state.arrangement = replace(state.arrangement, only_differing=False)
        state.choose(scenario)
        self._host.repaint()
        if problem.path == ("parent",):
            self._scenarios.base_on_another()
        elif problem.path == ("scenario", scenario):
            self._scenarios.rename_id()
        else:
            self._go_to_row(scenario, problem)

    def _go_to_row(self, scenario: str, problem: Problem) -> None:
        state, checked = self._state, self._state.session.checked
        paths = (*checked.resolved[scenario].values, *checked.unknown_keys.get(scenario, ()))
        path = next((path for path in paths if path == problem.path), None)
        if path is None or not state.go_to_value(path):
            # The whole thing is meant, or a list of it that has no row of its own.
            state.put_on(problem.path[:2], opening=False)
        # Of a key that is not known the line below the sheet says more, and what to do.
        is_known = path is None or not is_unknown_key(path)
        self._host.say(problem_in_short(problem) if is_known else "")

    # -- keys that are not known -------------------------------------------------------

    def mend_key(self, path: Path) -> None:
        """Ask whether a key that is not known is to be renamed or taken out."""
        state, scenario = self._state, self._state.chosen
        if scenario is None or path not in state.session.checked.unknown_keys.get(scenario, {}):
            self._host.say(f"{dotted(path)} is not entered in this scenario.")
            return
        entered = state.draft.scenario(scenario).entered
        meant = known_instead(path)
        if meant is not None and meant in entered:
            meant = None

        def renamed(to: Path) -> None:
            self._changes.do(RenameKey(scenario, path, to), mends=True)
            if state.go_to_value(to):
                self._host.repaint()

        take_out = self._mends(ClearValue(scenario, path))
        answers: Answers = {"t": ("remove it, with its value (Del)", take_out)}
        if meant is not None:
            answers = {"y": (f"rename it to {dotted(meant)}", partial(renamed, meant)), **answers}
        where = f"{state.title(scenario)}, {dotted(path) or 'the scenario'}"
        question = f"{where} = {shown(entered[path])}: {unknown_key_fault(path)}."
        self._host.lay_over(Ask(question, answers))

    def _mends(self, edit: Edit) -> Callable[[], None]:
        return partial(self._changes.do, edit, mends=True)

    # -- what holds for the whole study ------------------------------------------------

    def _mend_head(self, problem: Problem) -> None:
        name, head = problem.key, self._state.draft.head
        key = HEAD_KEYS.get(name)
        if name == "reference":
            self._pick_reference(problem)
        elif name == "format":
            self._ask_head(problem, "write format = 1", SetHead("format", 1))
        elif key is not None:
            now = head.get(name)
            old = key.kind.written(now) if isinstance(now, str | int) else ""
            self._host.lay_over(
                AskLine(f"{problem_sentence(problem)} {key.label}, as it is to be:", old),
                lambda text: self._changes.do(SetHead(name, key.kind.typed(text))),
            )
        elif (meant := problem.nearest) is not None and meant in HEAD_KEYS and meant not in head:
            self._ask_head(problem, f"rename it to {meant}", RenameHead(name, meant))
        else:
            self._ask_head(problem, "", None)

    def _ask_head(self, problem: Problem, words: str, edit: Edit | None) -> None:
        """Ask whether to make an edit, if there is one, or to take out what is wrong."""
        answers = {} if edit is None else {"y": (words, self._mends(edit))}
        if problem.path[0] == LEVER and len(problem.path) > 1:
            lever = SetLever(problem.path[1])
            answers["t"] = ("remove the lever, with its values", self._mends(lever))
        if problem.key in self._state.draft.head and problem.key != "format":
            answers["t"] = ("remove it, with its value", self._mends(SetHead(problem.key, "")))
        self._host.lay_over(Ask(problem_sentence(problem), answers))

    def _pick_reference(self, problem: Problem) -> None:
        titles = {scenario: self._state.title(scenario) for scenario in self._state.draft.ids}
        self._host.lay_over(
            ChooseOne(f"{problem_sentence(problem)} Measure against:", titles, problem.nearest),
            lambda scenario: self._changes.do(SetHead("reference", scenario), choose=scenario),
        )
