"""What the JSON form tells of a comparison, as plain values."""

from __future__ import annotations

import json
from typing import Any

from whatif.answers.answer import Comparison
from whatif.reports.comparison import comparison_report
from whatif.reports.document import as_json


def json_of(found: Comparison) -> Any:
    """A comparison as another program reads it; a number that is none is refused."""
    return json.loads(as_json(comparison_report(found)), parse_constant=_refuse)


def _refuse(number: str) -> None:
    raise AssertionError(f"{number} is no plain JSON number")
