"""What a scenario's gain rests on that is not so yet (rule `limits.caveats`)."""

from __future__ import annotations

from enum import Enum


class Caveat(Enum):
    """Why a gain is never shown as a plain good one; by its words in a column."""

    NOT_MADE = "not all is made"
    NOT_PRICED = "not priced"
    NO_WORTH = "a part counts as nothing"
    GAP_LAID = "whose the meters' gap is"
