"""Why people's hours for setting up and those in which spindles stand for it are not the same.

Told where a table of parts is looked at, and where the spindles' hours are accounted for.
"""

from __future__ import annotations

from typing import Final

ANEW: Final = "Set up anew for each order, people would set up for {n0} h a week."
"""{n0}: orders a week times the setup of each, all parts together."""

STANDS_FOR_IT: Final = (
    "the hours in which spindles stand for it: none where a pallet is set up beside the spindle, "
    "nor where the same part follows on its table, as parts that keep a table to themselves do."
)
"""What is counted, behind where it stands."""
