"""All that works on one desk, each with what it needs."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from whatif.screens.desk.calculation import Calculation

if TYPE_CHECKING:
    from whatif.screens.desk.arranging import Arranging
    from whatif.screens.desk.changes import Changes
    from whatif.screens.desk.copying import Copying
    from whatif.screens.desk.entering import Entering
    from whatif.screens.desk.help import Help
    from whatif.screens.desk.host import DeskHost
    from whatif.screens.desk.mending import Mending
    from whatif.screens.desk.report import Report
    from whatif.screens.desk.scenarios import Scenarios
    from whatif.screens.desk.search import RowSearch
    from whatif.screens.desk.state import DeskState
    from whatif.screens.desk.study_file import StudyFile
    from whatif.screens.desk.tables import Tables
    from whatif.screens.desk.things import Things
    from whatif.screens.desk.values import Values
    from whatif.screens.desk.views import Views
    from whatif.screens.desk.whole_study import WholeStudy


class Controllers:
    """One controller for each subject; commands call them, and none of them knows a command.

    What the desk needs to be seen is there at once. Each of the others is loaded, with its
    dialogs, by the first command that is its own.
    """

    def __init__(self, state: DeskState, host: DeskHost) -> None:
        self._state = state
        self._host = host
        self.calculation = Calculation(state, host)

    @cached_property
    def arranging(self) -> Arranging:
        """How the study is looked at."""
        from whatif.screens.desk.arranging import Arranging

        return Arranging(self._state, self._host)

    @cached_property
    def search(self) -> RowSearch:
        """Finds rows."""
        from whatif.screens.desk.search import RowSearch

        return RowSearch(self._state, self._host)

    @cached_property
    def changes(self) -> Changes:
        """Changes the study, undoes and does again."""
        from whatif.screens.desk.changes import Changes

        return Changes(self._state, self._host)

    @cached_property
    def help(self) -> Help:
        """What is read."""
        from whatif.screens.desk.help import Help

        return Help(self._state, self._host, self.calculation)

    @cached_property
    def file(self) -> StudyFile:
        """The study's file."""
        from whatif.screens.desk.study_file import StudyFile

        return StudyFile(self._state, self._host, self.changes)

    @cached_property
    def report(self) -> Report:
        """The report of what is on the screen."""
        from whatif.screens.desk.report import Report

        return Report(self._state, self._host)

    def stop_or_go_on(self) -> None:
        """Stop the report that is being written; else what a view has asked for, or go on."""
        if not self.report.stop():
            self.calculation.stop_or_go_on()

    @cached_property
    def things(self) -> Things:
        """Machines, shifts, parts and others."""
        from whatif.screens.desk.things import Things

        # The tables are loaded when somebody asks for one.
        return Things(self._state, self._host, self.changes, lambda group: self.tables.ask(group))

    @cached_property
    def tables(self) -> Tables:
        """Parts and orders from tables of a spreadsheet."""
        from whatif.screens.desk.tables import Tables

        return Tables(self._state, self._host, self.changes)

    @cached_property
    def scenarios(self) -> Scenarios:
        """The scenarios as wholes."""
        from whatif.screens.desk.scenarios import Scenarios

        return Scenarios(self._state, self._host, self.changes, self.calculation)

    @cached_property
    def whole_study(self) -> WholeStudy:
        """What holds for all scenarios."""
        from whatif.screens.desk.whole_study import WholeStudy

        return WholeStudy(self._state, self._host, self.changes)

    @cached_property
    def values(self) -> Values:
        """Values in the editor."""
        from whatif.screens.desk.values import Values

        return Values(self._state, self._host, self.changes)

    @cached_property
    def mending(self) -> Mending:
        """Puts problems right."""
        from whatif.screens.desk.mending import Mending

        return Mending(self._state, self._host, self.changes, self.scenarios)

    @cached_property
    def entering(self) -> Entering:
        """Which value is entered, and how that is asked for."""
        from whatif.screens.desk.entering import Entering
        from whatif.screens.desk.forms import Forms

        return Entering(
            self._state,
            self._host,
            values=self.values,
            forms=Forms(self._state, self._host, self.changes, self.values),
            scenarios=self.scenarios,
            mending=self.mending,
        )

    @cached_property
    def copying(self) -> Copying:
        """Columns as text."""
        from whatif.screens.desk.copying import Copying

        return Copying(self._state, self._host, self.changes, self.entering)

    @cached_property
    def views(self) -> Views:
        """Opens and closes views."""
        from whatif.screens.desk.views import Views

        return Views(
            self._state,
            self._host,
            calculation=self.calculation,
            changes=self.changes,
            entering=self.entering,
        )
