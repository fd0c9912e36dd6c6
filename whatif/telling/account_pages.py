"""An account laid out for reading: themes, sections of lines, and where a number leads on to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from whatif.answers.account.account import Account, Check, Figure, Step
from whatif.answers.account.terms import Term
from whatif.answers.compare import Answer

Tone = Literal["plain", "head", "dim", "wrong"]

LEADING: Final = "gain_percent.saleable"
"""The figure that leads the strip."""

_THEMES: Final = {
    "gain_percent": "gains",
    "grain_percent": "grain of the gains",
    "simulated": "what is simulated",
    "spindle_hours": "spindle hours",
    "hours_by_state": "machine hours by state",
    "utilization_percent": "share in cut",
    "weeks": "weeks, limit and band",
    "limit": "weeks, limit and band",
    "band": "weeks, limit and band",
    "indicators_percent": "indicators (ISO 22400-2)",
    "pieces": "pieces",
    "demand_met_percent": "demand met",
    "people_hours": "people's hours",
    "fit": "fit",
    "money": "money",
    "orders": "orders",
    "rush": "rush jobs",
    "claimed": "claimed",
    "hour_meters": "hour meters",
}
"""Themes by what an id begins with."""

_STANDS: Final = {
    "is": "The figure found: {found}.",
    "at most": "No more than that may be found. Found: {found}.",
    "at least": "No less than that must be found. Found: {found}.",
    "about": "To be held against it: {found}.",
}


@dataclass(frozen=True, slots=True)
class Reference:
    """Another figure that a number is; ``there``: of the reference scenario."""

    figure: str
    there: bool


@dataclass(frozen=True, slots=True)
class ReadLine:
    """A line to be broken where it is too long.

    Attributes:
        depth: how far it stands in, in steps of two cells.
        value: what stands in a column of its own before the text.
        sees: where it leads on to.
    """

    text: str
    depth: int = 0
    value: str = ""
    tone: Tone = "plain"
    sees: Reference | None = None


@dataclass(frozen=True, slots=True)
class Section:
    """Lines that belong together."""

    title: str
    lines: tuple[ReadLine, ...]


def theme(figure: Figure) -> str:
    """What a figure is about, in two or three words."""
    return _THEMES[figure.id.partition(".")[0]]


def next_theme(figures: Sequence[Figure], at: int) -> int:
    """The place of the first figure of the theme after that of ``at``; the first after the last."""
    after = (i for i in range(at + 1, len(figures)) if theme(figures[i]) != theme(figures[at]))
    return next(after, 0)


def place_of(figures: Sequence[Figure], wanted: str) -> int:
    """Where a figure stands, or the one that is likest: of the same part, or the same theme."""
    ids = [one.id for one in figures]
    while wanted:
        for i, id_ in enumerate(ids):
            if id_ == wanted or id_.startswith(f"{wanted}."):
                return i
        wanted = wanted.rpartition(".")[0]
    return 0


def leading(answer: Answer) -> str:
    """The figure to begin with; of a scenario that is only claimed, the claimed gain."""
    only_claimed = answer.figures is None and answer.claimed is not None
    return "claimed.gain_percent" if only_claimed else LEADING


def pending(answer: Answer) -> tuple[str, ...]:
    """Ids, or beginnings of ids, of figures that are still being worked out."""
    found = []
    if answer.figures is not None and answer.grain is None:
        found.append("grain_percent")
    meters = answer.plan.meters
    if (
        meters is not None
        and meters.gap == "show"
        and not answer.laid
        and answer.gains.saleable is not None
    ):
        found.append("hour_meters.gain_range_percent")
    if answer.plan.rush and not answer.rush:
        found.append("rush")
    return tuple(found)


def grain_words(answer: Answer, figure: Figure) -> str:
    """The grain of a gain; "" where the figure is none, or is the reference's."""
    root, _, kind = figure.id.partition(".")
    if root != "gain_percent" or not figure.value:
        return ""
    if answer.grain is None:
        return "its grain is being worked out"
    grain: float | None = getattr(answer.grain, kind)
    return "" if grain is None else f"grain {grain:.2f} percentage points"


