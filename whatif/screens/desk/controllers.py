"""All that works on one desk, each with what it needs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from whatif.screens.desk.arranging import Arranging
from whatif.screens.desk.calculation import Calculation
from whatif.screens.desk.changes import Changes
from whatif.screens.desk.copying import Copying
from whatif.screens.desk.entering import Entering
from whatif.screens.desk.forms import Forms
from whatif.screens.desk.help import Help
from whatif.screens.desk.mending import Mending
from whatif.screens.desk.scenarios import Scenarios
from whatif.screens.desk.search import RowSearch
from whatif.screens.desk.study_file import StudyFile
from whatif.screens.desk.things import Things
from whatif.screens.desk.values import Values
from whatif.screens.desk.views import Views
from whatif.screens.desk.whole_study import WholeStudy

if TYPE_CHECKING:
    from whatif.screens.desk.host import DeskHost
    from whatif.screens.desk.state import DeskState


class Controllers:
    """One controller for each subject; commands call them, and none of them knows a command."""

    def __init__(self, state: DeskState, host: DeskHost) -> None:
        self.calculation = Calculation(state, host)
        self.arranging = Arranging(state, host)
        self.search = RowSearch(state, host)
        self.changes = changes = Changes(state, host)
        self.help = Help(state, host, self.calculation)
        self.file = StudyFile(state, host, changes)
        self.things = Things(state, host, changes)
        self.scenarios = Scenarios(state, host, changes, self.calculation)
        self.whole_study = WholeStudy(state, host, changes)
        self.values = Values(state, host, changes)
        self.mending = Mending(state, host, changes, self.scenarios)
        self.entering = Entering(
            state,
            host,
            values=self.values,
            forms=Forms(state, host, changes, self.values),
            scenarios=self.scenarios,
            mending=self.mending,
        )
        self.copying = Copying(state, host, changes, self.entering)
        self.views = Views(
            state,
            host,
            calculation=self.calculation,
            changes=changes,
            entering=self.entering,
        )
