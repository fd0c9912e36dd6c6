"""What can be chosen where a value is one of a few words, with what each of them says."""

from __future__ import annotations

from collections.abc import Mapping

from whatif.study.raw import Raw
from whatif.study.schema.catalogue import Key
from whatif.study.schema.kinds import Choice, Flag

_WORDS: Mapping[str, Mapping[str, str]] = {
    "hour_meters.gap": {
        "show": "the hours that the meters lack are told, and nothing is changed",
        "people": "people were away: their time is cut until the hours agree",
        "machine": "machines were tied up: their time is cut until the hours agree",
    },
    "unattended.at_limit": {
        "finish_piece": "a piece that is begun is finished",
        "hold": "it is held, and gone on with when pieces may be begun again",
    },
    "sequence.rule": {
        "keep_setup": "the part in the fixture goes on while nothing is late",
        "earliest_due_date": "what is due first always comes first, setup or not",
    },
    "part.<id>.turn": {
        "flat": "it lies as its size says, turned only about the vertical",
        "any": "it may lie on any side, all pieces alike",
    },
    "part.<id>.first_piece_every": {
        "setup": "a first piece is released after each setup",
        "order": "and for each order too, without a setup as well",
    },
    "shift.<id>.breaks_paid": {
        "yes": "breaks count as hours paid",
        "no": "only the hours on duty are paid",
    },
    "shift.<id>.inspects": {
        "yes": "first pieces can be released in this shift",
        "no": "they wait for another shift",
    },
    "unattended.through_breaks": {
        "yes": "pieces are begun while everybody is on a break",
        "no": "what is in the machine is finished, nothing is begun",
    },
    "part.<id>.unattended": {
        "yes": "its pieces may be begun with nobody there",
        "no": "its pieces are begun only while somebody is on duty",
    },
    "stop.<id>.needs_person": {
        "yes": "a person must see to it; with nobody there it waits",
        "no": "it ends by itself",
    },
}


def choices(key: Key) -> tuple[tuple[Raw, str, str], ...]:
    """Each value that a key may have, as it is written, and in a few words; () of other kinds."""
    raws: tuple[Raw, ...] = ()
    if isinstance(key.kind, Flag):
        raws = (True, False)
    elif isinstance(key.kind, Choice):
        raws = key.kind.words
    words = _WORDS.get(key.dotted, {})
    written = [key.kind.written(raw) for raw in raws]
    return tuple((raw, text, words[text]) for raw, text in zip(raws, written, strict=True))
