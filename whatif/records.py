"""Frozen records, as `dataclasses` makes them but in a fraction of the time and the memory.

The standard library writes six methods of each class as text and compiles them, which takes half a
millisecond; of the hundreds of records of this program most are never made in a run that loads
them. Here a record's methods are shared, and its `__init__` is compiled when the first one is made.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Collection
from operator import attrgetter
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    # The type checker is to see the decorator that it knows.
    from dataclasses import dataclass as dataclass
else:

    def dataclass(cls=None, /, **options):
        """`dataclasses.dataclass`; a frozen record is made in less time."""
        if cls is None:
            return lambda made: dataclass(made, **options)
        is_plain = options.keys() <= {"frozen", "slots", "kw_only"} and options.get("frozen")
        if not is_plain:
            return dataclasses.dataclass(cls, **options)
        # One that inherits must say itself that it is frozen, which costs it two texts more.
        options["frozen"] = any(dataclasses.is_dataclass(base) for base in cls.__bases__)
        return _frozen(dataclasses.dataclass(cls, init=False, repr=False, eq=False, **options))


_to_compile: dict[type[Any], Callable[[], None]] = {}
"""Of each record of which none has been made yet: what compiles its `__init__`."""


def compile_records(modules: Collection[str]) -> None:
    """Compile what the first records of these modules would have to wait for."""
    for made, compiles in list(_to_compile.items()):
        if made.__module__ in modules:
            compiles()


def _frozen(made: type[Any]) -> type[Any]:
    """A record's methods; those that its class has of its own stay."""
    every = dataclasses.fields(made)
    compared = [field.name for field in every if field.compare]
    told = [field.name for field in every if field.repr]
    names = [field.name for field in every]
    values = _getter(compared)

    def compiles() -> None:
        made.__init__ = _init(made, every)
        _to_compile.pop(made, None)

    def __init__(self: Any, *args: Any, **kwargs: Any) -> None:
        compiles()
        made.__init__(self, *args, **kwargs)

    def __repr__(self: Any) -> str:
        said = ", ".join(f"{name}={getattr(self, name)!r}" for name in told)
        return f"{type(self).__qualname__}({said})"

    def __eq__(self: Any, other: object) -> bool:
        if other.__class__ is not self.__class__:
            return NotImplemented
        return self is other or bool(values(self) == values(other))

    def __hash__(self: Any) -> int:
        return hash(values(self))

    def __getstate__(self: Any) -> list[Any]:
        return [getattr(self, name) for name in names]

    def __setstate__(self: Any, state: list[Any]) -> None:
        for name, value in zip(names, state, strict=True):
            object.__setattr__(self, name, value)

    own = [__init__, __repr__, __eq__, __hash__, __setattr__, __delattr__]
    if "__slots__" in made.__dict__:
        own += [__getstate__, __setstate__]
    for method in own:
        # A class that says when two are equal has None in the place of its hash.
        if made.__dict__.get(method.__name__) is None:
            setattr(made, method.__name__, method)
    if made.__init__ is __init__:
        _to_compile[made] = compiles
    # So that a record may inherit from it.
    made.__dataclass_params__.frozen = True
    return made


def __setattr__(self: Any, name: str, value: object) -> None:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


def __delattr__(self: Any, name: str) -> None:
    raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")


def _getter(names: list[str]) -> Callable[[Any], object]:
    """All that two records are compared by, and that a record's hash is made of."""
    if len(names) > 1:
        return attrgetter(*names)
    if names:
        value = attrgetter(*names)
        return lambda record: (value(record),)
    return lambda record: ()


def _init(made: type[Any], every: tuple[dataclasses.Field[Any], ...]) -> Callable[..., None]:
    """What takes the fields' values, in their order, and fills a new record."""
    has_slots = "__slots__" in made.__dict__
    known: dict[str, Any] = {"_set": object.__setattr__, "_none": dataclasses.MISSING}
    taken: dict[bool, list[str]] = {False: [], True: []}
    body = []
    for field in every:
        name = field.name
        value = name
        if field.default is not dataclasses.MISSING:
            known[f"_of_{name}"] = field.default
            taken[field.kw_only is True].append(f"{name}=_of_{name}")
        elif field.default_factory is not dataclasses.MISSING:
            known[f"_of_{name}"] = field.default_factory
            taken[field.kw_only is True].append(f"{name}=_none")
            value = f"_of_{name}() if {name} is _none else {name}"
        else:
            taken[field.kw_only is True].append(name)
        slot = getattr(getattr(made, name, None), "__set__", None)
        if has_slots and slot is not None:
            known[f"_set_{name}"] = slot
            body.append(f"_set_{name}(self, {value})")
        else:
            body.append(f"_set(self, {name!r}, {value})")
    if hasattr(made, "__post_init__"):
        body.append("self.__post_init__()")
    by_name = ["*", *taken[True]] if taken[True] else []
    head = ", ".join(["self", *taken[False], *by_name])
    exec(f"def __init__({head}):\n " + "\n ".join(body or ["pass"]), known)
    init: Callable[..., None] = known["__init__"]
    init.__qualname__ = f"{made.__qualname__}.__init__"
    return init
