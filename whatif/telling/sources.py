"""Where a value of a scenario is from, in words."""

from __future__ import annotations

from whatif.study.resolve import Origin, Source

GUESSED = "assumed when it was added: measure it"
NOT_ENTERED = "assumed, nobody entered it"


def source_words(origin: Origin) -> str:
    """Where a value is from: "inherited from today"."""
    if origin.kind is Source.INHERITED:
        words = f"inherited from {origin.scenario}"
        return f"{words}, {GUESSED}" if origin.guessed else words
    return GUESSED if origin.guessed else origin.kind.value
