"""The typed study of a draft that has no errors."""

from functools import lru_cache
from typing import Any

from whatif.study.draft import Draft
from whatif.study.raw import Path, Raw
from whatif.study.resolve import GIVEN_BACK, Line, Source, line_of, resolve_line
from whatif.study.schema.catalogue import THINGS
from whatif.study.schema.models import Scenario, Study


def build(draft: Draft) -> Study:
    """The study; `draft` must have been found without errors."""
    head = {name: raw for name, raw in draft.head.items() if raw != GIVEN_BACK}
    head["reference"] = draft.reference_id or ""
    scenarios = {one: _scenario(line_of(draft, one)) for one in draft.ids}
    return Study.model_validate({**head, "scenarios": scenarios})


@lru_cache(maxsize=64)
def _scenario(line: Line) -> Scenario:
    resolved = resolve_line(line)
    tree: dict[str, Any] = {"title": resolved.scenario}
    for group in THINGS:
        tree[group] = {one: {} for one in resolved.ids(group)}
    for path, given in resolved.values.items():
        # What is assumed, the model assumes by itself.
        if given.raw is not None and given.origin.kind is not Source.ASSUMED:
            _put(tree, path, given.raw)
    return Scenario.model_validate({**tree, "id": resolved.scenario})


def _put(tree: dict[str, Any], path: Path, raw: Raw) -> None:
    for part in path[:-1]:
        tree = tree.setdefault(part, {})
    tree[path[-1]] = raw
