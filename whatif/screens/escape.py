"""What a terminal sends, read so that no key is lost and none ends the program.

Escape and the key behind it come as Alt and that key do.

Over a slow line, and from whoever types fast, both come at once. Nothing here is bound to Alt, so
they are the two keys that were pressed. And bytes that are no UTF-8 come from a terminal that is
set to Latin-1, and in some reports of a mouse: each is the character that it is there.
"""

from __future__ import annotations

import codecs
import sys
from collections.abc import Callable, Iterable
from functools import partial
from typing import Final

from textual import events
from textual._xterm_parser import XTermParser
from textual.message import Message
from typing_extensions import override

from whatif.screens.widgets.bursts import as_burst

_AS_LATIN_1: Final = "whatif-as-latin-1"
_ESCAPE: Final = "\x1b"
_GOES_ON: Final = frozenset("[O]P_^X\\")
"""What stands behind an escape where a longer sequence of a terminal begins (ECMA-48)."""


class EscapeApart(XTermParser):
    """Reads what a terminal sends; an escape before a key that ends it is a key of its own."""

    @override
    def feed(self, data: str) -> Iterable[Message]:
        came = list(super().feed(data))
        burst = as_burst(came)
        yield from came if burst is None else (burst,)

    @override
    def _sequence_to_key_events(self, sequence: str, alt: bool = False) -> Iterable[events.Key]:
        is_key = len(sequence) == 2 and sequence[0] == _ESCAPE and sequence[1] not in _GOES_ON
        if alt or is_key:
            yield events.Key("escape", _ESCAPE)
            sequence = sequence[-1]
        yield from super()._sequence_to_key_events(sequence)


def read_keys_well() -> None:
    """Have terminals read so from now on; elsewhere keys do not come as text."""
    if sys.platform != "win32":
        from textual.drivers import linux_driver

        linux_driver.XTermParser = EscapeApart  # type: ignore[attr-defined]  # it makes its own, by name
        codecs.register_error(_AS_LATIN_1, _as_latin_1)
        linux_driver.getincrementaldecoder = _decoder_of  # type: ignore[attr-defined,assignment]  # likewise, and calls it with a name alone


def _decoder_of(encoding: str) -> Callable[[], codecs.IncrementalDecoder]:
    return partial(codecs.getincrementaldecoder(encoding), errors=_AS_LATIN_1)


def _as_latin_1(fault: UnicodeError) -> tuple[str, int]:
    assert isinstance(fault, UnicodeDecodeError)
    return fault.object[fault.start : fault.end].decode("latin-1"), fault.end
