"""Parts: how they are held, cut, handled and wanted (rule `keys.part`)."""

from fractions import Fraction
from typing import Annotated, Any, Literal

from whatif.study.schema.kinds import (
    Choice,
    Count,
    Flag,
    Id,
    Ids,
    Length,
    Lengths,
    Mass,
    Number,
    Percent,
    Time,
)
from whatif.study.schema.says import Model, NoMachineHas, Things, UnusedWhen, says
from whatif.units import Quantity

AS_PART = "as for the part"


class On(Model):
    """What differs for a part on one machine; None where the part's own value holds."""

    cycle: Annotated[Quantity | None, Time(above_zero=True)] = says(
        "cycle there",
        "spindle time per piece on this machine",
        "Time some pieces on this machine with a stop-watch, from cycle start to cycle end.",
        assumed=None,
        in_words=AS_PART,
        drawn=True,
    )
    load: Annotated[Quantity | None, Time()] = says(
        "load there",
        "a person's time to put one piece on, on this machine",
        "Time it at this machine with a stop-watch.",
        assumed=None,
        in_words=AS_PART,
        of_people=True,
        drawn=True,
    )
    unload: Annotated[Quantity | None, Time()] = says(
        "unload there",
        "a person's time to take one piece off, on this machine",
        "Time it at this machine with a stop-watch.",
        assumed=None,
        in_words=AS_PART,
        of_people=True,
        drawn=True,
    )
    setup: Annotated[Quantity | None, Time()] = says(
        "setup there",
        "a person's time to change the work holding to this part, on this machine",
        "Take it from the work orders booked on this machine, or time two or three changes.",
        assumed=None,
        in_words=AS_PART,
        tries="0 min..60 min..10 min",
        of_people=True,
        drawn=True,
    )
    per_pallet: Annotated[int | None, Count(1)] = says(
        "pieces per load there",
        "pieces per load on this machine",
        "Count the places for pieces in the fixture of this machine.",
        assumed=None,
        in_words=AS_PART,
    )
    prove_out: Annotated[Quantity | None, Time()] = says(
        "prove-out there",
        "a person at this machine, its spindle standing, before the first cut after a setup",
        "Ask the setter how long the careful first run takes on this machine, or time one.",
        assumed=None,
        in_words=AS_PART,
        tries="0 min..60 min..10 min",
        of_people=True,
        drawn=True,
    )


