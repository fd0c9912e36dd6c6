"""What a file may say but no answer heeds yet: told, never silently dropped."""

from __future__ import annotations

from whatif.study.models import Scenario


def unheard(scenario: Scenario) -> list[str]:
    """A warning for each such thing that the scenario says."""
    said = []
    meters = scenario.hour_meters
    if meters.gap != "show":
        said.append(f'The hour meters\' gap "{meters.gap}" is not worked in yet; it is only shown.')
    return said
