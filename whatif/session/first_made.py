"""A study as the answers make it, known without what it takes to make it."""

from __future__ import annotations

from whatif.records import dataclass
from whatif.study.draft import Draft


@dataclass(frozen=True, slots=True)
class FirstStudy:
    """A study made from answers, and what its user is to be told first.

    Attributes:
        is_wanted_known: whether the pieces wanted were answered.
        has_paid_breaks: whether there are breaks, and nobody said that they are unpaid.
        assumed: how many answers are assumed.
    """

    draft: Draft
    notice: str
    is_wanted_known: bool = True
    has_paid_breaks: bool = False
    assumed: int = 0
