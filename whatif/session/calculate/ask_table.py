"""Asks how a part stands on a machine: searches for one more piece may take a moment."""

from __future__ import annotations

from dataclasses import dataclass

from whatif.answers.on_table import Bed, bed
from whatif.session.calculate.requests import Material, Question


@dataclass(frozen=True, slots=True)
class BedOf(Question):
    """A part on a machine of a scenario, told in metric or inch units."""

    scenario: str
    part: str
    group: str
    units: str

    def work_out(self, material: Material) -> Bed:
        """The layout, its limits, and what would have to change."""
        study = material.checked.study
        assert study is not None  # a question is asked of studies without problems only
        return bed(study.scenarios[self.scenario], self.part, self.group, self.units)
