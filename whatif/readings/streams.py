"""What an MTConnect Streams document holds, of any 1.x or 2.x namespace.

The standard is open: ANSI/MTC1.4, "MTConnect", Part 1 (overview: header, sequence numbers, buffer)
and Part 3 (streams: DeviceStream, ComponentStream, Samples, Events, Condition; attributes
``dataItemId``, ``timestamp``, ``sequence``, ``subType``, ``resetTriggered``). Numbers of parts are
those of version 1.4, from memory.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final
from xml.etree.ElementTree import ParseError

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import DefusedXMLParser

from whatif.readings.fault import Unreadable, UnreadKind
from whatif.readings.stamps import stamp_of
from whatif.records import dataclass

UNAVAILABLE: Final = "UNAVAILABLE"
"""What stands for a value that is not known (Part 3): it is neither on nor off."""

HEEDED: Final = frozenset(
    {"Availability", "Execution", "PowerState", "AccumulatedTime", "EquipmentTimer"}
)
"""Elements that tell whether a machine is on or in cycle, and for how long (Part 3)."""

DEEPEST: Final = 24
"""Elements within each other; a Streams document has six."""

MOST: Final = 400_000
"""Observations that a document may have; an agent keeps 131072 as a rule (from memory)."""

_LONGEST: Final = 4000
"""Characters of a value that are kept; those that are heeded have twenty."""

_STREAMS: Final = re.compile(r"urn:mtconnect\.org:MTConnectStreams:[12]\.\d+")
_FAULT: Final = re.compile(r"urn:mtconnect\.org:MTConnectError:[12]\.\d+")
_AGENT: Final = "Agent"
"""The component of a stream that tells of the agent itself, no machine (since version 1.7)."""


@dataclass(frozen=True, slots=True)
class Observation:
    """One value that a machine has told.

    Attributes:
        tag: the name of its element, such as "Execution"; "" where it is no part of the standard.
        item, name, sub: its data item: id, name and subtype.
        component: the part of the machine that it is of, such as "Controller".
        at: in nanoseconds.
        sequence: in which order the agent got it.
        is_reset: whether it counts from nothing since.
    """

    device: str
    component: str
    tag: str
    item: str
    name: str
    sub: str
    at: int
    sequence: int
    value: str
    is_reset: bool = False


@dataclass(frozen=True, slots=True)
class StreamsDocument:
    """A document: its header, and what it tells.

    Attributes:
        instance: which life of the agent it is from: sequence numbers begin anew in each.
        created: when it was made.
        first, next_, last: the oldest sequence number that the agent still had, the one to ask
            from next, and the newest.
        numbers: all sequence numbers in it, also of what is not heeded.
        latest: the latest stamp in it, likewise.
        repeats: whether it tells of any item twice, but for conditions, of which several may hold.
    """

    instance: str
    created: int | None
    first: int | None
    next_: int | None
    last: int | None
    numbers: tuple[int, ...]
    latest: int | None
    repeats: bool
    observations: tuple[Observation, ...]

    @property
    def is_whole(self) -> bool:
        """Whether no number is missing between its first and its last: nothing was left out."""
        numbers = self.numbers
        return bool(numbers) and numbers[-1] - numbers[0] + 1 == len(numbers)

    @property
    def is_current(self) -> bool:
        """Whether it tells the latest value of each item and no more."""
        return not self.is_whole and not self.repeats

    @property
    def end(self) -> int | None:
        """Until when its last values hold for sure; None where it holds nothing."""
        reached = self.is_current or (
            self.next_ is not None and self.last is not None and self.next_ > self.last
        )
        if self.created is None or not reached:
            return self.latest
        return self.created if self.latest is None else max(self.created, self.latest)


def looks_like_xml(content: bytes) -> bool:
    """Whether a content is meant to be XML, in whatever letters it is written."""
    start = content[:200].removeprefix(b"\xef\xbb\xbf").lstrip()
    return start.startswith((b"<", b"\xff\xfe", b"\xfe\xff"))


def read_streams(content: bytes, source: str) -> StreamsDocument:
    """The document that a content holds; raises `Unreadable`."""
    found = _Heard(source)
    # No document type, so no entities of any sort (defusedxml, "forbid_dtd").
    parser = DefusedXMLParser(target=found, forbid_dtd=True)
    try:
        parser.feed(content)
        parser.close()
    except DefusedXmlException:
        raise Unreadable(UnreadKind.HAS_ENTITIES, source) from None
    except ParseError as fault:
        line, _ = fault.position
        said = str(fault).split(":")[0]
        raise Unreadable(UnreadKind.NO_XML, source, (str(line), said)) from None
    except (LookupError, ValueError) as fault:  # letters that nobody knows
        raise Unreadable(UnreadKind.NO_XML, source, ("1", str(fault))) from None
    return found.document()


class _Heard:
    """Hears an XML parser, and keeps observations alone: no tree is built."""

    def __init__(self, source: str) -> None:
        self._source = source
        self._open: list[str] = []
        self._header: Mapping[str, str] = {}
        self._device = self._component = self._of = ""
        self._is_agent = False
        self._within: dict[str, Any] | None = None
        self._within_depth = 0
        self._text: list[str] = []
        self._length = 0
        self._numbers: set[int] = set()
        self._latest: int | None = None
        self._items: set[str] = set()
        self._repeats = False
        self._found: list[Observation] = []
        self._count = 0
        self._fault = ""
        self._is_fault = False
        self._namespace = ""

    def start(self, tag: str, attributes: Mapping[str, str]) -> None:
        """An element begins."""
        space, _, local = tag.rpartition("}")
        space = space.removeprefix("{")
        if not self._open:
            self._refuse_others(space, local)
        self._open.append(local)
        if len(self._open) > DEEPEST:
            raise Unreadable(UnreadKind.TOO_DEEP, self._source, (f"{DEEPEST}",))
        if self._is_fault:
            self._text = []
        elif local == "Header" and len(self._open) == 2:
            self._header = attributes
        elif local == "DeviceStream":
            self._device = attributes.get("name") or attributes.get("uuid") or ""
            self._is_agent = False
        elif local == "ComponentStream":
            self._component = attributes.get("component", "")
            self._is_agent = self._is_agent or self._component == _AGENT
        elif "dataItemId" in attributes and self._within is None:
            self._begin(local if space == self._namespace else "", attributes)

    def _refuse_others(self, space: str, local: str) -> None:
        self._namespace = space
        self._is_fault = bool(_FAULT.fullmatch(space))
        if not self._is_fault and (local != "MTConnectStreams" or not _STREAMS.fullmatch(space)):
            raise Unreadable(UnreadKind.OTHER_DOCUMENT, self._source, (local,))

    def _begin(self, tag: str, attributes: Mapping[str, str]) -> None:
        number = attributes.get("sequence", "")
        if number.isdecimal() and len(number) < 20:
            self._numbers.add(int(number))
        self._count += 1
        if self._count > MOST:
            raise Unreadable(UnreadKind.TOO_MANY, self._source, (f"{MOST}",))
        self._within = {"tag": tag, **attributes}
        self._within_depth = len(self._open)
        self._text, self._length = [], 0

    def data(self, text: str) -> None:
        """Text within an element, in pieces."""
        if (self._within is not None or self._is_fault) and self._length < _LONGEST:
            self._text.append(text)
            self._length += len(text)

    def end(self, tag: str) -> None:
        """An element ends."""
        if self._is_fault and self._open[-1] == "Error":
            self._fault = " ".join("".join(self._text).split())
        if self._within is not None and len(self._open) == self._within_depth:
            self._keep(self._within)
            self._within = None
        self._open.pop()

    def _keep(self, told: Mapping[str, str]) -> None:
        at, number = stamp_of(told.get("timestamp", "")), told.get("sequence", "")
        if at is None:
            return
        self._latest = at if self._latest is None else max(self._latest, at)
        item = told["dataItemId"]
        if "Condition" not in self._open:
            self._repeats = self._repeats or item in self._items
            self._items.add(item)
        if self._is_agent or told["tag"] not in HEEDED:
            return
        self._found.append(
            Observation(
                device=self._device,
                component=self._component,
                tag=told["tag"],
                item=item,
                name=told.get("name", ""),
                sub=told.get("subType", ""),
                at=at,
                sequence=int(number) if number.isdecimal() and len(number) < 20 else 0,
                value="".join(self._text).strip(),
                is_reset="resetTriggered" in told,
            )
        )

    def close(self) -> None:
        """The document ends."""

    def document(self) -> StreamsDocument:
        """All that was heard."""
        if self._is_fault:
            raise Unreadable(UnreadKind.AGENT_FAULT, self._source, (self._fault,))
        header = self._header

        def number(name: str) -> int | None:
            text = header.get(name, "")
            return int(text) if text.isdecimal() and len(text) < 20 else None

        return StreamsDocument(
            instance=header.get("instanceId", ""),
            created=stamp_of(header.get("creationTime", "")),
            first=number("firstSequence"),
            next_=number("nextSequence"),
            last=number("lastSequence"),
            numbers=tuple(sorted(self._numbers)),
            latest=self._latest,
            repeats=self._repeats,
            observations=tuple(self._found),
        )
