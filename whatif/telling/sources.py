"""Where a value of a scenario is from, in words."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from whatif.study.resolve import Origin, Source

if TYPE_CHECKING:
    from whatif.answers.moves.inputs import Input

GUESSED = "assumed when it was added: measure it"
NOT_ENTERED = "assumed, nobody entered it"


def input_source_words(of: Input) -> str:
    """Where an input's value is from, for a reader."""
    return source_words(of.origin, lambda id_: of.entered_in or id_)


def source_words(origin: Origin, title: Callable[[str], str] = str) -> str:
    """Where a value is from: "inherited from today".

    ``title`` names the scenario for a reader; without it that is its id, for other programs.
    """
    if origin.kind is Source.INHERITED:
        words = f"inherited from {title(origin.scenario or '')}"
        return f"{words}, {GUESSED}" if origin.guessed else words
    return GUESSED if origin.guessed else origin.kind.value
