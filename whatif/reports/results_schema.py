"""The form of what ``compare --format json`` prints as JSON Schema (2020-12)."""

from __future__ import annotations

from whatif.answers.answer import Answer, HoursSaid
from whatif.answers.figures import Figures
from whatif.answers.gains import Gains, Likely
from whatif.answers.money.money import MoneyFigures
from whatif.answers.orders.orders import Ordered
from whatif.answers.orders.rush import RushArrival
from whatif.cell.fit.fit import Fit
from whatif.reports.comparison import ORDER_KEYS, RUSH_KEYS
from whatif.reports.json_form import (
    NUMBER,
    TEXT,
    TEXTS,
    Schema,
    by_id,
    document_form,
    fields_of,
    list_of,
    object_of,
    or_null,
)
from whatif.reports.money import MONEY_AFTER, MONEY_BEFORE


def comparison_schema() -> Schema:
    """The whole schema (rule `json.compare`)."""
    return document_form(
        "what every scenario brings",
        {"title": TEXT, "reference": TEXT, "scenarios": by_id(_scenario())},
    )


def _scenario() -> Schema:
    """One scenario (rule `json.scenario`)."""
    answer = fields_of(Answer, "band", "settled")
    return object_of(
        {
            "title": TEXT,
            "parent": or_null(TEXT),
            "warnings": TEXTS,
            "cautions": TEXTS,
            "said": or_null(_said()),
            "hour_meters": or_null(
                object_of(
                    {
                        "utilization_percent": or_null(NUMBER),
                        "gain_range_percent": or_null(list_of(NUMBER, 2)),
                    }
                )
            ),
            "simulated": or_null(_simulated()),
            "indicators_percent": or_null(by_id(or_null(NUMBER))),
            "band": answer["band"],
            "gain_percent": object_of(fields_of(Gains)),
            "likely_percent": or_null(object_of(fields_of(Likely))),
            "settled": answer["settled"],
            "limit": TEXT,
            "fit": by_id(by_id(_fit())),
            "money": or_null(money_form()),
            "rush": by_id(or_null(_rush())),
            "orders": by_id(object_of(fields_of(Ordered, *ORDER_KEYS))),
        }
    )


def _said() -> Schema:
    said = fields_of(HoursSaid, "hours_per_day", "gain")
    return object_of({"hours_per_day": said["hours_per_day"], "gain_percent": said["gain"]})


def _simulated() -> Schema:
    """What the simulation found (rule `json.simulated`)."""
    counted = fields_of(
        Figures, "weeks", "spindle", "by_state", "pieces", "demand_met", "people", "utilization"
    )
    return object_of(
        {
            "weeks": counted["weeks"],
            "spindle_hours": counted["spindle"],
            "hours_by_state": counted["by_state"],
            "pieces": counted["pieces"],
            "demand_met_percent": counted["demand_met"],
            "could_make_percent": or_null(NUMBER),
            "people_hours": counted["people"],
            "utilization_percent": counted["utilization"],
        }
    )


def _fit() -> Schema:
    """Whether a part fits on a machine (rule `json.fit`)."""
    layout = {"type": "array", "items": list_of(NUMBER, 4)}
    return object_of({**fields_of(Fit, "fits", "per_pallet"), "limits": TEXTS, "layout": layout})


def money_form() -> Schema:
    """Money (rule `json.money`)."""
    texts = {"not_priced": TEXTS, "rests_on": TEXTS}
    return object_of({**fields_of(MoneyFigures, *MONEY_BEFORE, *MONEY_AFTER), **texts})


def _rush() -> Schema:
    arrival = fields_of(RushArrival, *RUSH_KEYS)
    any_hour = {key: object_of({"median": of, "worst": of}) for key, of in arrival.items()}
    return {"anyOf": [object_of(arrival), object_of(any_hour)]}
