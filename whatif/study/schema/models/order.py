"""Rush orders, real orders and stops (rule `keys.stop`)."""

from fractions import Fraction
from typing import Annotated

from whatif.study.schema.kinds import Count, Flag, Id, Moment, Number, Time, WeekMoment
from whatif.study.schema.says import Model, UnusedWhen, says
from whatif.units import Quantity


class Stop(Model):
    """A kind of stop of the machines: how often, how long, and whether it needs a person."""

    every: Annotated[Quantity, Time(above_zero=True, zero_takes_out=True)] = says(
        "cutting between stops",
        "mean cutting time of a machine between two stops of this kind; 0 removes it",
        "Divide the hours in cut over some months by the stops in the maintenance book.",
        takes_out=True,
        usual="40 h",
        drawn=True,
    )
    repair: Annotated[Quantity, Time()] = says(
        "repair",
        "how long the stop lasts once it is being seen to",
        "Take the mean of the times in the maintenance book.",
        usual="30 min",
        of_people=True,
        drawn=True,
    )
    needs_person: Annotated[
        bool,
        Flag(yes="a person must see to it; with nobody there it waits", no="it ends by itself"),
    ] = says(
        "needs a person",
        "whether a person must see to it, or it ends by itself",
        "Ask the people at the machine.",
        assumed=True,
    )


class Rush(Model):
    """A rush order, to be tried out in the first week measured (rule `keys.rush`)."""

    part: Annotated[str, Id()] = says(
        "part",
        "the part that is wanted in a rush",
        "Take it from the customer's call.",
        names="part",
    )
    pieces: Annotated[int, Count()] = says(
        "pieces",
        "pieces of the rush order; 0 removes it",
        "Take it from the customer's call.",
        takes_out=True,
        usual=1,
        varied=False,
        ranked=False,
    )
    arrives: Annotated[int | str, Moment()] = says(
        "arrives",
        'when it reaches the cell; "any hour" tries every attended hour of a week',
        "Choose the moment in question, or leave it open.",
        assumed="any hour",
    )
    price: Annotated[Fraction, Number()] = says(
        "price",
        "what the rush order brings",
        "Take it from the offer.",
        assumed=0,
        money="",
        varied=False,
        ranked=False,
        unused=(UnusedWhen.NO_MONEY,),
    )


class Order(Model):
    """A real order with a due date (rule `keys.order`)."""

    part: Annotated[str, Id()] = says(
        "part", "the part that is ordered", "Take it from the work order.", names="part"
    )
    pieces: Annotated[int, Count()] = says(
        "pieces",
        "pieces ordered; 0 removes the order",
        "Take it from the work order.",
        takes_out=True,
        usual=20,
    )
    arrives: Annotated[int, WeekMoment()] = says(
        "arrives",
        "from when it may be worked on, counted from the first week measured",
        "Take the release date and the date of the material from the work order.",
        assumed="mon 00:00",
        in_words="the start of week 1",
    )
    due: Annotated[int, WeekMoment()] = says(
        "due",
        "when its last piece must be off, counted from the first week measured",
        "Take the due date from the work order.",
    )
