"""What reads the words of a command."""

from __future__ import annotations

import argparse

TYPE_CHECKING = False  # as `typing` has it, which help has no other need of
if TYPE_CHECKING:
    from _typeshed import SupportsWrite


class Parser(argparse.ArgumentParser):
    """Reads the words of a command; those that it repeats are printed harmlessly."""

    def _print_message(self, message: str, file: SupportsWrite[str] | None = None) -> None:
        if not message.replace("\n", "").isprintable():
            from whatif.command.terminal import writable

            message = writable(message)
        super()._print_message(message, file)
