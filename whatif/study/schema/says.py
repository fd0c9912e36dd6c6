"""How a model's field tells what its key means, and what else is to be known of it."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping
from enum import Enum, auto
from types import new_class
from typing import (
    TYPE_CHECKING,
    Annotated,
    Any,
    ClassVar,
    Final,
    ParamSpec,
    Self,
    TypeAlias,
    TypeVar,
    cast,
    get_args,
)

from typing_extensions import override

from whatif.records import dataclass
from whatif.study.raw import Raw
from whatif.study.schema.kinds import Id, Kind

if TYPE_CHECKING:
    # Loaded when the first study is validated: whoever only reads its texts need not wait for it.
    from pydantic import BaseModel, GetCoreSchemaHandler
    from pydantic_core import CoreSchema

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
    NO_PROVE_OUT = auto()
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
            of a step; common practice, no source. Of yes and no, the one that is tried where the
            other holds.
        of_people: whether it is a time that people take.
        drawn: whether it is a time or a demand that the likely range draws (rule `study.head`).
        varied: whether a curve over it may change what is drawn.
        ranked: whether it can move the output.
        chosen: whether it is a rule that the shop gives itself, neither measured nor bought.
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
    chosen: bool = False
    unused: tuple[Condition, ...] = ()
    inherited: bool = True


def _as_field(make: Callable[P, Says]) -> Callable[P, Any]:
    """The same maker, typed as what the field holds in the end: what its kind reads."""
    return make


says = _as_field(Says)
"""A field of a model, with what it says; the arguments are those of `Says`."""


@dataclass(frozen=True)
class ModelField:
    """A field of a model: a value, or what stands below it.

    Attributes:
        annotation: as the model has it.
        says: None of what is no key: an id, and all that stands below.
        kind: of a value; None else.
        below: the model of what stands below, None of a value.
        by_id: whether many stand below, each by its id.
    """

    annotation: Any
    says: Says | None
    kind: Kind[Any] | None = None
    below: type[Model] | None = None
    by_id: bool = False


def _model_field(annotation: Any, says: Says | None) -> ModelField:
    if isinstance(annotation, type) and issubclass(annotation, Model):
        return ModelField(annotation, says, below=annotation)
    arguments = get_args(annotation)
    below = arguments[-1] if arguments else None
    if isinstance(below, type) and issubclass(below, Model):
        return ModelField(annotation, says, below=below, by_id=True)
    return ModelField(annotation, says, below if isinstance(below, Kind) else None)


class Model:
    """A part of a study, typed and frozen; every default goes through its kind as well.

    What is missing below is as assumed, and there are no things. The class that validates is a
    pydantic model of the same fields, made when it is needed first (see :meth:`of`).
    """

    fields: ClassVar[Mapping[str, ModelField]]
    """In the order of the class; what a field says does not stand on the class itself."""

    def __init_subclass__(cls) -> None:
        annotations = inspect.get_annotations(cls)
        fields = {}
        for name, annotation in annotations.items():
            said = cls.__dict__.get(name)
            if said is not None:
                delattr(cls, name)
            fields[name] = _model_field(annotation, said)
        cls.fields = fields

    @classmethod
    def of(cls, values: object) -> Self:
        """A validated one of what a file holds; raises pydantic's ``ValidationError``."""
        return cast("Self", _validating(cls).model_validate(values))

    @classmethod
    def assumed(cls, name: str) -> Any:
        """The raw value that is assumed where nobody gives one."""
        said = cls.fields[name].says
        assert said is not None
        return said.assumed

    def is_entered(self, name: str) -> bool:
        """Whether the value of a field is given; else it is assumed."""
        return name in cast("BaseModel", self).model_fields_set

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Lets a model stand in another one's fields."""
        return handler.generate_schema(_validating(cls))


_VALIDATING: Final[dict[type[Model], type[BaseModel]]] = {}


def _validating(model: type[Model]) -> type[BaseModel]:
    """The pydantic model of a model's fields, which is one of its kind too; made once."""
    if model not in _VALIDATING:
        _VALIDATING[model] = _made_validating(model)
    return _VALIDATING[model]


def _made_validating(model: type[Model]) -> type[BaseModel]:
    from pydantic import BaseModel, ConfigDict, Field

    class Validating(BaseModel):
        model_config = ConfigDict(frozen=True, extra="forbid", validate_default=True)

        @override
        def __init_subclass__(cls, **_: Any) -> None:
            """Leave the fields to pydantic: `Model` would take them off the class."""

    def default(field: ModelField) -> Any:
        if field.below is not None:
            return Field(default_factory=dict if field.by_id else _validating(field.below))
        return Field(default=... if field.says is None else field.says.assumed)

    def body(namespace: dict[str, Any]) -> None:
        namespace |= {
            "__module__": model.__module__,
            "__qualname__": model.__qualname__,
            "__doc__": model.__doc__,
            "__annotations__": {name: field.annotation for name, field in model.fields.items()},
            **{name: default(field) for name, field in model.fields.items()},
        }

    made = new_class(model.__name__, (Validating, model), exec_body=body)
    return cast("type[BaseModel]", made)
