"""A scenario of a study walked through: its sheet, and its tallies beside its attended hours."""

from __future__ import annotations

from collections.abc import Mapping

from whatif.answers.meters.held import as_held
from whatif.answers.running import plain_figures
from whatif.answers.simulate import Simulate
from whatif.answers.walk.tallies import Walked, walked
from whatif.answers.walk.tours import WalkSheet, walk_sheet
from whatif.plan.build import plans_of
from whatif.study.check.check import Checked


def sheet_of_study(checked: Checked, scenario: str, title: str, tours: int, seed: int) -> WalkSheet:
    """When to walk, and past which machines."""
    return walk_sheet(plans_of(checked)[scenario], title, tours, seed)


def walk_of_study(
    checked: Checked,
    scenario: str,
    title: str,
    seen: Mapping[str, int],
    confidence: float,
    within: float,
    simulate: Simulate,
) -> Walked:
    """What was seen, held against the same run that hour meters are held against (`meters.share`),
    in the same hours: those with somebody on duty, breaks left out."""
    figures = plain_figures(as_held(plans_of(checked)[scenario]), simulate)
    attended = None if figures is None else figures.attended
    return walked(scenario, title, seen, attended, confidence, within)
