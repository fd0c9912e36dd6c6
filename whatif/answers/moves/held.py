"""Where an input stands, and so in which scenarios it is moved (rule `moves.change`)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import Enum

from whatif.records import dataclass
from whatif.study.draft import Draft
from whatif.study.edits import Edit, SetValue, Together
from whatif.study.raw import Path, Raw
from whatif.study.resolve import Origin, resolve


class Moved(Enum):
    """In which scenarios an input is moved."""

    BOTH = "in both"
    ALONE = "alone"
    ITSELF = "against itself"
    """The reference itself, held against itself as it stands."""
    EACH = "each as it stands"
    """Of several at once: some in both, some alone."""

    @property
    def is_in_reference(self) -> bool:
        """Whether the reference moves too, so that no gain over it tells what brings most."""
        return self in (Moved.BOTH, Moved.EACH)


@dataclass(frozen=True, slots=True)
class Held:
    """How an input is held.

    Attributes:
        places: the scenarios in which a tried value is entered.
        source: the scenario in which it stands for all of these; None for a default.
    """

    moved: Moved
    places: tuple[str, ...]
    source: str | None


def held(draft: Draft, scenario: str, path: Path) -> Held:
    """How a scenario that is there and the reference hold an input.

    What both take from one place is moved in both, and in today and in what the hour meters are
    held against where these take it from there too.
    """
    reference = draft.reference_id or ""
    origin = _origin(draft, scenario, path)
    source = None if origin is None else origin.scenario
    if scenario == reference:
        return Held(Moved.ITSELF, (scenario,), scenario)
    if origin is None or not draft.has(reference) or not _same(draft, reference, path, origin):
        return Held(Moved.ALONE, (scenario,), scenario)
    others = dict.fromkeys((reference, *_beside(draft, scenario, reference)))
    places = (scenario, *(id_ for id_ in others if _same(draft, id_, path, origin)))
    return Held(Moved.BOTH, tuple(dict.fromkeys(places)), source)


def taking(draft: Draft, scenario: str, changes: Mapping[Path, Raw], name: str = "") -> Edit:
    """The edit that makes what was tried so: where the values stand, which moves what was moved."""
    edits = []
    for path, raw in changes.items():
        found = held(draft, scenario, path)
        places = found.places if found.source is None else (found.source,)
        edits += [SetValue(place, path, raw) for place in places]
    return edits[0] if len(edits) == 1 else Together(tuple(edits), name)


def taking_alone(scenario: str, changes: Mapping[Path, Raw], name: str) -> Edit:
    """The edit that enters what was tried in one scenario, whatever it inherits."""
    return Together(tuple(SetValue(scenario, path, raw) for path, raw in changes.items()), name)


def stands_elsewhere(draft: Draft, scenario: str, path: Path) -> bool:
    """Whether taking what was tried enters it in another scenario, or in several."""
    found = held(draft, scenario, path)
    return found.source not in (None, scenario) or len(found.places) > 1


def _beside(draft: Draft, *scenarios: str) -> Iterator[str]:
    """Today, and the scenarios whose hour meters hold for some scenarios."""
    today = draft.today_id
    if today is not None and draft.has(today):
        yield today
    for id_ in scenarios:
        for above in (id_, *draft.ancestors(id_)):
            if any(path[0] == "hour_meters" for path in draft.scenario(above).entered):
                yield above
                break


def _origin(draft: Draft, scenario: str, path: Path) -> Origin | None:
    given = resolve(draft, scenario).values.get(path)
    return None if given is None else given.origin


def _same(draft: Draft, scenario: str, path: Path, origin: Origin) -> bool:
    there = _origin(draft, scenario, path)
    return there is not None and there.scenario == origin.scenario
