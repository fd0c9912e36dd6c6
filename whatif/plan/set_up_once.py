"""Parts that are set up once and never again, so that what is entered for changeovers is silent."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from whatif.cell.fit.fit import Fit
from whatif.plan.model import SetUpOnce
from whatif.study.schema.models import Part, Scenario


def set_up_once(
    scenario: Scenario, made: Sequence[str], fits: Mapping[str, Mapping[str, Fit]]
) -> Iterator[SetUpOnce]:
    """A warning for each part with changeovers entered that no other part ever calls for.

    ``made`` are the parts that the cell makes; those that real and rush orders alone ask for too.
    A fixture changes only where another part is taken (rule `orders.once`), so that a part
    alone on its machines keeps it from its first visit on.
    """
    for id_ in made:
        here = {group for group, found in fits[id_].items() if found.fits}
        others = [other for other in made if other != id_]
        if any(fits[other][group].fits for other in others for group in here):
            continue
        part = scenario.part[id_]
        silent = tuple(key for key, is_entered in _of_setups(part, here) if is_entered)
        if silent and _stays(scenario, id_, part):
            yield SetUpOnce(id_, silent, among_others=bool(others))


def _of_setups(part: Part, groups: set[str]) -> Iterator[tuple[str, bool]]:
    """What comes with a setup only, and whether it takes any time on one of the machines."""
    on = [part.on.get(group) for group in groups]
    setups = [(there and there.setup) or part.setup for there in on]
    proofs = [(there and there.prove_out) or part.prove_out for there in on]
    yield "setup", any(setup.seconds for setup in setups)
    yield "prove_out", any(proof.seconds for proof in proofs)
    yield "first_piece", bool(part.first_piece.seconds) and part.first_piece_every == "setup"


def _stays(scenario: Scenario, id_: str, part: Part) -> bool:
    """Whether a pallet keeps the part's fixture; a resting one may give up one of a few."""
    ordered = any(order.part == id_ and order.pieces for order in scenario.order.values())
    return bool(part.weekly) or (ordered and part.fixtures is None)
