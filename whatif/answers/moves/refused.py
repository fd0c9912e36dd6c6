"""Questions that have no answer as they were put."""

from __future__ import annotations

from typing import Literal, TypeAlias

from whatif.study.refused import HasProblem, NoneAllowed, NotThere, Refused

Reason: TypeAlias = Literal[
    # what is asked about
    "no parts",
    "no contribution",
    "nothing due",
    "no saleable output",
    "no gain",
    "level with itself",
    # inputs
    "of the whole study",
    "not one number",
    "same input",
    # values
    "no value",
    "no plain number",
    "not read",
    "not read, such as",
    "now 0",
    "not given",
    "where to look",
    # ranges
    "no range",
    "no step wanted",
    "step not above 0",
    "step not whole",
    "not whole",
    "too many values",
    "goes down",
    "one value",
    # targets
    "no target",
    "no amount",
    "no such part",
    "no such part, near",
]


class Unanswerable(Refused):
    """A question that has no answer as it was put.

    Attributes:
        reason: an id for which `whatif.telling.refusals` has the sentence, told with ``facts``;
            None where the study says why.
    """

    def __init__(self, why: NotThere | NoneAllowed | HasProblem | Reason, *facts: str) -> None:
        super().__init__(why)
        self.reason: Reason | None = why if isinstance(why, str) else None
        self.facts = facts
