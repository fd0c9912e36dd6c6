"""What a verdict comes to under the doubts of a meeting, in one sentence."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import Final

from whatif.answers.doubts import MOST, Doubt, Lead, Tried, is_cut_short
from whatif.answers.verdict import Conclusion, Verdict
from whatif.telling.amounts import listed
from whatif.telling.gain_texts import leading_range_text
from whatif.telling.money.ranges import amounts

_DOUBTS: Final = {
    Doubt.LESS_DEMAND: "demand a fifth less",
    Doubt.LONGER_CYCLES: "cycles a tenth longer",
    Doubt.SLOWER_LOADING: "loading and setup a fifth longer",
}
_STAYS: Final = "it stays"


def tried_words(tried: Sequence[Tried], found: Verdict, titles: Mapping[str, str]) -> str:
    """Who comes first under each doubt: "Tried: demand a fifth less: it stays"; "" for none."""
    if not tried:
        return ""
    said = [(_DOUBTS[each.doubt], _outcome(each, found, titles)) for each in tried]
    parts = [
        f"{' or '.join(doubt for doubt, _ in alike)}: {outcome}"
        for outcome, alike in groupby(said, key=lambda each: each[1])
    ]
    of = f" with the first {MOST}" if is_cut_short(found) else ""
    return f"Tried{of}: {'; '.join(parts)}."


def being_tried_words(so_far: str, waiting: str) -> str:
    """That doubts are being tried, behind what is known of them so far."""
    return f"{so_far or _BEGINS} {waiting or 'Being worked out ...'}"


_BEGINS: Final = "Tried with less demand, longer cycles and slower loading:"


def not_tried_words(fault: str) -> str:
    """That doubts could not be tried, and why."""
    return f"{_BEGINS} {fault}."


def _outcome(tried: Tried, found: Verdict, titles: Mapping[str, str]) -> str:
    if (tried.first, tried.conclusion) == ((), Conclusion.NONE):
        stays = found.conclusion is Conclusion.NONE
        return _STAYS if stays else "no alternative is clearly better"
    if set(tried.first) == set(found.first):
        return _STAYS
    first = listed([titles[id_] for id_ in tried.first])
    if tried.first[1:]:
        return f"{first} cannot be told apart"
    ahead = "brings most" if tried.conclusion is Conclusion.MOST else "is ahead"
    return f"{first} {ahead}{_by(tried.lead, titles)}"


def _by(lead: Lead | None, titles: Mapping[str, str]) -> str:
    """By how much one is ahead of who comes first as entered, where that is known."""
    if lead is None:
        return ""
    low, _, high = lead.by
    if lead.currency:
        more = f"worth {amounts(low, high, lead.currency)} more"
    else:
        more = f"{leading_range_text((low, low, high))} points more".replace("+", "")
    return f", {more} than {titles[lead.over]}"
