"""The program under a monitor, for ``keys.py``: it is run on a terminal and writes what it saw.

    python watched.py STUDY RESULT KEYS

It notes when each key came, when the screen was painted because of it, when the edited column's
gain stood on the screen, and every time at which the event loop was held, with what ran then.
Times of the processor are those of the loop's own thread: on a busy machine the clock tells of
other programs, and the process of what its other threads do meanwhile.
"""

from __future__ import annotations

import asyncio
import gc
import json
import os
import sys
import threading
from multiprocessing import reduction
from pathlib import Path
from time import monotonic, sleep, thread_time
from types import FrameType
from typing import Any

from textual import events
from textual.app import App
from textual.screen import Screen

from whatif.screens.app import WhatIf
from whatif.screens.desk.desk import Desk
from whatif.screens.terminal import open_study
from whatif.session.kept.state import is_first_time, state_folder

TICK = 0.001
NOTED = 0.010
"""Seconds from which it is noted that the loop was held; what counts says ``keys.py``."""

_LOOKED_AT = 0.010
"""Seconds without a tick after which it is looked what runs."""

_LOOKS = 5.0
"""Seconds between the first gains and the first key."""

_QUIET = 4.0
"""Seconds without a key after which the walk is over."""

IDLE = "textual/app:run"
OUT_OF_THE_WAY = ("/asyncio/", "/threading.py", "/selectors.py", "/queue.py", "watched.py")


class Monitor:
    """What is noted while the program runs."""

    def __init__(self, target: Path, keys: int) -> None:
        self.target = target
        self.keys = keys
        self.came: list[tuple[float, float]] = []
        """Of each key: when it came, and when it was taken up."""
        self.turn: list[tuple[float, float]] = []
        """Of each key: when its turn came, and at which time of the loop's thread."""
        self.painted: dict[int, tuple[float, float]] = {}
        """Of each key: when, and at which time of the loop's thread, it was on the screen."""
        self.revisions: dict[int, int] = {}
        """The key that made a revision."""
        self.gains: dict[int, float] = {}
        """When a revision's gain was on the screen."""
        self.holds: list[dict[str, Any]] = []
        self.collections: list[float] = []
        self.replies: list[tuple[int, float]] = []
        """Of each reply: its bytes, and the seconds of the processor that reading it took."""
        self.asked: list[int] = []
        """The keys whose repaint is wanted."""
        self.drawn: tuple[list[int], int, bool] | None = None
        """The keys that have been drawn and not painted, with the revision, and whether it has
        its gain."""
        self.is_on = False
        self.last_tick = monotonic()
        self.samples: list[str] = []
        self.main = threading.get_ident()
        self.begun = 0.0

    # -- holds -------------------------------------------------------------------------

    async def tick(self) -> None:
        spent = thread_time()
        while True:
            await asyncio.sleep(TICK)
            now, used = monotonic(), thread_time()
            gap = now - self.last_tick
            if gap > NOTED and self.is_on:
                hold = {
                    "at": now,
                    "wall": gap,
                    "processor": min(gap, used - spent),
                    "key": len(self.turn) - 1,
                    "ran": list(self.samples),
                }
                self.holds.append(hold)
            self.samples.clear()
            self.last_tick, spent = now, used

    def look(self) -> None:
        """From a thread of its own: what runs while the loop is held."""
        while True:
            sleep(0.004)
            if monotonic() - self.last_tick > _LOOKED_AT:
                frames = sys._current_frames()
                told = _told(frames.get(self.main))
                if told.startswith(IDLE):
                    own = (self.main, threading.get_ident())
                    others = (_told(frame) for id_, frame in frames.items() if id_ not in own)
                    told = " | ".join(["loop idle", *(other for other in others if other)])
                self.samples.append(told)

    def collected(self, phase: str, info: dict[str, int]) -> None:
        if phase == "start":
            self.begun = monotonic()
        elif self.is_on and threading.get_ident() == self.main:
            self.collections.append(monotonic() - self.begun)
            if monotonic() - self.begun > _LOOKED_AT / 2:
                self.samples.append(f"garbage collection {info['generation']}")

    # -- painting ----------------------------------------------------------------------

    def displayed(self, app: WhatIf) -> None:
        if self.drawn is None or not self.is_on:
            return
        keys, revision, has_gain = self.drawn
        self.drawn = None
        for key in keys:
            self.painted.setdefault(key, (monotonic(), thread_time()))
        if has_gain:
            self.gains.setdefault(revision, monotonic())

    def write(self) -> None:
        told = {
            "came": self.came,
            "turn": self.turn,
            "painted": self.painted,
            "revisions": self.revisions,
            "gains": self.gains,
            "holds": self.holds,
            "collections": self.collections,
            "replies": self.replies,
        }
        self.target.write_text(json.dumps(told), "utf-8")


def _told(frame: FrameType | None) -> str:
    """A stack as the functions that are ours, and the one that runs."""
    names: list[str] = []
    while frame is not None:
        file = frame.f_code.co_filename
        if not any(part in file for part in OUT_OF_THE_WAY):
            short = file.rpartition("site-packages/")[2].rpartition("/whatif/")[2]
            name = f"{short.removesuffix('.py')}:{frame.f_code.co_name}"
            if not names or "site-packages" not in file or "/textual/" in file:
                names.append(name)
        frame = frame.f_back
    return " < ".join(names[:14])


