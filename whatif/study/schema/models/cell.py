"""What a scenario says of the cell as a whole (rule `keys.scenario`)."""

from fractions import Fraction
from typing import Annotated, Literal

from whatif.study.schema.kinds import Choice, Count, Currency, Flag, Number, Percent, Time, TimeOr
from whatif.study.schema.says import Model, Says, UnusedWhen, assumed
from whatif.units import Quantity

HOURS_OF_A_DAY = 24 * 3600


class Claimed(Model):
    """What people say in a meeting, kept apart from what the model finds (rule `keys.claimed`)."""

    attended_hours: Annotated[
        Quantity | None,
        Time(high_seconds=HOURS_OF_A_DAY),
        Says(
            "attended hours a day",
            "hours a day with somebody on duty, as claimed",
            "Write down what is said in the meeting.",
            "hours of the busiest calendar day that some shift covers",
            varied=False,
            ranked=False,
            unused=(UnusedWhen.NOTHING_CLAIMED,),
        ),
    ] = assumed(None)
    attended_utilization: Annotated[
        Quantity | None,
        Percent(),
        Says(
            "attended utilization",
            "share of the attended hours in which the spindles cut, as claimed",
            "Write down what is said in the meeting.",
            varied=False,
            ranked=False,
        ),
    ] = assumed(None)
    unattended_hours: Annotated[
        Quantity,
        Time(high_seconds=HOURS_OF_A_DAY),
        Says(
            "unattended hours a day",
            "hours a day that run with nobody there, as claimed",
            "Write down what is said in the meeting.",
            varied=False,
            ranked=False,
            unused=(UnusedWhen.NOTHING_CLAIMED,),
        ),
    ] = assumed("0 h")
    unattended_utilization: Annotated[
        Quantity,
        Percent(),
        Says(
            "unattended utilization",
            "share of the unattended hours in which the spindles cut, as claimed",
            "Write down what is said in the meeting.",
            varied=False,
            ranked=False,
            unused=(UnusedWhen.NOTHING_CLAIMED, UnusedWhen.NO_HOURS_CLAIMED),
        ),
    ] = assumed("100 %")
    machines: Annotated[
        int | None,
        Count(),
        Says(
            "machines",
            "machines that the claim is made for",
            "Write down what is said in the meeting.",
            "all machines of the scenario",
            varied=False,
            ranked=False,
            unused=(UnusedWhen.NOTHING_CLAIMED,),
        ),
    ] = assumed(None)


class HourMeters(Model):
    """The machines' own hour meters, all added up (rule `keys.hour-meters`)."""

    switched_on: Annotated[
        Quantity | None,
        Time(),
        Says(
            "hours switched on",
            "hours that the machines were switched on over the period, added up",
            "Read the control's hour meters of all machines at the start and the end of some "
            "weeks, and add up the differences.",
            varied=False,
            unused=(UnusedWhen.NO_HOURS_IN_CUT,),
        ),
    ] = assumed(None)
    in_cut: Annotated[
        Quantity | None,
        Time(),
        Says(
            "hours in cut",
            "hours that the machines cut metal over the same period, added up",
            "Read the control's hour meters of all machines at the start and the end of the "
            "same weeks, and add up the differences.",
            varied=False,
            unused=(UnusedWhen.NO_HOURS_ON,),
        ),
    ] = assumed(None)
    gap: Annotated[
        Literal["show", "people", "machine"],
        Choice("show", "people", "machine"),
        Says(
            "unexplained gap",
            "what becomes of the hours that the model finds beyond the meters: shown only, or "
            "laid to people who are away, or to machines that are tied up",
            "Watch the cell for an hour: does a ready machine wait for people, or people for "
            "the machine?",
            words=(
                ("show", "the hours that the meters lack are told, and nothing is changed"),
                ("people", "people were away: their time is cut until the hours agree"),
                ("machine", "machines were tied up: their time is cut until the hours agree"),
            ),
            unused=(UnusedWhen.NO_METERS,),
        ),
    ] = assumed("show")


