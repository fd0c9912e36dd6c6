"""``whatif schema``: the form of study files, for editors, and of results, for programs."""

from __future__ import annotations

import json
from argparse import Namespace

from whatif.command.terminal import ProgressLine
from whatif.reports.document import AsItIs, Document
from whatif.reports.study_schema import study_schema


def print_schema(asked: Namespace, _progress: ProgressLine) -> Document:
    """A JSON Schema as it is: no number of a form stands before it."""
    schema = study_schema() if asked.of == "study" else _of_results(asked.of)
    return Document([AsItIs(json.dumps(schema, indent=2).splitlines())], {})


def _of_results(command: str) -> dict[str, object]:
    # Only now: the form of a study hangs on nothing that is answered.
    from whatif.reports.command_schemas import SCHEMAS

    return SCHEMAS[command]()
