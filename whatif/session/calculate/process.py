"""What the calculating process runs; whoever starts it loads nothing of what it calculates with."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from multiprocessing.connection import Connection


def serve_line(line: Connection) -> None:
    """Answer the requests that come over a line until its other end is closed."""
    from whatif.session.calculate.serving import serve_requests

    serve_requests(line)
