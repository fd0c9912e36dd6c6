"""Keys one after the other: each finds what the one before it has brought about.

Over a slow line, and from whoever types fast, keys come in a burst. Textual hands each to what has
the focus when it comes, which is too early for a key behind one that opens a list, a form or a
question: it would reach the desk below, where a letter is another command, or nobody.
"""

from __future__ import annotations

import asyncio
from collections import deque
from time import monotonic

from textual import events
from textual.app import App
from textual.message_pump import MessagePump
from textual.widget import Widget

from whatif.screens.widgets.bursts import Burst

_ROUNDS = 2
"""One for the key, one for what its widget has said because of it, such as that a line is done."""

_LONGEST = 0.5
"""Seconds after which the next key is handed on whatever has become of the one before it."""


_Where = tuple[MessagePump, Widget | None]
"""The screen on top, and what has the focus there."""


class InTurn(App[None]):
    """A program that hands a key on when all has been done that the key before it asked for.

    A messenger takes the way of a key: from the widget that has the focus up to the program. Each
    station does its work in the order in which it is asked, so when the messenger comes home the
    key has been heeded. Where the key has opened or closed something the messenger goes once more.
    """

    def __init__(self) -> None:
        super().__init__()
        self._keys: deque[events.Event] = deque()
        self._handed_back: deque[events.Event] = deque()
        """Keys that come before those, as they came before them."""
        self._key = 0
        """The number of the key that is being heeded, counted from the first one."""
        self._at_work = False
        self._patience: asyncio.TimerHandle | None = None
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

    @property
    def letters_are_commands(self) -> bool:
        """Whether a text that comes as keys would be commands now, and not typed into a line."""
        return False

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
            self._patience.cancel()
        while self._handed_back:
            self._keys.appendleft(self._handed_back.pop())
        self._at_work = bool(self._keys)
        if not self._keys:
            return
        self._key += 1
        self._patience = asyncio.get_running_loop().call_later(
            _LONGEST, self.call_later, self._done, self._key
        )
        before = self._where
        event = self._keys.popleft()
        if isinstance(event, Burst) and not self.letters_are_commands:
            self._keys.extendleft(reversed(event.keys))
            event = self._keys.popleft()
        await super().on_event(event)
        _Messenger(self, self._key, _ROUNDS, before).go()

    def hand_back(self, event: events.Key) -> None:
        """Have a key heeded by what comes next on top, before all that came behind it."""
        self._handed_back.append(event)
        if not self._at_work:
            self.call_later(self._hand_on)

    @property
    def _where(self) -> _Where:
        return self.screen, self.focused

    async def _home(self, key: int, rounds: int, before: _Where) -> None:
        """The messenger is back: go once more, or hand on the next key."""
        now = self._where
        if rounds > 1 or now != before:
            _Messenger(self, key, rounds - 1, now).go()
        else:
            await self._done(key)

    async def _done(self, key: int) -> None:
        """Go on with the next key, unless that has been done already."""
        if key == self._key and self._at_work:
            await self._hand_on()


class _Messenger:
    """Goes from station to station up to the program; where one has gone he is home.

    He calls by messages without arguments: for those that have some Textual looks up a signature.
    """

    def __init__(self, app: InTurn, key: int, rounds: int, before: _Where) -> None:
        screen, focused = before
        self._app = app
        self._of = key, rounds, before
        self._at: MessagePump = focused or screen

    def go(self) -> None:
        """Call at the station that he has come to."""
        at_home = self._at is self._app
        if at_home or not self._at.post_message(events.Callback(callback=self._on)):
            self._app.post_message(events.Callback(callback=self._home))

    def _on(self) -> None:
        self._at = self._at._parent or self._app
        self.go()

    async def _home(self) -> None:
        await self._app._home(*self._of)
