"""The demo studies, answered once for all tests, with fewer draws than a user has.

They are answered over few weeks, in the long sets over as many as settle them.
"""

from __future__ import annotations

from functools import cache

import lengths
from answer_studies import wholly
from few_draws import SCENARIOS, few_draws, few_weeks
from remembered import remembered

from whatif.answers.answer import Comparison
from whatif.answers.compare import compare
from whatif.answers.ranged import with_could_make, with_likely
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import Checked, check
from whatif.study.file.reading import read_file
from whatif.study.file.writing import to_text

DEMOS = sorted(SCENARIOS.glob("*.toml"))
PALLETS, ONE_PERSON, SMALL_ORDERS = "pallets-until-demand", "one-person", "small-orders"


@cache
def checked(demo: str) -> Checked:
    fewer = few_draws if lengths.is_long else few_weeks
    return check(fewer(read_file(SCENARIOS / f"{demo}.toml").draft))


@cache
def compared(demo: str) -> Comparison:
    """Everything that is answered of a demo."""
    text = to_text(checked(demo).draft)
    return remembered(f"compared wholly\n{text}", lambda: wholly(checked(demo)))


@cache
def gained(demo: str) -> Comparison:
    """The same but for hour meters read in two ways and rush orders, which takes half the time."""
    memory = Memory()
    return with_likely(with_could_make(compare(checked(demo), memory), memory), memory)
