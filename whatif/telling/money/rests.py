"""What is not priced yet, and what a payback rests on, in words (rule `money.rests`)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Final

from whatif.answers.money.shorter import SHORTENED
from whatif.answers.money.unlike import CountedBy
from whatif.telling.amounts import grouped, listed, priced, rounded
from whatif.telling.clock import duration_text

if TYPE_CHECKING:
    from fractions import Fraction

    from whatif.answers.money.capital import FirstPallets, MoreFixtures
    from whatif.answers.money.missing import Lean, Missing, NoContribution, NotPriced, Thing
    from whatif.answers.money.money import MoneyFigures
    from whatif.answers.money.rests import PartSold, RestsOn
    from whatif.answers.money.unlike import Unlike

_WEEKS_A_YEAR = 365.25 / 7

THINGS: dict[Thing, str] = {
    "machines": "machines",
    "pallets": "pallets",
    "systems": "handling systems",
    "fixtures": "fixtures",
    "one-off": "one-off cost",
    "wage": "wage",
    "cycle": "shorter cycle",
    "set-up": "shorter set-up",
    "prove-out": "shorter prove-out",
    "loading": "shorter loading",
    "loads": "more pieces per load",
    "bench work": "less bench work",
    "walk": "shorter walks",
    "other duties": "fewer other duties",
}
"""What costs money and may have no price, by its words."""

_ONE: Final = ("one-off", "wage", *SHORTENED)
"""Of what there is one, so that no number stands behind it."""

WAGES_OPEN: Final = "wages not entered"
"""Of what takes more hours of people, where nobody has said what an hour costs."""

_LEAST: dict[Lean, str] = {
    "none": "",
    "worse": "at least ",
    "better": "at most ",
    "either": "about ",
}
_MOST: dict[Lean, str] = {**_LEAST, "worse": "at most ", "better": "at least "}


def least(lean: Lean) -> str:
    """Before a capital or a payback what missing prices make of it; "" where they move nothing."""
    return _LEAST[lean]


def most(lean: Lean) -> str:
    """The same before a gain, a present value or a rate, which move the other way."""
    return _MOST[lean]


# -- what is not priced -----------------------------------------------------------------------


def missing_words(missing: Missing) -> str:
    """One thing without a price: "pallets of mill (10)"."""
    of = f" of {missing.of}" if missing.of else ""
    count = f" ({rounded(missing.count, 0)})" if missing.what not in _ONE else ""
    there = f" in {missing.reference}" if missing.reference else ""
    return f"{THINGS[missing.what]}{of}{count}{there}"


def not_priced_words(missing: Iterable[Missing]) -> str:
    """All of it behind one colon; "" where everything has a price."""
    said = ", ".join(map(missing_words, missing))
    return f"not priced yet: {said}" if said else ""


def not_priced_sentence(gap: NotPriced) -> str:
    """The same as a warning, with what it does to the figures."""
    said = not_priced_words(gap.missing)
    held = f" {_HELD[0].upper()}{_HELD[1:]}." if gap.is_counted else ""
    is_bought = any(each.what not in _ONE for each in gap.missing)
    nil = f" {_IN_ANOTHER}" if is_bought else ""
    if any(each.what in SHORTENED for each in gap.missing):
        nil += f" {_AS_ONE_OFF}"
    means = f" {_MEANS[gap.lean]}".rstrip()
    return f"{said[0].upper()}{said[1:]}; counted as 0.{held}{means}{nil}"


def no_worth_sentence(gap: NoContribution) -> str:
    """Which parts count as nothing, and what to do about it."""
    said = []
    if gap.parts:
        has, its = ("has", "its") if len(gap.parts) == 1 else ("have", "their")
        said.append(
            f"{listed(gap.parts)} {has} no contribution, so {its} pieces count as nothing; "
            "enter one."
        )
    if gap.at_nothing:
        has, its = ("has", "its") if len(gap.at_nothing) == 1 else ("have", "their")
        said.append(
            f"{listed(gap.at_nothing)} {has} a contribution of 0, so {its} pieces count as nothing."
        )
    return " ".join(said)


_HELD = (
    "fixtures are not entered, so as many are counted as are held at once: enter how many there are"
)
"""Why fixtures are bought that nobody would buy, and what to do about it."""


_IN_ANOTHER: Final = "Enter 0 where another sum, such as the one-off cost, holds it."
"""What to do where an offer has one sum for a whole cell."""


_AS_ONE_OFF: Final = "What takes less time, or holds more, is priced by the one-off cost, be it 0."
"""What to do where nothing is bought that has a price of its own."""


_MEANS: dict[Lean, str] = {
    "none": "",
    "worse": "The payback is at least, present value and rate are at most what is shown.",
    "better": "The payback is at most, present value and rate are at least what is shown.",
    "either": "Payback, present value and rate may move either way.",
}


# -- what a payback rests on ------------------------------------------------------------------


def rests_parts(money: MoneyFigures) -> tuple[str, ...]:
    """What a payback rests on, each for itself."""
    rests = money.rests
    return (
        *_unlike(money),
        _sold(rests),
        *(f"nothing is earned with {part}, which is wanted and not made" for part in rests.unmade),
        *filter(None, (_gap(rests), _stops(rests), _ramp(rests))),
        *_fixtures(rests),
        *([_RUNS_FREE] if rests.runs_free else []),
        _bare(money),
    )


_RUNS_FREE: Final = "no running costs"


def _unlike(money: MoneyFigures) -> list[str]:
    """What it is counted by otherwise than the reference, first of all, and what to do about it."""
    if not money.unlike:
        return []
    said = listed([_one_unlike(each) for each in money.unlike[:_TOLD]])
    more = len(money.unlike) - _TOLD
    said += f" and {more} more" if more > 0 else ""
    return [
        f"other rates than {money.reference} is counted by ({said}: what is to hold for all "
        f"belongs into the scenario that all are based on)"
    ]


def _one_unlike(each: Unlike) -> str:
    name = f"{_COUNTED_BY[each.what]}{f' of {each.of}' if each.of else ''}"
    return f"{name} {_counted(each, each.here)} instead of {_counted(each, each.there)}"


def _counted(each: Unlike, value: Fraction | None) -> str:
    if value is None:
        return "none"
    if each.what is CountedBy.RATE:
        return f"{100 * float(value):g} %"
    return f"{float(value):g}"


_TOLD = 3
"""Rates that differ and are named one by one."""

_COUNTED_BY: Final = {
    CountedBy.RATE: "discount rate",
    CountedBy.YEARS: "years",
    CountedBy.WAGE: "wage",
    CountedBy.CONTRIBUTION: "contribution",
}
"""As the sheet's rows name them."""


