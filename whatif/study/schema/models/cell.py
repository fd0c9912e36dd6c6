"""What a scenario says of the cell as a whole (rule `keys.scenario`)."""

from fractions import Fraction
from typing import Annotated, Literal

from whatif.study.schema.kinds import (
    DAYS,
    Choice,
    Count,
    Currency,
    Days,
    Flag,
    Number,
    Percent,
    Time,
    TimeInHours,
    TimeOr,
)
from whatif.study.schema.says import Model, UnusedWhen, says
from whatif.units import Quantity

HOURS_OF_A_DAY = 24 * 3600


class WithPeople(Model):
    """What is said of the hours in which somebody is there."""

    hours: Annotated[Quantity | None, TimeInHours(high_seconds=HOURS_OF_A_DAY)] = says(
        "hours a day with people",
        "hours a day with somebody there, as entered",
        "Write down what is said in the meeting.",
        assumed=None,
        in_words="hours of the busiest calendar day that some shift covers",
        ranked=False,
        unused=(UnusedWhen.NOTHING_SAID,),
    )
    cutting: Annotated[Quantity | None, Percent()] = says(
        "cutting, with people",
        "share of the hours with people in which a spindle cuts, as entered",
        "Write down what is said in the meeting.",
        assumed=None,
        ranked=False,
    )


class WithNobody(Model):
    """What is said of the hours in which nobody is there."""

    hours: Annotated[Quantity, TimeInHours(high_seconds=HOURS_OF_A_DAY)] = says(
        "hours a day with nobody",
        "hours a day that run with nobody there, as entered",
        "Write down what is said in the meeting.",
        assumed="0 h",
        ranked=False,
        unused=(UnusedWhen.NOTHING_SAID,),
    )
    cutting: Annotated[Quantity, Percent()] = says(
        "cutting, with nobody",
        "share of the hours with nobody in which a spindle cuts, as entered",
        "Write down what is said in the meeting.",
        assumed="100 %",
        ranked=False,
        unused=(UnusedWhen.NOTHING_SAID, UnusedWhen.NO_HOURS_SAID),
    )


class WhatIsSaid(Model):
    """What people say in a meeting, kept apart from what the model finds (rule `keys.said`)."""

    with_people: WithPeople
    with_nobody: WithNobody
    machines: Annotated[int | None, Count()] = says(
        "machines",
        "machines that it is said of",
        "Write down what is said in the meeting.",
        assumed=None,
        in_words="all machines of the scenario",
        ranked=False,
        unused=(UnusedWhen.NOTHING_SAID,),
    )


class HourMeters(Model):
    """The machines' own hour meters, all added up (rule `keys.hour-meters`)."""

    switched_on: Annotated[Quantity | None, TimeInHours()] = says(
        "hours switched on",
        "hours that all machines together were switched on over the period",
        "Read the control's hour meters of all machines at the start and the end of some "
        "weeks, and add up the differences.",
        assumed=None,
        varied=False,
        unused=(UnusedWhen.NO_HOURS_IN_CUT,),
        inherited=False,
    )
    in_cut: Annotated[Quantity | None, TimeInHours()] = says(
        "hours in cut",
        "hours that all machines together cut metal over the same period",
        "Read the control's hour meters of all machines at the start and the end of the "
        "same weeks, and add up the differences.",
        assumed=None,
        varied=False,
        unused=(UnusedWhen.NO_HOURS_ON,),
        inherited=False,
    )
    weeks: Annotated[Fraction | None, Number(above_low=True)] = says(
        "weeks metered",
        "length of the period over which the meters were read",
        "Count the weeks between the two readings.",
        assumed=None,
        counts="weeks",
        varied=False,
        ranked=False,
        unused=(UnusedWhen.NO_METERS,),
        inherited=False,
    )
    gap: Annotated[
        Literal["show", "people", "machine"],
        Choice(
            show="the hours that the meters lack are told, and nothing is changed",
            people="people were away: their time is cut until the hours agree",
            machine="machines were tied up: their time is cut until the hours agree",
        ),
    ] = says(
        "unexplained gap",
        "what becomes of the hours that the model finds beyond the meters: shown only, or "
        "laid to people who are away, or to machines that are tied up",
        "Watch the cell for an hour: does a ready machine wait for people, or people for "
        "the machine?",
        assumed="show",
        unused=(UnusedWhen.NO_METERS,),
        inherited=False,
    )


