"""Where a number of an account is from, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from whatif.answers.account.origins import CountedIn, Entered, FoundBy, OfStudy, See, Wanted
from whatif.study.resolve import Source
from whatif.telling.amounts import rounded
from whatif.telling.clock import WEEKDAYS
from whatif.telling.sources import GUESSED, NOT_ENTERED

if TYPE_CHECKING:
    from whatif.answers.account.terms import Origin as TermOrigin

_TRIED = "tried out in a copy of the run"
_FOUND = {
    "run by run": "counted run by run",
    "in that run": "counted in that run",
    "in that draw": "worked out in that draw",
    "over the half": "counted in those weeks alone",
    "flat out": "counted in a second run that makes more than is wanted",
    "two weeks": "counted over two weeks",
    "tried out": f"the same, {_TRIED}",
    "each tried out": f"{{}} attended hours of a week, each {_TRIED}",
    "since arrival": f"from arrival to last piece off, {_TRIED}",
    "shifts": "from the shifts: {}",
    "shift days": "from the shifts' days",
    "shift hours": "from the shifts' days, times and breaks",
    "against today": "against what stands in the shop today, and what is owned",
    "next operation": "what the next operation needs",
    "sizes": "from the sizes entered",
    "inputs": "from what is entered",
    "layout": "laid out piece by piece, see the layout",
    "table load": "table load over mass",
    "plain rows": "all laid the same way",
    "pieces unknown": "assumed: how many fit is not known",
    "busiest day": "assumed: the busiest day of the shifts",
    "all machines": "assumed: all of the scenario",
    "nothing bought": "nothing is bought for it",
    "nothing laid out": "nothing has to be invested, and a year brings more",
    "limit missed": "a limit is missed, see what binds",
    "halving": "found by halving",
}


def origin_words(origin: TermOrigin) -> str:
    """An origin as it stands before the numbers of an account that are from there."""
    match origin:
        case Entered():
            return _entered(origin)
        case OfStudy(is_entered):
            return "entered for the study" if is_entered else NOT_ENTERED
        case CountedIn():
            return _counted(origin)
        case Wanted(weekly, made):
            return f"the pieces wanted ({_entered(weekly)}); {rounded(made)} were made"
        case See(figure, there):
            # Loads of many parts stand under one heading; each label says of which part.
            place = "fit" if figure.startswith("fit.") else figure
            return f"see {place}{f', {there}' if there else ''}"
        case FoundBy(way, detail):
            return _FOUND[way].format(detail or "no shift")
    return "worked out above"


def _entered(origin: Entered) -> str:
    source = origin.origin
    if source.kind is Source.ASSUMED:
        return NOT_ENTERED
    words = "entered here"
    if source.kind is Source.INHERITED:
        words = f"inherited from {origin.title}"
    elif not origin.is_own:
        words = f"entered in {origin.title}"
    return f"{words}, {GUESSED}" if source.guessed else words


def _counted(origin: CountedIn) -> str:
    weeks = "1 week" if origin.weeks == 1 else f"{origin.weeks} weeks"
    words = f"counted in {weeks} simulated"
    if origin.runs > 1:
        words = f"mean of {origin.runs} runs of {weeks} each"
    if origin.at is None:
        return words
    week, hour = divmod(origin.at, 7 * 24)
    return f"{WEEKDAYS[int(hour // 24)]} of week {int(week) + 1}, {words}"
