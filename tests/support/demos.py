"""The demo studies, answered once for all tests, with fewer draws than a user has."""

from __future__ import annotations

from functools import cache

from answer_studies import wholly
from few_draws import SCENARIOS, few_draws
from remembered import remembered

from whatif.answers.answer import Comparison
from whatif.answers.compare import compare
from whatif.answers.ranged import with_could_make, with_likely
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import Checked, check
from whatif.study.file.reading import read_file

DEMOS = sorted(SCENARIOS.glob("*.toml"))
PALLETS, ONE_PERSON, SMALL_ORDERS = "pallets-until-demand", "one-person", "small-orders"


@cache
def checked(demo: str) -> Checked:
    return check(few_draws(read_file(SCENARIOS / f"{demo}.toml").draft))


@cache
def compared(demo: str) -> Comparison:
    """Everything that is answered of a demo."""
    text = (SCENARIOS / f"{demo}.toml").read_text("utf-8")
    return remembered(f"compared wholly, few draws\n{text}", lambda: wholly(checked(demo)))


@cache
def gained(demo: str) -> Comparison:
    """The same but for hour meters read in two ways and rush orders, which takes half the time."""
    memory = Memory()
    return with_likely(with_could_make(compare(checked(demo), memory), memory), memory)
