"""Streams documents and tables made by ourselves, from the open standard's public schema."""

from __future__ import annotations

from collections.abc import Sequence

TIMER = 'component="Controller" name="cnc" componentId="c1"'

Told = tuple[int, str, str, str]
"""Sequence number, stamp, element with its further attributes, value."""


def streams(
    machines: dict[str, Sequence[Told]],
    *,
    version: str = "1.3",
    created: str = "2025-03-03T12:00:00Z",
    first: int = 1,
    next_: int = 1000,
    last: int = 999,
    instance: int = 7,
    prefix: str = "",
    component: str = TIMER,
) -> str:
    """A document as an agent answers /current or /sample."""
    colon = f"{prefix}:" if prefix else ""
    space = f"xmlns{':' + prefix if prefix else ''}"
    devices = []
    for name, told in machines.items():
        samples, events = [], []
        for sequence, stamp, element, value in told:
            tag, _, more = element.partition(" ")
            item = f"{name}-{tag.lower()}"
            attributes = f'timestamp="{stamp}" sequence="{sequence}" {more}'
            if "dataItemId" not in more:
                attributes = f'dataItemId="{item}" {attributes}'
            text = f"<{colon}{tag} {attributes}>{value}</{colon}{tag}>"
            (samples if tag in ("AccumulatedTime", "EquipmentTimer") else events).append(text)
        devices.append(
            f'<{colon}DeviceStream name="{name}" uuid="u-{name}"><{colon}ComponentStream '
            f"{component}><{colon}Samples>{''.join(samples)}</{colon}Samples>"
            f"<{colon}Events>{''.join(events)}</{colon}Events></{colon}ComponentStream>"
            f"</{colon}DeviceStream>"
        )
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<{colon}MTConnectStreams {space}="urn:mtconnect.org:MTConnectStreams:{version}">'
        f'<{colon}Header creationTime="{created}" sender="shop" instanceId="{instance}" '
        f'version="{version}" bufferSize="131072" firstSequence="{first}" '
        f'nextSequence="{next_}" lastSequence="{last}"/>'
        f"<{colon}Streams>{''.join(devices)}</{colon}Streams></{colon}MTConnectStreams>"
    )


DAY = streams(
    {
        "mill-1": [
            (1, "2025-03-03T06:00:00.0000000Z", "Availability", "AVAILABLE"),
            (2, "2025-03-03T06:00:00.0000000Z", "Execution", "READY"),
            (3, "2025-03-03T07:00:00.0000001Z", "Execution", "ACTIVE"),
            (4, "2025-03-03T09:00:00.0000001Z", "Execution", "FEED_HOLD"),
            (5, "2025-03-03T09:30:00Z", "Availability", "UNAVAILABLE"),
            (6, "2025-03-03T09:30:00Z", "Execution", "UNAVAILABLE"),
            (7, "2025-03-03T11:00:00Z", "Availability", "AVAILABLE"),
            (8, "2025-03-03T11:00:00Z", "Execution", "ACTIVE"),
        ],
        "mill-2": [
            (9, "2025-03-03T06:00:00Z", "Execution", "ACTIVE"),
            (10, "2025-03-03T10:00:00Z", "PowerState", "OFF"),
        ],
    },
    next_=11,
    last=10,
)
"""Six hours of two machines, the buffer's end reached at 12:00."""

TABLE = """\
date;machine;switched on;in cut
2025-03-03;mill 1;1000;400
2025-03-10;mill 1;1080,5;440,25
2025-03-17;mill 1;1160;480
2025-03-03;mill 2;200 h;100 h
2025-03-17;mill 2;300 h;150 h
"""
