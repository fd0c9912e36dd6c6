"""Every form in which a document is written, by the name that the command line has for it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from whatif.reports.document import WRITERS, Document


def _as_html(document: Document) -> str:
    # Only here: the other forms have no use for it.
    from whatif.reports.html import as_html

    return as_html(document)


ALL_WRITERS: Final[Mapping[str, Callable[[Document], str]]] = {**WRITERS, "html": _as_html}
"""Those of all commands, and the one for paper."""