def _bare(money: MoneyFigures) -> str:
    """What has no price, contributions among it."""
    bare = [*map(missing_words, money.not_priced)]
    bare += [f"contribution of {part}" for part in money.rests.bare]
    if bare:
        return f"not priced yet: {', '.join(bare)}"
    # What is only taken to cost as today's has no price of its own.
    assumed = money.rests.other_loads or money.rests.as_there or money.rests.runs_free
    return "all else priced" if assumed else "everything priced"


def _fixtures(rests: RestsOn) -> list[str]:
    """Fixtures that are only counted, and those that may be other ones than today's."""
    said = []
    if rests.fixtures:
        # What holds of each alike is said once.
        is_one_each = all(each.numbers > 1 and each.each == 1 for each in rests.fixtures)
        each_one = ", one for each part number" if is_one_each else ""
        more = [
            f"{each.part} {each.count}" if is_one_each else _more(each) for each in rests.fixtures
        ]
        said.append(f"{_HELD} (more of {', '.join(more)}{each_one})")
    if rests.as_there:
        said.append(
            f"more fixtures of {_few(rests.as_there)} in use than today, taken as there: nobody "
            "has entered how many there are"
        )
    if rests.entered_there:
        said.append(
            f"more fixtures of {_few(rests.entered_there)} in use than today, none to buy: as many "
            "are entered as there"
        )
    for is_given, told in (
        (True, ", as their price is today's: where others are needed, enter what those cost"),
        (False, ""),
    ):
        parts = [part for part, given in rests.other_loads if given is is_given]
        if parts:
            said.append(
                f"today's fixtures of {listed(parts)} stay in use, for loads of another size{told}"
            )
    return said


def first_pallets_sentence(firsts: Sequence[FirstPallets]) -> str:
    """That each machine's first pallet costs nothing, with how many are left; "" for none."""
    if not firsts:
        return ""
    bought = [
        f"{each.counted} of {each.counted + each.first} pallets of {each.group}" for each in firsts
    ]
    return f"{listed(bought)} are bought: {FIRST_PALLET}."


