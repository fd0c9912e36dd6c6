"""Nights in short: one answer in a sentence, and scenarios side by side, a row a figure."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from whatif.answers.night.night import GroupNight, Nights, NightsAfter
from whatif.cell.look import Why
from whatif.telling.night_words import ENDS, duration

NOTHING = "-"
"""In place of a figure that a scenario does not have."""

_SHORT = {
    Why.STOP: "a stop",
    Why.LIMIT: "hours over",
    Why.TOOLS: "worn tools",
    Why.PROVE_OUT: "prove-out",
    Why.FIRST_PIECE: "first piece",
    Why.ATTENDED_PART: "by day only",
    Why.CUT: "all is cut",
    Why.RELEASE: "no release",
    Why.NO_FIXTURE: "no fixture",
    Why.NOTHING_DUE: "nothing due",
}
"""What ends a night, short enough for a column."""


@dataclass(frozen=True, slots=True)
class NightRow:
    """A row over scenarios: what it is, and a text for each."""

    label: str
    cells: tuple[str, ...]


def like_it(nights: Nights | None, one: NightsAfter) -> NightsAfter | None:
    """The nights of another scenario that a night is to be held against.

    Those after the same shifts on the same weekday; or else the longest after that weekday, since
    shifts have other names elsewhere.
    """
    if nights is None:
        return None
    same_day = [other for other in nights.alike if one.days[0] in other.days]
    same = [other for other in same_day if other.shifts == one.shifts]
    return max(same or same_day, key=lambda other: other.length, default=None)


def no_night(nights: Nights | None) -> str:
    """Why a scenario has no night, and what to do; "" where it has some."""
    if nights is None:
        return "There are no parts, so nothing runs: n adds one."
    if nights.after:
        return ""
    if not nights.staffed:
        return "No shift has people, so nobody ever loads anything: n adds a shift."
    return (
        "There is no night: some shift always runs. To see one, let a shift end earlier or give it "
        "0 people, in this scenario or in a new one."
    )


def begun_words(nights: Nights) -> str:
    """How long pieces are begun after hours, in a few words."""
    if nights.after_shift is None:
        return "pieces begun all night"
    if not nights.after_shift:
        return "none begun after the shift"
    return f"pieces begun for {duration(nights.after_shift)}"


def in_a_sentence(one: NightsAfter, nights: Nights) -> str:
    """How long the spindles go on, what ends it, and the odds of reaching the next shift."""
    machines = sum(group.count for group in one.groups)
    last = "the spindle" if machines == 1 else "the last spindle"
    people = f"The people leave {_at(one.begins)}"
    if one.all_last == 100:
        every = "the spindle goes" if machines == 1 else "all spindles go"
        return (
            f"{people} and {every} on till the next shift, {_hours(one.length)} later, every time."
        )
    ends = _ending(one)
    if not one.turning.most:
        return f"{people}, no spindle goes on, and the next shift is {_hours(one.length)} away" + (
            f": {ends}." if ends else "."
        )
    return (
        f"{people}; {last} stops {_at(one.stops_at)} on average, after "
        f"{duration(one.turning.mean)} of {_hours(one.length)} till the next shift. "
        f"What ends it: {ends}. {_odds(one, nights, machines)}"
    )


def _at(clock: str) -> str:
    """ "at 15:00", or "on Fri at 15:00" where the clock text names the day."""
    *day, hour = clock.split(" ")
    return f"on {day[0]} at {hour}" if day else f"at {hour}"


def _hours(hours: float) -> str:
    return f"{hours:.1f} h"


def _ending(one: NightsAfter) -> str:
    shares = _shares(one.groups)
    worth = [(why, share) for why, share in shares if round(share)]
    if len(shares) == 1 and round(shares[0][1]) == 100:
        return ENDS[shares[0][0]]
    return ", ".join(f"{ENDS[why]} ({share:.0f} %)" for why, share in worth)


def _shares(groups: Sequence[GroupNight]) -> list[tuple[Why, float]]:
    """Percent of all machines' nights by what ends them, the most frequent first."""
    machines = sum(group.count for group in groups)
    shares: dict[Why, float] = {}
    for group in groups:
        for end, share in group.ends.items():
            if end != Why.RUNS:
                shares[Why(end)] = shares.get(Why(end), 0.0) + share * group.count / machines
    return sorted(shares.items(), key=lambda pair: -pair[1])


def _odds(one: NightsAfter, nights: Nights, machines: int) -> str:
    of = f" ({one.seen} nights in {nights.runs} runs with stops)" if nights.stops else ""
    if not one.some_last:
        return f"It never lasts till the next shift{of}."
    every = "The machine lasts" if machines == 1 else "All machines last"
    text = f"{every} till the next shift in {one.all_last:.0f} % of the nights{of}"
    return text + (f", at least one in {one.some_last:.0f} %." if machines > 1 else ".")


def then_words(group: GroupNight) -> str:
    """Why the machines of a group stand when the night is over, the most frequent reason alone."""
    shares = _shares([group])
    return ENDS[shares[0][0]] if shares else ""


_Tell = Callable[[NightsAfter], str]

_ROWS: tuple[tuple[str, _Tell], ...] = (
    ("last spindle stops after", lambda one: _stops(one, one.turning.mean)),
    ("  at worst", lambda one: _stops(one, one.turning.least)),
    ("mostly ended by", lambda one: _mostly(one)),
    ("all last till next shift", lambda one: f"{one.all_last:.0f} % of nights"),
    (
        "morning: pieces, visits",
        lambda one: f"{one.morning.pieces.mean:.0f} pcs, {one.morning.minutes.mean:.0f} min",
    ),
    ("  visits done after", lambda one: _cleared(one)),
)
"""Means over the nights seen but for the worst, the most pressing first."""


def side_by_side(chosen: NightsAfter, others: Sequence[Nights | None]) -> list[NightRow]:
    """A night of the chosen scenario and those like it of others, a row a figure.

    From when to when is told only where it differs, and mornings on which the people do not get
    done only where there are any.
    """
    nights = [like_it(one, chosen) for one in others]
    clocks = [None if one is None else f"{one.begins} to {one.ends_at}" for one in nights]
    rows = []
    if len({text for text in clocks if text is not None}) > 1:
        shorter = tuple(NOTHING if one is None else _from_to(one) for one in nights)
        rows.append(NightRow("nobody is there from", shorter))
    rows += [_row(label, tell, nights) for label, tell in _ROWS]
    if any(one is not None and one.morning.not_cleared for one in nights):
        rows.append(
            _row("  not done that day", lambda one: f"{one.morning.not_cleared:.0f} %", nights)
        )
    rows.append(_row("in cycle, all machines", lambda one: duration(one.hours.mean), nights))
    return rows


def _stops(one: NightsAfter, hours: float) -> str:
    return "runs on" if hours == one.length else duration(hours)


def _row(label: str, tell: _Tell, nights: Sequence[NightsAfter | None]) -> NightRow:
    return NightRow(label, tuple(NOTHING if one is None else tell(one) for one in nights))


def _from_to(one: NightsAfter) -> str:
    """Clock texts without the weekday, so that a column holds both."""
    return f"{one.begins[-5:]} to {one.ends_at[-5:]}"


def _mostly(one: NightsAfter) -> str:
    shares = _shares(one.groups)
    if not shares:
        return NOTHING
    why, share = shares[0]
    return _SHORT[why] if round(share) == 100 else f"{_SHORT[why]} {share:.0f} %"


def _cleared(one: NightsAfter) -> str:
    clearing = one.morning.clearing
    return NOTHING if clearing is None else duration(clearing.mean)
