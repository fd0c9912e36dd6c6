"""Nights in plain sentences, in one sentence, and side by side, a row a figure.

What they tell is how long the spindles go on, what ends it, what waits and how many pallets last.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from whatif.answers.night.night import GroupNight, Morning, Nights, NightsAfter, Spread
from whatif.answers.night.pallets import MOST, Fewest
from whatif.cell.look import Why
from whatif.cell.model import HOUR
from whatif.telling.amounts import listed
from whatif.telling.clock import WEEKDAYS, clock_text, day_name, hour_text

ENDS = {
    Why.RUNS: "runs till the next shift",
    Why.STOP: "a stop",
    Why.LIMIT: "pieces may not be begun any longer",
    Why.TOOLS: "the tools are worn",
    Why.PROVE_OUT: "a load waits for its prove-out",
    Why.FIRST_PIECE: "a first piece may be begun only with somebody there",
    Why.ATTENDED_PART: "the part may not run unattended",
    Why.CUT: "all that is loaded is cut",
    Why.RELEASE: "a first piece waits for its release",
    Why.NO_FIXTURE: "no fixture is free",
    Why.NOTHING_DUE: "nothing to cut is due",
}
"""What ends a machine's night, each as a clause of its own."""

_TRIFLE = 0.5
"""Percent of nights below which what ends them is not worth a word."""


def duration(hours: float) -> str:
    """Hours with a decimal, or whole minutes below one hour."""
    minutes = round(hours * 60)
    return f"{minutes} min" if minutes < 60 else f"{hours:.1f} h"


def night_label(one: NightsAfter | Fewest) -> str:
    """What nights follow: "Monday's late shift", "Monday's to Thursday's late shift"."""
    names = [f"{WEEKDAYS[day]}'s" for day in one.days]
    in_a_row = all(b == a + 1 for a, b in pairwise(one.days))
    of = f"{names[0]} to {names[-1]}" if in_a_row and len(names) > 2 else listed(names)
    word = "shift" if len(one.shifts) == 1 else "shifts"
    return f"{of} {listed(one.shifts)} {word}"


def begins(one: NightsAfter) -> str:
    """The shift's end by the clock, with its day where the nights follow one weekday alone."""
    return _clock(one, 0)


def next_shift(one: NightsAfter) -> str:
    """The next shift's start by the clock."""
    return _clock(one, one.length)


def stops_at(one: NightsAfter) -> str:
    """When the last spindle stops on average."""
    return _clock(one, one.turning.mean)


def stops_earliest(one: NightsAfter) -> str:
    """When the last spindle stops at worst."""
    return _clock(one, one.turning.least)


def _clock(one: NightsAfter, hours: float) -> str:
    second = one.start + round(hours * HOUR)
    return clock_text(second) if len(one.days) == 1 else hour_text(second)


def opening(nights: Nights) -> str:
    """When pieces are begun after hours, ahead of all sentences."""
    if not nights.after:
        return "There is no night: no shift ends after which nobody is on duty until the next."
    if nights.after_shift is None:
        return "Pieces are begun until the next shift starts."
    if not nights.after_shift:
        return "No piece is begun after the shift; those begun are finished, or held."
    return f"Pieces are begun for {duration(nights.after_shift)} after the shift."


def night_in_words(one: NightsAfter, nights: Nights) -> str:
    """Like nights in a few sentences."""
    machines = sum(group.count for group in one.groups)
    said = [_going_on(one, machines), _lasting(one, nights, machines)]
    if one.all_last < 100 and machines:
        said.append(_ending(one))
    said += [_loaded(group) for group in one.groups if group.pallets > 1 and group.lasting < 100]
    return " ".join([*(text for text in said if text), _morning(one.morning)])


def _going_on(one: NightsAfter, machines: int) -> str:
    start = f"After {night_label(one)} ({begins(one)}, {duration(one.length)} until the next) "
    if not one.hours.most:
        return start + "no spindle goes on."
    goes = "the spindle goes on for" if machines == 1 else "the spindles go on, all together, for"
    text = start + f"{goes} {_of(one.hours)}"
    if machines == 1:
        if one.all_last == 100:
            return text + "."
        return text + f"; it stops at {stops_at(one)} on average{_earliest(one)}."
    return text + f"; the last one stops at {stops_at(one)} on average{_earliest(one)}."


