"""The verdict tried again with what a meeting doubts first (rule `verdict.doubts`)."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from enum import Enum, auto
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from whatif.answers.answer import Comparison
from whatif.answers.apart import falls_short
from whatif.answers.compare import answers_of, plans_as_read
from whatif.answers.meters.gap_read import with_gain_ranges
from whatif.answers.money.year import prices_of
from whatif.answers.ranged import likely_one_by_one
from whatif.answers.simulate import forgetting
from whatif.answers.verdict import Basis, Conclusion, Verdict, verdict_of
from whatif.plan.build import is_in_money, plans_of
from whatif.records import dataclass
from whatif.study.check.check import check
from whatif.study.edits.values import SetValue
from whatif.study.refused import Refused
from whatif.study.resolve import GIVEN_BACK
from whatif.study.schema.catalogue import key_for
from whatif.study.typed import taken

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.answers.progress import Told
    from whatif.answers.ranks import Range
    from whatif.answers.simulate import Simulate
    from whatif.study.check.check import Checked
    from whatif.study.draft import Draft


class Doubt(Enum):
    """What may be otherwise than entered, in every scenario alike."""

    LESS_DEMAND = auto()
    LONGER_CYCLES = auto()
    SLOWER_LOADING = auto()
    """Loading, unloading and setting up."""


_MOVED: Final = {
    Doubt.LESS_DEMAND: (("weekly",), "-20 %", Fraction(4, 5)),
    Doubt.LONGER_CYCLES: (("cycle",), "+10 %", Fraction(11, 10)),
    Doubt.SLOWER_LOADING: (("load", "unload", "setup"), "+20 %", Fraction(6, 5)),
}
"""Which values of parts are moved, as it would be typed, and by what. From memory: what shops are
wrong about by as much."""

MOST = 8
"""Alternatives that are tried at most, in the verdict's order."""


@dataclass(frozen=True, slots=True)
class Lead:
    """By how much one alternative is ahead of another (rule `verdict.apart`).

    Attributes:
        over: which one it is ahead of.
        by: what lies between the two in the same draws: present value, or points of output.
        currency: of present value; "" for points.
    """

    over: str
    by: Range
    currency: str = ""


@dataclass(frozen=True, slots=True)
class Tried:
    """How the verdict ends under a doubt.

    Attributes:
        first: who comes first then.
        lead: by how much it is ahead of who comes first as entered; None where that is not told
            by one range, or where one of both is nobody or several.
    """

    doubt: Doubt
    conclusion: Conclusion
    first: tuple[str, ...]
    lead: Lead | None = None


def to_be_tried(found: Verdict) -> tuple[str, ...]:
    """The alternatives that are tried under doubts; none while there is no verdict."""
    return _may_come_first(found)[:MOST]


def is_cut_short(found: Verdict) -> bool:
    """Whether more alternatives may come first than are tried."""
    return len(_may_come_first(found)) > MOST


def _may_come_first(found: Verdict) -> tuple[str, ...]:
    if found.conclusion in (Conclusion.WAITING, Conclusion.NOTHING_TO_COMPARE):
        return ()
    # What is the same as another one, or cannot be done, is so under any doubt.
    may = (it for it in found.alternatives if it.is_feasible and it.is_ranked and it.again is None)
    return tuple(it.scenario for it in may)


def tried_under_doubts(
    draft: Draft,
    scenarios: Sequence[str],
    simulate: Simulate,
    told: Told,
    partly: Callable[[tuple[Tried, ...]], None] = lambda found: None,
) -> tuple[Tried, ...]:
    """The verdict over some alternatives under every doubt that moves something in the study.

    Args:
        scenarios: the first of them comes first as entered.
        told: hears how many alternatives have been looked at.
        partly: takes what is known so far.
    """
    # The answers of the study as it stands are remembered by their scenarios, and stay so.
    simulate = forgetting(simulate)
    changed = {doubt: after for doubt in Doubt if (after := doubted(draft, doubt)) is not None}
    each = len(scenarios) + 2
    found: tuple[Tried, ...] = ()
    for place, (doubt, after) in enumerate(changed.items()):
        before = place * each

        def go_on(done: int, before: int = before) -> None:
            told(before + done, len(changed) * each)

        checked = check(after)
        if checked.is_sound:
            verdict, answers = _judged(checked, scenarios, simulate, go_on)
            lead = _lead(verdict, answers, scenarios[0])
            found = (*found, Tried(doubt, verdict.conclusion, verdict.first, lead))
            partly(found)
    return found


def doubted(draft: Draft, doubt: Doubt) -> Draft | None:
    """The study with what is doubted moved wherever it is entered; None where it stands nowhere."""
    edits = tuple(_edits(draft, doubt))
    for edit in edits:
        draft = edit.apply(draft)
    return draft if edits else None


def _edits(draft: Draft, doubt: Doubt) -> Iterator[SetValue]:
    names, text, left = _MOVED[doubt]
    for scenario in draft:
        for path, raw in scenario.entered.items():
            key = key_for(path)
            if key is None or path[0] != "part" or path[-1] not in names or raw == GIVEN_BACK:
                continue
            try:
                yield SetValue(scenario.id, path, taken(key, key.kind.written(raw), left, text))
            except Refused:
                continue  # there is nothing, or so little of it that a share of it is no other


def _judged(
    checked: Checked, scenarios: Collection[str], simulate: Simulate, told: Callable[[int], None]
) -> tuple[Verdict, Mapping[str, Answer]]:
    study = checked.study
    assert study is not None  # it has no problems
    paid = is_in_money(checked)
    wanted = {study.reference, study.today, *scenarios}
    every = plans_of(checked)
    needed = wanted | {of.scenario for id_ in wanted if (of := every[id_].meters) is not None}
    # Worth is money where any scenario has a contribution, also one that is not tried.
    entered = {id_: replace(plan, contributes=paid) for id_, plan in every.items() if id_ in needed}
    told(0)
    plans = plans_as_read(checked, simulate, entered)
    answers = answers_of(plans, study.reference, simulate, wanted)
    found = Comparison(study.title, study.reference, answers, study.units, study.today, paid)
    told(1)
    ranged = (study.reference, *scenarios)
    for done, more in enumerate(likely_one_by_one(found, simulate, ranged), 2):
        found = more
        told(done)
    found = with_gain_ranges(found, simulate, ranged)
    return verdict_of(found.answers, study.reference, scenarios), found.answers


def _lead(found: Verdict, answers: Mapping[str, Answer], entered: str) -> Lead | None:
    """By how much the only first one is ahead of who comes first as entered."""
    if len(found.first) != 1 or found.first[0] == entered:
        return None
    here, there = answers[entered], answers[found.first[0]]
    is_worth = found.basis is Basis.WORTH
    by = falls_short(here, there, is_worth=is_worth)
    currency = prices_of(here.plan).currency if is_worth else ""
    return None if by is None else Lead(entered, by, currency)
