"""Which scenario was asked about and how it was answered, as JSON has it."""

from __future__ import annotations

from dataclasses import fields
from typing import Any, Final

from whatif.answers.moves.trial import AskedAbout

ASKED: Final = tuple(
    # Only screens put the study's own answer in the place of a try.
    each.name
    for each in fields(AskedAbout)
    if each.name != "is_answered_now"
)
"""Names of what is told."""


def asked_data(asked: AskedAbout) -> dict[str, Any]:
    """All of it, by name."""
    return {name: getattr(asked, name) for name in ASKED}
