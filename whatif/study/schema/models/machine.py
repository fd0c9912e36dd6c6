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
    Several,
    Time,
)
from whatif.study.schema.says import Model, UnusedWhen, says
from whatif.units import Quantity


class Shift(Model):
    """A shift: when it runs, how many people are in it, when they pause.

    `start`, `end` and both sorts of breaks are seconds since midnight; an end at or before
    the start is on the next day.
    """

    days: Annotated[tuple[str, ...], Days()] = says(
        "days", "the days on which the shift starts", "Look at the shift plan."
    )
    start: Annotated[int, Clock()] = says(
        "start", "when the shift starts", "Look at the shift plan."
    )
    end: Annotated[int, Clock()] = says(
        "end",
        "when the shift ends; at or before its start: on the next day",
        "Look at the shift plan.",
    )
    people: Annotated[int, Count(0, 200)] = says(
        "people",
        "people who tend these machines in the shift; 0 removes the shift",
        "Count those who really stand at these machines on a common day.",
        assumed=1,
        takes_out=True,
    )
    breaks: Annotated[tuple[tuple[int, int], ...], Breaks()] = says(
        "breaks",
        "when all people of the shift pause",
        "Look at the shift plan.",
        assumed=(),
    )
    unpaid_breaks: Annotated[tuple[tuple[int, int], ...], Breaks()] = says(
        "unpaid breaks",
        "when all people of the shift pause without being paid",
        "Look at the shift plan, and ask the wages office.",
        assumed=(),
    )
    does: Annotated[
        tuple[str, ...],
        Several(
            load="load and unload",
            setup="change the work holding",
            prove_out="prove out a first load",
            tools="renew worn tools",
            repair="see to stops",
            release="first pieces can be released in its hours",
        ),
    ] = says(
        "may do",
        "what its people may do; whoever sets up loads too",
        "Ask who sets up, proves out and renews tools, and when the measuring room is manned.",
        assumed=("load", "setup", "prove_out", "tools", "repair", "release"),
    )
    wage: Annotated[Fraction | None, Number()] = says(
        "shift's wage per hour",
        "what an hour of a person of this shift costs, with all that comes on top",
        "Ask the wages office; a late or night shift often has a bonus.",
        assumed=None,
        in_words="the wage of all shifts",
        money="an hour",
        ranked=False,
        unused=(UnusedWhen.NO_MONEY,),
    )


