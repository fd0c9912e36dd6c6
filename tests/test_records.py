"""Frozen records are what the standard library's are, and are only made in another way."""

from __future__ import annotations

import copy
import dataclasses
import pickle
from dataclasses import FrozenInstanceError, field, replace

import pytest

from whatif import records


def makers() -> list[tuple[type, type]]:
    """The same records, each as the standard library makes it and as ours are made."""
    pairs = []
    for dataclass in (dataclasses.dataclass, records.dataclass):

        @dataclass(frozen=True, slots=True)
        class Point:
            """With defaults of both sorts, one of them not compared, one not told."""

            x: int
            y: int = 2
            names: list[str] = field(default_factory=list)
            note: str = field(default="", compare=False)
            hidden: int = field(default=0, repr=False)

        @dataclass(frozen=True, slots=True, kw_only=True)
        class Named:
            """By name alone."""

            one: tuple[int, ...]

        @dataclass(frozen=True)
        class Open:
            """With a dict, and something to do once it is made."""

            size: int = 1

            def __post_init__(self) -> None:
                object.__setattr__(self, "size", self.size + 1)

        @dataclass(frozen=True, slots=True)
        class Nothing:
            """Without a field."""

        @dataclass(frozen=True)
        class Opener(Open):
            """Inherits, and has another default for what it inherits."""

            name: str = "o"
            size: int = 3

        @dataclass(frozen=True, slots=True)
        class Slotted(Open):
            """Inherits what has a dict."""

            name: str = "s"

        @dataclass(frozen=True, slots=True)
        class Deep(Point):
            """Inherits from one with slots."""

            z: int = 5

        pairs.append((Point, Named, Open, Nothing, Opener, Slotted, Deep))
    return list(zip(*pairs, strict=True))


POINT, NAMED, OPEN, NOTHING, OPENER, SLOTTED, DEEP = makers()


@pytest.mark.parametrize("pair", makers(), ids=lambda pair: pair[0].__name__)
def test_fields_and_how_they_match_are_the_same(pair: tuple[type, type]) -> None:
    theirs, ours = pair
    assert [each.name for each in dataclasses.fields(theirs)] == [
        each.name for each in dataclasses.fields(ours)
    ]
    assert theirs.__match_args__ == ours.__match_args__
    assert ours.__dataclass_params__.frozen


def test_a_record_is_made_told_compared_and_hashed_alike() -> None:
    theirs, ours = ((each(1, note="n"), each(x=1, names=[], hidden=0)) for each in POINT)
    for one, other in (theirs, ours):
        assert one == other != (1, 2)
        assert (one.x, one.y, one.names, one.note) == (1, 2, [], "n")
        assert one != replace(one, y=3)
        with pytest.raises(TypeError, match="unhashable"):
            hash(one)
    assert repr(theirs[0]) == repr(ours[0]).replace("makers.<locals>.", "makers.<locals>.")
    assert "hidden" not in repr(ours[0])
    named = [each(one=(1, 2)) for each in NAMED]
    assert hash(named[0]) == hash(named[1]) == hash(((1, 2),))
    assert [hash(each()) for each in NOTHING] == [hash(()), hash(())]
    assert POINT[1](1) != NAMED[1](one=())


@pytest.mark.parametrize("wrong", [(), (1, 2, [], "", 0, 9)])
def test_what_is_missing_or_too_much_is_an_error(wrong: tuple[object, ...]) -> None:
    for each in POINT:
        with pytest.raises(TypeError):
            each(*wrong)
    for each in NAMED:
        with pytest.raises(TypeError):
            each((1,))


def test_each_record_has_a_list_of_its_own() -> None:
    _, ours = POINT
    assert ours(1).names is not ours(1).names


def test_a_record_cannot_be_changed() -> None:
    for make in (POINT[1], lambda _: OPEN[1]()):
        record = make(1)
        with pytest.raises(FrozenInstanceError):
            record.x = 3
        with pytest.raises(FrozenInstanceError):
            del record.size


def test_a_record_that_inherits_is_made_told_compared_and_hashed_alike() -> None:
    for opener, slotted, deep, point in zip(OPENER, SLOTTED, DEEP, POINT, strict=True):
        assert repr(opener(7)).endswith("Opener(size=8, name='o')")
        assert (opener().size, slotted(7, "t").size, slotted().name) == (4, 8, "s")
        assert opener(1) == opener(size=1) != slotted(1, "o")
        assert hash(opener(1)) == hash((2, "o"))
        assert deep(1, z=6) != deep(1) != point(1)
        assert replace(deep(1), z=6).z == copy.copy(deep(1, z=6)).z == 6
        for record in (opener(), slotted(), deep(1)):
            last = dataclasses.fields(record)[-1].name
            with pytest.raises(FrozenInstanceError):
                setattr(record, last, 9)
            with pytest.raises(FrozenInstanceError):
                delattr(record, last)


def test_what_is_to_be_done_once_it_is_made_is_done() -> None:
    assert [each(4).size for each in OPEN] == [5, 5]


@records.dataclass(frozen=True, slots=True)
class Sent:
    """One that is sent to another process, and copied."""

    word: str
    within: Sent | None = None


@records.dataclass(frozen=True, slots=True)
class SaysWhenEqual:
    """One with an equality of its own."""

    word: str

    def __eq__(self, other: object) -> bool:
        return isinstance(other, SaysWhenEqual) and self.word[0] == other.word[0]


def test_a_record_is_sent_and_copied() -> None:
    sent = Sent("a", Sent("b"))
    assert pickle.loads(pickle.dumps(sent)) == copy.deepcopy(sent) == sent
    assert not hasattr(sent, "__dict__")


def test_what_a_class_says_of_itself_stays() -> None:
    assert SaysWhenEqual("ab") == SaysWhenEqual("ac") != SaysWhenEqual("b")
    assert {SaysWhenEqual("ab")}


def test_what_a_first_record_would_wait_for_is_compiled_for_whole_modules() -> None:
    @records.dataclass(frozen=True, slots=True)
    class Here:
        size: int = 1

    @records.dataclass(frozen=True, slots=True)
    class Elsewhere:
        size: int = 1

    Elsewhere.__module__ = "elsewhere"
    uncompiled = Here.__init__
    records.compile_records({Here.__module__})
    assert Here.__init__ is not uncompiled
    assert Here(2).size == 2
    assert Here not in records._to_compile
    assert Elsewhere in records._to_compile
    assert Elsewhere().size == 1
    assert Elsewhere not in records._to_compile