class Unattended(Model):
    """What goes on while nobody is on duty (rule `keys.unattended`)."""

    through_breaks: Annotated[
        bool,
        Flag(
            yes="pieces are begun while everybody is on a break",
            no="what is in the machine is finished, nothing is begun",
        ),
    ] = says(
        "run through breaks",
        "pieces are begun while everybody is on a break",
        "Ask whether the machines are left to run in the break.",
        assumed=True,
        unused=(UnusedWhen.NO_BREAKS,),
    )
    after_shift: Annotated[Quantity | str, TimeOr("until done")] = says(
        "hours after the shift",
        "how long after a shift's end pieces are still begun",
        "Ask how long the machines may run alone, or until they run out of pieces.",
        assumed="0 h",
        tries="0 h..16 h..2 h",
        unused=(UnusedWhen.NEVER_AFTER_HOURS,),
        ranked_at=("2 h",),
        chosen=True,
    )
    nights: Annotated[tuple[str, ...], Days(may_be_none=True)] = says(
        "nights",
        "the days after whose shifts pieces are begun with nobody there; after those of other "
        "days nothing is",
        "Ask after which days the machines are left to run alone, a Friday too.",
        assumed=DAYS,
        unused=(UnusedWhen.NEVER_AFTER_HOURS, UnusedWhen.NOTHING_AFTER_SHIFT),
    )
    at_limit: Annotated[
        Literal["finish_piece", "hold"],
        Choice(
            finish_piece="a piece that is begun is finished",
            hold="it is held, and gone on with when pieces may be begun again",
        ),
    ] = says(
        "when the hours end",
        "whether a piece that is begun is finished, or held until pieces may be begun again",
        "Ask whether the machines are switched off in the middle of a piece.",
        assumed="finish_piece",
        unused=(UnusedWhen.NO_LIMIT,),
    )


class Handling(Model):
    """What people spend beside the parts themselves (rule `keys.handling`)."""

    walk: Annotated[Quantity, Time()] = says(
        "walk per visit",
        "added to every visit of a person to a machine",
        "Time the way between machines and bench with a stop-watch, a few times, and take "
        "the mean.",
        assumed="1 min",
        of_people=True,
        drawn=True,
    )
    scatter: Annotated[Quantity, Percent()] = says(
        "scatter of visits",
        "how much one visit differs from the next (standard deviation over mean), in the likely "
        "range only",
        "Time twenty visits of one kind, and divide the standard deviation by the mean.",
        assumed="30 %",
        varied=False,
        ranked=False,
    )
    other_duties: Annotated[Quantity, Percent(90)] = says(
        "other duties",
        "share of people's time taken by other things",
        "Note for a day, every quarter of an hour, whether each person tends the cell.",
        assumed="0 %",
        ranked_at=("10 %",),
    )
    setter_stays: Annotated[
        bool,
        Flag(
            yes="whoever sets up stays for the prove-out, and prove-outs come before visits",
            no="whoever sets up goes on to what was asked for first, be it a long setup",
        ),
    ] = says(
        "setter stays",
        "whoever sets up stays for the prove-out; prove-outs are served ahead of visits",
        "Ask what whoever has set up does until the pallet is in the spindle and wants its "
        "prove-out.",
        assumed=False,
        unused=(UnusedWhen.NO_PROVE_OUT,),
        ranked_at=("yes",),
        chosen=True,
    )


