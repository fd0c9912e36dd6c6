"""Every model of a study file, typed and frozen."""

from whatif.study.schema.models.cell import (
    Handling,
    HourMeters,
    Money,
    Sequence,
    Unattended,
    WhatIsSaid,
)
from whatif.study.schema.models.lever import Lever
from whatif.study.schema.models.machine import Machine, Shift
from whatif.study.schema.models.order import Order, Rush, Stop
from whatif.study.schema.models.part import On, Part
from whatif.study.schema.models.study import FIRST_WEEKS, FORMAT, SETTLED, Scenario, Study

__all__ = [
    "FIRST_WEEKS",
    "FORMAT",
    "SETTLED",
    "Handling",
    "HourMeters",
    "Lever",
    "Machine",
    "Money",
    "On",
    "Order",
    "Part",
    "Rush",
    "Scenario",
    "Sequence",
    "Shift",
    "Stop",
    "Study",
    "Unattended",
    "WhatIsSaid",
]
