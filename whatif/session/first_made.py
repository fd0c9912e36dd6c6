"""A study as ten answers make it, known without what it takes to make it."""

from __future__ import annotations

from whatif.records import dataclass
from whatif.study.draft import Draft


@dataclass(frozen=True, slots=True)
class FirstStudy:
    """A study made from answers, and what its user is to be told first."""

    draft: Draft
    notice: str
