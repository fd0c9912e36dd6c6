"""How a model's field tells what its key means, and what else is to be known of it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum, auto
from typing import Annotated, Any, ParamSpec, TypeAlias, TypeVar

from pydantic import BaseModel, ConfigDict, Field

from whatif.study.raw import Raw
from whatif.study.schema.kinds import Id

M = TypeVar("M")
P = ParamSpec("P")

Things: TypeAlias = Mapping[Annotated[str, Id()], M]
"""Things of one sort by their ids, in the order of the file."""


class UnusedWhen(Enum):
    """When the value of a key changes no answer; `whatif.study.check.unused` finds out whether."""

    TAKEN_OUT = auto()
    PART_TAKEN_OUT = auto()
    NOT_MADE_THERE = auto()
    HOLDS_THERE = auto()  # on each machine something else is entered
    HOLDS_THERE_IN_MONEY = auto()  # the same, of what else tells what a piece is worth
    ONE_PALLET = auto()
    ONE_PALLET_IN_ALL = auto()
    ONE_PART = auto()
    NOTHING_AFTER_IT = auto()
    NO_SCRAP = auto()
    NO_MONEY = auto()
    OF_REFERENCE = auto()  # the reference is measured against itself
    OF_TODAY = auto()  # nothing is bought for what is there
    TOLD_BY_REFERENCE = auto()
    TODAYS_RESALE = auto()
    NO_SIZED_PART = auto()
    NOTHING_LAID_OUT = auto()
    NO_TOOL_PLACES = auto()
    NO_SIZE = auto()
    NO_TOOL_LIFE = auto()
    NO_FIRST_PIECE = auto()
    NO_BREAKS = auto()
    NEVER_AFTER_HOURS = auto()
    NOTHING_AFTER_SHIFT = auto()
    NO_LIMIT = auto()
    NOTHING_SAID = auto()
    NO_HOURS_SAID = auto()
    NO_METERS = auto()
    NO_HOURS_IN_CUT = auto()
    NO_HOURS_ON = auto()


@dataclass(frozen=True)
class NoMachineHas:
    """Unused when no machine on which the part may run has any of some keys given.

    `once_given`: the key's own value is asked for all the same as long as there is none.
    """

    keys: tuple[str, ...]
    once_given: bool = False


Condition: TypeAlias = UnusedWhen | NoMachineHas


@dataclass(frozen=True)
class Says:
    """What a key means, in trade words, and how it is to be treated.

    Attributes:
        label: short enough for a row of a table.
        meaning: what the number does.
        find: how a shop finds it.
        assumed: the raw value where none is given, None where there is none; a key that leaves
            this out is required.
        in_words: what is assumed in words, where it is no value or would not be understood bare.
        names: the sort of thing whose ids stand in it.
        takes_out: whether a 0 takes the thing out.
        usual: what it has in a thing that is added, or brought back; common practice, no source.
        money: for an amount of money, what it is paid for ("a piece", or "").
        counts: what a bare number counts, where that is not plain from the label.
        tries: the values that are tried where it is 0 or not given, FROM..TO..STEP; common
            practice, no source.
        ranked_at: where nobody has said it, one or two values that the ranking tries in the place
            of a step; common practice, no source.
        of_people: whether it is a time that people take.
        drawn: whether it is a time or a demand that the likely range draws (rule `study.head`).
        varied: whether a curve over it may change what is drawn.
        ranked: whether it can move the output.
        unused: when it changes no answer; the first that holds is told.
        inherited: whether a scenario has it from its parent too.
    """

    label: str
    meaning: str
    find: str
    # Pydantic's own sign for a field without a default.
    assumed: Any = ...
    in_words: str | None = None
    names: str = ""
    takes_out: bool = False
    usual: Raw | None = None
    money: str | None = None
    counts: str = ""
    tries: str = ""
    ranked_at: tuple[str, ...] = ()
    of_people: bool = False
    drawn: bool = False
    varied: bool = True
    ranked: bool = True
    unused: tuple[Condition, ...] = ()
    inherited: bool = True


def _field(make: Callable[P, Says]) -> Callable[P, Any]:
    """What makes a field of a model of what a key says.

    Typed as anything: what the field holds in the end is what its kind reads.
    """

    def field(*args: P.args, **kwargs: P.kwargs) -> Any:
        said = make(*args, **kwargs)
        info = Field(default=said.assumed)
        info.metadata.append(said)
        return info

    return field


says = _field(Says)
"""A field of a model, with what it says; the arguments are those of `Says`."""


class Model(BaseModel):
    """A part of a study, typed and frozen; every default goes through its kind as well."""

    model_config = ConfigDict(frozen=True, extra="forbid", validate_default=True)
