"""What the scenarios of a study bring, side by side."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any, Final

from whatif.answers.answer import Answer, Comparison
from whatif.answers.figures import Figures
from whatif.answers.indicators import indicators
from whatif.answers.orders.rush import AnyHour, RushArrival
from whatif.cell.fit.fit import Fit
from whatif.reports.document import (
    Block,
    CautionFor,
    Column,
    Document,
    Either,
    Strong,
    TextHeading,
    TextLine,
    TextLines,
    TextTable,
    cautions_for,
    paragraph_of,
)
from whatif.reports.money import money_data
from whatif.study.guesses import in_words
from whatif.telling.cautions import caution_text
from whatif.telling.fit import HOLDS, limits_told
from whatif.telling.limits import limit_text
from whatif.telling.money.sentences import returns_sentences
from whatif.telling.orders import late_sentences
from whatif.telling.rush import rush_sentences
from whatif.telling.strip import NOTHING_TO_SIMULATE
from whatif.telling.table import STATES_IN_WORDS, TableRow, rows_in_numbers, table_rows
from whatif.telling.warnings import new_warnings, warnings_of


def comparison_report(found: Comparison) -> Document:
    """The table, what is to be said of each scenario, the cautions."""
    answers = list(found.answers.values())
    against = found.answers[found.reference].plan.title
    rows = table_rows(found)
    blocks: list[Block | Either] = [
        TextHeading(found.title),
        Either([paragraph_of(f"against: {against}")], [paragraph_of(f"Against: {against}")]),
        _table(answers, rows, found.reference),
    ]
    for answer in answers:
        told = _said(answer, found.answers.get(answer.plan.parent or ""))
        said = [TextLine((Strong(sort), ": ", text), "  ") for sort, text in told]
        blocks += [TextHeading(answer.plan.title, 2), TextLines(said)]
    blocks += _told_apart(found)
    if any(answer.figures is not None for answer in answers):
        blocks.append(paragraph_of(STATES_IN_WORDS))
    blocks.append(paragraph_of(HOLDS))
    data = {
        "title": found.title,
        "reference": found.reference,
        "scenarios": {id_: _scenario(answer, found.units) for id_, answer in found.answers.items()},
    }
    return Document(blocks, data, _csv_rows(answers, rows, found.units), width=None)


def _said(answer: Answer, parent: Answer | None) -> list[tuple[str, str]]:
    """What is to be said of a scenario in sentences, each with its sort, cautions aside.

    Warnings that its parent has too stand there.
    """
    said = [("note", in_words(answer.plan.notes))] if answer.plan.notes else []
    if answer.held_back:
        said.append(("limit", limit_text(answer.held_back, answer.could_make)))
    elif answer.figures is None and answer.said is None:
        said.append(("limit", NOTHING_TO_SIMULATE))
    said += [("order", text) for text in late_sentences(answer)]
    said += [("rush", text) for text in rush_sentences(answer)]
    if pays := returns_sentences(answer):
        said.append(("payback", pays))
    return said + [("warning", text) for text in new_warnings(answer, parent)]


def _cautions(answer: Answer, units: str, *, stand: bool | None = None) -> list[str]:
    """All of a scenario's, or only those that today calls for already, or for which it does not."""
    called_for = (each for each in answer.cautions if stand in (None, each.stands))
    return [caution_text(caution, units) for caution in called_for]


def _told_apart(found: Comparison) -> list[CautionFor]:
    """What the scenarios call for, and apart, once, what that of today does already."""
    answers = found.answers.values()
    own = [(answer.plan.title, _cautions(answer, found.units, stand=False)) for answer in answers]
    today = found.answers.get(found.today)
    if today is None:
        return cautions_for(own)
    stands = (f"{today.plan.title}, as it stands today", _cautions(today, found.units))
    return cautions_for([*own, stands])


def _table(answers: list[Answer], rows: list[TableRow], reference: str) -> TextTable:
    columns = [Column("", at_left=True), *(Column(answer.plan.title) for answer in answers)]
    labels = (f"{row.label}, {row.unit}" if row.unit else row.label for row in rows)
    kept = [place for place, answer in enumerate(answers, 1) if answer.plan.scenario == reference]
    return TextTable(
        columns, [(label, *row.cells) for label, row in zip(labels, rows, strict=True)], kept=kept
    )


