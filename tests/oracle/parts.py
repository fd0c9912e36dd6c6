"""The parts of a study: what is wanted of them, where they are made (rule `orders.made`)."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from .hours import Hours
from .things import Machine, Part

DEFAULTS: dict[str, Any] = {
    "on": {},
    "load": 120,
    "unload": 60,
    "bench": 0,
    "setup": 0,
    "prove_out": 0,
    "first_piece": 0,
    "first_piece_every": "setup",
    "unattended": True,
    "batch": 20,
    "numbers": 1,
    "at_once": 1,
    "after": None,
    "stock": 0,
    "fixtures": None,
    "scrap": 0,
    "per_pallet": 1,
    "machines": None,
    "tool_life": None,
    "sister_tools": 0,
    "tool_change": 300,
}


def good_share(entry: dict[str, Any]) -> Fraction:
    """The share of a part's pieces that is no scrap."""
    return 1 - Fraction(entry.get("scrap", 0), 100)


def next_of(entries: dict[str, Any], name: str) -> str | None:
    """The part that comes after this one, or none."""
    return next((other for other, own in entries.items() if own.get("after") == name), None)


def weekly_of(entries: dict[str, Any], name: str) -> Fraction:
    """Pieces wanted a week; where not entered, the good ones that the operation after it takes.

    Its own scrap its own orders make good. A number is meant as it is written: 0.1 is 1 in 10.
    """
    own = entries[name]
    if own.get("weekly") is not None:
        return Fraction(str(own["weekly"]))
    follower = next_of(entries, name)
    if follower is None:
        raise ValueError(f"part.{name}.weekly is required")
    return weekly_of(entries, follower) / good_share(entries[follower])


def parts_made(spec: dict[str, Any], machines: list[Machine], hours: Hours) -> list[Part]:
    """The parts that are made, in file order; without the one before it a part is not."""
    entries = spec.get("part", {})
    found = {name: part_of(entries, name, machines, hours) for name in entries}

    def is_made(name: str) -> bool:
        before = found[name].value("after")
        return bool(found[name].groups) and (before is None or is_made(before))

    return [part for name, part in found.items() if is_made(name)]


def part_of(entries: dict[str, Any], name: str, machines: list[Machine], hours: Hours) -> Part:
    """One part with all its defaults."""
    entry = {**DEFAULTS, **entries[name]}
    bare = Part(name, entry, weekly_of(entries, name), (), 1)
    in_use = list(dict.fromkeys(machine.group for machine in machines))
    groups = tuple(group for group in in_use if can_be_made(bare, group, hours))
    fixtures = entry["fixtures"]
    if fixtures is None:
        places = [len(machine.pallets) for machine in machines if machine.group in groups]
        fixtures = sum(places) if entry["numbers"] == 1 else len(places)
    return Part(name, entry, bare.weekly, groups, fixtures)


def can_be_made(part: Part, group: str, hours: Hours) -> bool:
    """Allowed on the machine, and somebody may do all that it needs there."""
    needed = ["load"]
    if part.value("setup", group) > 0:
        needed.append("setup")
    if part.value("prove_out", group) > 0:
        needed.append("prove_out")
    if part.value("first_piece") > 0:
        needed.append("release")
    if part.value("tool_life") is not None:
        needed.append("tools")
    allowed = part.value("machines")
    return (allowed is None or group in allowed) and all(map(hours.somebody_does, needed))