class Sequence(Model):
    """What is taken next when a pallet is loaded (rule `keys.sequence`)."""

    rule: Annotated[
        Literal["keep_setup", "earliest_due_date"],
        Choice(
            keep_setup="the part in the fixture goes on while its previous order is due no later "
            "than any other part's next",
            earliest_due_date="what is due first always comes first, setup or not",
        ),
    ] = says(
        "next order",
        "whether the part in the fixture goes on, while its previous order is due no later than "
        "any other part's next, or the earliest due date always comes first",
        "Ask who decides what is loaded next, and by what.",
        assumed="keep_setup",
        unused=(UnusedWhen.ONE_PART,),
    )
    run_ahead: Annotated[Quantity, Time()] = says(
        "begin before due by",
        "how far ahead of its due date an order may be begun; flat out, how far a part may be "
        "made ahead of the others",
        "Look how long before their due dates work orders are begun.",
        chosen=True,
        assumed="1 week",
    )
    make: Annotated[
        Literal["to_order", "flat_out"],
        Choice(
            to_order="the cell stands when all that is wanted has been made",
            flat_out="the cell makes on and on, whether it is wanted or not",
        ),
    ] = says(
        "make",
        "whether no more is made than is wanted, or as much as the cell can",
        "Ask whether the machines stand when all orders are done.",
        assumed="to_order",
    )


class Money(Model):
    """Prices and rates that belong to no machine or part (rule `keys.money`)."""

    currency: Annotated[str, Currency()] = says(
        "currency",
        "a label for all amounts",
        "Use the one of your books.",
        assumed="USD",
        unused=(UnusedWhen.NO_MONEY, UnusedWhen.TOLD_BY_REFERENCE),
    )
    wage: Annotated[Fraction | None, Number()] = says(
        "wage per hour",
        "what an hour of a person costs, with all that comes on top",
        "Ask the wages office.",
        assumed=None,
        money="an hour",
        ranked=False,
        unused=(UnusedWhen.NO_MONEY,),
    )
    weeks_per_year: Annotated[Fraction, Number()] = says(
        "weeks per year",
        "weeks worked in a year",
        "Count them in the works calendar.",
        assumed=50,
        counts="weeks",
        ranked=False,
        unused=(UnusedWhen.NO_MONEY,),
    )
    rate: Annotated[Quantity, Percent(None)] = says(
        "discount rate",
        "what money costs a year",
        "Ask who keeps the books.",
        assumed="8 %",
        ranked=False,
        unused=(UnusedWhen.NO_MONEY, UnusedWhen.OF_REFERENCE),
    )
    years: Annotated[Fraction, Number()] = says(
        "years",
        "years over which the money is counted",
        "Ask who keeps the books.",
        assumed=7,
        counts="years",
        ranked=False,
        unused=(UnusedWhen.NO_MONEY, UnusedWhen.OF_REFERENCE),
    )
    floor_price: Annotated[Fraction, Number()] = says(
        "floor price",
        "what a square metre of floor costs a year",
        "Divide a year's rent, heating and light by the square metres of the shop.",
        assumed=0,
        money="a m² and year",
        ranked=False,
        unused=(UnusedWhen.NO_MONEY,),
    )
    one_off: Annotated[Fraction, Number()] = says(
        "one-off cost",
        "installation, training and the like, or one sum for a whole cell, paid once",
        "Take it from the offer, and add the days of your own people. Where it holds machines, "
        "pallets and what moves them, enter 0 as their prices.",
        assumed=0,
        money="",
        ranked=False,
        unused=(UnusedWhen.NO_MONEY,),
    )
    yearly: Annotated[Fraction, Number()] = says(
        "yearly costs",
        "service contracts and the like, a year",
        "Take them from the contracts.",
        assumed=0,
        money="a year",
        ranked=False,
        unused=(UnusedWhen.NO_MONEY,),
    )
    spindle_hour: Annotated[Fraction, Number()] = says(
        "cost per spindle hour",
        "tools, power and coolant for an hour in cycle",
        "Divide a year's tools, power and coolant by the hours in cycle of that year.",
        assumed=0,
        money="a spindle hour",
        ranked=False,
        unused=(UnusedWhen.NO_MONEY,),
    )
    ramp: Annotated[Quantity, Time()] = says(
        "ramp",
        "how long it takes until the full gain is reached",
        "Ask how long the last new machine or shift took to run as planned.",
        assumed="0 weeks",
        ranked=False,
        unused=(UnusedWhen.NO_MONEY,),
    )