def reference_of(term: Term, figures: Sequence[Figure]) -> Reference | None:
    """The figure that a number is, by its origin: "see money.year there".

    None where it is none, or one that is not told: the fit of a part that nobody wants weekly.
    """
    if not term.origin.startswith("see "):
        return None
    said = term.origin.removeprefix("see ")
    wanted = said.split(",")[0].split(" ")[0]
    there = said != wanted
    ids = [one.id for one in figures]
    if wanted == "fit":
        part = term.label.rpartition(" of ")[2]
        wanted = next((id_ for id_ in ids if id_.startswith(f"fit.{part}.")), wanted)
    return Reference(wanted, there) if there or wanted in ids else None


# -- sections --------------------------------------------------------------------------------


def sections(account: Account, figures: Sequence[Figure]) -> tuple[Section, ...]:
    """All there is to say of a figure, what answers "why" first.

    Args:
        figures: those of the scenario, for what a number leads on to.
    """
    worked = account.worked
    found = [Section("", (ReadLine(worked.meaning),))]
    if worked.steps:
        lines = tuple(line for one in worked.steps for line in _step_lines(one))
        found.append(Section("How it is worked out", lines))
    if worked.binds:
        title = "What binds" if worked.steps else "Why there is none"
        found.append(Section(title, tuple(ReadLine(f"- {one}", 1) for one in worked.binds)))
    if account.terms:
        lines = tuple(_term_lines(account.terms, figures))
        found.append(Section("Where each number is from", lines))
    known = set(account.terms)
    checked: list[ReadLine] = []
    for one in worked.checks:
        new = [term for term in one.step.terms if term not in known]
        checked += [*_check_lines(one), *_term_lines(new, figures)]
        known |= set(one.step.terms)
    if checked:
        found.append(Section("Check it with a pencil", tuple(checked)))
    return tuple(found)


def stands(one: Check) -> str:
    """How the figure stands to what the pencil gives, in words."""
    text = _STANDS[one.relation].format(found=one.shown)
    if one.slack and one.relation != "about":
        text += f" The two may be {one.slack:.2g} apart: {one.because}."
    if not one.holds:
        text += " This does not come out as it should: trust neither until you know why."
    return text


def is_alone(one: Step) -> bool:
    """Whether a step is a number by itself, which needs no line that repeats it."""
    return " " not in one.numbers


def by_origin(terms: Sequence[Term]) -> dict[str, list[Term]]:
    """Numbers under their origins, both in the order of their use."""
    found: dict[str, list[Term]] = {}
    for term in terms:
        found.setdefault(term.origin, []).append(term)
    return found


def _step_lines(one: Step) -> list[ReadLine]:
    result = one.shown if is_alone(one) else f"{one.numbers} = {one.shown}"
    return [ReadLine(one.formula, 1), ReadLine(f"= {result}", 2)]


def _check_lines(one: Check) -> list[ReadLine]:
    result = one.step.shown if is_alone(one.step) else f"{one.step.numbers} = {one.step.shown}"
    lines = [
        ReadLine(f"- {one.rule}", 1),
        ReadLine(result, 3),
        ReadLine(stands(one), 2, tone="plain" if one.holds else "wrong"),
    ]
    return [*lines, ReadLine(f"Published: {one.source}", 2, tone="dim")] if one.source else lines


def _term_lines(terms: Sequence[Term], figures: Sequence[Figure]) -> list[ReadLine]:
    lines = []
    for origin, those in by_origin(terms).items():
        lines.append(ReadLine(f"{origin}:", 1, tone="dim"))
        for term in those:
            sees = reference_of(term, figures)
            lines.append(ReadLine(term.label, 2, term.shown, sees=sees))
    return lines
