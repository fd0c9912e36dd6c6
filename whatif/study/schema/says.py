"""How a model's field tells what its key means, beside what kind it is."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, TypeAlias, TypeVar

from pydantic import BaseModel, ConfigDict, Field

from whatif.study.raw import Raw
from whatif.study.schema.kinds import Id

M = TypeVar("M")

Things: TypeAlias = Mapping[Annotated[str, Id()], M]
"""Things of one sort by their ids, in the order of the file."""


@dataclass(frozen=True)
class Says:
    """What a key means, in trade words.

    `label` is short enough for a row of a table; `meaning` says what the number
    does; `find` is how a shop finds it; `default` puts the default into words
    where it is no value, or where the bare value would not be understood.
    """

    label: str
    meaning: str
    find: str
    default: str | None = None


class Model(BaseModel):
    """A part of a study, typed and frozen; every default goes through its kind as well."""

    model_config = ConfigDict(frozen=True, extra="forbid", validate_default=True)


def assumed(raw: Raw | None) -> Any:
    """The default of a key, as the book has it; None where it has none.

    Typed as anything: what the field holds in the end is what its kind reads.
    """
    return Field(default=raw)
