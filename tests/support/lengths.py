"""Two lengths of the tests: the README's command, and the long sets that come after it.

``pytest`` leaves out what is marked ``long`` and tries a share of the random cells; ``pytest
--long`` runs what was left out, and the tests of random cells again with a quarter of them.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, settings

SHARE = 20
"""One in so many random examples is tried where the long sets are not asked for."""

FEWEST = 3

LONG_SHARE = 4
"""One in so many in the long sets, which are to end in minutes; ``WHATIF_SHARE=1`` tries all."""

is_long = False
"""Whether the long sets were asked for; set before any test is collected."""


def examples(most: int, *, shrinks: bool = True) -> Callable[[Any], Any]:
    """So many random examples in the long sets, a share of them else; the same ones every time.

    ``shrinks`` False tells a failure at once, as it was drawn.
    """
    share = int(os.environ.get("WHATIF_SHARE", str(LONG_SHARE))) if is_long else SHARE
    count = max(min(most, FEWEST), most // share)

    def decorate(test: Any) -> Any:
        marked = pytest.mark.examples(test)
        return settings(
            max_examples=count,
            deadline=None,
            derandomize=True,
            database=None,
            phases=[Phase.explicit, Phase.generate, *([Phase.shrink] if shrinks else [])],
            suppress_health_check=list(HealthCheck),
        )(marked)

    return decorate


def first_of(cases: Iterable[Any], count: int = 1) -> list[Any]:
    """Cases of a test of which only the first few are tried where the long sets are not asked for.

    Those few are left out of the long sets.
    """

    def marked(case: Any) -> Any:
        values = case if isinstance(case, tuple) else (case,)
        return pytest.param(*values, marks=pytest.mark.long)

    return [case if place < count else marked(case) for place, case in enumerate(cases)]
