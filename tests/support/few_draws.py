"""Studies with fewer draws than a user has, so that tests stay quick."""

from __future__ import annotations

from whatif.study.check.check import Checked, check
from whatif.study.draft import Draft

DRAWS = 3


def checked_with_few_draws(draft: Draft) -> Checked:
    """The check of a draft, with a few draws; what asks for fewer itself has its way."""
    asked = draft.head.get("runs")
    is_few = isinstance(asked, int) and asked <= DRAWS
    return check(draft if is_few else draft.with_head("runs", DRAWS))
