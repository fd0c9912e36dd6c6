"""Promises to customers side by side: real orders against their due dates, and rush orders."""

from __future__ import annotations

from collections.abc import Sequence

from whatif.answers.answer import Answer
from whatif.answers.orders.late import LateOrder, late_orders
from whatif.answers.orders.orders import Ordered, promises
from whatif.answers.orders.rush import AnyHour, RushArrival, any_gain
from whatif.cell.model import DAY, HOUR, MINUTE, WEEK
from whatif.study.schema.catalogue import key_for
from whatif.study.schema.kinds import DAYS
from whatif.telling.amounts import NOTHING, listed, rounded, whole
from whatif.telling.clock import hour_text
from whatif.telling.fit import pieces_text
from whatif.telling.promised import TOGETHER, runs_differ, together_text
from whatif.telling.rush import in_short, price_said, range_of_rush, rush_texts
from whatif.telling.said import NOTHING_SAID, Said, SaidRow


def moment(seconds: float) -> str:
    """A moment after the begin of the first week measured, such as "week 2 tue 14:30"."""
    return f"week {whole(seconds) // WEEK + 1} {_of_week(seconds)}"


def _of_week(seconds: float) -> str:
    """Its day and hour alone."""
    second = whole(seconds) % WEEK
    return f"{DAYS[second // DAY]} {hour_text(second)}"


def _in_short(seconds: float) -> str:
    """Its week only where that is not the first."""
    return _of_week(seconds) if whole(seconds) < WEEK else moment(seconds)


def order_rows(answers: Sequence[Answer | None]) -> list[SaidRow]:
    """All real orders: when each is off and how late, then all of them together.

    With stops the odds, the middle and the worst run, since no run is like the mean of them.
    """
    here = [answer for answer in answers if answer is not None]
    ids = dict.fromkeys(id_ for answer in here for id_ in answer.orders)
    with_stops = runs_differ(here)
    found = []
    for id_ in ids:
        each = [None if answer is None else answer.orders.get(id_) for answer in answers]
        ordered, due = _order_labels(id_, here)
        if with_stops:
            found += [
                SaidRow(ordered, tuple(map(_odds, each))),
                SaidRow(due, tuple(map(_off, each))),
                SaidRow("  in the middle run", tuple(_in_time(o, worst=False) for o in each)),
                SaidRow("  in the worst run", tuple(_in_time(o, worst=True) for o in each)),
            ]
        else:
            found += [
                SaidRow(ordered, tuple(map(_off, each))),
                SaidRow(due, tuple(_in_time(o, worst=False) for o in each)),
            ]
    return found


def together_rows(answers: Sequence[Answer | None]) -> list[SaidRow]:
    """All real orders of each scenario together; none where there are no orders."""
    here = [answer for answer in answers if answer is not None]
    if not any(answer.orders for answer in here):
        return []
    together = [
        None
        if answer is None or not answer.orders
        else promises(answer.plan, list(answer.orders.values()))
        for answer in answers
    ]
    return [
        SaidRow(
            figure.label,
            tuple(
                NOTHING_SAID if of is None else Said(together_text(of, figure, with_unit=True))
                for of in together
            ),
        )
        for figure in TOGETHER
        if runs_differ(here) or figure.key != "all_on_time"
    ]


def _order_labels(id_: str, answers: Sequence[Answer]) -> tuple[str, str]:
    every = (order for answer in answers for order in answer.plan.orders)
    order = next((order for order in every if order.id == id_), None)
    if order is None:
        return id_, "  due"
    return f"{id_}: {pieces_text(order.pieces)}", f"  due {_in_short(order.due)}"


def _odds(order: Ordered | None) -> Said:
    if order is None:
        return NOTHING_SAID
    odds = f"{rounded(order.on_time_percent, 0)} % in time"
    return Said(odds, "bad" if order.late else "plain")


def _off(order: Ordered | None) -> Said:
    """When its last piece is off in the middle run."""
    if order is None:
        return NOTHING_SAID
    last = order.last_off
    if last is None:
        return Said("not off", "bad")
    text = _in_short(last * HOUR)
    return Said(text, shorter=(text.replace("week ", "wk "), text.replace("week ", "w")))


def _in_time(order: Ordered | None, *, worst: bool) -> Said:
    """How late its last piece is, in the middle or in the worst run."""
    if order is None:
        return NOTHING_SAID
    last = order.worst_last_off if worst else order.last_off
    late = order.worst_late_hours if worst else order.late_hours
    if last is None:
        return Said("not off at the end", "bad", ("not off",))
    return Said(f"{_late(late)} late", "bad") if late else Said("in time")


def _late(hours: float | None) -> str:
    """So much of time as is read at a glance: minutes, hours, or days from two on."""
    if hours is None:
        return NOTHING
    if hours >= 2 * DAY / HOUR:
        return f"{rounded(hours * HOUR / DAY)} days"
    return f"{rounded(hours)} h" if hours >= 1 else f"{rounded(hours * HOUR / MINUTE, 0)} min"


def late_sentences(answer: Answer) -> list[str]:
    """Why orders are late that go in many loads, and what eases it; like ones together."""
    alike: dict[tuple[object, ...], list[LateOrder]] = {}
    for late in late_orders(answer.plan, answer.figures, answer.orders):
        alike.setdefault((late.at_once, late.bound_by, late.waits), []).append(late)
    return [_why_late(orders) for orders in alike.values()]


