"""Pieces of sentences."""

from __future__ import annotations

from collections.abc import Sequence


def listed(names: Sequence[str]) -> str:
    """Names with commas and an "and": "a, b and c"."""
    return " and ".join([*([", ".join(names[:-1])] if names[1:] else []), names[-1]])