def more_fixtures_sentence(rests: RestsOn, currency: str) -> str:
    """Which fixtures are bought, and why more are in use than today; "" where that is not why.

    Demand, too, decides how many of one number are held at once: it may fall, and they be more.
    """
    more = [each for each in rests.fixtures if each.held > each.held_today]
    if not more:
        return ""
    bought = listed([f"{each.part} {each.count}" for each in more])
    cost = sum(each.count * (each.price or 0) for each in more)
    for_ = f" for {priced(float(cost), currency)}" if cost else ""
    pairs = {(each.held, each.held_today) for each in more}
    if len(pairs) == 1:
        ((held, there),) = pairs
        in_use = f"up to {held} of one part number are in use at once"
        why = f"{in_use}, in {rests.today} {there or 'none'}"
    else:
        each_of = listed([f"{each.part} {each.held} ({each.held_today})" for each in more])
        why = (
            "up to so many of one part number are in use at once, in brackets in "
            f"{rests.today}: {each_of}"
        )
    return f"More fixtures are bought, {bought}{for_}: {why}. {_FEWER_FIXTURES}"


_FEWER_FIXTURES: Final = "Enter the fixtures that there are, and no more are used."


FIRST_PALLET: Final = "a machine's first pallet counts as part of it"
"""Why fewer pallets are bought than stand there (rule `money.capital`)."""


def _few(parts: Sequence[str]) -> str:
    """Grouped part numbers make long lists; which those are is seen at their rows."""
    if len(parts) > _TOLD:
        parts = [*parts[:_TOLD], f"{len(parts) - _TOLD} more parts"]
    return listed(parts)


def _more(fixtures: MoreFixtures) -> str:
    """How many, by number where there are several: "body 60: 60 part numbers, 1 each"."""
    numbers = (
        f": {fixtures.numbers} part numbers, {fixtures.each} each" if fixtures.numbers > 1 else ""
    )
    return f"{fixtures.part} {fixtures.count}{numbers}"


def fixtures_words(fixtures: MoreFixtures) -> str:
    """What they cost as a product: "60 part numbers x 1 more fixture of body x 900 = 54 000"."""
    count = fixtures.each if fixtures.numbers > 1 else fixtures.count
    numbers = f"{fixtures.numbers} part numbers x " if fixtures.numbers > 1 else ""
    text = f"{numbers}{count} more {'fixture' if count == 1 else 'fixtures'} of {fixtures.part}"
    if fixtures.price is None:
        return text
    cost = float(fixtures.count * fixtures.price)
    return f"{text} x {grouped(float(fixtures.price))} = {grouped(cost)}"


def rests_sentence(money: MoneyFigures) -> str:
    """The same in one sentence."""
    return f"It rests on {'; '.join(rests_parts(money))}."


def _sold(rests: RestsOn) -> str:
    text = f"{_pieces(rests.pieces)} pieces a week sold, {_pieces(rests.wanted)} wanted in "
    text += rests.today
    if _pieces(rests.ordered) not in ("0", "0.0"):
        text += f" and {_pieces(rests.ordered)} a week for real orders there"
    more = [part for part in rests.sold if _is_more(part)]
    if not more or len(rests.sold) == 1:
        return text
    return f"{text} (more of {listed([_part(part) for part in more])})"


def _is_more(part: PartSold) -> bool:
    """Whether more is sold than is wanted and ordered, by what shows of it."""
    known = part.wanted + part.ordered
    return part.sold > known + _ALIKE and _pieces(part.sold) != _pieces(known)


_ALIKE = 0.05
"""Pieces a week that would be shown as none."""


def _part(part: PartSold) -> str:
    return f"{part.part}: {_pieces(part.sold)} for {_pieces(part.wanted + part.ordered)}"


def _pieces(count: float) -> str:
    return grouped(count) if count >= 10 or count == round(count) else rounded(count)


def _gap(rests: RestsOn) -> str:
    if rests.gap == "none":
        return ""
    if rests.gap == "show":
        return "the gap to the hour meters left open"
    if not rests.gap_seconds:
        return "no gap to the hour meters"
    each = "visit" if rests.gap == "people" else "load"
    to = "people" if rests.gap == "people" else "machines"
    return f"the gap to the hour meters laid to {to}, {duration_text(rests.gap_seconds)} a {each}"


def _stops(rests: RestsOn) -> str:
    if not rests.runs:
        return "no stops"
    runs = "in one run" if rests.runs == 1 else f"the mean of {rests.runs} runs"
    return f"stops as entered, {runs}"


def _ramp(rests: RestsOn) -> str:
    if not rests.ramp:
        return "no running-in"
    return f"the full gain after {rests.ramp * _WEEKS_A_YEAR:.3g} weeks"
