"""Readings of hour meters entered in a scenario, as one edit."""

from decimal import Decimal

from whatif.study.edits.edit import Edit, Together
from whatif.study.edits.values import SetValue
from whatif.study.raw import Raw

METERS_READ = "hour meters from readings"
"""What the edit is called."""


def enter_meters(scenario: str, on: float, cut: float, weeks: float) -> Edit:
    """Hours of all machines, to a tenth, and weeks, to a hundredth; the gap stays as it is read."""
    values: dict[str, Raw] = {
        "switched_on": f"{round(on, 1)} h",
        "in_cut": f"{round(cut, 1)} h",
        "weeks": Decimal(str(max(0.01, round(weeks, 2)))),
    }
    edits = (SetValue(scenario, ("hour_meters", key), raw) for key, raw in values.items())
    return Together(tuple(edits), METERS_READ)
