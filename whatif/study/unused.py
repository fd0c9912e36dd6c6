"""Values that the model does not use in a scenario, each with the reason in words."""

from __future__ import annotations

from whatif.study.raw import Path
from whatif.study.resolve import Resolved

_NEEDS_PALLETS = {"load_stations", "pallet_change", "pallet_price", "pallet_system_price"}
_NO_TIME = {"0 min", "0 s", "0 h"}
_BY_COUNT = {"shift": "people", "machine": "count", "part": "weekly", "rush": "pieces",
             "order": "pieces"}  # fmt: skip


def why_unused(resolved: Resolved, path: Path) -> str:
    """Why the value at a path changes nothing in this scenario; "" where it may."""
    if len(path) < 3:
        claims = resolved.raw("claimed", "attended_utilization")
        if path == ("claimed", "unattended_utilization") and claims is None:
            return "nothing is claimed until an attended utilization is entered"
        return ""
    group, one, key = path[:3]
    out = _BY_COUNT.get(group)
    if out is not None and key != out and resolved.raw(group, one, out) == 0:
        return f"{one} is taken out here ({out} is 0)"
    if group == "machine" and key in _NEEDS_PALLETS and _tables_only(resolved, one):
        return "there is only the machine's own table (pallets each is 1)"
    return _of_part(resolved, one, key) if group == "part" else ""


def _tables_only(resolved: Resolved, machine: str) -> bool:
    return resolved.raw("machine", machine, "pallets") == 1


def _of_part(resolved: Resolved, part: str, key: str) -> str:
    def given(other: str) -> bool:
        return resolved.raw("part", part, other) is not None

    if key in ("gap", "edge", "turn", "fixture_height") and not given("size"):
        return "the size of the part is not given"
    if key in ("sister_tools", "tool_change") and not given("tool_life"):
        return "no tool life is given"
    if key == "first_piece_every" and resolved.raw("part", part, "first_piece") in _NO_TIME:
        return "there is no wait for a first piece"
    return ""
