"""What holds a figure where it is: the largest loss, people, demand, fixtures, in sentences."""

from __future__ import annotations

from whatif.answers.account.account import joined
from whatif.answers.account.case import Case
from whatif.telling.amounts import rounded
from whatif.telling.limits import limit_text

_NIL = 0.05
"""Hours a week that would be shown as 0."""


def limits(case: Case) -> tuple[str, ...]:
    """What holds the scenario back, and how busy its people are."""
    said = limit_text(case.answer.held_back)
    return (*((said,) if said else ()), *people(case))


def people(case: Case) -> tuple[str, ...]:
    """How busy the people are."""
    figures = case.figures
    if figures is None or not figures.people.on_duty:
        return ()
    busy, duty = figures.people.busy, figures.people.on_duty
    return (
        f"People are busy {rounded(busy)} of {rounded(duty)} hours on duty ({busy / duty:.0%}).",
    )


def demand(case: Case) -> tuple[str, ...]:
    """Of which parts all that is wanted is made, and of which not."""
    figures = case.figures
    if figures is None:
        return ()
    met = [part for part, share in figures.demand_met.items() if share is not None and share >= 100]
    short = [
        part for part, share in figures.demand_met.items() if share is not None and share < 100
    ]
    said = []
    if met:
        said.append(f"All that is wanted of {joined(met)} is made: more of it finds no buyer.")
    if short:
        said.append(f"Less than is wanted is made of {joined(short)}: there the cell is the limit.")
    return tuple(said)


def unmade(case: Case, part: str) -> tuple[str, ...]:
    """Why a part is not made."""
    why = case.part(part).unmade
    return (why,) if why else ()


def fixtures(case: Case, part: str) -> tuple[str, ...]:
    """What a lack of fixtures costs, where the part has a limit of them."""
    made, figures = case.made(part), case.figures
    if made is None or figures is None or made.fixtures is None:
        return ()
    hours = figures.by_state["no_fixture"]
    if hours <= _NIL:
        return ()
    return (
        f"There are {made.fixtures} fixtures for {part}; pallets lack a fixture "
        f"{rounded(hours)} machine hours a week.",
    )
