"""Parts and orders from a table of a spreadsheet: asked for, looked at, entered as one change."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path as FilePath
from typing import TYPE_CHECKING

from whatif.records import dataclass
from whatif.screens.dialogs.ask import AskLine
from whatif.screens.dialogs.lists import ChooseOne, Offer
from whatif.screens.dialogs.texts import WeighTable
from whatif.study.edits import EditError
from whatif.study.file.naming import file_named
from whatif.study.file.reading import StudyError
from whatif.study.schema.kinds import KindError, Percent
from whatif.study.table.columns import label_of, names_of
from whatif.study.table.dates import monday_in
from whatif.study.table.problem import TableFault
from whatif.study.table.reading import CellTable, read_cells
from whatif.study.table.signs import DecimalSign
from whatif.study.table.taking import HowTaken, TakenTable, take_table
from whatif.telling.from_table import entered_words, lines_note, on_screen
from whatif.telling.refusals import refusal_words
from whatif.units import decimal

if TYPE_CHECKING:
    from whatif.screens.desk.changes import Changes
    from whatif.screens.desk.host import DeskHost
    from whatif.screens.desk.state import DeskState
    from whatif.screens.dialogs.dialog import Answers

_ALONE = ("none", "no", "")
"""What is typed for a line of its own for each number."""


@dataclass(frozen=True, slots=True)
class _Looked:
    """A table that is looked at before it is entered."""

    source: str
    table: CellTable
    group: str
    scenario: str
    how: HowTaken


class Tables:
    """What a table has, into the chosen scenario."""

    def __init__(self, state: DeskState, host: DeskHost, changes: Changes) -> None:
        self._state = state
        self._host = host
        self._changes = changes
        self._path = ""
        self._said: dict[tuple[str, str], HowTaken] = {}
        """What was said of a table by its file and sort, for the next time it is looked at."""

    def ask(self, group: str) -> None:
        """Ask for a table of parts or orders, and show what it comes to."""
        self._host.settle()
        scenario = self._state.chosen
        if scenario is None:
            self._host.say("There is no scenario to add to yet: press a to add one.")
            return
        read: list[_Looked] = []

        def tried(name: str) -> str:
            """Read the table; what is wrong with it, in words."""
            try:
                # A name with an ending stays as it is.
                path = file_named(name if FilePath(name).suffix else f"{name}.csv")
                table = read_cells(path)
            except StudyError as fault:
                return refusal_words(fault)
            self._path = name
            how = self._said.get((path.name, group), HowTaken({}))
            read[:] = [_Looked(path.name, table, group, scenario, how)]
            return ""

        question = (
            f"{group.capitalize()}s from a table, into {self._state.title(scenario)}. "
            "Which file (saved as CSV in the spreadsheet)?"
        )
        asked = AskLine(question, self._path, tried)
        self._host.lay_over(asked, lambda _: self._look(read[0]))

    def _look(self, looked: _Looked) -> None:
        """Show what a table comes to, with all that can be done about it."""
        try:
            taken = self._taken(looked)
        except EditError as fault:
            self._host.refuse(refusal_words(fault))
            return
        # What is lost by it is chosen each time.
        said = replace(looked.how, leave_out=False, instead=False)
        self._said[looked.source, looked.group] = said
        title = f"{looked.source} into {self._state.title(looked.scenario)}"
        self._host.lay_over(WeighTable(title, on_screen(taken), self._answers(looked, taken)))

    def _taken(self, looked: _Looked) -> TakenTable:
        draft = self._state.draft
        return take_table(looked.table, looked.group, looked.how, draft, looked.scenario)

    def _answers(self, looked: _Looked, taken: TakenTable) -> Answers:
        answers: dict[str, tuple[str, partial[None]]] = {}
        many = len(taken.things)
        if taken.is_clean:
            sort = f"{looked.group}{'' if many == 1 else 's'}"
            numbers = sum(len(line.rows) for line in taken.lines)
            also = f" for {numbers} numbers" if numbers > many else ""
            answers["y"] = (f"enter {many} {sort}{also} (Enter)", partial(self._enter, looked))
        how = looked.how
        wrong = {problem.row for problem in taken.problems if problem.row}
        if how.leave_out:
            answers["l"] = self._again(
                "take in all rows again", looked, replace(how, leave_out=False)
            )
        elif wrong:
            rows = f"{len(wrong)} row{'' if len(wrong) == 1 else 's'} with problems"
            answers["l"] = self._again(
                f"leave out the {rows}", looked, replace(how, leave_out=True)
            )
        answers["c"] = ("say which column is which", partial(self._ask_column, looked, taken))
        if looked.group == "part":
            answers["g"] = ("which numbers go into one line", partial(self._ask_bound, looked))
        else:
            answers["w"] = ("say when week 1 begins", partial(self._ask_week, looked))
        faults = {problem.fault for problem in taken.problems}
        if taken.read.doubtful or how.sign or TableFault.READS_TWO_WAYS in faults:
            answers["d"] = ("say the decimal sign", partial(self._ask_sign, looked))
        if taken.staying or how.instead:
            words = "let the other ones stay" if how.instead else "remove the other ones there"
            answers["i"] = self._again(words, looked, replace(how, instead=not how.instead))
        return answers

    def _again(self, words: str, looked: _Looked, how: HowTaken) -> tuple[str, partial[None]]:
        """An answer that shows the table taken in another way."""
        return words, partial(self._look, replace(looked, how=how))

    def _enter(self, looked: _Looked) -> None:
        """Enter all of it, as a change that is undone at once."""
        taken = self._taken(looked)
        note = lines_note(taken, looked.source)
        draft = self._state.draft
        edit = taken.edit(draft, looked.scenario, looked.source, note)
        self._changes.do(edit, also=entered_words(taken, draft, looked.scenario))

    # -- what a table does not say itself ----------------------------------------------

    def _ask_column(self, looked: _Looked, taken: TakenTable) -> None:
        columns = [column for column in taken.heads.columns if column.head]
        offers = [
            Offer(
                str(column.place),
                column.words,
                label_of(looked.group, column.name) if column.name else "not used",
            )
            for column in columns
        ]

        def chosen(place: str) -> None:
            column = next(each for each in columns if str(each.place) == place)
            self._ask_key(looked, column.head, column.name)

        self._host.lay_over(ChooseOne("Which column?", offers), chosen)

    def _ask_key(self, looked: _Looked, head: str, now: str) -> None:
        offers = [Offer("", "not used", "the column is passed over")]
        offers += [
            Offer(name, label_of(looked.group, name), name) for name in names_of(looked.group)
        ]

        def chosen(name: str) -> None:
            named = {**looked.how.named, head: name}
            self._look(replace(looked, how=replace(looked.how, named=named)))

        self._host.lay_over(ChooseOne(f"What is {head}?", offers, now), chosen)

    def _ask_bound(self, looked: _Looked) -> None:
        found: list[HowTaken] = []

        def tried(typed: str) -> str:
            if typed.lower() in _ALONE:
                found[:] = [replace(looked.how, alike=None, is_grouped=False)]
                return ""
            try:
                bound = Percent().read(Percent().typed_over(typed, (), "metric")).value
            except KindError as fault:
                return f"{fault.why}; allowed is {fault.allowed}, or none."
            found[:] = [replace(looked.how, alike=bound, is_grouped=True)]
            return ""

        alike = self._taken(looked).alike
        question = (
            "Numbers go into one line where the longest time is at most so much over the shortest; "
            "none: each has a line of its own."
        )
        now = "none" if alike is None else f"{decimal(alike * 100)} %"
        asked = AskLine(question, now, tried)
        self._host.lay_over(asked, lambda _: self._look(replace(looked, how=found[0])))

    def _ask_week(self, looked: _Looked) -> None:
        def tried(typed: str) -> str:
            return "" if monday_in(typed) else "name a Monday, such as 2026-11-30."

        def said(typed: str) -> None:
            self._look(replace(looked, how=replace(looked.how, week_1=monday_in(typed))))

        now = "" if looked.how.week_1 is None else looked.how.week_1.isoformat()
        self._host.lay_over(AskLine("On which Monday does week 1 begin?", now, tried), said)

    def _ask_sign(self, looked: _Looked) -> None:
        offers = [
            Offer(sign.name, f"decimal {sign.name.lower()}", f"such as 1{sign.value}5")
            for sign in DecimalSign
        ]

        def chosen(name: str) -> None:
            self._look(replace(looked, how=replace(looked.how, sign=DecimalSign[name])))

        self._host.lay_over(ChooseOne("What stands before the decimals?", offers), chosen)