class Unattended(Model):
    """What goes on while nobody is on duty (rule `keys.unattended`)."""

    through_breaks: Annotated[
        bool,
        Flag(),
        Says(
            "through breaks",
            "pieces are begun while everybody is on a break",
            "Ask whether the machines are left to run in the break.",
            words=(
                ("yes", "pieces are begun while everybody is on a break"),
                ("no", "what is in the machine is finished, nothing is begun"),
            ),
            unused=(UnusedWhen.NO_BREAKS,),
        ),
    ] = assumed(True)
    after_shift: Annotated[
        Quantity | str,
        TimeOr("until done"),
        Says(
            "after the shift",
            "how long after a shift's end pieces are still begun",
            "Ask how long the machines may run alone, or until they run out of pieces.",
            tries="0 h..16 h..2 h",
            unused=(UnusedWhen.NEVER_AFTER_HOURS,),
        ),
    ] = assumed("0 h")
    at_limit: Annotated[
        Literal["finish_piece", "hold"],
        Choice("finish_piece", "hold"),
        Says(
            "at the limit",
            "whether a piece that is begun is finished, or held until pieces may be begun again",
            "Ask whether the machines are switched off in the middle of a piece.",
            words=(
                ("finish_piece", "a piece that is begun is finished"),
                ("hold", "it is held, and gone on with when pieces may be begun again"),
            ),
            unused=(UnusedWhen.NO_LIMIT,),
        ),
    ] = assumed("finish_piece")


class Handling(Model):
    """What people spend beside the parts themselves (rule `keys.handling`)."""

    walk: Annotated[
        Quantity,
        Time(),
        Says(
            "walk per visit",
            "added to every visit of a person to a machine",
            "Time the way between machines and bench with a stop-watch, a few times, and take "
            "the mean.",
        ),
    ] = assumed("1 min")
    other_duties: Annotated[
        Quantity,
        Percent(0, 90),
        Says(
            "other duties",
            "share of people's time taken by other things",
            "Note for a day, every quarter of an hour, whether each person tends the cell.",
        ),
    ] = assumed("0 %")


class Sequence(Model):
    """What is taken next when a pallet is loaded (rule `keys.sequence`)."""

    rule: Annotated[
        Literal["keep_setup", "earliest_due_date"],
        Choice("keep_setup", "earliest_due_date"),
        Says(
            "next order",
            "whether the part in the fixture goes on while nothing is late, or the earliest due "
            "date always comes first",
            "Ask who decides what is loaded next, and by what.",
            words=(
                ("keep_setup", "the part in the fixture goes on while nothing is late"),
                ("earliest_due_date", "what is due first always comes first, setup or not"),
            ),
            unused=(UnusedWhen.ONE_PART,),
        ),
    ] = assumed("keep_setup")
    run_ahead: Annotated[
        Quantity,
        Time(),
        Says(
            "run ahead",
            "how far a part may be made ahead of the others",
            "Look how long before their due dates work orders are begun.",
            unused=(UnusedWhen.ONE_PART,),
        ),
    ] = assumed("1 week")


class Money(Model):
    """Prices and rates that belong to no machine or part (rule `keys.money`)."""

    currency: Annotated[
        str,
        Currency(),
        Says(
            "currency",
            "a label for all amounts",
            "Use the one of your books.",
            unused=(UnusedWhen.NO_MONEY, UnusedWhen.TOLD_BY_REFERENCE),
        ),
    ] = assumed("USD")
    wage: Annotated[
        Fraction,
        Number(),
        Says(
            "wage an hour",
            "what an hour of a person costs, with all that comes on top",
            "Ask the wages office.",
            money="an hour",
            ranked=False,
            unused=(UnusedWhen.NO_MONEY,),
        ),
    ] = assumed(0)
    weeks_per_year: Annotated[
        Fraction,
        Number(),
        Says(
            "weeks a year",
            "weeks worked in a year",
            "Count them in the works calendar.",
            counts="weeks",
            ranked=False,
            unused=(UnusedWhen.NO_MONEY,),
        ),
    ] = assumed(50)
    rate: Annotated[
        Quantity,
        Percent(0, None),
        Says(
            "rate a year",
            "what money costs a year",
            "Ask who keeps the books.",
            ranked=False,
            unused=(UnusedWhen.NO_MONEY, UnusedWhen.OF_REFERENCE),
        ),
    ] = assumed("8 %")
    years: Annotated[
        Fraction,
        Number(),
        Says(
            "years",
            "years over which the money is counted",
            "Ask who keeps the books.",
            counts="years",
            ranked=False,
            unused=(UnusedWhen.NO_MONEY, UnusedWhen.OF_REFERENCE),
        ),
    ] = assumed(7)
    floor_price: Annotated[
        Fraction,
        Number(),
        Says(
            "floor price",
            "what a square metre of floor costs a year",
            "Divide a year's rent, heating and light by the square metres of the shop.",
            money="a m² and year",
            ranked=False,
            unused=(UnusedWhen.NO_MONEY,),
        ),
    ] = assumed(0)
    one_off: Annotated[
        Fraction,
        Number(),
        Says(
            "once",
            "installation, training and the like, paid once",
            "Take it from the offer, and add the days of your own people.",
            money="",
            ranked=False,
            unused=(UnusedWhen.NO_MONEY, UnusedWhen.OF_REFERENCE),
        ),
    ] = assumed(0)
