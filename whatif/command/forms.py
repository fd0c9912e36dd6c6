"""``whatif schema``: the form of study files, for editors."""

from __future__ import annotations

import json
from argparse import Namespace

from whatif.command.terminal import ProgressLine
from whatif.reports.document import AsItIs, Document
from whatif.reports.study_schema import study_schema


def print_schema(_asked: Namespace, _progress: ProgressLine) -> Document:
    """A JSON Schema as it is: no number of a form stands before it."""
    return Document([AsItIs(json.dumps(study_schema(), indent=2).splitlines())], {})
