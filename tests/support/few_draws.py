"""Studies with fewer draws than a user has, so that tests stay quick."""

from __future__ import annotations

from whatif.study.check.check import Checked, check
from whatif.study.draft import Draft

DRAWS = 3


def checked_with_few_draws(draft: Draft) -> Checked:
    """The check of a draft that says nothing of its draws, with a few of them."""
    return check(draft if "runs" in draft.head else draft.with_head("runs", DRAWS))
