"""Machines and shifts (rule `keys.machine`, rule `keys.shift`)."""

from fractions import Fraction
from typing import Annotated

from whatif.study.schema.kinds import (
    Area,
    Breaks,
    Clock,
    Count,
    Days,
    Flag,
    Length,
    Lengths,
    Mass,
    Number,
    Time,
)
from whatif.study.schema.says import Model, Says, UnusedWhen, assumed
from whatif.units import Quantity


class Shift(Model):
    """A shift: when it runs, how many people are in it, when they pause.

    `start`, `end` and `breaks` are seconds since midnight; an end at or before
    the start is on the next day.
    """

    days: Annotated[
        tuple[str, ...],
        Days(),
        Says("days", "the days on which the shift starts", "Look at the shift plan."),
    ]
    start: Annotated[
        int,
        Clock(),
        Says("start", "when the shift starts", "Look at the shift plan."),
    ]
    end: Annotated[
        int,
        Clock(),
        Says(
            "end",
            "when the shift ends; at or before its start: on the next day",
            "Look at the shift plan.",
        ),
    ]
    people: Annotated[
        int,
        Count(0, 200),
        Says(
            "people",
            "people who tend these machines in the shift; 0 takes the shift out",
            "Count those who really stand at these machines on a common day.",
            takes_out=True,
        ),
    ] = assumed(1)
    breaks: Annotated[
        tuple[tuple[int, int], ...],
        Breaks(),
        Says(
            "breaks",
            "when all people of the shift pause",
            "Look at the shift plan.",
            "none",
        ),
    ] = assumed(())
    breaks_paid: Annotated[
        bool,
        Flag(),
        Says(
            "breaks paid",
            "whether the breaks are paid",
            "Ask the wages office.",
            words=(
                ("yes", "breaks count as hours paid"),
                ("no", "only the hours on duty are paid"),
            ),
            unused=(UnusedWhen.SHIFT_WITHOUT_BREAKS,),
        ),
    ] = assumed(True)
    inspects: Annotated[
        bool,
        Flag(),
        Says(
            "releases first pieces",
            "first pieces can be released in this shift",
            "Ask in which hours the measuring room is manned.",
            words=(
                ("yes", "first pieces can be released in this shift"),
                ("no", "they wait for another shift"),
            ),
            unused=(UnusedWhen.NOTHING_WAITS,),
        ),
    ] = assumed(True)


