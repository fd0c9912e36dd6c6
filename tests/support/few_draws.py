"""Studies over fewer weeks and with fewer draws than a user has, so that tests stay quick.

The demo studies as they stand keep the weeks in which they settle, and are answered once for all
tests: their figures stand on pictures and screens. Whatever is changed in one of them, or asked
beside its figures, is worked out over few weeks.
"""

from __future__ import annotations

from pathlib import Path

from whatif.study.draft import Draft
from whatif.study.file.writing import to_text
from whatif.study.schema.models.study import SETTLED

SCENARIOS = Path(__file__).parent.parent.parent / "scenarios"
_DEMOS = frozenset(path.read_text("utf-8") for path in SCENARIOS.glob("*.toml"))

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


def briefly(draft: Draft) -> Draft:
    """What figures are worked out of: a demo as it stands settles, all else takes few weeks."""
    return few_draws(draft) if to_text(draft) in _DEMOS else few_weeks(draft)
