"""The study that ten answers make, asked of the calculating process: its shop has to be run."""

from __future__ import annotations

from typing_extensions import override

from whatif.answers.simulate import Simulate
from whatif.records import dataclass
from whatif.session.calculate.requests import Alone
from whatif.session.first_made import FirstStudy


@dataclass(frozen=True, slots=True)
class FirstStudyOf(Alone):
    """The study that faultless answers, by the ids of their questions, make."""

    answers: tuple[tuple[str, str], ...]

    @override
    def work_alone(self, simulate: Simulate) -> FirstStudy:
        # Whoever only asks it loads nothing of what it takes.
        from whatif.session.first_study import first_study

        return first_study(dict(self.answers), simulate)
