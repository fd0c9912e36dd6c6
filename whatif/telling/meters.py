"""What hour meters say against the model: their gap, and where a gain lies while it is open."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from whatif.answers.caveats import Caveat
from whatif.answers.gains import is_difference
from whatif.records import dataclass
from whatif.telling.amounts import NOTHING, number, rounded, shown_difference, signed
from whatif.telling.clock import duration_text
from whatif.telling.gain_texts import SAME, between_text, percent_text
from whatif.telling.said import MARK, Said, SaidRow, gain_said

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.answers.meters.held import HeldAgainst, LaidGap
    from whatif.answers.meters.metered import Metered

NO_METERS = (
    "No scenario has all readings of the hour meters yet. With them the model is held against the "
    "machines' own meters, and the gap between them is read as people or as machines. Read both "
    "meters at every machine at the begin and at the end of some weeks, and add up the differences "
    "of all machines."
)
"""What the view of the meters says where there are none."""

METERS_STEPS = (
    ("o", "hours switched on, all machines together"),
    ("c", "hours in cut, in the same weeks"),
    ("w", "the weeks between the two readings"),
)
"""What to enter for it, each by its key."""

_ASSUMED = {
    "people": "{} a visit that nobody entered are now assumed to be the people's",
    "machine": "{} a load that nobody entered are now assumed to be the machine's",
}
_LAID = {
    "people": "is laid to people, {} a visit",
    "machine": "is laid to machines, {} a load",
}
_MAY_BE = {
    "people": "people away: every visit longer by",
    "machine": "machines tied up: every load longer by",
}
_LAYS = {
    "show": "shows it and lays it to neither",
    "people": "lays it to people",
    "machine": "lays it to machines",
}
_READ = {"people": "people away", "machine": "machines tied up"}


def meters_said(held: HeldAgainst) -> str:
    """What the meters say against the hours simulated, in one sentence; "" with nothing run."""
    if held.modelled is None or held.gap is None:
        return ""
    measured, found = rounded(held.measured), rounded(held.modelled)
    said = f"Of the hours switched on the meters have {measured} % in cut, the simulation {found} %"
    if measured == found:
        return f"{said}: they agree."
    apart = f"{rounded(abs(_gap(held) or 0.0))} points"
    if held.gap > 0:
        return f"{said}: no answer explains the {apart} between (F6, hour meters)."
    return f"{said}: the machines cut {apart} more than by the answers; one of these is wrong."


def _gap(held: HeldAgainst) -> float | None:
    """What the model finds more than the meters, by the figures of both as they stand there."""
    return _more(held.modelled, held.measured)


def _more(modelled: float | None, measured: float | None) -> float | None:
    return None if modelled is None or measured is None else shown_difference(modelled, measured)


DECIDES = (
    "What decides is a gain's likely range, not the gain as typed nor one reading of the meters: "
    "it is made wide enough for both readings, since nobody knows yet which is so."
)
"""Which of all these figures a gain is judged by (rule `likely.told`)."""

DECIDES_HERE = "Which of them is so is open: a gain's likely range covers both."
"""The same in one line, below both readings."""


def gain_by_meters(answer: Answer, what: str) -> str:
    """A sentence on ``what``, the lower end first; "" where the meters leave nothing open."""
    readings = sorted(answer.gap_read, key=lambda reading: reading.gain)
    if answer.gain_range is None or not answer.is_gap_open:
        return ""
    low_end, high_end = answer.gain_range

    def told(gain: float) -> str:
        return percent_text(gain, (low_end, low_end, high_end))

    # With the gap laid somewhere it is another gain, of which no range is known.
    texts = [
        told(reading.gain) if is_difference(reading.gain, None) else SAME for reading in readings
    ]
    if texts[0] == texts[-1]:
        either = f"{texts[0]}, however their gap is read"
        return f"By the hour meters {what} is {either}{_from_typed(answer, told)}."
    low, high = (
        f"{text} ({_READ[reading.kind]})"
        for text, reading in zip((texts[0], texts[-1]), (readings[0], readings[-1]), strict=True)
    )
    return f"By the hour meters {what} is between {low} and {high}{_from_typed(answer, told)}."


def _from_typed(answer: Answer, told: Callable[[float], str]) -> str:
    """The gain that the readings start from: they have no likely range, and it may lie outside."""
    gain = answer.gains.saleable
    if gain is None:
        return ""
    return f" (from the gain as typed: {told(gain) if is_difference(gain, None) else SAME})"


def gain_rows(
    metered: Metered, scenarios: Sequence[str], answers: Mapping[str, Answer], reference: str | None
) -> list[SaidRow]:
    """The gains of some scenarios with the gap left open, and read either way."""

    def row(label: str, gains: Mapping[str, float | None]) -> SaidRow:
        return SaidRow(label, tuple(said(id_, gains.get(id_)) for id_ in scenarios))

    def said(id_: str, gain: float | None) -> Said:
        if id_ == reference:
            return Said("reference")
        answer = answers.get(id_)
        # What it rests on that is not so yet it rests on however the difference is read.
        is_open = answer is not None and any(each is not Caveat.GAP_LAID for each in answer.caveats)
        said = gain_said(gain, None, MARK if is_open else "")
        if not is_clearly(answer, gain):
            return replace(said, sense="unsure")
        return replace(said, sense="beware") if is_open else said

    reads = (row(f"  {_READ[read.kind]}", read.gains) for read in metered.reads)
    return [row("  neither: left open", metered.left_open), *reads]


def is_clearly(answer: Answer | None, gain: float | None) -> bool:
    """Whether a gain with the gap read one way is better or worse for sure.

    It has no likely range of its own, and is given one as wide as that of the gain as typed.
    """
    likely = None if answer is None or answer.likely is None else answer.likely.saleable
    if answer is None or likely is None or gain is None or answer.gains.saleable is None:
        return is_difference(gain, None)
    low, middle, high = (end - answer.gains.saleable + gain for end in likely)
    return is_difference(gain, (low, middle, high))


@dataclass(frozen=True, slots=True)
class HeldRow:
    """One thing by the meters and by the model, and what the model finds more."""

    label: str
    measured: str
    modelled: str
    more: str


def held_rows(metered: Metered) -> list[HeldRow]:
    """Hours in cut and switched on a week, where weeks are entered; then the one of the other.

    The last row is the first one again, told as a share.
    """
    held = metered.held
    rows = []
    if held.in_cut is not None:
        pairs = (
            ("in cut, a week", held.in_cut, held.modelled_in_cut),
            ("switched on, a week", held.on, held.modelled_on),
        )
        rows = [_hours_row(*pair) for pair in pairs]
    share = HeldRow(
        "so in cut, of the hours switched on" if rows else "in cut, of the hours switched on",
        f"{rounded(held.measured)} %",
        NOTHING if held.modelled is None else f"{rounded(held.modelled)} %",
        NOTHING if (gap := _gap(held)) is None else f"{signed(gap)} points",
    )
    return [*rows, share]


def _hours_row(label: str, measured: float | None, modelled: float | None) -> HeldRow:
    more = None if measured is None else _more(modelled, measured)
    hours, found = (NOTHING if each is None else f"{rounded(each)} h"
                    for each in (measured, modelled))  # fmt: skip
    return HeldRow(label, hours, found, NOTHING if more is None else f"{signed(more)} h")


def gap_size(held: HeldAgainst) -> str:
    """How large the gap is, so that hours and points are known to be the same difference.

    In hours a week first and then in points; where the model's machines are switched on for longer
    or shorter than the meters', the points with the hours that each share is of.
    """
    gap, on = _gap(held) or 0.0, held.on
    points = f"{rounded(gap)} points"
    if held.in_cut is None or held.modelled_in_cut is None or on is None or not held.modelled_on:
        return points
    if _is_alike_on(held):
        hours = rounded(_more(held.modelled_in_cut, held.in_cut) or 0.0)
        return f"{hours} h a week, of {rounded(on)} h switched on = {points},"
    return (
        f"{points} (in cut a week: {rounded(held.in_cut)} of {rounded(on)} h switched on by the "
        f"meters, {rounded(held.modelled_in_cut)} of {rounded(held.modelled_on)} h by the model)"
    )


def _is_alike_on(held: HeldAgainst) -> bool:
    """Whether meters and model have as many hours switched on, so that hours tell the share."""
    on, gap, more = held.on, held.gap, held.more_in_cut
    if not on or gap is None or more is None:
        return False
    return abs(100 * more / on - gap) < _TENTH


_TENTH = 0.1
"""Points by which the two forms of a gap may differ where both are told with a tenth."""


def may_be_rows(metered: Metered) -> list[tuple[str, str]]:
    """What the gap may be, and by how much."""
    if metered.gap is None or metered.gap <= 0:
        return []
    return [
        (_MAY_BE[read.kind], duration_text(read.seconds))
        for read in metered.reads
        if read.seconds is not None
    ]


def meter_warnings(held: HeldAgainst) -> list[str]:
    """What is odd about hour meters beside the model, in sentences."""
    said = []
    if held.finds_less:
        said.append(
            f"The model finds less than the hour meters ({number(held.modelled)} % in cut against "
            f"{rounded(held.measured)} %): a time that was entered is wrong, hours are "
            "missing, or more is made than was entered as wanted."
        )
    if held.is_far_apart and held.in_cut is not None:
        said.append(
            f"By the hour meters {rounded(held.in_cut)} h a week are in cut, and the model finds "
            f"{number(held.modelled_in_cut)}: machines or weeks may have been left out."
        )
    if held.is_more_than_there_is and held.most is not None:
        said.append(
            f"The hour meters have {rounded(held.switched_on)} h switched on, and the machines of "
            f"this scenario no more than {rounded(held.most)} in those weeks: machines or weeks "
            "may have been left out."
        )
    return said


def laid_words(laid: LaidGap, held: HeldAgainst | None) -> str:
    """A gap that is laid to something: its size, and the range of the gain, in a sentence."""
    gap = laid.points if held is None else _gap(held)
    size = "" if gap is None else f"of {rounded(gap)} points "
    is_laid = _LAID[laid.kind].format(duration_text(laid.seconds))
    text = f"The gap {size}between the model and the hour meters {is_laid}, which nobody entered"
    if laid.gain_range is None:
        return f"{text}."
    either = between_text(*laid.gain_range)
    return f"{text}; read as people's or as machines' it makes the gain {either}."


def no_gap_words(laid_to: str) -> str:
    """That nothing is laid though the study lays the gap, since there is none."""
    return (
        "The model finds no more than the hour meters: there is no gap to lay to "
        f"{'people' if laid_to == 'people' else 'machines'}."
    )


def gap_in_words(metered: Metered) -> str:
    """How much more the model finds than the meters, what that may be, and what to do about it."""
    if metered.gap is None:
        return "There is nothing to hold them against: the scenario has no parts."
    if metered.gap <= 0:
        return (
            "The model finds no more than the meters: there is no gap to explain. If it finds "
            "much less, a time that was entered is wrong, hours are missing, or more is made than "
            "was entered as wanted."
        )
    begins = f"The gap of {gap_size(metered.held)} is explained by nothing entered."
    if metered.assumed:
        assumed = _ASSUMED[metered.laid_to].format(duration_text(metered.assumed))
        return f"{begins} {assumed}: they are what to go and measure, with a stop-watch."
    idle = f" {_IDLE}" if metered.gap > _LARGE else ""
    return (
        f"{begins} The study {_LAYS[metered.laid_to]}. Watch a shift with a stop-watch to find out "
        f"which it is.{idle}"
    )


_LARGE = 20.0
"""Points of a gap from which on a shop should first ask whether its machines just stood there."""

_IDLE = (
    "A gap as large as that may be neither: a machine that is switched on with no work for it, or "
    "nobody meant to run it, counts as switched on. Such hours are no loss that more people would "
    "win back; take them off the hours switched on before you lay the gap to anybody."
)
