"""Where the ``whatif`` command begins: Ctrl-C is heeded while the program is still being loaded."""

from __future__ import annotations

from whatif.command.stopping import heed_ctrl_c


def run() -> None:
    """The ``whatif`` command."""
    heed_ctrl_c()
    # Only now: loading takes some tenths of a second, in which Ctrl-C may come too.
    from whatif.command.main import run_command

    run_command()
