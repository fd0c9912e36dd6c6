"""What is asked of the calculation and what it replies, as plain data between two processes."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable
from typing import TYPE_CHECKING

from typing_extensions import override

from whatif.records import dataclass

if TYPE_CHECKING:
    from whatif.answers.answer import Comparison
    from whatif.answers.progress import Progress, Told
    from whatif.answers.simulate import Simulate
    from whatif.study.check.check import Checked
    from whatif.study.draft import Draft

ANY_REVISION = -1
"""Of a reply that says that the calculation itself has ended."""


def _nobody(result: object) -> None:
    """Nobody waits for a part of an answer."""


@dataclass(frozen=True, slots=True)
class Material:
    """What a question has to work with.

    Attributes:
        checked: of the draft; it has no problems.
        found: the comparison of the draft as typed; likely ranges may be lacking.
        simulate, pause: run a cell, and let whoever waits be heard; both may raise to stop.
        told: takes how far long work is, between its items; it may raise to stop as well.
        partly: takes what is known so far of a long answer, of the same sort as the whole one.
        at_once: what the question could tell at once (see :class:`AtOnce`), None where nothing.
    """

    draft: Draft
    checked: Checked
    found: Comparison
    simulate: Simulate
    pause: Callable[[], None]
    told: Told
    partly: Callable[[object], None] = _nobody
    at_once: object = None


@dataclass(frozen=True, slots=True)
class AtOnce:
    """What a question tells before the study is answered as typed, and whether that is all."""

    result: object
    is_whole: bool


class Question(ABC):
    """Something that a view wants to know beside the comparison.

    A question is a small frozen dataclass: it travels to the calculating process, and its result,
    a frozen dataclass too, travels back with it.
    """

    @abstractmethod
    def work_out(self, material: Material) -> object:
        """The answer; called in the calculating process."""

    def at_once(self, material: Material) -> AtOnce | None:
        """What can be told while only one run of scenarios is known; None where nothing can.

        Of those that an edit has not touched not even that need be known.
        """
        return None


class Alone(Question):
    """What is asked of no study: the draft of its request is left aside."""

    @abstractmethod
    def work_alone(self, simulate: Simulate) -> object:
        """The answer; called in the calculating process."""

    @override
    def work_out(self, material: Material) -> object:
        """The same, whatever study there is."""
        return self.work_alone(material.simulate)


@dataclass(frozen=True, slots=True)
class Request:
    """A draft to be answered, and what else is to be known of it.

    ``front`` is the scenario that is looked at, "" where none is: it is answered first.
    """

    revision: int
    draft: Draft
    question: Question | None = None
    front: str = ""


@dataclass(frozen=True, slots=True)
class Reply:
    """An answer, or news on the way to it.

    Attributes:
        found: what is news of the comparison; that which is final has all answers. None while
            there is only progress to tell, or where the draft has problems.
        final: whether nothing more comes for this request.
        progress: how many weeks are simulated, or how many items of a question are done.
        is_of_rush: whether what is in progress is that rush orders are tried out.
        fault: what went wrong with the calculation itself, in words; empty if nothing.
        question, result: an answered question with its answer, or with the `Unanswerable` that
            says why it has none.
        partly: whether the answer is only what is known of it so far.
    """

    revision: int
    found: Comparison | None = None
    final: bool = False
    progress: Progress | None = None
    fault: str = ""
    question: Question | None = None
    result: object = None
    partly: bool = False
    is_of_rush: bool = False
