"""Every view, in the order in which they are offered, as the list, palette and keys tell it.

Whoever only tells of views loads none: each is loaded when it is opened first.
"""

from __future__ import annotations

from typing import Final

from whatif.records import dataclass


@dataclass(frozen=True, slots=True)
class Listed:
    """What is told of a view before it is open.

    Attributes:
        name: for its command, ``view_<name>``.
        title: what it is called.
        asks: the question that it answers, in the user's words.
        finds: words of what it shows, by which the palette finds it too.
        made_by: its module among the views, and its class there.
        opens: the key that opens it from the desk; "" where only the list and the palette do.
    """

    name: str
    title: str
    asks: str
    finds: str
    made_by: str
    opens: str = ""

    @property
    def answers(self) -> str:
        """Its title and the question that it answers, in a line."""
        return f"{self.title}: {self.asks}."


VIEWS: Final[tuple[Listed, ...]] = (
    Listed(
        "hours",
        "Where the hours go",
        "what the machines do with their hours",
        "spindle state standing waiting idle utilization setup load bottleneck",
        opens="f5",
        made_by="hours:HoursView",
    ),
    Listed(
        "week",
        "The week",
        "people, machines and pallets, hour by hour",
        "day shift break calendar busy free",
        opens="f7",
        made_by="week:WeekView",
    ),
    Listed(
        "fit",
        "Fit",
        "how the parts fit, what one more would take",
        "layout face size fixture table load to scale",
        made_by="fit:FitView",
    ),
    Listed(
        "night",
        "The night",
        "how long it runs with nobody there",
        "unattended after hours shift end morning",
        opens="f8",
        made_by="night:NightView",
    ),
    Listed(
        "moves",
        "What matters most",
        "which inputs matter, up to where more helps",
        "sensitivity break-even vary curve rank",
        opens="f9",
        made_by="moves.moves:MovesView",
    ),
    Listed(
        "money",
        "Money",
        "yearly gain, investment and payback",
        "payback present value rate of return capital invest price cost wage contribution",
        made_by="money:MoneyView",
    ),
    Listed(
        "orders",
        "Orders and rush jobs",
        "which orders are in time, what a rush costs",
        "due date late lateness on time",
        made_by="orders:OrdersView",
    ),
    Listed(
        "meters",
        "Hour meters",
        "the model against the machines' own meters",
        "measured switched on in cut gap utilization",
        made_by="meters:MetersView",
    ),
    Listed(
        "account",
        "Why this figure",
        "where a figure comes from, number by number",
        "explain formula check pencil origin",
        opens="f4",
        made_by="account:AccountView",
    ),
    Listed(
        "meeting",
        "The meeting",
        "which alternative comes first, and why",
        "verdict best decide present show headline gain",
        made_by="meeting.meeting:MeetingView",
    ),
    Listed(
        "search",
        "What would do it?",
        "levers tried alone and together",
        "search optimum best step lever improve cheapest free front goal",
        made_by="search:SearchView",
    ),
)

BY_NAME: Final = {view.name: view for view in VIEWS}
