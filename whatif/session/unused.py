"""Values that the model does not use in a scenario, each with the reason in words."""

from __future__ import annotations

from whatif.study.raw import Path
from whatif.study.resolve import Resolved

_NEEDS_PALLETS = {"load_stations", "pallet_change", "pallet_price", "pallet_system_price"}
_BY_COUNT = {"shift": "people", "machine": "count", "part": "weekly", "rush": "pieces",
             "order": "pieces"}  # fmt: skip


def why_unused(resolved: Resolved, path: Path) -> str:
    """Why the value at a path changes nothing in this scenario; "" where it may."""
    group = path[0]
    if group in _BY_COUNT and len(path) > 2:
        key = _BY_COUNT[group]
        if path[2] != key and resolved.raw(group, path[1], key) == 0:
            return f"{path[1]} is taken out here ({key} is 0)"
    if group == "machine" and path[2] in _NEEDS_PALLETS:
        if resolved.raw("machine", path[1], "pallets") in (1, None):
            return "there is only the machine's own table (pallets each is 1)"
    if group == "part" and len(path) == 3:
        return _of_part(resolved, path)
    if path == ("claimed", "unattended_utilization"):
        if resolved.raw("claimed", "attended_utilization") is None:
            return "nothing is claimed until an attended utilization is entered"
    return ""


def _of_part(resolved: Resolved, path: Path) -> str:
    part, key = path[1], path[2]
    if key in ("gap", "edge", "turn", "fixture_height"):
        if resolved.raw("part", part, "size") is None:
            return "the size of the part is not given"
    if key in ("sister_tools", "tool_change"):
        if resolved.raw("part", part, "tool_life") is None:
            return "no tool life is given"
    if key == "first_piece_every" and resolved.raw("part", part, "first_piece") in (
        "0 min",
        "0 s",
        "0 h",
    ):
        return "there is no wait for a first piece"
    return ""
