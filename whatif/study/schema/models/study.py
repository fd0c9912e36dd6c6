"""A study and its scenarios, typed: every key there is (rule `keys.study`)."""

from collections.abc import Mapping
from typing import Annotated, Final, Literal

from pydantic import Field

from whatif.study.schema.kinds import Choice, Count, Id, Text
from whatif.study.schema.models.cell import (
    Claimed,
    Handling,
    HourMeters,
    Money,
    Sequence,
    Unattended,
)
from whatif.study.schema.models.machine import Machine, Shift
from whatif.study.schema.models.order import Order, Rush, Stop
from whatif.study.schema.models.part import Part
from whatif.study.schema.says import Model, Things, says

FORMAT: Final = 1


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
    claimed: Claimed = Field(default_factory=Claimed)
    hour_meters: HourMeters = Field(default_factory=HourMeters)
    shift: Things[Shift] = Field(default_factory=dict)
    unattended: Unattended = Field(default_factory=Unattended)
    handling: Handling = Field(default_factory=Handling)
    sequence: Sequence = Field(default_factory=Sequence)
    machine: Things[Machine] = Field(default_factory=dict)
    part: Things[Part] = Field(default_factory=dict)
    stop: Things[Stop] = Field(default_factory=dict)
    rush: Things[Rush] = Field(default_factory=dict)
    order: Things[Order] = Field(default_factory=dict)
    money: Money = Field(default_factory=Money)


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
    weeks: Annotated[int, Count(1, 104)] = says(
        "weeks", "weeks measured", "More weeks make the figures steadier.", assumed=13
    )
    warm_up: Annotated[int, Count(0, 52)] = says(
        "warm-up weeks",
        "weeks run before measuring starts",
        "Enough for the cell to be full of work.",
        assumed=2,
    )
    runs: Annotated[int, Count(1, 1000)] = says(
        "runs", "seeded runs where stops are given", "More runs make the band steadier.", assumed=20
    )
    scenarios: Mapping[str, Scenario]