def watch(monitor: Monitor) -> None:
    """Put the monitor's notes where keys come, where the desk is drawn and where it is painted."""
    on_event, hand_on = WhatIf.on_event, WhatIf._hand_on
    repaint, paint, replied = Desk.repaint, Desk._paint, Desk._replied
    rest = getattr(Desk, "_paint_rest", None)  # an earlier one draws all in one
    display = App._display

    async def noted_event(self: WhatIf, event: events.Event) -> None:
        if monitor.is_on and isinstance(event, events.Key) and not event.is_forwarded:
            monitor.came.append((event.time, monotonic()))
        await on_event(self, event)

    async def noted_hand_on(self: WhatIf) -> None:
        if monitor.is_on and self._keys:
            monitor.turn.append((monotonic(), thread_time()))
        await hand_on(self)

    def noted_repaint(self: Desk, **asking: bool) -> None:
        if not in_reply:
            monitor.asked.append(len(monitor.turn) - 1)
            monitor.revisions.setdefault(self.state.session.revision, monitor.asked[-1])
        repaint(self, **asking)

    def noted_paint(self: Desk) -> None:
        paint(self)
        note_drawn(self)

    def noted_rest(self: Desk) -> None:
        assert rest is not None
        is_news = not self.is_drawn
        rest(self)
        if is_news:
            note_drawn(self)

    def note_drawn(self: Desk) -> None:
        calculation, state = self.controllers.calculation, self.state
        is_drawn = rest is None or self.is_drawn
        has_gain = is_drawn and (state.chosen or "") in calculation.current()
        keys = monitor.asked
        if monitor.drawn is not None:
            keys = monitor.drawn[0] + keys
        monitor.drawn = (keys, state.session.revision, has_gain)
        monitor.asked = []

    in_reply: list[bool] = []

    def noted_reply(self: Desk, message: Desk.Replied) -> None:
        in_reply.append(True)
        try:
            replied(self, message)
        finally:
            in_reply.pop()

    def noted_display(self: App[Any], screen: Screen[Any], renderable: Any) -> None:
        display(self, screen, renderable)
        if isinstance(screen, Desk) and renderable is not None and not self._batch_count:
            monitor.displayed(self)  # type: ignore[arg-type] # the one that is watched

    loads = reduction.ForkingPickler.loads

    def noted_loads(data: bytes) -> object:
        begun = thread_time()
        found = loads(data)
        if monitor.is_on:
            monitor.replies.append((len(data), thread_time() - begun))
        return found

    reduction.ForkingPickler.loads = noted_loads  # type: ignore[method-assign]
    for name, noted in (("on_event", noted_event), ("_hand_on", noted_hand_on)):
        setattr(WhatIf, name, noted)
    Desk.repaint = noted_repaint  # type: ignore[method-assign, assignment]
    Desk._paint = noted_paint  # type: ignore[method-assign]
    if rest is not None:
        Desk._paint_rest = noted_rest  # type: ignore[method-assign]
    _instead(Desk, replied, noted_reply)
    App._display = noted_display  # type: ignore[method-assign]


def _instead(screen: type[Desk], old: Any, new: Any) -> None:
    """Take a message's handler out of the place where Textual has noted it."""
    for handlers in screen._decorated_handlers.values():
        handlers[:] = [(new if one is old else one, where) for one, where in handlers]


async def walk(app: WhatIf, monitor: Monitor) -> None:
    """Wait for the first gains, say that keys may come, and end when they have come."""
    while not app.is_open or app.screen is not app.desk:
        await asyncio.sleep(0.05)
    desk = app.desk
    while desk.state.chosen not in desk.controllers.calculation.current():
        await asyncio.sleep(0.05)
    # Whoever opens a study looks at it before pressing keys.
    await asyncio.sleep(_LOOKS)
    part = next(iter(app.session.checked.resolved.values())).ids("part")[0]
    desk.state.put_on(("part", part), ("part", part, "cycle"))
    desk.state.choose(desk.state.ids[min(2, len(desk.state.ids) - 1)])
    desk.repaint()
    await asyncio.sleep(0.5)
    monitor.is_on = True
    monitor.last_tick = monotonic()
    monitor.target.with_suffix(".ready").touch()
    seen, since = 0, monotonic()
    while len(monitor.came) < monitor.keys or monotonic() - since < 1.5:
        await asyncio.sleep(0.1)
        if len(monitor.came) != seen:
            seen, since = len(monitor.came), monotonic()
        elif monotonic() - since > _QUIET:
            break
    monitor.is_on = False
    monitor.write()
    app.exit()


def run(study: Path, target: Path, keys: int) -> int:
    """Run the program on the terminal that this stands on."""
    is_first_time(state_folder())
    monitor = Monitor(target, keys)
    watch(monitor)
    gc.callbacks.append(monitor.collected)
    tasks: list[asyncio.Task[None]] = []
    on_mount = WhatIf.on_mount

    def begin(self: WhatIf) -> None:
        on_mount(self)
        tasks.append(asyncio.create_task(monitor.tick()))
        tasks.append(asyncio.create_task(walk(self, monitor)))
        threading.Thread(target=monitor.look, daemon=True).start()

    WhatIf.on_mount = begin  # type: ignore[method-assign]
    return open_study(str(study))


if __name__ == "__main__":
    run(Path(sys.argv[1]), Path(sys.argv[2]), int(sys.argv[3]))
    os._exit(0)