def _earliest(one: NightsAfter) -> str:
    return "" if stops_earliest(one) == stops_at(one) else f", at {stops_earliest(one)} at worst"


def _of(spread: Spread) -> str:
    """Mean hours, with the worst and best where they differ from it."""
    mean, least, most = (duration(hours) for hours in (spread.mean, spread.least, spread.most))
    return mean if least == most else f"{mean} on average, {least} at worst, {most} at best"


def _lasting(one: NightsAfter, nights: Nights, machines: int) -> str:
    every = "The machine runs" if machines == 1 else "All machines run"
    if one.all_last == 100:
        return f"{every} till the next shift every time."
    if not one.some_last:
        none = "It never runs" if machines == 1 else "None ever runs"
        return f"{none} till the next shift." if one.hours.most else ""
    of = f" ({one.seen} in {nights.runs} seeded runs)" if nights.stops else ""
    text = f"{every} till the next shift in {one.all_last:.0f} % of these nights{of}"
    if machines > 1:
        text += f", at least one does in {one.some_last:.0f} %"
    return text + "."


def _ending(one: NightsAfter) -> str:
    """What ends it, machine group by machine group where there are several."""
    ends = {group.group: _shares(group) for group in one.groups if group.lasting < 100}
    if len(set(ends.values())) == 1:
        return f"What ends it: {next(iter(ends.values()))}."
    return f"What ends it: {'; '.join(f'on {group}, {words}' for group, words in ends.items())}."


def _shares(group: GroupNight) -> str:
    ends = [
        (ENDS[Why(end)], share)
        for end, share in group.ends.items()
        if end != Why.RUNS and share >= _TRIFLE
    ]
    if len(ends) == 1 and not group.lasting:
        return ends[0][0]
    return ", ".join(f"{words} ({share:.0f} %)" for words, share in ends)


def _loaded(group: GroupNight) -> str:
    each = f"each {group.group}" if group.count > 1 else group.group
    return (
        f"When the people go, {group.loaded:.1f} of the {group.pallets} pallets of {each} are "
        "loaded."
    )


def _morning(morning: Morning) -> str:
    if not morning.visits.most and not morning.pieces.most:
        return "Nothing waits when the next shift starts."
    minutes, pieces = morning.minutes, morning.pieces
    text = (
        f"When the next shift starts {pieces.mean:.0f} cut pieces (at most {pieces.most:.0f}) "
        f"wait, and {minutes.mean:.0f} min of visits (at most {minutes.most:.0f}) are asked for"
    )
    if morning.clearing is None:
        return text + ", which are not done before the people go again."
    text += f", done after {duration(morning.clearing.mean)}"
    text += f" (at most {duration(morning.clearing.most)})."
    if morning.not_cleared:
        text += (
            f" On {morning.not_cleared:.0f} % of the mornings they are not done before the people "
            "go again."
        )
    return text


HOW_PALLETS_ARE_TRIED = (
    "Looked for machine by machine, the others left as they are: with one number of pallets after "
    "another every night of the weeks measured is followed. Stops are left aside, since no number "
    "of pallets helps against them."
)
NO_NIGHT_TO_LAST = "There is no night to last: no parts, nobody ever there, or a shift always."


def pallets_in_words(found: Sequence[Fewest]) -> list[str]:
    """How many pallets last, or why no number does; like answers are told together."""
    said = []
    none: dict[tuple[str, str], list[Fewest]] = {}
    for one in found:
        if one.fewest is not None:
            said.append(_enough(one, _each(one)))
        else:
            none.setdefault((one.group, _why_not(one, _each(one))), []).append(one)
    for (_, why), like in none.items():
        tried = f" up to {MOST}" if like[0].why_not in ("many", "ends") else ""
        after = " or ".join(f"after {night_label(one)}" for one in like)
        said.append(f"No number of pallets{tried} on {_each(like[0])} lasts {after}: {why}.")
    return said


