"""Which answers belong to what is on the screen."""

from __future__ import annotations

from collections.abc import Mapping

from whatif.answers.compare import Answer, Comparison
from whatif.session.session import Session
from whatif.study.draft import Draft
from whatif.study.raw import Path, Raw
from whatif.study.resolve import resolve

_Seen = tuple[object, ...]


class Answered:
    """The latest comparison, and what each of its columns was worked out from.

    An answer is shown only while its scenario and the reference hold the same values as when
    it was worked out; a column that an edit does not touch keeps its figures meanwhile.
    """

    def __init__(self) -> None:
        self._found: Comparison | None = None
        self._draft: Draft | None = None

    def take(self, found: Comparison, draft: Draft) -> None:
        """Keep a comparison together with the draft that it answers."""
        self._found, self._draft = found, draft

    def current(self, session: Session) -> Mapping[str, Answer]:
        """The answers that belong to what the session shows."""
        found, then, now = self._found, self._draft, session.shown
        if found is None or then is None or session.checked.study is None:
            return {}
        if then == now:
            return found.answers
        if then.head != now.head or _worth(then) != _worth(now):
            return {}
        reference = now.reference_id
        if reference is None or not _same(then, now, reference):
            return {}
        return {id_: one for id_, one in found.answers.items() if _same(then, now, id_)}


def _values(draft: Draft, scenario: str) -> dict[Path, Raw | None]:
    return {path: given.raw for path, given in resolve(draft, scenario).values.items()}


def _same(then: Draft, now: Draft, scenario: str) -> bool:
    """Whether a scenario holds the same values in both drafts, names and notes aside."""
    if not (then.has(scenario) and now.has(scenario)):
        return False
    mine, theirs = _values(then, scenario), _values(now, scenario)
    for path in (("title",), ("notes",)):
        mine.pop(path, None)
        theirs.pop(path, None)
    return mine == theirs


def _worth(draft: Draft) -> list[tuple[str, Path, Raw]]:
    """Every contribution entered: one anywhere turns worth from minutes into money."""
    return [
        (scenario.id, path, raw)
        for scenario in draft
        for path, raw in scenario.entered.items()
        if path[-1:] == ("contribution",)
    ]
