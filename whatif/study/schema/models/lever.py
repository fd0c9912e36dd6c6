"""What a search may change, and what that costs (rule `keys.lever`)."""

from fractions import Fraction
from typing import Annotated

from whatif.study.schema.kinds import Number, Text, Texts
from whatif.study.schema.says import Model, says


class Lever(Model):
    """One thing that a search for the best next step may change.

    Beside these keys a lever may have a table ``also``: values by the keys of a scenario, which are
    entered with whatever value of the lever.
    """

    title: Annotated[str, Text()] = says(
        "title",
        "what it is called where it is told",
        "Say what is done, such as: helper before noon.",
        assumed="",
        in_words="the key",
    )
    key: Annotated[str, Text()] = says(
        "key",
        "the key of a scenario that is changed; * in the place of an id means all in use",
        "Take it from the help of a row (F1), such as machine.mill.pallets or part.*.setup.",
    )
    values: Annotated[tuple[str, ...], Texts()] = says(
        "values",
        "what is tried, each as it is typed; +1 or -10 min is so much more or less than now, 65 % "
        "of what is no percentage that share of it; none: it is left out of the search",
        "Enter what could really be had.",
    )
    price: Annotated[Fraction, Number()] = says(
        "price once",
        "what it costs once, whatever the value",
        "Take it from an offer.",
        assumed=0,
        money="",
    )
    price_each: Annotated[Fraction, Number()] = says(
        "price of each more",
        "of a count: what each one more costs once, over all machines; what has a price of its "
        "own in the scenario is not entered here again",
        "Take it from an offer.",
        assumed=0,
        money="each",
    )
    yearly: Annotated[Fraction, Number()] = says(
        "costs a year",
        "what it costs a year beside wages, which follow from the hours of shifts",
        "Take it from the contract.",
        assumed=0,
        money="a year",
    )