class Part(Model):
    """One part: how it is held, cut, handled and wanted."""

    size: Annotated[tuple[Quantity, ...] | None, Lengths("length", "width", "height")] = says(
        "size",
        "the box around the piece as it lies on the table; the third length is its height",
        "Take the largest sizes of the blank from the drawing, or measure one.",
        assumed=None,
        unused=(NoMachineHas(("table", "travel", "work_height"), once_given=True),),
    )
    mass: Annotated[Quantity, Mass()] = says(
        "mass per piece",
        "what one piece weighs before it is cut",
        "Weigh a blank, or take it from the drawing.",
        assumed="0 kg",
    )
    fixture_mass: Annotated[Quantity, Mass()] = says(
        "fixture mass",
        "what the fixture of one load weighs",
        "Weigh the fixture, or take it from its drawing.",
        assumed="0 kg",
    )
    turn: Annotated[
        Literal["flat", "any"],
        Choice(
            flat="it lies as its size says, turned only about the vertical",
            any="it may lie on any side, all pieces alike",
        ),
    ] = says(
        "may be turned",
        "flat: turned only about the vertical; any: on any side, all pieces alike",
        "Ask the setter on which sides the piece may be clamped.",
        assumed="flat",
        unused=(UnusedWhen.NO_SIZE, NoMachineHas(("table", "travel", "work_height"))),
    )
    gap: Annotated[Quantity, Length()] = says(
        "gap between pieces",
        "room left between two pieces for clamps and the tool",
        "Measure between two pieces in a fixture in use.",
        assumed="50 mm",
        unused=(UnusedWhen.NO_SIZE, NoMachineHas(("table", "travel"))),
    )
    edge: Annotated[Quantity, Length()] = says(
        "edge left free",
        "room left between the pieces and the table's edge",
        "Measure from the outermost piece to the table's edge.",
        assumed="25 mm",
        unused=(UnusedWhen.NO_SIZE, NoMachineHas(("table",))),
    )
    fixture_height: Annotated[Quantity, Length()] = says(
        "fixture height",
        "how high the fixture lifts the piece above the table",
        "Measure from the table to the seat of the piece.",
        assumed="0 mm",
        unused=(UnusedWhen.NO_SIZE, NoMachineHas(("work_height",))),
    )
    per_pallet: Annotated[int | None, Count(1)] = says(
        "pieces per load",
        "pieces that one pallet or table holds; more than fit are cut down, with a warning",
        "Count the places for pieces in the fixture.",
        assumed=None,
        in_words="as many as fit; 1 where that is unknown",
        unused=(UnusedWhen.HOLDS_THERE,),
    )
    machines: Annotated[tuple[str, ...] | None, Ids()] = says(
        "made on",
        "the machines on which this part may be made",
        "Look on the work order, or ask for which machines a program stands ready.",
        assumed=None,
        in_words="all machines",
        names="machine",
    )
    cycle: Annotated[Quantity, Time(above_zero=True)] = says(
        "cycle",
        "spindle time per piece",
        "Time some pieces with a stop-watch from cycle start to cycle end, over a whole "
        "load, and divide by its pieces.",
        usual="10 min",
        unused=(UnusedWhen.HOLDS_THERE_IN_MONEY,),
        drawn=True,
    )
    in_cut: Annotated[Quantity, Percent()] = says(
        "share in cut",
        "share of the cycle in which metal is cut",
        "Compare what the in-cut meter and the cycle meter gained over a day of this part.",
        assumed="100 %",
    )
    load: Annotated[Quantity, Time()] = says(
        "load",
        "a person's time to put one piece on",
        "Time ten pieces with a stop-watch, cleaning the seat included, and take the mean.",
        assumed="2 min",
        of_people=True,
        unused=(UnusedWhen.HOLDS_THERE,),
        drawn=True,
    )
    unload: Annotated[Quantity, Time()] = says(
        "unload",
        "a person's time to take one piece off",
        "Time ten pieces with a stop-watch and take the mean.",
        assumed="1 min",
        of_people=True,
        unused=(UnusedWhen.HOLDS_THERE,),
        drawn=True,
    )
    bench: Annotated[Quantity, Time()] = says(
        "bench work",
        "a person's time per piece away from the machine, after each visit",
        "Time deburring and gauging of ten pieces with a stop-watch and take the mean.",
        assumed="0 min",
        of_people=True,
        drawn=True,
        ranked_at=("1 min",),
    )
    setup: Annotated[Quantity, Time()] = says(
        "setup",
        "a person's time to change the work holding to this part: the changeover",
        "Take it from the setup line of the work order, or time two or three changes.",
        assumed="0 min",
        tries="0 min..60 min..10 min",
        of_people=True,
        unused=(UnusedWhen.HOLDS_THERE,),
        drawn=True,
        ranked_at=("20 min",),
    )
    prove_out: Annotated[Quantity, Time()] = says(
        "prove-out",
        "a person at the machine, its spindle standing, before the first cut after a setup",
        "Ask the setter how long the careful first run takes, or time one.",
        assumed="0 min",
        tries="0 min..60 min..10 min",
        of_people=True,
        unused=(UnusedWhen.HOLDS_THERE,),
        drawn=True,
        ranked_at=("20 min",),
    )
    first_piece: Annotated[Quantity, Time()] = says(
        "first piece release",
        "wait from the end of the first piece's cut until it is released",
        "Compare the times on the first-piece reports with those on the work orders.",
        assumed="0 min",
        tries="0 h..4 h..0.5 h",
        drawn=True,
        ranked_at=("30 min",),
    )
    first_piece_every: Annotated[
        Literal["setup", "order"],
        Choice(
            setup="a first piece is released after each setup",
            order="and for each order too, without a setup as well",
        ),
    ] = says(
        "first piece after",
        "whether a first piece is released after every setup, or also for every order",
        "Look in the inspection plan of the part.",
        assumed="setup",
        unused=(UnusedWhen.NO_FIRST_PIECE,),
    )
    unattended: Annotated[
        bool,
        Flag(
            yes="its pieces may be begun with nobody there",
            no="its pieces are begun only while somebody is on duty",
        ),
    ] = says(
        "runs unattended",
        "its pieces may be begun while nobody is on duty",
        "Ask the setter whether chips, tools and clamping can be trusted alone.",
        assumed=True,
    )
    batch: Annotated[int, Count(1)] = says(
        "order size",
        "pieces per order",
        "Look at the quantities of past work orders.",
        assumed=20,
        ranked_at=("10", "40"),
    )
    weekly: Annotated[Fraction | None, Number()] = says(
        "weekly demand",
        "pieces wanted per week; 0 removes the part from the weekly mix",
        "Divide the pieces delivered or ordered over a year by the weeks worked.",
        assumed=None,
        in_words="required; before another operation: what that one needs of good pieces",
        takes_out=True,
        usual=100,
        counts="a week",
        drawn=True,
    )
    numbers: Annotated[int, Count(1, 10_000)] = says(
        "part numbers it covers",
        "part numbers that this line stands for, alike in their times, each with fixtures of its "
        "own; every order is set up anew, while parts in lines of their own may share a setup",
        "Count the part numbers in the order book that run like this one.",
        assumed=1,
        ranked_at=("5",),
    )
    at_once: Annotated[int, Count(1)] = says(
        "pallets per order",
        "pallets and tables that may be at one order at one time",
        "Look in the cell: on how many machines and pallets is one order at most?",
        assumed=1,
        chosen=True,
        unused=(UnusedWhen.ONE_PALLET_IN_ALL,),
    )
    after: Annotated[str | None, Id()] = says(
        "comes after",
        "the operation before: each piece is made from a good piece of that part",
        "Look at the routing on the work order.",
        assumed=None,
        in_words="none",
        names="part",
    )
    stock: Annotated[int, Count()] = says(
        "pieces in stock",
        "pieces of it that lie there at the start, for the operation after it",
        "Count them between the two operations.",
        assumed=0,
        unused=(UnusedWhen.NOTHING_AFTER_IT,),
    )
    fixtures: Annotated[int | None, Count(1)] = says(
        "fixtures",
        "pallets and tables that can hold this part (each of its numbers) at one time",
        "Count the fixtures in the rack.",
        assumed=None,
        in_words="one for each pallet and table that may hold it; of several numbers one for each "
        "machine",
    )
    fixture_price: Annotated[Fraction | None, Number()] = says(
        "price per fixture",
        "what one more fixture for this part costs",
        "Take it from the last invoice or the estimate of the tool room; 0 where another sum holds "
        "it.",
        assumed=None,
        money="",
        ranked=False,
        unused=(UnusedWhen.NO_MONEY,),
    )
    contribution: Annotated[Fraction | None, Number()] = says(
        "contribution per piece",
        "what a good piece leaves: its price less material and outside work",
        "Take price, material and outside work from the costing of the part.",
        assumed=None,
        money="a piece",
    )
    material: Annotated[Fraction, Number()] = says(
        "material per piece",
        "what a scrapped piece has cost: material and outside work",
        "Take it from the costing of the part.",
        assumed=0,
        money="a piece",
        ranked=False,
        unused=(UnusedWhen.NO_MONEY, UnusedWhen.NO_SCRAP),
    )
    scrap: Annotated[Quantity, Percent(99)] = says(
        "scrap",
        "share of the pieces cut that are not good; made to order, an order starts more for it, in "
        "whole pieces",
        "Divide the pieces scrapped on past work orders by the pieces begun.",
        assumed="0 %",
        ranked_at=("2 %",),
    )
    tools: Annotated[int | None, Count()] = says(
        "magazine places taken",
        "places in the magazine that one set of its tools takes",
        "Count them on the tool list; a wide tool takes its neighbours' places too.",
        assumed=None,
        ranked=False,
        unused=(NoMachineHas(("pockets",)),),
    )
    tool_life: Annotated[int | None, Count()] = says(
        "tool life in pieces",
        "pieces until its shortest-lived tool is worn",
        "Look on the tool list, or count the pieces between two tool changes.",
        assumed=None,
        in_words="no limit",
        ranked_at=("50",),
    )
    sister_tools: Annotated[int, Count()] = says(
        "sister tools",
        "spares of the shortest-lived tool that stand in the magazine",
        "Count them on the tool list or in the magazine.",
        assumed=0,
        unused=(UnusedWhen.NO_TOOL_LIFE,),
    )
    tool_change: Annotated[Quantity, Time()] = says(
        "tool change",
        "a person at the machine, its spindle standing, to renew that tool and its spares",
        "Time two or three changes with a stop-watch, measuring in included.",
        assumed="5 min",
        of_people=True,
        unused=(UnusedWhen.NO_TOOL_LIFE,),
        drawn=True,
    )
    on: Things[On]

    def there(self, machine: str, key: str) -> Any:
        """What holds under a key on a machine: what is other there, or else the part's own."""
        other = getattr(self.on.get(machine), key, None)
        return getattr(self, key) if other is None else other
