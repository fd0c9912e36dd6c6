"""The latest of what was found, as much of it as there is room for."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable
from typing import Generic, TypeVar

K = TypeVar("K", bound=Hashable)
T = TypeVar("T")


class Latest(Generic[K, T]):
    """Keeps the latest ``most`` things, fewer where they are large.

    Args:
        room: bytes that all may take together, about; the latest one stays however large it is.
    """

    def __init__(self, most: int, room: int) -> None:
        self._most, self._room = most, room
        self._kept: OrderedDict[K, tuple[T, int]] = OrderedDict()
        self._taken = 0

    def __len__(self) -> int:
        return len(self._kept)

    def get(self, key: K) -> T | None:
        """What is kept there, None where nothing is (any more)."""
        found = self._kept.get(key)
        return None if found is None else found[0]

    def pop(self, key: K) -> T | None:
        """Take out what is kept there; None where nothing is."""
        found = self._kept.pop(key, None)
        if found is None:
            return None
        self._taken -= found[1]
        return found[0]

    def keep(self, key: K, what: T, size: int) -> None:
        """Keep something as the latest; ``size`` are the bytes that it takes, about."""
        self.pop(key)
        self._kept[key] = what, size
        self._taken += size
        while len(self._kept) > self._most or (self._taken > self._room and len(self._kept) > 1):
            _, (_, freed) = self._kept.popitem(last=False)
            self._taken -= freed
