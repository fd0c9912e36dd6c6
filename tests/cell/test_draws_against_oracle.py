"""Draws of the likely range held against the plain second model, to the second.

Visits scatter in both by the same seeds. What is drawn of times and demands is worked here from
the rule alone (rule `likely.draw`), and handed to the plain model as if it had been typed.
"""

from __future__ import annotations

from fractions import Fraction
from math import floor
from random import Random
from typing import Any

from both_models import both, both_run, one_shift, plan_of, the_accounts_close, the_models_agree
from cells import stopping_cells, trying
from hypothesis import given
from hypothesis import strategies as st
from oracle.parts import DEFAULTS, next_of
from oracle.specs import Spec, cells, study_text

from whatif.plan.draws import drawn_plan

ENTERED, ASSUMED = 0.1, 0.4
HEAD = f'accuracy = "{ENTERED:.0%}"\nguess_accuracy = "{ASSUMED:.0%}"\n'

OF_PARTS = ("cycle", "load", "unload", "bench", "setup", "prove_out", "first_piece", "tool_change")
OF_MACHINES = {"pallet_change": 30, "warm_up": 0}


def factor(draw: int, key: str, *, entered: bool) -> float:
    """Uniform by the seed of draw, scenario and key; a default stands in no scenario."""
    wide = ENTERED if entered else ASSUMED
    return Random(f"{draw} {'base' if entered else ''} {key}").uniform(1 - wide, 1 + wide)


def drawn(draw: int, key: str, entry: Spec, default: int = 0) -> int:
    """A stated time, or its default, in whole seconds, halves up."""
    name = key.rsplit(".", 1)[-1]
    found = factor(draw, key, entered=name in entry) * entry.get(name, default)
    least = 1 if name in ("cycle", "every") else 0
    return max(least, floor(found + 0.5))


def drawn_part(draw: int, entries: Spec, id_: str) -> Spec:
    """One part; an operation before others has the factor of what is wanted of the last one."""
    at, entry = f"part.{id_}", entries[id_]
    found = {**entry}
    for key in OF_PARTS:
        found[key] = drawn(draw, f"{at}.{key}", entry, DEFAULTS.get(key, 0))
    found["on"] = {
        machine: {
            key: drawn(draw, f"{at}.on.{machine}.{key}", own) if key in OF_PARTS else value
            for key, value in own.items()
        }
        for machine, own in entry.get("on", {}).items()
    }
    last = id_
    while (follower := next_of(entries, last)) is not None:
        last = follower
    if "weekly" in entry:
        times = Fraction(factor(draw, f"part.{last}.weekly", entered=True))
        found["weekly"] = Fraction(str(entry["weekly"])) * times
    return found


def drawn_spec(spec: Spec, draw: int) -> Spec:
    handling = spec.get("handling", {})
    return {
        **spec,
        "handling": {**handling, "walk": drawn(draw, "handling.walk", handling, 60)},
        "machine": {
            id_: {
                **entry,
                **{
                    key: drawn(draw, f"machine.{id_}.{key}", entry, default)
                    for key, default in OF_MACHINES.items()
                },
            }
            for id_, entry in spec["machine"].items()
        },
        "part": {id_: drawn_part(draw, spec["part"], id_) for id_ in spec["part"]},
        "stop": {
            id_: {
                **entry,
                **{
                    key: drawn(draw, f"stop.{id_}.{key}", entry) if entry[key] else 0
                    for key in ("every", "repair")
                },
            }
            for id_, entry in spec.get("stop", {}).items()
        },
    }


def assert_draw_held(spec: Spec, draw: int) -> None:
    text = study_text(spec).replace("format = 1\n", "format = 1\n" + HEAD, 1)
    plan = drawn_plan(plan_of(text), draw)
    assert plan.cell is not None
    found = both_run(plan, plan.cell, drawn_spec(spec, draw), draw)
    the_accounts_close(found)
    the_models_agree(found)


@trying(15)
@given(stopping_cells(), st.integers(1, 19))
def test_a_draw_of_a_cell_with_everything(spec: dict[str, Any], draw: int) -> None:
    assert_draw_held(spec, draw)


@trying(15)
@given(cells(), st.integers(1, 19))
def test_visits_that_scatter(spec: dict[str, Any], draw: int) -> None:
    found = both(spec, draw)
    the_accounts_close(found)
    the_models_agree(found)


def test_a_draw_with_nothing_given_but_what_must_be() -> None:
    """Everything else is drawn as assumed: walk, load and unload, by 40 % either way."""
    spec = one_shift("06:00", "14:00")
    for draw in (1, 2, 3):
        assert_draw_held(spec, draw)
    seconds = drawn_spec(spec, 1)["handling"]["walk"]
    assert seconds == floor(60 * Random("1  handling.walk").uniform(0.6, 1.4) + 0.5) != 60