def _each(one: Fewest) -> str:
    return f"each {one.group}" if one.count > 1 else one.group


def _why_not(one: Fewest, each: str) -> str:
    match one.why_not:
        case "not_made":
            return f"no part is made on {one.group}"
        case "hours":
            return _hours(one)
        case "fixtures":
            return _fixtures(one, each)
        case "people":
            return f"of {_tried(one, each)}; the people have no time to load more"
        case "many":
            return f"even the longest loads would take {one.at_least}"
        case _:
            return f"with {one.tried} this ends it: {ENDS[Why(one.ends)]}"


def _enough(one: Fewest, each: str) -> str:
    if one.fewest == 1:
        return f"The table of {each} alone lasts after {night_label(one)}."
    text = (
        f"{one.fewest} pallets on {each} are the fewest that last after {night_label(one)}; now "
        f"{'there is its table alone' if one.now == 1 else f'there are {one.now}'}."
    )
    if one.now == 1:
        text += " This takes them to be as large as the table, which pallets seldom are."
    return text


def _hours(one: Fewest) -> str:
    if not one.begun_for:
        return "no piece is begun after the shift (unattended.after_shift)"
    return (
        f"pieces are begun for {duration(one.begun_for)} after the shift "
        f"(unattended.after_shift), and the next starts {duration(one.length)} after it"
    )


def _fixtures(one: Fewest, each: str) -> str:
    if one.tried is None:
        needed = one.at_least * one.count
        return f"even the longest loads would take {needed}, and there are {one.fixtures} fixtures"
    return f"of {_tried(one, each)}; more lack a fixture or an order"


def _tried(one: Fewest, each: str) -> str:
    return f"{one.tried} on {each} {one.loaded:.1f} are loaded when the people go"


# -- in one sentence, and side by side -------------------------------------------------------

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
    people = f"The people leave {_at(one, 0)}"
    if one.all_last == 100:
        every = "the spindle goes" if machines == 1 else "all spindles go"
        return (
            f"{people} and {every} on till the next shift, {_in_h(one.length)} later, every time."
        )
    ends = _ending_of_all(one)
    if not one.turning.most:
        return f"{people}, no spindle goes on, and the next shift is {_in_h(one.length)} away" + (
            f": {ends}." if ends else "."
        )
    return (
        f"{people}; {last} stops {_at(one, one.turning.mean)} on average, after "
        f"{duration(one.turning.mean)} of {_in_h(one.length)} till the next shift. "
        f"What ends it: {ends}. {_odds(one, nights, machines)}"
    )


def _at(one: NightsAfter, hours: float) -> str:
    """ "at 15:00", or "on Fri at 15:00" where the nights follow one weekday alone."""
    second = one.start + round(hours * HOUR)
    at = f"at {hour_text(second)}"
    return f"on {day_name(second)} {at}" if len(one.days) == 1 else at


def _in_h(hours: float) -> str:
    return f"{hours:.1f} h"


def _ending_of_all(one: NightsAfter) -> str:
    shares = _shares_of_all(one.groups)
    worth = [(why, share) for why, share in shares if round(share)]
    if len(shares) == 1 and round(shares[0][1]) == 100:
        return ENDS[shares[0][0]]
    return ", ".join(f"{ENDS[why]} ({share:.0f} %)" for why, share in worth)


def _shares_of_all(groups: Sequence[GroupNight]) -> list[tuple[Why, float]]:
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
    shares = _shares_of_all([group])
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
    clocks = [None if one is None else f"{begins(one)} to {next_shift(one)}" for one in nights]
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
    return f"{hour_text(one.start)} to {hour_text(one.start + round(one.length * HOUR))}"


def _mostly(one: NightsAfter) -> str:
    shares = _shares_of_all(one.groups)
    if not shares:
        return NOTHING
    why, share = shares[0]
    return _SHORT[why] if round(share) == 100 else f"{_SHORT[why]} {share:.0f} %"


def _cleared(one: NightsAfter) -> str:
    clearing = one.morning.clearing
    return NOTHING if clearing is None else duration(clearing.mean)
