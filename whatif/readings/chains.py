"""Documents one after the other: which go on where another ends, and what nobody has.

What a value was between two documents is known only where the later one begins with the number
that the earlier one said would be next (``nextSequence``, Part 1), or was never left out of the
agent's buffer. Everything else between them is a gap, but where the later document tells that a
value has not changed since.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from collections.abc import Sequence

from whatif.readings.streams import Observation, StreamsDocument
from whatif.records import dataclass


@dataclass(frozen=True, slots=True)
class HeldValue:
    """A value that held from one moment to another."""

    begin: int
    end: int
    value: str


@dataclass(frozen=True, slots=True)
class Chain:
    """Documents that go on one from the other: observations, and until when the last ones hold."""

    observations: tuple[Observation, ...]
    end: int


def chains_of(documents: Sequence[StreamsDocument]) -> list[Chain]:
    """All documents, those together that join, in the order of time."""
    by_instance: dict[str, list[StreamsDocument]] = defaultdict(list)
    for document in documents:
        if document.observations:
            by_instance[document.instance].append(document)
    found = []
    for those in by_instance.values():
        those.sort(key=lambda each: (each.next_ or 0, each.numbers[-1:] or (0,)))
        together: list[StreamsDocument] = []
        for document in those:
            if together and not _joins(together, document):
                found.append(_chain(together))
                together = []
            together.append(document)
        found.append(_chain(together))
    return sorted(found, key=lambda chain: chain.end)


def _joins(before: Sequence[StreamsDocument], document: StreamsDocument) -> bool:
    next_ = max((each.next_ or 0 for each in before), default=0)
    if document.is_current or not document.numbers or not next_:
        return False
    if document.is_whole:
        return document.numbers[0] <= next_
    # Of some items alone: that nothing was lost is known from the buffer.
    return document.first is not None and document.first <= next_


def _chain(documents: Sequence[StreamsDocument]) -> Chain:
    seen: dict[tuple[str, int, int], Observation] = {}
    for document in documents:
        for each in document.observations:
            seen.setdefault((each.item, each.sequence, each.at), each)
    ends = [end for document in documents if (end := document.end) is not None]
    return Chain(tuple(seen.values()), max(ends))


def held_values(chains: Sequence[Chain], item: str) -> list[HeldValue]:
    """What an item's value was, and when; between them nobody knows.

    Stamps count, and of equal ones the order in which the agent got them: stamps may stand out of
    order (Part 3).
    """
    windows: list[tuple[int, int]] = []
    changes: dict[tuple[int, int], str] = {}
    for chain in chains:
        own = [each for each in chain.observations if each.item == item]
        if own:
            windows.append((min(each.at for each in own), chain.end))
            changes.update({(each.at, each.sequence): each.value for each in own})
    in_order = sorted(changes.items())
    found: list[HeldValue] = []
    for place, ((at, _), value) in enumerate(in_order):
        until = in_order[place + 1][0][0] if place + 1 < len(in_order) else None
        known = max((end for begin, end in windows if begin <= at <= end), default=at)
        end = known if until is None else min(known, until)
        if end <= at:
            continue
        if found and found[-1].end == at and found[-1].value == value:
            found[-1] = HeldValue(found[-1].begin, end, value)
        else:
            found.append(HeldValue(at, end, value))
    return found


def out_of_order(chains: Sequence[Chain], item: str) -> int:
    """How many stamps of an item lie before the one that the agent got earlier."""
    count = 0
    for chain in chains:
        own = [each for each in chain.observations if each.item == item]
        own.sort(key=lambda each: each.sequence)
        count += sum(later.at < sooner.at for sooner, later in itertools.pairwise(own))
    return count
