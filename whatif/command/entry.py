"""Where the ``whatif`` command begins: Ctrl-C is heeded while the program is still being loaded."""

from __future__ import annotations

import sys


def run() -> None:
    """The ``whatif`` command."""
    try:
        # Only now: loading takes some tenths of a second, in which Ctrl-C may come too.
        from whatif.command.main import run_command

        run_command()
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        sys.exit(130)
