"""Nights in plain sentences, in one sentence, and side by side, a row a figure.

What they tell is how long the spindles go on, what ends it, what waits and how many pallets last.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from whatif.answers.night.night import GroupNight, Morning, Nights, NightsAfter, Spread
from whatif.answers.night.pallets import MOST, Fewest
from whatif.answers.shares import apportioned
from whatif.cell.look import Why
from whatif.cell.model import MINUTE
from whatif.telling.amounts import NOTHING, listed, number, rounded, whole
from whatif.telling.clock import WEEKDAYS, clock_text, day_name, hour_text
from whatif.telling.ends import END_WORDS
from whatif.telling.table import TableRow


def duration(hours: float) -> str:
    """Hours with a decimal, or whole minutes below one hour."""
    minutes = whole(hours * 60)
    return f"{minutes} min" if minutes < 60 else f"{rounded(hours)} h"


def night_label(night: NightsAfter | Fewest) -> str:
    """What nights follow: "Monday's late shift", "Monday's to Thursday's late shift"."""
    names = [f"{WEEKDAYS[day]}'s" for day in night.days]
    in_a_row = all(b == a + 1 for a, b in pairwise(night.days))
    of = f"{names[0]} to {names[-1]}" if in_a_row and len(names) > 2 else listed(names)
    word = "shift" if len(night.shifts) == 1 else "shifts"
    return f"{of} {listed(night.shifts)} {word}"


def _moment(night: NightsAfter, hours: float) -> int:
    """So many hours after the shift's end, to the whole minutes that :func:`duration` tells.

    "At 15:03, after 4 min" of a shift until 15:00 would not add up.
    """
    return night.start + whole(hours * 60) * MINUTE


def by_clock(night: NightsAfter, hours: float) -> str:
    """A moment by the clock, so many hours after the shift's end.

    With its day where the nights follow one weekday alone.
    """
    second = _moment(night, hours)
    return clock_text(second) if len(night.days) == 1 else hour_text(second)


def opening(nights: Nights) -> str:
    """When pieces are begun after hours, ahead of all sentences."""
    if not nights.after:
        return "There is no night: no shift ends after which nobody is on duty until the next."
    if nights.after_shift == 0 or not any(night.begins for night in nights.after):
        return "No piece is begun after the shift; those begun are finished, or held."
    begun = "until the next shift starts"
    if nights.after_shift is not None:
        begun = f"for {duration(nights.after_shift)} after the shift"
    if all(night.begins for night in nights.after):
        return f"Pieces are begun {begun}."
    days = dict.fromkeys(day for night in nights.after if night.begins for day in night.days)
    named = listed([WEEKDAYS[day] for day in sorted(days)])
    return f"Pieces are begun {begun}, of {named}; after other shifts none is begun."


def night_in_words(night: NightsAfter, nights: Nights) -> str:
    """Like nights in a few sentences."""
    said = [_going_on(night), _lasting(night, nights)]
    if night.all_last < 100 and night.machines:
        said.append(_ending(night))
    said += [_loaded(group) for group in night.groups if group.pallets > 1 and group.lasting < 100]
    return " ".join([*(text for text in said if text), _morning(night.morning)])


def _going_on(night: NightsAfter) -> str:
    length = f"{by_clock(night, 0)}, {duration(night.length)} until the next"
    start = f"After {night_label(night)} ({length}) "
    if not night.hours.most:
        return start + "no spindle goes on."
    goes, it = "the spindle goes on for", "it"
    if night.machines > 1:
        goes, it = "the spindles go on, all together, for", "the last one"
    text = start + f"{goes} {_of(night.hours)}"
    if night.machines == 1 and night.all_last == 100:
        return text + "."
    mean, least = (by_clock(night, hours) for hours in (night.turning.mean, night.turning.least))
    worst = "" if least == mean else f", at {least} at worst"
    return text + f"; {it} stops at {mean} on average{worst}."


def _of(spread: Spread) -> str:
    """Mean hours, with the worst and best where they differ from it."""
    mean, least, most = (duration(hours) for hours in (spread.mean, spread.least, spread.most))
    return mean if least == most else f"{mean} on average, {least} at worst, {most} at best"


def _lasting(night: NightsAfter, nights: Nights) -> str:
    every = "The machine runs" if night.machines == 1 else "All machines run"
    if night.all_last == 100:
        return f"{every} till the next shift every time."
    if not night.some_last:
        none = "It never runs" if night.machines == 1 else "None ever runs"
        return f"{none} till the next shift." if night.hours.most else ""
    of = f" ({night.seen} in {nights.runs} seeded runs)" if nights.stops else ""
    text = f"{every} till the next shift in {rounded(night.all_last, 0)} % of these nights{of}"
    if night.machines > 1:
        text += f", at least one does in {rounded(night.some_last, 0)} %"
    return text + "."


def _ending(night: NightsAfter) -> str:
    """What ends it, machine group by machine group where these differ."""
    return f"What ends it: {ending_of_all(night)}."


def _shares(group: GroupNight) -> str:
    """What ends nights, each with its share; with those that last they add up to 100 as told."""
    stands = {Why(end): share for end, share in group.ends.items() if end != Why.RUNS}
    told = apportioned(stands, 100 - whole(group.lasting))
    ends = [(END_WORDS[why].clause, f"{share} %") for why, share in told.items() if share]
    if not ends and stands:
        ends = [(END_WORDS[next(iter(stands))].clause, "<1 %")]
    if len(ends) == 1 and not group.lasting:
        return ends[0][0]
    # Of what the shares are is said once: beside a bar they are no part of its height.
    first, *others = [f"{words} ({share}" for words, share in ends] or [""]
    return ", ".join([f"{first} of nights)", *(f"{each})" for each in others)]) if first else ""


def _loaded(group: GroupNight) -> str:
    of = f"{rounded(group.loaded)} of the {group.pallets} pallets of {_each(group)}"
    return f"When the people go, {of} are loaded."


def _morning(morning: Morning) -> str:
    if not morning.visits.most and not morning.pieces.most:
        return "Nothing waits when the next shift starts."
    minutes, pieces = morning.minutes, morning.pieces
    text = (
        f"When the next shift starts {rounded(pieces.mean, 0)} cut pieces "
        f"(at most {rounded(pieces.most, 0)}) wait, and {rounded(minutes.mean, 0)} min of work "
        f"(at most {rounded(minutes.most, 0)}) are asked for"
    )
    if morning.clearing is None:
        return text + ", which are not done before the people go again."
    text += f", done by the clock after {duration(morning.clearing.mean)}"
    text += f" (at most {duration(morning.clearing.most)})."
    if morning.not_cleared:
        text += (
            f" On {rounded(morning.not_cleared, 0)} % of the mornings they are not done before the "
            "people go again."
        )
    return text


FEWEST_UNKNOWN = "How many pallets fill the hours that are allowed: f works it out."
HOW_PALLETS_ARE_TRIED = (
    "Looked for machine by machine, the others left as they are: with one number of pallets after "
    "another every night of the weeks measured is followed, as if there were always work. Stops "
    "are left aside, since no number of pallets helps against them."
)
NO_NIGHT_TO_LAST = "There is no night to last: no parts, nobody ever there, or a shift always."


def pallets_in_words(found: Sequence[Fewest]) -> list[str]:
    """How many pallets last, or why no number does; like answers are told together."""
    said = []
    none: dict[tuple[str, str, str], list[Fewest]] = {}
    for answer in found:
        if answer.filling is not None:
            said.append(_filling(answer.filling, _each(answer)))
        elif answer.fewest is not None:
            said.append(_enough(answer, _each(answer)))
        else:
            why_not = _why_not(answer, _each(answer))
            none.setdefault((answer.group, why_not, _usually(answer)), []).append(answer)
    for (_, why, usually), like in none.items():
        tried = f" up to {MOST}" if like[0].why_not in ("many", "ends") else ""
        after = " or ".join(f"after {night_label(answer)}" for answer in like)
        none_lasts = f"No number of pallets{tried} on {_each(like[0])} lasts {after}"
        said.append(f"{none_lasts}: {why}.{usually}")
    return said


def pallets_for(found: Sequence[Fewest], night: NightsAfter) -> str:
    """The same of like nights alone, in one text."""
    of = [answer for answer in found if set(answer.days) & set(night.days)]
    same = [answer for answer in of if answer.shifts == night.shifts]
    return " ".join(pallets_in_words(same or of))


def _each(machines: Fewest | GroupNight) -> str:
    return f"each {machines.group}" if machines.count > 1 else machines.group


def _why_not(answer: Fewest, each: str) -> str:
    match answer.why_not:
        case "not_made":
            return f"no part is made on {answer.group}"
        case "hours":
            return _hours(answer)
        case "fixtures":
            return _fixtures(answer, each)
        case "people":
            return f"of {_tried(answer, each)}; the people have no time to load more"
        case "many":
            return f"even the longest loads would take {answer.at_least}"
        case _:
            return f"with {answer.tried} this ends it: {END_WORDS[Why(answer.ends)].clause}"


def _enough(answer: Fewest, each: str) -> str:
    if answer.fewest == 1:
        return f"The table of {each} alone lasts after {night_label(answer)}."
    text = (
        f"{answer.fewest} pallets on {each} are the fewest that last after {night_label(answer)}"
        f"{_every(answer)}. {_more_and_now(answer)}"
    )
    if answer.now == 1:
        text += " This takes them to be as large as the table, which pallets seldom are."
    return text


def _every(answer: Fewest) -> str:
    """In which nights they do, and how many do in most; there may be no work before that."""
    usual = "" if answer.usual in (None, answer.fewest) else f"; {answer.usual} do on nine of ten"
    return f", every night that there is work enough{usual}"


def _more_and_now(answer: Fewest) -> str:
    now = "there is its table alone" if answer.now == 1 else f"there are {answer.now}"
    return f"More add nothing to these nights; now {now}."


def _usually(answer: Fewest) -> str:
    """Where no number lasts every night: how many do in most."""
    if answer.usual is None:
        return ""
    return f" {answer.usual} do on nine nights of ten, if there is work enough."


def _filling(answer: Fewest, each: str) -> str:
    """How many fill the hours that are allowed, where these end before the night."""
    hours = f"the {duration(answer.begun_for or 0)} allowed after {night_label(answer)}"
    if answer.fewest is None:
        none = f"No number of pallets on {each} fills {hours} every night"
        return f"{none}: {_why_not(answer, each)}.{_usually(answer)}"
    if answer.fewest == 1:
        return f"The table of {each} alone fills {hours}."
    return (
        f"{answer.fewest} pallets on {each} are the fewest that fill {hours}{_every(answer)}. "
        f"{_more_and_now(answer)} After those hours no piece may be begun, so no number lasts till "
        "the next shift."
    )


def _hours(answer: Fewest) -> str:
    if not answer.begun_for:
        on_the_sheet = "hours after the shift" if answer.begins else "nights"
        return f"no piece is begun after the shift (in the sheet: {on_the_sheet})"
    return (
        f"pieces are begun for {duration(answer.begun_for)} after the shift (in the sheet: hours "
        f"after the shift), and the next starts {duration(answer.length)} after it"
    )


def _fixtures(answer: Fewest, each: str) -> str:
    if answer.tried is None:
        needed = answer.at_least * answer.count
        there_are = f"there are {answer.fixtures} fixtures"
        if answer.is_counted:
            there_are = f"{answer.fixtures} fixtures are counted, as not all are entered"
        return (
            f"even the longest loads would take {needed}, and {there_are}, so that more pallets "
            f"than {answer.fixtures} in all add nothing"
        )
    return f"of {_tried(answer, each)}; more lack a fixture or an order"


def _tried(answer: Fewest, each: str) -> str:
    return f"{answer.tried} on {each} {number(answer.loaded)} are loaded when the people go"


# -- in one sentence, and side by side -------------------------------------------------------


def like_it(
    nights: Nights | None, night: NightsAfter, *, by_weekday: bool = False
) -> NightsAfter | None:
    """The nights of another scenario that a night is to be held against.

    Those after the same shifts on the same weekday; or else the longest after that weekday, since
    shifts have other names elsewhere. ``by_weekday`` takes no weekdays together.
    """
    if nights is None:
        return None
    those = nights.after if by_weekday else nights.alike
    same_day = [other for other in those if night.days[0] in other.days]
    same = [other for other in same_day if other.shifts == night.shifts]
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
        return "pieces may be begun all night"
    if not nights.after_shift:
        return "no piece is begun after the shift"
    return f"pieces may be begun for {duration(nights.after_shift)}"


def in_a_sentence(night: NightsAfter, nights: Nights, *, in_short: bool = False) -> str:
    """How long the spindles go on, what ends it, and the odds of reaching the next shift.

    It goes on behind a scenario's title, with "In" before it where that may have a colon of its
    own. ``in_short`` leaves out how long the night is where a clock below tells it.
    """
    last = "the spindle" if night.machines == 1 else "the last spindle"
    people, away = f"the people leave {at_clock(night, 0)}", f"{rounded(night.length)} h"
    if night.all_last == 100:
        every = "the spindle goes" if night.machines == 1 else "all spindles go"
        return f"{people} and {every} on till the next shift, {away} later, every time."
    ends = ending_of_all(night)
    if not night.turning.most:
        why = f": {ends}" if ends else ""
        return f"{people}, no spindle goes on, and the next shift is {away} away{why}."
    return (
        f"{people}; {last} stops {at_clock(night, night.turning.mean)} on average, after "
        f"{duration(night.turning.mean)}{'' if in_short else f' of {away} till the next shift'}. "
        f"What ends it: {ends}.{_odds(night, nights)}"
    )


def at_clock(night: NightsAfter, hours: float) -> str:
    """ "at 15:00", or "on Fri at 15:00" where the nights follow one weekday alone."""
    second = _moment(night, hours)
    at = f"at {hour_text(second)}"
    return f"on {day_name(second)} {at}" if len(night.days) == 1 else at


def ending_of_all(night: NightsAfter) -> str:
    """What ends the nights, with its share where it is not alone.

    Machine group by machine group where these differ: what one lacks is of no use to another.
    """
    ends = {group.group: _shares(group) for group in night.groups if group.lasting < 100}
    if len(set(ends.values())) < 2:
        return next(iter(ends.values()), "")
    return "; ".join(f"on {group}, {words}" for group, words in ends.items())


def main_ends(night: NightsAfter) -> dict[str, Why]:
    """What most often ends the nights, by machine group; one under "" where all have the same."""
    stands = {group.group: [end for end in group.ends if end != Why.RUNS] for group in night.groups}
    ends = {group: Why(reasons[0]) for group, reasons in stands.items() if reasons}
    return {"": next(iter(ends.values()))} if len(set(ends.values())) == 1 else ends


def _odds(night: NightsAfter, nights: Nights) -> str:
    of = f" ({night.seen} nights in {nights.runs} runs with stops)" if nights.stops else ""
    if not night.some_last:
        # What ends it has been said; how many nights that was is news.
        return f" It never lasts till the next shift{of}." if of else ""
    every = " The machine lasts" if night.machines == 1 else " All machines last"
    text = f"{every} till the next shift in {rounded(night.all_last, 0)} % of the nights{of}"
    if night.machines == 1:
        return f"{text}."
    return f"{text}, at least one in {rounded(night.some_last, 0)} %."


def _stops(night: NightsAfter, hours: float) -> str:
    return "runs on" if hours == night.length else duration(hours)


def _cut_pieces(night: NightsAfter) -> str:
    return rounded(night.morning.pieces.mean, 0)


def _work(night: NightsAfter) -> str:
    return duration(night.morning.minutes.mean / 60)


def _cleared(night: NightsAfter) -> str:
    clearing = night.morning.clearing
    return NOTHING if clearing is None else f"after {duration(clearing.mean)}"


def _all_last(night: NightsAfter) -> str:
    return f"{rounded(night.all_last, 0)} % of nights"


_Tell = Callable[[NightsAfter], str]

_ROWS: tuple[tuple[str, _Tell], ...] = (
    ("runs for, worst night", lambda night: _stops(night, night.turning.least)),
    ("all last till next shift", _all_last),
    ("cut pieces, morning", _cut_pieces),
    ("people's work then", _work),
    ("  done, by the clock", _cleared),
)
"""Means over the nights seen but for the worst, the most pressing first.

