"""Studies over fewer weeks and with fewer draws than a user has, so that tests stay quick.

The demo studies as they stand, over the weeks in which they settle, are held by tests of their own
and stand on the pictures; elsewhere they are worked out over few weeks.
"""

from __future__ import annotations

from pathlib import Path

from whatif.study.draft import Draft
from whatif.study.file.reading import read_text
from whatif.study.schema.models.study import SETTLED

SCENARIOS = Path(__file__).parent.parent.parent / "scenarios"
_DEMOS = {read_text(path.read_text("utf-8")).head["title"] for path in SCENARIOS.glob("*.toml")}
"""The demos' titles."""

DRAWS = 3
WEEKS = 4
WARM_UP = 1


def few_draws(draft: Draft) -> Draft:
    """A draft with a few draws; what asks for fewer itself, or for what cannot be, has its way."""
    asked = draft.head.get("runs", DRAWS + 1)
    is_many = isinstance(asked, int) and asked > DRAWS
    return draft.with_head("runs", DRAWS) if is_many else draft


def few_weeks(draft: Draft) -> Draft:
    """The same over few weeks; what says itself over how many has its way."""
    draft = few_draws(draft)
    if draft.head.get("weeks", SETTLED) != SETTLED:
        return draft
    draft = draft.with_head("weeks", WEEKS)
    return draft if "warm_up" in draft.head else draft.with_head("warm_up", WARM_UP)


def to_compare(draft: Draft) -> Draft:
    """What figures are worked out of in place of a draft: of a demo, changed or not, few weeks."""
    return few_weeks(draft) if draft.head.get("title") in _DEMOS else few_draws(draft)


def to_ask(draft: Draft) -> Draft:
    """What more is asked of in place of a draft: of a demo few weeks, whether changed or not."""
    return few_weeks(draft) if draft.head.get("title") in _DEMOS else draft
