"""What hour meters say against the model: their gap, and where a gain lies while it is open."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from whatif.answers.compare import Answer
from whatif.answers.gains import is_difference
from whatif.answers.meters.metered import Metered
from whatif.telling.amounts import SAME, rounded
from whatif.telling.table import Said, SaidRow, gain_said

NO_METERS = (
    "No scenario has hour-meter readings yet. Read switched-on hours and hours in cut at every "
    "machine, at the begin and at the end of a period of some weeks; add up the differences of all "
    "machines; b and g enter them here."
)
"""What the view of the meters says where there are none."""

_ASSUMED = {
    "people": "{} s a visit that nobody entered are now assumed to be the people's",
    "machine": "{} s a load that nobody entered are now assumed to be the machine's",
}
_MAY_BE = {
    "people": "people are away: every visit takes {} s longer",
    "machine": "the machine is tied up: every load holds its spindle {} s longer",
}
_LAYS = {
    "show": "shows it and lays it to neither",
    "people": "lays it to people",
    "machine": "lays it to machines",
}
_READ = {"people": "people away", "machine": "machines tied up"}


def gain_by_meters(answer: Answer, what: str, told: Callable[[float], str]) -> str:
    """A sentence on ``what``, the lower end first; "" where the meters leave nothing open.

    ``told`` writes a gain that is a difference.
    """
    readings = sorted(answer.gap_read, key=lambda reading: reading.gain)
    if answer.gain_range is None or not any(reading.seconds for reading in readings):
        return ""
    # With the gap laid somewhere it is another gain, of which no range is known.
    texts = [
        told(reading.gain) if is_difference(reading.gain, None) else SAME for reading in readings
    ]
    if texts[0] == texts[-1]:
        either = f"{texts[0]}, however their gap is read"
        return f"By the hour meters {what} is {either}."
    low, high = (
        f"{text} ({_READ[reading.kind]})"
        for text, reading in zip((texts[0], texts[-1]), (readings[0], readings[-1]), strict=True)
    )
    return f"By the hour meters {what} is between {low} and {high}."


def gain_rows(
    metered: Metered, scenarios: Sequence[str], answers: Mapping[str, Answer], reference: str | None
) -> list[SaidRow]:
    """The gains of some scenarios with the gap left open, and read either way."""

    def row(label: str, gains: Mapping[str, float | None]) -> SaidRow:
        return SaidRow(label, tuple(said(id_, gains.get(id_)) for id_ in scenarios))

    def said(id_: str, gain: float | None) -> Said:
        return Said("reference") if id_ == reference else gain_said(gain, None)

    reads = (row(f"read as {read.kind}", read.gains) for read in metered.reads)
    return [row("the gap left open", metered.left_open), *reads]


def shares_line(metered: Metered) -> str:
    """The share of the hours switched on that is in cut, as measured and as the model has it."""
    modelled = "-" if metered.modelled is None else f"{rounded(metered.modelled)} %"
    measured = f"measured {rounded(metered.measured)} %, the model finds {modelled}"
    return f"in cut, of the hours switched on:  {measured}"


def gap_in_words(metered: Metered) -> str:
    """How much more the model finds than the meters, what that may be, and what to do about it."""
    if metered.gap is None:
        return "There is nothing to hold them against: the scenario has no parts."
    if metered.gap <= 0:
        return (
            "The model finds no more than the meters: there is no gap to explain. If it finds "
            "much less, a time that was entered is too long, or hours are missing."
        )
    begins = f"The gap of {rounded(metered.gap)} points is explained by nothing entered."
    if metered.assumed:
        assumed = _ASSUMED[metered.laid_to].format(metered.assumed)
        return f"{begins} {assumed}: they are what to go and measure, with a stop-watch."
    ways = "; or ".join(
        _MAY_BE[read.kind].format(read.seconds)
        for read in metered.reads
        if read.seconds is not None
    )
    may_be = f" It may be that {ways}." if ways else ""
    return (
        f"{begins}{may_be} The study {_LAYS[metered.laid_to]}. Watch a shift with a stop-watch to "
        "find out which."
    )
