"""All real orders together: what is told of them, in tables and views alike."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from whatif.records import dataclass
from whatif.telling.amounts import number

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.answers.orders.orders import Promises


@dataclass(frozen=True, slots=True)
class TogetherFigure:
    """A figure of all orders together; ``worst`` has that of the worst run, where it has one."""

    key: str
    label: str
    unit: str
    worst: str = ""


TOGETHER: Final = (
    TogetherFigure("on_time", "orders on time", "%"),
    TogetherFigure("all_on_time", "  runs with all on time", "%"),
    TogetherFigure("mean_late", "  late, on average", "h", "worst_mean_late"),
    TogetherFigure("most_late", "  late, at most", "h", "worst_most_late"),
    TogetherFigure("pieces_late", "  late a working day", "pieces", "worst_pieces_late"),
)
"""What is told of all orders, in the order in which it is."""


def together_text(of: Promises, figure: TogetherFigure, *, with_unit: bool = False) -> str:
    """A figure of all orders, of the middle run and, where that differs, of the worst one."""
    value = getattr(of, figure.key)
    text = _some(value)
    if with_unit and value is not None and figure.unit:
        text += f" {figure.unit}"
    if not figure.worst or getattr(of, figure.worst) == value:
        return text
    last = getattr(of, figure.worst)
    unit = f" {figure.unit}" if with_unit and figure.unit else ""
    return f"{text}, worst {'not off' if last is None else f'{_some(last)}{unit}'}"


def _some(value: float | None) -> str:
    """A figure of which what is not 0 does not read as 0."""
    return "under 0.1" if value is not None and 0 < value < 0.05 else number(value)


def runs_differ(answers: Sequence[Answer]) -> bool:
    """Whether there are several runs of any scenario, so that orders have odds."""
    return any(len(order.runs) > 1 for answer in answers for order in answer.orders.values())
