"""What the calculating process runs; whoever starts it loads nothing of what it calculates with."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from multiprocessing.connection import Connection


def serve_line(line: Connection) -> None:
    """Answer the requests that come over a line until its other end is closed."""
    from whatif.session.calculate.urgency import ANSWERING, give_way

    # Before all that is loaded below: the screen is painting its first picture.
    give_way(ANSWERING)

    from multiprocessing import parent_process

    from whatif.session.calculate.parent import end_with
    from whatif.session.calculate.serving import serve_requests

    parent = parent_process()
    if parent is not None and parent.pid is not None:
        end_with(parent.pid)
    serve_requests(line)
