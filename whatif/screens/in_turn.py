"""Keys one after the other: each finds what the one before it has brought about.

Over a slow line, and from whoever types fast, keys come in a burst. Textual hands each to what has
the focus when it comes, which is too early for a key behind one that opens a list, a form or a
question: it would reach the desk below, where a letter is another command, or nobody.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from functools import partial
from time import monotonic

from textual import events
from textual.app import App
from textual.message_pump import MessagePump
from textual.timer import Timer
from textual.widget import Widget

_ROUNDS = 2
"""One for the key, one for what its widget has said because of it, such as that a line is done."""

_LONGEST = 0.5
"""Seconds after which the next key is handed on whatever has become of the one before it."""


class InTurn(App[None]):
    """A program that hands a key on when all has been done that the key before it asked for.

    A messenger takes the way of a key: from the widget that has the focus up to the program. Each
    station does its work in the order in which it is asked, so when the messenger comes home the
    key has been heeded. Where the key has opened or closed something the messenger goes once more.
    """

    def __init__(self) -> None:
        super().__init__()
        self._keys: deque[events.Event] = deque()
        self._key = 0
        """The number of the key that is being heeded, counted from the first one."""
        self._at_work = False
        self._patience: Timer | None = None
        self._came = 0.0
        """When the latest key came."""

    @property
    def is_heeding(self) -> bool:
        """Whether a key is still being heeded, or waits for its turn."""
        return self._at_work and self.is_running

    @property
    def rested(self) -> float:
        """Seconds since the latest key, 0 while one is being heeded."""
        return 0.0 if self._at_work else monotonic() - self._came

    async def on_event(self, event: events.Event) -> None:
        """Take keys, and what is pasted, in their turn; all else at once."""
        if not isinstance(event, events.Key | events.Paste) or event.is_forwarded:
            await super().on_event(event)
            return
        self._keys.append(event)
        self._came = monotonic()
        if not self._at_work:
            await self._hand_on()

    async def _hand_on(self) -> None:
        """Hand on the next key, if there is one."""
        if self._patience is not None:
            self._patience.stop()
        self._at_work = bool(self._keys)
        if not self._keys:
            return
        self._key += 1
        self._patience = self.set_timer(_LONGEST, partial(self._done, self._key))
        before = self._where
        await super().on_event(self._keys.popleft())
        self._send(self._key, _ROUNDS, before)

    @property
    def _where(self) -> tuple[MessagePump, Widget | None]:
        """The screen on top, and what has the focus there."""
        return self.screen, self.focused

    def _send(self, key: int, rounds: int, before: tuple[MessagePump, Widget | None]) -> None:
        """Send the messenger, who comes home at least so many times."""
        screen, focused = before
        self._pass(focused or screen, partial(self._home, key, rounds, before))

    def _pass(self, at: MessagePump, home: Callable[[], object]) -> None:
        """Pass the messenger on from station to station; where one has gone he is home."""
        if at is self:
            self.call_later(home)
            return
        above = at._parent or self
        if not at.call_later(self._pass, above, home):
            self.call_later(home)

    async def _home(self, key: int, rounds: int, before: tuple[MessagePump, Widget | None]) -> None:
        """The messenger is back: go once more, or hand on the next key."""
        now = self._where
        if rounds > 1 or now != before:
            self._send(key, rounds - 1, now)
        else:
            await self._done(key)

    async def _done(self, key: int) -> None:
        """Go on with the next key, unless that has been done already."""
        if key == self._key and self._at_work:
            await self._hand_on()
