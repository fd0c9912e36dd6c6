"""A study and its scenarios, typed: every key there is (rule `keys.study`)."""

from collections.abc import Mapping
from datetime import date
from typing import Annotated, Final, Literal

from whatif.study.schema.kinds import Choice, Count, CountOr, Date, Id, Percent, Text
from whatif.study.schema.models.cell import (
    Handling,
    HourMeters,
    Money,
    Sequence,
    Unattended,
    WhatIsSaid,
)
from whatif.study.schema.models.machine import Machine, Shift
from whatif.study.schema.models.order import Order, Rush, Stop
from whatif.study.schema.models.part import Part
from whatif.study.schema.says import Model, Things, says
from whatif.units import Quantity

FORMAT: Final = 1
SETTLED: Final = "settled"
FIRST_WEEKS: Final = 12
"""Weeks that are measured first where there are to be as many as settle."""


class Scenario(Model):
    """One scenario with all that it inherits; things stand in the book's order.

    Things that are taken out (count, people, weekly, every or pieces of 0) are
    still here.
    """

    id: str
    title: Annotated[str, Text()] = says(
        "title",
        "what the scenario is called",
        "Say what is different in it.",
        assumed="",
        in_words="the id",
        inherited=False,
    )
    notes: Annotated[str, Text(lines=True)] = says(
        "notes",
        "what else should be known of it",
        "Write down where the numbers are from.",
        assumed="",
        inherited=False,
    )
    parent: Annotated[str | None, Id()] = says(
        "based on",
        "the scenario from which all is inherited that is not entered here",
        "Choose the scenario that it is a change of.",
        assumed=None,
        in_words="none",
        inherited=False,
    )
    done_on: Annotated[date | None, Date()] = says(
        "done on",
        "the day from which on the shop is as this scenario has it; readings of hour meters after "
        "it are held against what was predicted",
        "Enter it when the change is made, and go on reading the hour meters.",
        assumed=None,
        inherited=False,
    )
    said: WhatIsSaid
    hour_meters: HourMeters
    shift: Things[Shift]
    unattended: Unattended
    handling: Handling
    sequence: Sequence
    machine: Things[Machine]
    part: Things[Part]
    stop: Things[Stop]
    rush: Things[Rush]
    order: Things[Order]
    money: Money


class Study(Model):
    """A whole study: what holds for all scenarios, and the scenarios in file order."""

    format: Annotated[int, Count(FORMAT, FORMAT)] = says(
        "format", "the form of the file", "It is always 1."
    )
    title: Annotated[str, Text()] = says(
        "title", "what the study is called", "Say what it is about.", assumed=""
    )
    units: Annotated[Literal["metric", "inch"], Choice(metric="", inch="")] = says(
        "units", "what screens and reports show", "Use what your drawings use.", assumed="metric"
    )
    reference: Annotated[str, Id()] = says(
        "reference",
        "the scenario that gains are measured against",
        "Choose the scenario that shows the cell as it is.",
        assumed=None,
        in_words="the first scenario",
    )
    today: Annotated[str, Id()] = says(
        "today",
        "the scenario that stands in the shop now; money is counted from it",
        "Choose the scenario with the machines that you have.",
        assumed=None,
        in_words="the first scenario",
    )
    weeks: Annotated[int | str, CountOr(SETTLED, 1, 520)] = says(
        "weeks",
        "weeks measured; settled: as many as the gains need to stand still",
        "Leave it settled, or enter how many weeks you want to look at.",
        assumed=SETTLED,
    )
    warm_up: Annotated[int, Count(0, 104)] = says(
        "warm-up weeks",
        "weeks run before measuring starts",
        "Enough for the cell to be full of work.",
        assumed=4,
    )
    runs: Annotated[int, Count(1, 1000)] = says(
        "runs",
        "draws for the likely range, and seeded runs where stops are given",
        "More runs make ranges and bands steadier.",
        assumed=19,
    )
    accuracy: Annotated[Quantity, Percent(50)] = says(
        "accuracy of entries",
        "how well the times and demands that are entered are known",
        "Time a few pieces twice: by how much do the two readings differ?",
        assumed="5 %",
    )
    guess_accuracy: Annotated[Quantity, Percent(90)] = says(
        "accuracy of guesses",
        "how well the times that are assumed are known",
        "Ask how far off a guess of yours usually is.",
        assumed="20 %",
    )
    scenarios: Mapping[str, Scenario]

    @property
    def settled(self) -> bool:
        """Whether as many weeks are measured as the gains need (rule `results.window`)."""
        return self.weeks == SETTLED

    @property
    def first_weeks(self) -> int:
        """Weeks measured; of settled ones those that are begun with."""
        return self.weeks if isinstance(self.weeks, int) else FIRST_WEEKS