Two do 40 minutes of work in 20 by the clock, and who is called elsewhere needs longer.
"""


def side_by_side(
    chosen: NightsAfter,
    others: Sequence[Nights | None],
    *,
    by_weekday: bool = False,
    in_full: bool = True,
) -> list[TableRow]:
    """A night of the chosen scenario and those like it of others, a row a figure.

    Mornings on which the people do not get done are told only where there are any, and so is how
    many nights all last; when the work of the morning is done only ``in_full``.
    """
    nights = [like_it(elsewhere, chosen, by_weekday=by_weekday) for elsewhere in others]
    there = [night for night in nights if night is not None]
    some_last = any(night.all_last for night in there)
    told = [
        each
        for each in _ROWS
        if (some_last or each[1] is not _all_last) and (in_full or each[1] is not _cleared)
    ]
    rows = [_row(label, tell, nights) for label, tell in told]
    if any(night.morning.not_cleared for night in there):
        rows.append(_row("  not done that day", _not_done, nights))
    return [*rows, _row("in cycle, all machines", lambda night: duration(night.hours.mean), nights)]


def _row(label: str, tell: _Tell, nights: Sequence[NightsAfter | None]) -> TableRow:
    return TableRow(label, "", tuple(NOTHING if night is None else tell(night) for night in nights))


def _not_done(night: NightsAfter) -> str:
    return f"{rounded(night.morning.not_cleared, 0)} %"
