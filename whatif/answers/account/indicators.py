"""Accounts of the ISO 22400-2 indicators: which hours of ours are which time of the standard."""

from __future__ import annotations

from collections.abc import Iterator

from whatif.answers.account import notes
from whatif.answers.account.account import Check, Figure, Note, Worked
from whatif.answers.account.case import Case
from whatif.answers.account.checks import busy_check, by_cycle_check, duty
from whatif.answers.account.hours import state_term
from whatif.answers.account.terms import Expr, Plain, larger, smaller, summed
from whatif.answers.indicators import LOADING_LOSSES, sides_of, times_of
from whatif.answers.states import IsoTime, states_of


def names(case: Case, key: str) -> tuple[str, ...]:
    """The name and the formula of an indicator."""
    assert case.indicators is not None
    return case.indicators[key].name, case.indicators[key].formula_in_words


def indicator(case: Case, of: Figure) -> Worked:
    """The formula of the standard with this scenario's hours in it."""
    assert case.indicators is not None
    key = of.names[0]
    found = case.indicators[key]
    if found.percent is None:
        return Worked(notes=(Note("no percentage", of=found),))
    in_cycle = case.figure_term("hours in cycle", "hours_by_state.in_cycle")
    source = () if key == LOADING_LOSSES else (Note("standard"),)
    said = (*notes.limits(case), *source)
    return of.worked(_formula(case, key, in_cycle), said, _checks(case, key, of), without="too few")


def _checks(case: Case, key: str, of: Figure) -> Iterator[Check]:
    if key == "worker_efficiency":
        yield of.check("whole", "at most", Plain(100))
        yield from busy_check(case, of, lambda hours: 100 * hours / duty(case))
    elif key == "quality_ratio":
        yield from _quality_checks(case, of)
    else:
        yield from by_cycle_check(
            case,
            of,
            lambda hours: _formula(case, key, hours),
            falls=key == "setup_ratio",
        )


def _quality_checks(case: Case, of: Figure) -> Iterator[Check]:
    """Good are what scrap leaves, the more and the less of all parts."""
    scrap = [
        case.of_part("scrap of", "%", part, "scrap")
        for part, good in case.simulated.counted.good.items()
        if good
    ]
    if len(scrap) == 1:
        yield of.check("scrap", "is", 100 - scrap[0])
    elif scrap:
        yield of.check("least scrap", "at most", 100 - smaller(*scrap))
        yield of.check("most scrap", "at least", 100 - larger(*scrap))


def _states(case: Case, time: IsoTime) -> list[Expr]:
    return [state_term(case, row) for row in states_of(time)]


def _formula(case: Case, key: str, in_cycle: Expr) -> Expr:
    """The formula of one indicator, from hours in cycle."""
    if key != LOADING_LOSSES:
        count, base = (_side(case, signs, in_cycle) for signs in sides_of(key))
        return Plain(100) * count / base
    planned, good, made = (_side(case, [sign], in_cycle) for sign in ("PBT", "GQ", "PQ"))
    down = times_of(case.plan, case.simulated).down
    up = planned - case.counted_term("lost to setups and stops", down)
    return Plain(100) * (up / planned) * (in_cycle / up) * (good / made)


def _side(case: Case, signs: list[str], in_cycle: Expr) -> Expr:
    """One side of a formula: a time of the standard, or several added up."""
    times = times_of(case.plan, case.simulated)
    setup, delay = _states(case, "setup"), _states(case, "delay")
    beyond: Expr | None = None
    if case.simulated.stopped_beyond:
        beyond = case.counted_term(
            "stopped beyond the end of the loaded work", case.simulated.stopped_beyond
        )
    match signs:
        case ["APT"]:
            return in_cycle
        case ["AUBT"]:
            busy = summed("busy: in cycle + setup + delay", (in_cycle, *setup, *delay))
            return busy - beyond if beyond else busy
        case ["PBT"]:
            return case.counted_term("planned machine hours", times.planned)
        case ["APWT"]:
            return case.figure_term("hours busy", "people_hours.busy")
        case ["APAT"]:
            return duty(case)
        case ["GQ"]:
            return case.counted_term("good pieces", times.good, "a week")
        case ["PQ"]:
            return case.counted_term("pieces made", times.made, "a week")
    of_states = {
        "APT": ("in cycle", [in_cycle]),
        "AUST": ("setup", setup),
        "ADET": ("delay", delay),
    }
    words = " + ".join(of_states[sign][0] for sign in signs)
    found = summed(words, (item for sign in signs for item in of_states[sign][1]))
    return found - beyond if beyond and "ADET" in signs else found
