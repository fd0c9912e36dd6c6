"""Every view, in the order in which they are offered."""

from __future__ import annotations

from whatif.screens.views.account import AccountView
from whatif.screens.views.hours import HoursView
from whatif.screens.views.meeting import MeetingView
from whatif.screens.views.meters import MetersView
from whatif.screens.views.money import MoneyView
from whatif.screens.views.moves.moves import MovesView
from whatif.screens.views.night import NightView
from whatif.screens.views.orders import OrdersView
from whatif.screens.views.table import TableView
from whatif.screens.views.view import View
from whatif.screens.views.week import WeekView

VIEWS: tuple[type[View], ...] = (
    HoursView,
    WeekView,
    TableView,
    NightView,
    MovesView,
    MoneyView,
    OrdersView,
    MetersView,
    AccountView,
    MeetingView,
)
