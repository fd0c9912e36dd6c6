"""The best next step as a report: the front as a list, how it was searched, the levers."""

from __future__ import annotations

from typing import Any

from whatif.answers.search.goal import Aim
from whatif.answers.search.search import NextStep, NextSteps
from whatif.reports.asked import asked_data
from whatif.reports.document import (
    Column,
    Document,
    TextHeading,
    TextTable,
    lines_of,
    paragraph_of,
)
from whatif.study.levers import also_text
from whatif.study.schema.catalogue import dotted
from whatif.telling.amounts import NOTHING, number
from whatif.telling.search import (
    UNPRICED,
    also_words,
    entry_words,
    goal_words,
    how_sentences,
    lead_sentence,
    lever_words,
    money_is_of,
    once_text,
    option_words,
    rests_sentences,
    wages_are_open,
    year_gain_text,
    yearly_text,
)

_HEADS = ("gain %", "from", "to", "once", "a year", "people h", "met %")


def search_report(found: NextSteps) -> Document:
    """The front, what is free or cheap first."""
    heads = ["", *_HEADS, *(("on time %",) if _with_orders(found) else ())]
    if found.start.measure.year_gain is not None:
        heads.append("yearly gain")
    rows = [_row(found, "0", found.start)]
    rows += [_row(found, str(at), entry) for at, entry in enumerate(found.front, start=1)]
    table = TextTable([Column(head, at_left=not at) for at, head in enumerate(heads)], rows)
    named = [f"0  {found.asked.title}, as it stands"]
    for at, entry in enumerate(found.front, start=1):
        mark = " (does it)" if entry.reaches else ""
        rests = "; ".join(rests_sentences(entry, found.goal))
        named.append(f"{at}  {entry_words(entry.options)}{mark}" + (f" [{rests}]" if rests else ""))
    levers = [
        lever_words(lever, found.unpriced)
        + (f"; with {also}" if (also := also_words(lever)) else "")
        for lever in found.levers
    ]
    facts = (
        f"goal: {goal_words(found.goal)}",
        f"gain against: {found.asked.against}",
        f"money: {money_is_of(found)}; more than in line 0, as the yearly gain",
        "people h: paid a week, all of them",
    )
    notes = (
        "Levers marked ~ are proposed, their values and prices assumed (common practice, no "
        "source). Enter [lever.<id>] with key, values, price, price_each and yearly to set them "
        "(a price of 0 is a price); values = [] leaves one out. What is not priced is told behind "
        "what is, and never as free. Fits, permits and who does moved work are not looked at.",
    )
    return Document(
        [
            TextHeading(f"{found.asked.title}: the best next step"),
            lines_of(facts),
            paragraph_of(lead_sentence(found)),
            table,
            lines_of(named, rest="   "),
            lines_of(how_sentences(found)),
            TextHeading("Levers", 2),
            lines_of(levers),
            lines_of(notes),
        ],
        _data(found),
        _csv(found, heads, rows),
    )


def _with_orders(found: NextSteps) -> bool:
    return found.goal.aim is Aim.ORDERS or found.start.measure.on_time is not None


def _row(found: NextSteps, name: str, entry: NextStep) -> list[str]:
    measure, likely = entry.measure, entry.likely
    ends = (NOTHING, NOTHING) if likely is None else (number(likely[0]), number(likely[2]))
    row = [name, number(measure.gain), *ends, once_text(entry)]
    row.append(yearly_text(entry, wages_open=wages_are_open(found, entry)))
    row += [number(measure.hours), number(measure.least_met)]
    if _with_orders(found):
        row.append(number(measure.on_time))
    if measure.year_gain is not None:
        row.append(year_gain_text(entry))
    return row


def _csv(found: NextSteps, heads: list[str], rows: list[list[str]]) -> list[tuple[str, ...]]:
    words = [f"{found.asked.title}, as it stands"]
    words += [entry_words(entry.options) for entry in found.front]
    entries = (found.start, *found.front)
    bare = [", ".join(lever.id for lever in entry.unpriced) for entry in entries]
    told: list[tuple[str, ...]] = [(*heads, UNPRICED, "what is done")]
    told += [(*row, *said) for row, *said in zip(rows, bare, words, strict=True)]
    after = [""] * len(heads)
    sentences = (lead_sentence(found), *how_sentences(found))
    return [*told, *(("note", *after, sentence) for sentence in sentences)]


def _data(found: NextSteps) -> dict[str, Any]:
    return asked_data(found.asked) | {
        "goal": {"aim": found.goal.aim.value, "amount": found.goal.amount},
        "seed": found.seed,
        "most_levers": found.most,
        "tried": found.tried,
        "possible": found.possible,
        "in_full": found.in_full,
        "proved": found.is_proved,
        "short_weeks": found.short_weeks,
        "start": _entry(found, found.start),
        "front": [_entry(found, entry) for entry in found.front],
        "levers": [
            {
                "id": lever.id,
                "key": dotted(lever.key).replace("<id>", "*"),
                "values": list(lever.values),
                "also": {
                    dotted(path).replace("<id>", "*"): also_text([(path, raw)]).partition("= ")[2]
                    for path, raw in lever.also
                },
                "price": float(lever.price),
                "price_each": float(lever.price_each),
                "yearly": float(lever.yearly),
                "assumed": lever.assumed,
                "priced": lever.id not in found.unpriced,
            }
            for lever in found.levers
        ],
        "sentences": [lead_sentence(found), *how_sentences(found)],
    }


def _entry(found: NextSteps, entry: NextStep) -> dict[str, Any]:
    measure = entry.measure
    return {
        "levers": [
            {"id": option.lever.id, "value": option.value, "words": option_words(option)}
            for option in entry.options
        ],
        "gain_percent": measure.gain,
        "likely_percent": entry.likely,
        "saleable_output": measure.saleable,
        "least_demand_met_percent": measure.least_met,
        "orders_on_time_percent": measure.on_time,
        "once": measure.once,
        "yearly": measure.yearly,
        "people_hours": measure.hours,
        "year_gain": measure.year_gain,
        "payback_years": measure.payback_years,
        "reaches_goal": entry.reaches,
        "not_priced": [lever.id for lever in entry.unpriced],
        "is_clear": entry.is_clear,
        "rests_on": rests_sentences(entry, found.goal),
    }
