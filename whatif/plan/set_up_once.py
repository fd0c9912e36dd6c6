"""Parts that are set up once and never again, so that what is entered for changeovers is silent."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from whatif.cell.fit.fit import Fit
from whatif.study.schema.models import Part, Scenario


def never_changed_over(
    scenario: Scenario, made: Sequence[str], fits: Mapping[str, Mapping[str, Fit]]
) -> Iterator[str]:
    """A warning for each part with changeovers entered that no other part ever calls for.

    ``made`` are the parts that the cell makes; those that real and rush orders alone ask for too.
    A fixture changes only where another part is taken (rule `orders.once`), so that a part
    alone on its machines keeps it from its first visit on.
    """
    for id_ in made:
        here = {group for group, found in fits[id_].items() if found.fits}
        others = [one for one in made if one != id_]
        if any(fits[one][group].fits for one in others for group in here):
            continue
        part = scenario.part[id_]
        silent = [words for words, is_entered in _of_setups(part, here) if is_entered]
        if silent and _stays(scenario, id_, part):
            yield _warning(id_, silent, "on its machines" if others else "here")


def _of_setups(part: Part, groups: set[str]) -> Iterator[tuple[str, bool]]:
    """What comes with a setup only, and whether it takes any time on one of the machines."""
    on = [part.on.get(group) for group in groups]
    setups = [(one and one.setup) or part.setup for one in on]
    proofs = [(one and one.prove_out) or part.prove_out for one in on]
    yield "setup", any(one.seconds for one in setups)
    yield "prove-out", any(one.seconds for one in proofs)
    yield "first piece", bool(part.first_piece.seconds) and part.first_piece_every == "setup"


def _stays(scenario: Scenario, id_: str, part: Part) -> bool:
    """Whether a pallet keeps the part's fixture; a resting one may give up one of a few."""
    ordered = any(one.part == id_ and one.pieces for one in scenario.order.values())
    return bool(part.weekly) or (ordered and part.fixtures is None)


def _warning(id_: str, silent: list[str], where: str) -> str:
    entered = " and ".join([", ".join(silent[:-1]), silent[-1]] if silent[1:] else silent)
    counts = "count" if silent[1:] else "counts"
    text = (
        f"{id_} is set up once on each table or pallet and never changed over, since no other part "
        f"is made {where}: its {entered} {counts} at the start only. Enter the other parts"
    )
    if "first piece" in silent:
        return f'{text}, or enter "order" for "first piece after" where each order waits for one.'
    return f"{text} that are made there."