def _why_late(orders: Sequence[LateOrder]) -> str:
    """Of orders that are bound by the same."""
    late = orders[0]
    place = "pallet" if late.has_pallets else "table"
    on = f"one {place}" if late.at_once == 1 else f"up to {late.at_once} {place}s"
    bounds = listed([_label(key) for key in late.bound_by])
    text = f"{listed([_how_late(order) for order in orders])}: on {on} at a time"
    if bounds:
        text += f" (limited by {bounds})"
    eases = [f"more {bounds}" if bounds else "", f"more {_label('per_pallet')}"]
    if late.waits and late.places > late.at_once:
        all_places = "pallets and tables" if late.has_pallets else "tables"
        text += f", and each load waits its turn: the same people serve {late.places} {all_places}"
        eases += ["more people", "fewer pallets" if late.has_pallets else ""]
    *others, last = [ease for ease in eases if ease]
    joined = f"{', '.join(others)} or {last}" if others else last
    return f"{text}. What eases it: {joined}."


def _label(key: str) -> str:
    """What one of a part's values is called."""
    found = key_for(("part", "part", key))
    assert found is not None
    return found.label


def _how_late(order: LateOrder) -> str:
    late = order.late_hours
    how = "not off at the end" if late is None else f"{_late(late)} late"
    first = ", the first piece alone" if order.has_first_piece else ""
    return f"{order.id} is {how} ({order.pieces} pieces in {order.loads} loads{first})"


def rush_rows(answers: Sequence[Answer | None]) -> list[SaidRow]:
    """Each rush order: a row that says what it is, how soon it is off, what it costs other work."""
    here = [answer for answer in answers if answer is not None]
    currency = next((answer.money.currency for answer in here if answer.money is not None), "")
    found = []
    for id_ in dict.fromkeys(id_ for answer in here for id_ in answer.rush):
        found.append(SaidRow(_rush_label(id_, here), (Said("", "none"),) * len(answers)))
        figures = [
            ("  off after", "hours", " h", 1),
            ("  other work loses", "loses", " spindle h", 1),
        ]
        if any_gain(answer.rush.get(id_) for answer in here):
            figures.append(("  other work gains", "gains", " spindle h", 1))
        if currency:
            figures.append((f"  costs other work, {currency}", "least_price", "", 0))
        rows = [
            SaidRow(label, tuple(_rush(answer, id_, figure, unit, digits) for answer in answers))
            for label, figure, unit, digits in figures
        ]
        if currency:
            worth = tuple(_worth(answer, id_) for answer in answers)
            rows.append(SaidRow(f"  at its price, {currency}", worth))
        found += [row for row in rows if not _is_empty(row)]
    return found


def _is_empty(row: SaidRow) -> bool:
    """Whether it tells of no scenario anything, so that it is left out."""
    return all(cell in (NOTHING_SAID, _NO_PRICE) for cell in row.cells)


_NO_PRICE = Said("no price given", "none", ("no price",))


def _rush_label(id_: str, answers: Sequence[Answer]) -> str:
    every = (rush for answer in answers for rush in answer.plan.rush)
    rush = next((rush for rush in every if rush.id == id_), None)
    if rush is None:
        return id_
    when = "at any hour" if rush.arrives is None else f"from {_of_week(rush.arrives)}"
    return f"{id_}: {pieces_text(rush.pieces)}, wanted {when}"


def _rush(answer: Answer | None, id_: str, figure: str, unit: str, digits: int) -> Said:
    found = None if answer is None else answer.rush.get(id_)
    if found is None:
        return NOTHING_SAID
    none = Said("never", "bad") if figure == "hours" else NO_CONTRIBUTION
    if isinstance(found, RushArrival):
        first, *shorter = rush_texts(found, figure, digits, unit) or ("",)
        return Said(first, shorter=tuple(shorter)) if first else none
    middle, worst = getattr(found.median, figure), getattr(found.worst, figure)
    if middle is None or worst is None:
        return none
    return Said(
        f"{rounded(middle, digits)}{unit}, worst {rounded(worst, digits)}{unit}",
        shorter=(
            f"{rounded(middle, digits)}, worst {rounded(worst, digits)}{in_short(unit)}",
            f"≤ {rounded(worst, digits)}{in_short(unit)}",
        ),
    )


NO_CONTRIBUTION = Said("no contribution given", "none", ("no contribution", NOTHING))


def _worth(answer: Answer | None, id_: str) -> Said:
    found = None if answer is None else answer.rush.get(id_)
    every = () if answer is None else answer.plan.rush
    price = next((float(rush.price) for rush in every if rush.id == id_), 0.0)
    if found is None or not price:
        return _NO_PRICE
    at_worst = isinstance(found, AnyHour)
    lost = found.worst.lost_contribution if isinstance(found, AnyHour) else found.lost_contribution
    if lost is None:
        return NO_CONTRIBUTION
    likely = range_of_rush(found, "least_price") if isinstance(found, RushArrival) else None
    if likely is not None:
        return price_said(price, likely)
    start = f"{rounded(price, 0)}: "
    if price >= lost:
        always = ("worth it any hour", "always worth it") if at_worst else ()
        return Said(f"{start}worth it{' at any hour' if at_worst else ''}", "good", always)
    loses = rounded(lost - price, 0)
    if not at_worst:
        return Said(f"{start}loses {loses}", "bad", (f"loses {loses}",))
    # At the worst hour it is most.
    return Said(f"{start}loses {loses} at the worst hour", "bad", (f"loses up to {loses}",))
