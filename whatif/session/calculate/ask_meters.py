"""Asks for hour meters against the model: both readings take searches of their own."""

from __future__ import annotations

from dataclasses import dataclass

from whatif.answers.meters.metered import Metered, metered
from whatif.session.calculate.requests import Material, Question


@dataclass(frozen=True, slots=True)
class MetersOfStudy(Question):
    """The hour meters of every scenario that has some."""

    def work_out(self, material: Material) -> tuple[Metered, ...]:
        """One entry a scenario with meters."""
        return metered(material.found, material.simulate)