class Machine(Model):
    """A sort of machine: how many there are, their pallets, what fits on them, what they cost."""

    count: Annotated[int, Count(0, 200)] = says(
        "machines", "identical machines; 0 removes them", "Count them.", assumed=1, takes_out=True
    )
    pallets: Annotated[int, Count(1, 200)] = says(
        "pallets each",
        "pallets of each machine; 1: there is only the machine's own table",
        "Count the pallets of one machine, the one in the spindle included.",
        assumed=1,
    )
    load_stations: Annotated[int, Count(1)] = says(
        "load stations each",
        "places of each machine where a pallet is loaded; no meaning with one pallet",
        "Count them.",
        assumed=1,
        unused=(UnusedWhen.ONE_PALLET,),
    )
    pallet_change: Annotated[Quantity, Time()] = says(
        "pallet change",
        "time to change pallets in the spindle; none with one pallet",
        "Time it with a stop-watch from the end of one cut to the start of the next.",
        assumed="0.5 min",
        drawn=True,
        unused=(UnusedWhen.ONE_PALLET,),
    )
    warm_up: Annotated[Quantity, Time()] = says(
        "warm-up",
        "spindle time before the first cut after more than 4 h of standing",
        "Time the warm-up with a stop-watch on a Monday morning.",
        assumed="0 min",
        tries="0 min..60 min..10 min",
        drawn=True,
        ranked_at=("15 min",),
    )
    unattended: Annotated[
        bool,
        Flag(
            yes="pieces may be begun on it with nobody there",
            no="pieces are begun on it only while somebody is on duty",
        ),
    ] = says(
        "runs unattended",
        "its pieces may be begun while nobody is on duty",
        "Ask whether this machine may be left alone: fire protection, chips, coolant, the insurer.",
        assumed=True,
    )
    table: Annotated[tuple[Quantity, ...] | None, Lengths("length", "width")] = says(
        "table",
        "usable face of the table or of a pallet",
        "Measure it, or take it from the machine's papers.",
        assumed=None,
        unused=(UnusedWhen.NO_SIZED_PART,),
    )
    travel: Annotated[
        tuple[Quantity, ...] | None, Lengths("along the length", "along the width")
    ] = says(
        "travel",
        "reach of the axes over the table",
        "Take it from the machine's papers, or jog from limit to limit.",
        assumed=None,
        unused=(UnusedWhen.NO_SIZED_PART,),
    )
    work_height: Annotated[Quantity | None, Length(above_zero=True)] = says(
        "work height",
        "highest fixture and part together",
        "Measure from the table to the spindle nose at its top, less the longest tool.",
        assumed=None,
        unused=(UnusedWhen.NO_SIZED_PART,),
    )
    table_load: Annotated[Quantity | None, Mass()] = says(
        "table load",
        "most that the table or a pallet may carry",
        "Take it from the machine's papers: the maker's limit decides.",
        assumed=None,
    )
    faces: Annotated[int, Count(1, 12)] = says(
        "faces per pallet",
        "fixture faces on a pallet",
        "Count the sides of the fixture block that hold pieces.",
        assumed=1,
        unused=(UnusedWhen.NOTHING_LAID_OUT,),
    )
    pockets: Annotated[int | None, Count()] = says(
        "magazine places",
        "places in the tool magazine",
        "Count them, or take them from the machine's papers.",
        assumed=None,
        ranked=False,
        unused=(UnusedWhen.NO_TOOL_PLACES,),
    )
    price: Annotated[Fraction | None, Number()] = says(
        "price per machine",
        "what one more machine costs; its pallets and what moves them too where these have none",
        "Take it from the offer; 0 where another sum holds it, such as the one-off cost.",
        assumed=None,
        money="",
        ranked=False,
        unused=(UnusedWhen.NO_MONEY,),
    )
    resale: Annotated[Fraction | None, Number()] = says(
        "resale per machine",
        "what a machine that is given up brings",
        "Ask a dealer, or take the book value.",
        assumed=None,
        money="",
        ranked=False,
        unused=(UnusedWhen.NO_MONEY, UnusedWhen.TODAYS_RESALE),
    )
    pallet_price: Annotated[Fraction | None, Number()] = says(
        "price of each pallet",
        "each pallet beyond the first",
        "Take it from the offer; 0 where another sum holds it, such as the one-off cost.",
        assumed=None,
        money="",
        ranked=False,
        unused=(UnusedWhen.ONE_PALLET, UnusedWhen.NO_MONEY, UnusedWhen.OF_TODAY),
    )
    pallet_system_price: Annotated[Fraction | None, Number()] = says(
        "handling system each",
        "once for each machine with more than one pallet: what changes, moves and stores them",
        "Take it from the offer; 0 where another sum holds it, such as the one-off cost.",
        assumed=None,
        money="",
        ranked=False,
        unused=(UnusedWhen.ONE_PALLET, UnusedWhen.NO_MONEY, UnusedWhen.OF_TODAY),
    )
    yearly: Annotated[Fraction | None, Number()] = says(
        "yearly costs each",
        "service and the like, for each machine and year",
        "Take it from the service contract, or from the books of the last years.",
        assumed=None,
        money="a year",
        ranked=False,
        unused=(UnusedWhen.NO_MONEY,),
    )
    owned: Annotated[int | None, Count()] = says(
        "machines owned",
        "machines that are already there and need not be bought",
        "Count them.",
        assumed=None,
        in_words="as many as stand in the shop today; none of new machines",
        ranked=False,
        unused=(UnusedWhen.NO_MONEY,),
    )
    floor: Annotated[Quantity | None, Area(above_zero=True)] = says(
        "floor each",
        "floor that each machine takes, its doors and aisle included",
        "Measure it in the shop or on the plan of the floor.",
        assumed=None,
        ranked=False,
    )
    pallet_floor: Annotated[Quantity, Area()] = says(
        "floor per pallet",
        "floor that each pallet beyond the first takes",
        "Measure it in the shop, or take it from the offer.",
        assumed="0 m²",
        ranked=False,
        unused=(UnusedWhen.ONE_PALLET,),
    )
