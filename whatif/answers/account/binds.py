"""What holds a figure where it is: the largest loss, people, demand, fixtures, in sentences."""

from __future__ import annotations

from whatif.answers.account.account import joined
from whatif.answers.account.case import Case
from whatif.telling.amounts import rounded

_NIL = 0.05
"""Hours a week that would be shown as 0."""

STATES = {
    "in_cycle": "The spindle cuts pieces, or what belongs to their cycle.",
    "pallet_change": "Pallets change places in the spindle; this needs nobody.",
    "warm_up": "The spindle warms up before the first cut after more than four hours of standing.",
    "stopped": "A stop has not been put right yet, or hour meters' hours are laid to machines.",
    "person_at_machine": "A person proves out or renews tools, the spindle standing.",
    "outside_running_hours": "A load is ready, but nothing may be begun at this hour.",
    "setup": "The work holding is changed while the spindle has nothing ready to cut.",
    "load": "Pieces are put on and off while the spindle has nothing ready to cut.",
    "first_piece": "A first piece waits for its release, in hours in which pieces are released.",
    "waiting_for_person": "A person is asked for, and all who are on duty are busy or on a break.",
    "nobody_on_duty": "A person or a release is needed, and nobody is there to give it.",
    "no_fixture": "A pallet could take work, but all fixtures for it are on other pallets.",
    "nothing_due": "There is no order that may be begun yet.",
}
"""What a machine does in each state."""

EASED = {
    "pallet_change": "More pieces a load, or a quicker change, lessen it.",
    "warm_up": "Fewer pauses of more than four hours lessen it.",
    "stopped": "Fewer or shorter stops lessen it, and somebody there to see to them.",
    "person_at_machine": "Fewer setups, shorter prove-outs and longer tool life lessen it.",
    "outside_running_hours": "Longer hours after the shift lessen it.",
    "setup": "Fewer or shorter changes, larger orders, or pallets that keep theirs lessen it.",
    "load": "Quicker loading, or a second pallet loaded meanwhile, lessens it.",
    "first_piece": "Quicker release, more hours that release, or fewer setups lessen it.",
    "waiting_for_person": "More people, shorter walks and less work a piece lessen it.",
    "nobody_on_duty": "More pallets, or work that needs nobody until the next shift, lessen it.",
    "no_fixture": "More fixtures of the part that is wanted lessen it.",
    "nothing_due": "Only more orders lessen it.",
}
"""What makes each loss smaller."""


def limits(case: Case) -> tuple[str, ...]:
    """What holds the scenario back, and how busy its people are."""
    said = [] if case.answer.limit is None else [case.answer.limit.text]
    return (*said, *people(case))


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
