"""Something that is done once, after a while."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from textual.message_pump import MessagePump


def after(seconds: float, pump: MessagePump, do: Callable[[], object]) -> asyncio.TimerHandle:
    """Have a pump do something once, unless it is closed before or the handle is cancelled.

    No timer of Textual: a single one whose moment has passed before it starts, as happens on a
    busy machine, never comes, and what waits for it waits for ever.
    """
    return asyncio.get_running_loop().call_later(seconds, pump.call_later, do)