class Machine(Model):
    """A sort of machine: how many there are, their pallets, what fits on them, what they cost."""

    count: Annotated[
        int,
        Count(0, 200),
        Says("machines", "identical machines; 0 takes them out", "Count them.", takes_out=True),
    ] = assumed(1)
    pallets: Annotated[
        int,
        Count(1, 200),
        Says(
            "pallets each",
            "pallets of each machine; 1: there is only the machine's own table",
            "Count the pallets of one machine, the one in the spindle included.",
        ),
    ] = assumed(1)
    load_stations: Annotated[
        int,
        Count(1),
        Says(
            "load stations each",
            "places of each machine where a pallet is loaded; no meaning with one pallet",
            "Count them.",
            unused=(UnusedWhen.ONE_PALLET,),
        ),
    ] = assumed(1)
    pallet_change: Annotated[
        Quantity,
        Time(),
        Says(
            "pallet change",
            "time to change pallets in the spindle; none with one pallet",
            "Time it with a stop-watch from the end of one cut to the start of the next.",
            unused=(UnusedWhen.ONE_PALLET,),
        ),
    ] = assumed("0.5 min")
    warm_up: Annotated[
        Quantity,
        Time(),
        Says(
            "warm-up",
            "spindle time before the first cut after more than 4 h of standing",
            "Time the warm-up with a stop-watch on a Monday morning.",
            tries="0 min..60 min..10 min",
        ),
    ] = assumed("0 min")
    table: Annotated[
        tuple[Quantity, ...] | None,
        Lengths(2),
        Says(
            "table",
            "usable face of the table or of a pallet",
            "Measure it, or take it from the machine's papers.",
            unused=(UnusedWhen.NO_SIZED_PART,),
        ),
    ] = assumed(None)
    travel: Annotated[
        tuple[Quantity, ...] | None,
        Lengths(2),
        Says(
            "travel",
            "reach of the axes over the table",
            "Take it from the machine's papers, or jog from limit to limit.",
            unused=(UnusedWhen.NO_SIZED_PART,),
        ),
    ] = assumed(None)
    work_height: Annotated[
        Quantity | None,
        Length(above_zero=True),
        Says(
            "work height",
            "highest fixture and part together",
            "Measure from the table to the spindle nose at its top, less the longest tool.",
            unused=(UnusedWhen.NO_SIZED_PART,),
        ),
    ] = assumed(None)
    table_load: Annotated[
        Quantity | None,
        Mass(),
        Says(
            "table load",
            "most that the table or a pallet may carry",
            "Take it from the machine's papers: the maker's limit decides.",
        ),
    ] = assumed(None)
    faces: Annotated[
        int,
        Count(1, 12),
        Says(
            "faces a pallet",
            "fixture faces on a pallet",
            "Count the sides of the fixture block that hold pieces.",
            unused=(UnusedWhen.NOTHING_LAID_OUT,),
        ),
    ] = assumed(1)
    pockets: Annotated[
        int | None,
        Count(),
        Says(
            "magazine places",
            "places in the tool magazine",
            "Count them, or take them from the machine's papers.",
            ranked=False,
            unused=(UnusedWhen.NO_TOOL_PLACES,),
        ),
    ] = assumed(None)
    price: Annotated[
        Fraction,
        Number(),
        Says(
            "price",
            "what one more machine costs",
            "Take it from the offer.",
            money="",
            ranked=False,
            unused=(UnusedWhen.NO_MONEY,),
        ),
    ] = assumed(0)
    resale: Annotated[
        Fraction,
        Number(),
        Says(
            "resale",
            "what a machine that is given up brings",
            "Ask a dealer, or take the book value.",
            money="",
            ranked=False,
            unused=(UnusedWhen.NO_MONEY, UnusedWhen.REFERENCE_RESALE),
        ),
    ] = assumed(0)
    pallet_price: Annotated[
        Fraction,
        Number(),
        Says(
            "price a pallet",
            "each pallet beyond the first",
            "Take it from the offer.",
            money="",
            ranked=False,
            unused=(UnusedWhen.ONE_PALLET, UnusedWhen.NO_MONEY, UnusedWhen.OF_REFERENCE),
        ),
    ] = assumed(0)
    pallet_system_price: Annotated[
        Fraction,
        Number(),
        Says(
            "price of pallet system",
            "once for each machine with more than one pallet",
            "Take it from the offer.",
            money="",
            ranked=False,
            unused=(UnusedWhen.ONE_PALLET, UnusedWhen.NO_MONEY, UnusedWhen.OF_REFERENCE),
        ),
    ] = assumed(0)
    owned: Annotated[
        int | None,
        Count(),
        Says(
            "machines owned",
            "machines that are already there and need not be bought",
            "Count them.",
            "as many as in the reference",
            ranked=False,
            unused=(UnusedWhen.NO_MONEY,),
        ),
    ] = assumed(None)
    floor: Annotated[
        Quantity | None,
        Area(above_zero=True),
        Says(
            "floor each",
            "floor that each machine takes, its doors and aisle included",
            "Measure it in the shop or on the plan of the floor.",
            ranked=False,
        ),
    ] = assumed(None)
    pallet_floor: Annotated[
        Quantity,
        Area(),
        Says(
            "floor a pallet",
            "floor that each pallet beyond the first takes",
            "Measure it in the shop, or take it from the offer.",
            ranked=False,
            unused=(UnusedWhen.ONE_PALLET,),
        ),
    ] = assumed("0 m²")
