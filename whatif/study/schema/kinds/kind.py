"""What a kind of value is: how it is read, what is allowed, how an editor shows it."""

from abc import ABC, abstractmethod
from collections.abc import Iterable
from functools import lru_cache
from types import NoneType
from typing import TYPE_CHECKING, Any, ClassVar, Final, Generic, TypeVar, get_args

from whatif.records import dataclass
from whatif.study.raw import Raw, frozen, kind_of, shown
from whatif.units import Dimension

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler
    from pydantic_core import CoreSchema

NONE_TYPED: Final = ("none", "[]")
"""What is typed for the empty list."""

T = TypeVar("T")
R = TypeVar("R")


class KindError(ValueError):
    """A value that is not of its kind: `why` it is refused and what is `allowed`."""

    def __init__(self, why: str, allowed: str) -> None:
        super().__init__(why, allowed)
        self.why = why
        self.allowed = allowed

    def __str__(self) -> str:
        return f"{self.why}; allowed: {self.allowed}"


@dataclass(frozen=True)
class Kind(ABC, Generic[T]):
    """A kind of value in a study file (rule `study.ranges`).

    A kind stands in the annotation of a model's field, and is at once what the
    field is validated with. `numeric` tells whether a value of this kind can be
    varied in steps; `dimension` of what its unit is, None for a value without one.
    """

    numeric: ClassVar[bool] = False
    dimension: ClassVar[Dimension | None] = None

    @property
    @abstractmethod
    def allowed(self) -> str:
        """What may stand in the file, in words: "a whole number from 1 to 200"."""

    @property
    def typed_as(self) -> str:
        """What may be typed into an editor, in words; the file's form where it is the same."""
        return self.allowed

    @property
    def choices(self) -> tuple[tuple[Raw, str], ...]:
        """All values that there are, where they are a few, each with what it says."""
        return ()

    @abstractmethod
    def _read(self, raw: Raw) -> T:
        """The typed value of `raw`; raises `KindError`."""

    def read(self, raw: object) -> T:
        """The typed value of what a file holds; raises `KindError`, a ValueError."""
        value: T = _read_once(self, frozen(raw))
        return value

    def typed(self, text: str) -> Raw:
        """What a file holds for the text that somebody typed into an editor.

        Never raises: what makes no sense is handed on as typed, for `read` to refuse.
        """
        return text.strip()

    def typed_over(self, text: str, standing: Iterable[str], units: str) -> Raw:
        """The same, where a bare number takes its unit from what stands there.

        `standing` has texts as an editor shows them, the nearest first; where none of them has a
        unit the usual one of "metric" or "inch" is taken.
        """
        return self.typed(text)

    def written(self, raw: Raw) -> str:
        """The text an editor shows for what a file holds; the way back from `typed`."""
        return raw if isinstance(raw, str) else shown(raw)

    def in_units(self, raw: Raw, units: str) -> str | None:
        """What a file holds, shown in "metric" or "inch"; None where there is nothing to turn."""
        return None

    def in_short(self, raw: Raw) -> str:
        """What a file holds in fewer words, where there are few cells; "" where none are fewer."""
        return ""

    def refuse(self, why: str) -> KindError:
        """The error to raise for a value of which `why` says what is wrong."""
        return KindError(why, self.allowed)

    def listed(self, raw: Raw, between: str) -> str:
        """A list of texts with something `between` them; anything else as the file has it."""
        if isinstance(raw, tuple) and raw and all(isinstance(item, str) for item in raw):
            return between.join(map(str, raw))
        return Kind.written(self, raw)

    def must_be(self, sort: type[R], raw: Raw, wanted: str) -> R:
        """`raw`, where it is of that sort; else raises `KindError`, saying what is wanted."""
        if not isinstance(raw, sort):
            raise self.refuse(f"it is {kind_of(raw)}, and {wanted} is wanted")
        return raw

    def __get_pydantic_core_schema__(
        self, source: Any, handler: "GetCoreSchemaHandler"
    ) -> "CoreSchema":
        """Lets pydantic validate a field with `read`; None passes where the type has it."""
        from pydantic_core import core_schema

        schema = core_schema.no_info_plain_validator_function(self.read)
        return core_schema.nullable_schema(schema) if NoneType in get_args(source) else schema


@lru_cache(maxsize=8192, typed=True)
def _read_once(kind: Kind[Any], raw: Raw) -> Any:
    # The same texts are read again after every edit, in every scenario that inherits them.
    return kind._read(raw)
