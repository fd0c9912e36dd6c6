"""What a key costs an application of Textual with one text that changes with each, for ``keys.py``.

    python bare_keys.py RESULT KEYS

It notes of each key when it came and when it was on the screen, by the clock and by the processor
of the loop's own thread, as ``watched.py`` does of the program.
"""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path
from time import monotonic, thread_time
from typing import Any

from textual import events
from textual.app import App, ComposeResult
from textual.screen import Screen
from textual.widgets import Static


class Bare(App[None]):
    """One text, which tells how many keys have come."""

    def __init__(self, target: Path, keys: int) -> None:
        super().__init__()
        self._target, self._keys = target, keys
        self._came: list[tuple[float, float]] = []
        self._painted: dict[int, tuple[float, float]] = {}

    def compose(self) -> ComposeResult:
        """The text."""
        yield Static("0 keys", id="text")

    def on_ready(self) -> None:
        """Say that keys may come."""
        self._target.with_suffix(".ready").touch()

    async def on_event(self, event: events.Event) -> None:
        """Note when a key comes."""
        if isinstance(event, events.Key) and not event.is_forwarded:
            self._came.append((monotonic(), thread_time()))
        await super().on_event(event)

    def on_key(self) -> None:
        """Tell one more; end with the last."""
        self.query_one("#text", Static).update(f"{len(self._came)} keys")
        if len(self._came) >= self._keys:
            self.set_timer(0.5, self._end)

    def _display(self, screen: Screen[Any], renderable: Any) -> None:
        super()._display(screen, renderable)
        if renderable is not None:
            for key in range(len(self._came)):
                self._painted.setdefault(key, (monotonic(), thread_time()))

    def _end(self) -> None:
        told = {"came": self._came, "painted": self._painted}
        self._target.write_text(json.dumps(told), "utf-8")
        self.exit()


if __name__ == "__main__":
    Bare(Path(sys.argv[1]), int(sys.argv[2])).run()
    os._exit(0)
