"""What the answers make, asked of the calculating process: the shop of today has to be run."""

from __future__ import annotations

from typing_extensions import override

from whatif.answers.simulate import Simulate
from whatif.records import dataclass
from whatif.session.calculate.requests import Alone
from whatif.session.first_made import FirstStudy
from whatif.telling.first_found import FirstLook


@dataclass(frozen=True, slots=True)
class FirstStudyOf(Alone):
    """The study that faultless answers, by the ids of their questions, make."""

    answers: tuple[tuple[str, str], ...]

    @override
    def work_alone(self, simulate: Simulate) -> FirstStudy:
        # Whoever only asks it loads nothing of what it takes.
        from whatif.session.first_study import first_study

        return first_study(dict(self.answers), simulate)


@dataclass(frozen=True, slots=True)
class FirstLookOf(Alone):
    """Where the hours of today go, by faultless answers, whatever is not answered assumed.

    ``is_ranged`` asks for the likely range too, which takes longer.
    """

    answers: tuple[tuple[str, str], ...]
    is_ranged: bool = False

    @override
    def work_alone(self, simulate: Simulate) -> FirstLook:
        from whatif.session.first_study import first_look

        return first_look(dict(self.answers), simulate, is_ranged=self.is_ranged)
