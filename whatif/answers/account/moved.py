"""Which figure an input moves first: what is accounted for where one stands on that input."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from whatif.study.schema.catalogue import ANY, key_for

if TYPE_CHECKING:
    from whatif.study.raw import Path

_AFTER_HOURS: Final = "spindle_hours.after_hours"

_FIRST: Final[dict[str, tuple[str, ...]]] = {
    # The hours of the day are results of the shifts, and stand on the sheet as inputs do.
    "spindle_hours.attended": ("hours.attended",),
    _AFTER_HOURS: ("unattended", "machine.*.unattended", "part.*.unattended"),
    "spindle_hours.breaks": ("unattended.through_breaks",),
    "spindle_hours.total": ("machine",),
    "hours_by_state.pallet_change": ("machine.*.pallet_change",),
    "hours_by_state.warm_up": ("machine.*.warm_up",),
    "hours_by_state.setup": (
        *("part.*.setup", "part.*.on.*.setup", "part.*.batch", "sequence"),
        "handling.setter_stays",
    ),
    "hours_by_state.person_at_machine": (
        *("part.*.prove_out", "part.*.on.*.prove_out", "part.*.tool_change"),
    ),
    "hours_by_state.first_piece": ("part.*.first_piece", "part.*.first_piece_every"),
    "hours_by_state.load": (
        *("part.*.load", "part.*.unload", "part.*.on.*.load", "part.*.on.*.unload"),
    ),
    "hours_by_state.waiting_for_person": ("shift.*.does",),
    "hours_by_state.stopped": ("stop",),
    "utilization_percent.of_shift": ("part.*.in_cut",),
    "pieces.{}": ("part",),
    "demand_met_percent.{}": ("part.*.weekly", "part.*.numbers"),
    "people_hours.paid": ("shift", "shift.*.unpaid_breaks"),
    "people_hours.on_duty": ("shift.*.breaks",),
    "people_hours.busy": ("handling", "part.*.bench"),
    "fit.{}": (
        *("part.*.size", "part.*.mass", "part.*.fixture_mass", "part.*.turn", "part.*.gap"),
        *("part.*.edge", "part.*.fixture_height", "part.*.per_pallet", "part.*.on.*.per_pallet"),
    ),
    "fit": (
        *("machine.*.table", "machine.*.travel", "machine.*.work_height"),
        *("machine.*.table_load", "machine.*.faces"),
    ),
    "gain_percent.per_floor_area": ("machine.*.floor", "machine.*.pallet_floor"),
    "money.capital": (
        *("machine.*.price", "machine.*.resale", "machine.*.pallet_price", "machine.*.owned"),
        *("machine.*.pallet_system_price", "part.*.fixture_price"),
        *("money.one_off", "money.floor_price"),
    ),
    "money.year": (
        *("money", "machine.*.yearly", "shift.*.wage", "part.*.contribution", "part.*.material"),
    ),
    "money.net_present_value": ("money.rate", "money.years"),
    "money.payback_years": ("money.ramp",),
    "said.hours_per_day": ("said",),
    "hour_meters": ("hour_meters",),
    "rush.{}": ("rush",),
    "orders.{}": ("order",),
    "orders.{}.last_off": ("order.*.pieces",),
    "orders.{}.late_hours": ("order.*.due",),
}
"""The inputs, or groups of them, by the figure; {} is the thing's id. A key says more than its
group. Which figure is the first is our own reasoning: the nearest to the input that it moves."""

_BY_INPUT: Final = {key: figure for figure, keys in _FIRST.items() for key in keys}


def first_moved(path: Path) -> str:
    """The id of the first figure that an input moves, or what it begins with; "" of none."""
    key = key_for(path)
    pattern = path if key is None else key.pattern
    figure = _BY_INPUT.get(".".join(pattern)) or _BY_INPUT.get(path[0], "")
    return figure.format(path[1]) if ANY in pattern else figure