def _csv_rows(answers: list[Answer], rows: list[TableRow], units: str) -> list[tuple[str, ...]]:
    """A row for each figure and, below its scenario, for each sentence."""
    told = [("figure", "unit", *(answer.plan.title for answer in answers))]
    told += [(row.label.strip(), row.unit, *row.cells) for row in rows_in_numbers(rows)]
    by_id = {answer.plan.scenario: answer for answer in answers}
    for place, answer in enumerate(answers):
        said = _said(answer, by_id.get(answer.plan.parent or ""))
        after = [""] * (len(answers) - 1 - place)
        for sort, text in [*said, *(("caution", text) for text in _cautions(answer, units))]:
            told.append((sort, "", *[""] * place, text, *after))
    return told


# -- plain values --------------------------------------------------------------------------


def _scenario(answer: Answer, units: str) -> dict[str, Any]:
    """One scenario (rule `json.scenario`, rule `json.money`)."""
    plan, figures, said = answer.plan, answer.figures, answer.said
    return {
        "title": plan.title,
        "parent": plan.parent,
        "warnings": warnings_of(answer),
        "cautions": _cautions(answer, units),
        "said": said and {"hours_per_day": said.hours_per_day, "gain_percent": said.gain},
        "hour_meters": plan.meters
        and {
            "utilization_percent": 100 * float(plan.meters.measured) if plan.meters.own else None,
            "gain_range_percent": answer.gain_range,
        },
        "simulated": figures and _simulated(figures, answer.could_make),
        "indicators_percent": figures
        and {key: found.percent for key, found in indicators(plan, figures).items()},
        "band": answer.band,
        "gain_percent": asdict(answer.gains),
        "likely_percent": answer.likely and asdict(answer.likely),
        "settled": answer.settled,
        "limit": limit_text(answer.held_back, answer.could_make),
        "fit": {
            part: {group: _fit(fit, part, group, units) for group, fit in by_group.items()}
            for part, by_group in plan.fits.items()
        },
        "money": money_data(answer.money),
        "rush": {id_: _rush(rush) for id_, rush in answer.rush.items()},
        "orders": {
            id_: {key: getattr(order, key) for key in ORDER_KEYS}
            for id_, order in answer.orders.items()
        },
    }


def _simulated(figures: Figures, could_make: float | None) -> dict[str, Any]:
    """What the simulation found (rule `json.simulated`)."""
    return {
        "weeks": figures.weeks,
        "spindle_hours": asdict(figures.spindle),
        "hours_by_state": figures.by_state,
        "pieces": figures.pieces,
        "demand_met_percent": figures.demand_met,
        "could_make_percent": could_make,
        "people_hours": asdict(figures.people),
        "utilization_percent": asdict(figures.utilization),
    }


ORDER_KEYS: Final = (
    *("first_off", "last_off", "late_hours"),
    *("on_time_percent", "worst_last_off", "worst_late_hours"),
)
RUSH_KEYS: Final = ("hours", "lost_spindle_hours", "lost_contribution")


def _rush(found: RushArrival | AnyHour | None) -> dict[str, Any] | None:
    """Plain numbers for one arrival; for any hour an object of median and worst each."""
    if found is None:
        return None
    if isinstance(found, RushArrival):
        return {key: getattr(found, key) for key in RUSH_KEYS}
    return {
        key: {"median": getattr(found.median, key), "worst": getattr(found.worst, key)}
        for key in RUSH_KEYS
    }


def _fit(fit: Fit, part: str, group: str, units: str) -> dict[str, Any]:
    """Whether a part fits on a machine, and how it lies there (rule `json.fit`)."""
    return {
        "fits": fit.fits,
        "per_pallet": fit.per_pallet,
        "limits": [text for _, text in limits_told(fit, part, group, units)],
        "layout": [[float(number) for number in place] for place in fit.layout],
    }
