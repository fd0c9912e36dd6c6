"""``whatif night``: how long the spindles go on after each shift, on standard output."""

from __future__ import annotations

import sys

from whatif.answers.night.of_study import study_nights
from whatif.command.answers import refuse_scenario, sound_study, writable
from whatif.reports.nights import FORMATS
from whatif.session.calculate.memory import Memory


def night_of_study(path: str, scenario: str | None, form: str) -> int:
    """Print the nights of a scenario, or of all; 1 with the errors on standard error if any."""
    checked = sound_study(path)
    if checked is None or checked.study is None:
        return 1
    scenarios = checked.study.scenarios
    if scenario is not None and scenario not in scenarios:
        return refuse_scenario(scenario, scenarios)
    shown = _Shown()
    found = study_nights(checked, Memory(), shown.told, scenario)
    shown.wipe()
    print(writable(FORMATS[form](found)))
    return 0


class _Shown:
    """How many scenarios are done, on a terminal only and wiped out at the end."""

    def __init__(self) -> None:
        self._shown = sys.stderr.isatty()
        self._told = ""

    def told(self, done: int, of: int) -> None:
        self._show(f"nights of scenario {done + 1} of {of}")

    def wipe(self) -> None:
        self._show("")

    def _show(self, text: str) -> None:
        if self._shown and text != self._told:
            wiped = " " * len(self._told)
            print(f"\r{wiped}\r{text}", end="\r", file=sys.stderr, flush=True)
            self._told = text
