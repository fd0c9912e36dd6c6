"""Random cells for tests that hold two engines against each other, small but awkward.

`cells` draws them, `study_text` writes one as a study file, `luck` deals both engines the same
random stops.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from hypothesis import strategies as st

from .hours import DAY, DAYS, DUTIES, WEEK
from .luck import luck as luck  # dealt from here to both engines

Spec = dict[str, Any]

SHORT = (0, 1, 30, 45, 60, 97, 120, 131, 300)  # handling of one piece
LONG = (60, 97, 450, 600, 1200, 1801, 3600)  # once for a load
CYCLES = (97, 300, 450, 611, 600, 1200, 1801, 2700, 3600, 7200, 20011)
WEEKLY = (0.5, 1, 3, 7, 10, 40, 111.5, 300, 1000)
PEOPLE = (1, 1, 1, 2, 1, 2, 3, 1, 0)
COUNTS = (1, 1, 1, 2, 1, 2, 1, 1, 0)
PERCENT = (0, 0, 5, 7, 20, 33)


def clock(minute: int) -> str:
    """The "HH:MM" of a minute counted from some midnight."""
    return f"{minute // 60 % 24:02d}:{minute % 60:02d}"


@st.composite
def shifts(draw: st.DrawFn, breaks: bool, taken_out: bool) -> Spec:
    """One shift: any days, any start on five minutes, one to sixteen hours."""
    start = draw(st.sampled_from((0, 300, 360, 420, 605, 840, 1080, 1320, 1380)))
    length = draw(st.sampled_from((60, 240, 420, 480, 480, 615, 960)))
    some_days = st.sets(st.sampled_from(DAYS), min_size=1)
    days = draw(st.one_of(st.just(set(DAYS[:5])), st.just(set(DAYS)), some_days))
    entry: Spec = {
        "days": [day for day in DAYS if day in days],
        "start": clock(start),
        "end": clock(start + length),
        "people": draw(st.sampled_from(PEOPLE if taken_out else PEOPLE[:-1])),
    }
    if breaks:
        for pause in draw(pauses(start, length)):
            kind = draw(st.sampled_from(("breaks", "unpaid_breaks")))
            entry.setdefault(kind, []).append(pause)
    return entry


ALL = list(DUTIES)
SOME = (
    ["load"],
    ["load", "setup"],
    ["load", "setup", "tools", "repair"],
    ["load", "setup", "prove_out", "release"],
    ["load", "tools", "prove_out"],
    ["tools", "repair", "release"],
    ["prove_out"],
)
"""What people of a shift may do: who does "setup" does "load" too."""


@st.composite
def pauses(draw: st.DrawFn, start: int, length: int) -> list[str]:
    """Up to two breaks inside a shift, at most an hour each, perhaps end to end."""
    marks = sorted(draw(st.sets(st.integers(0, length // 5), max_size=3)))
    found, last = [], 0
    for mark in marks[:2]:
        begin = max(5 * mark, last)
        end = min(begin + draw(st.sampled_from((5, 15, 30, 60))), length)
        if end > begin:
            found.append(f"{clock(start + begin)}-{clock(start + end)}")
            last = end
    return found


@st.composite
def machines(
    draw: st.DrawFn, pallets: bool, warming: bool, taken_out: bool, attended_only: bool = False
) -> Spec:
    """One group of machines: a table each, or two to six pallets."""
    entry: Spec = {"count": draw(st.sampled_from(COUNTS if taken_out else COUNTS[:-1]))}
    if pallets:
        entry["pallets"] = draw(st.sampled_from((1, 2, 2, 3, 4, 6)))
        entry["load_stations"] = draw(st.integers(1, 2))
        entry["pallet_change"] = draw(st.sampled_from((0, 30, 30, 97, 600)))
    if warming:
        entry["warm_up"] = draw(st.sampled_from((0, 97, 900)))
    if attended_only and draw(st.integers(0, 3)) == 0:
        entry["unattended"] = False
    return entry


@st.composite
def parts(draw: st.DrawFn, groups: list[str], first: bool, families: set[str]) -> Spec:
    """One part; `families` names what may be drawn beyond cycle, batch and weekly."""
    weekly = WEEKLY if first or "taken_out" not in families else (*WEEKLY, 0)
    entry: Spec = {
        "cycle": draw(st.sampled_from(CYCLES)),
        "batch": draw(st.sampled_from((1, 2, 3, 7, 20))),
        "weekly": draw(st.sampled_from(weekly)),
        "per_pallet": draw(st.sampled_from((1, 1, 2, 3, 8))),
        "load": draw(st.sampled_from(SHORT)),
        "unload": draw(st.sampled_from(SHORT)),
        "scrap": draw(st.sampled_from(PERCENT)),
    }
    for family, keys in PART_FAMILIES.items():
        if family in families:
            for key, values in keys.items():
                entry[key] = draw(values)
    if len(groups) > 1 and "choice" in families and draw(st.booleans()):
        chosen = draw(st.sets(st.sampled_from(groups), min_size=1))
        chosen = chosen | {"mill"} if first else chosen
        entry["machines"] = [group for group in groups if group in chosen]
    if "overrides" in families and draw(st.booleans()):
        allowed = entry.get("machines", groups)
        entry["on"] = {draw(st.sampled_from(allowed)): draw(own_values(families))}
    return entry


PART_FAMILIES: dict[str, dict[str, st.SearchStrategy[Any]]] = {
    "bench": {"bench": st.sampled_from((0, 45, 97, 600))},
    "setups": {"setup": st.sampled_from((0, *LONG))},
    "prove_outs": {"prove_out": st.sampled_from((0, 0, 97, 1800))},
    "first_pieces": {
        "first_piece": st.sampled_from((0, 0, 97, 1800, 20011)),
        "first_piece_every": st.sampled_from(("setup", "order")),
    },
    "attended_only": {"unattended": st.sampled_from((True, True, False))},
    "fixtures": {"fixtures": st.sampled_from((None, 1, 1, 2, 3))},
    "at_once": {"at_once": st.sampled_from((1, 2, 2, 3, 8))},
    "numbers": {"numbers": st.sampled_from((1, 1, 2, 3, 7))},
    "tools": {
        "tool_life": st.sampled_from((None, None, 1, 3, 10, 47)),
        "sister_tools": st.integers(0, 2),
        "tool_change": st.sampled_from((0, 97, 300, 1801)),
    },
}


@st.composite
def own_values(draw: st.DrawFn, families: set[str]) -> Spec:
    """What differs on one machine: some of the keys that may."""
    values: dict[str, st.SearchStrategy[Any]] = {
        "cycle": st.sampled_from(CYCLES),
        "load": st.sampled_from(SHORT),
        "unload": st.sampled_from(SHORT),
        "per_pallet": st.integers(1, 4),
    }
    if "setups" in families:
        values["setup"] = st.sampled_from((0, *LONG))
    if "prove_outs" in families:
        values["prove_out"] = st.sampled_from((0, 97, 1800))
    keys = draw(st.sets(st.sampled_from(sorted(values)), min_size=1, max_size=3))
    return {key: draw(values[key]) for key in sorted(keys)}


@st.composite
def stop(draw: st.DrawFn) -> Spec:
    """One kind of stop."""
    return {
        "every": draw(st.sampled_from((1801, 20011, 100000))),
        "repair": draw(st.sampled_from((0, 97, 1800, 20011))),
        "needs_person": draw(st.booleans()),
    }


@st.composite
def cells(
    draw: st.DrawFn,
    *,
    second_shift: bool = True,
    breaks: bool = True,
    duties: bool = True,
    nights: bool = True,
    handling: bool = True,
    sequence: bool = True,
    pallets: bool = True,
    warming: bool = True,
    choice: bool = True,
    overrides: bool = True,
    bench: bool = True,
    setups: bool = True,
    prove_outs: bool = True,
    first_pieces: bool = True,
    attended_only: bool = True,
    fixtures: bool = True,
    at_once: bool = True,
    numbers: bool = True,
    chains: bool = True,
    tools: bool = True,
    stops: bool = True,
    taken_out: bool = True,
) -> Spec:
    """Draw a cell as `oracle.model.simulate` takes it; a switch at False leaves a family out."""
    switches = dict(locals())
    families = {name for name, on in switches.items() if on is True}
    spec: Spec = {"weeks": draw(st.sampled_from((2, 2, 3))), "warm_up": draw(st.integers(0, 1))}
    names = ["early", "late"][: draw(st.integers(1, 2 if second_shift else 1))]
    # What comes first is never taken out, so that something is made in most cells.
    spec["shift"] = {name: draw(shifts(breaks, taken_out and name != "early")) for name in names}
    if duties:
        for name, entry in spec["shift"].items():
            # The first shift mostly does all, so that what the others may not do gets done.
            does_all = draw(st.integers(0, 9 if name == "early" else 2)) > 0
            entry["does"] = ALL if does_all else draw(st.sampled_from(SOME))
    if nights:
        spec["unattended"] = draw(unattended())
    if handling:
        spec["handling"] = {
            "walk": draw(st.sampled_from((0, 60, 97))),
            "scatter": draw(st.sampled_from((0, 10, 30, 100))),
            "other_duties": draw(st.sampled_from(PERCENT)),
        }
    if sequence:
        spec["sequence"] = {
            "rule": draw(st.sampled_from(("keep_setup", "earliest_due_date"))),
            "run_ahead": draw(st.sampled_from((0, 86400, 100003, 604800))),
            "make": draw(st.sampled_from(("to_order", "flat_out"))),
        }
    groups = ["mill", "borer", "lathe"][: draw(st.integers(1, 3))]
    spec["machine"] = {
        group: draw(machines(pallets, warming, taken_out and group != "mill", attended_only))
        for group in groups
    }
    made = ["body", "cover", "flange", "stud"][: draw(st.sampled_from((1, 2, 2, 3, 3, 4)))]
    spec["part"] = {name: draw(parts(groups, name == "body", families)) for name in made}
    if chains and len(made) > 1 and draw(st.booleans()):
        draw(chained(spec["part"]))
    if stops and draw(st.booleans()):
        spec["stop"] = draw(some_stops())
    return spec


@st.composite
def chained(draw: st.DrawFn, entries: dict[str, Spec]) -> None:
    """Make two or three of the parts operations, one after the other, in any order of the file."""
    chain = draw(st.permutations(list(entries)))[: draw(st.integers(2, 3))]
    for before, after in pairwise(chain):
        entries[after]["after"] = before
        entries[before]["stock"] = draw(st.sampled_from((0, 0, 1, 5, 40)))
    for name in reversed(chain[:-1]):
        if draw(st.integers(0, 2)) > 0:
            entries[name].pop("weekly")
    last = entries[chain[-1]]
    last["weekly"] = last["weekly"] or 40


@st.composite
def unattended(draw: st.DrawFn) -> Spec:
    """What is begun and held while nobody is there."""
    drawn = draw(some_nights())
    nights = [day for day in DAYS if day in drawn]
    return {
        "through_breaks": draw(st.booleans()),
        "after_shift": draw(st.sampled_from((0, 3600, 18000, 20011, 200000, "until done"))),
        "at_limit": draw(st.sampled_from(("finish_piece", "hold"))),
        "nights": nights,
    }


def some_nights() -> st.SearchStrategy[set[str]]:
    """All days, those of the working week, or any of them."""
    return st.one_of(st.just(set(DAYS)), st.just(set(DAYS[:4])), st.sets(st.sampled_from(DAYS)))


def some_stops() -> st.SearchStrategy[Spec]:
    """One or two kinds of stop."""
    return st.dictionaries(st.sampled_from(("jam", "alarm")), stop(), min_size=1, max_size=2)


# --- the same as a study file -----------------------------------------------------------

TIMES = {
    *("after_shift", "walk", "run_ahead", "pallet_change", "warm_up", "cycle", "load", "unload"),
    *("bench", "setup", "prove_out", "first_piece", "tool_change", "every", "repair"),
}
PERCENTS = {"other_duties", "in_cut", "scrap", "scatter"}
MOMENTS = {"arrives", "due"}


def study_text(spec: Spec) -> str:
    """The spec as a study file (rule `study.tree`) with one scenario, `base`."""
    lines = ["format = 1"]
    lines += [f"{key} = {spec[key]}" for key in ("weeks", "warm_up", "runs") if key in spec]
    for section in ("unattended", "handling", "sequence"):
        if section in spec:
            lines += table(f"scenario.base.{section}", spec[section])
    for section in ("shift", "machine", "part", "stop", "order", "rush"):
        for name, entry in spec.get(section, {}).items():
            lines += table(f"scenario.base.{section}.{name}", entry)
    return "\n".join(lines) + "\n"


def table(path: str, entry: Spec) -> list[str]:
    """One TOML table, and the tables of `on.<machine>` within it; None is left out."""
    given = {key: value for key, value in entry.items() if key != "on" and value is not None}
    lines = ["", f"[{path}]"] + [f"{key} = {worded(key, value)}" for key, value in given.items()]
    for machine, own in entry.get("on", {}).items():
        lines += table(f"{path}.on.{machine}", own)
    return lines


def moment(second: int) -> str:
    """A whole minute of the weeks measured: "mon 06:00", "week 2 wed 12:00"."""
    week, left = divmod(second, WEEK)
    text = f"{DAYS[left // DAY]} {clock(left % DAY // 60)}"
    return f"week {week + 1} {text}" if week else text


def worded(key: str, value: Any) -> str:
    """One value as TOML: times and percents as texts with their units."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return "[" + ", ".join(f'"{item}"' for item in value) + "]"
    if isinstance(value, str):
        return f'"{value}"'
    if key in MOMENTS:
        return f'"{moment(value)}"'
    if key in TIMES:
        return f'"{value // 60} min"' if value % 60 == 0 else f'"{value} s"'
    if key in PERCENTS:
        return f'"{value} %"'
    return str(value)
