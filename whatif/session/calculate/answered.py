"""Which answers belong to what is on the screen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from whatif.study.resolve import Resolved, metered_in
from whatif.study.schema.catalogue import HEAD_KEYS

if TYPE_CHECKING:
    from whatif.answers.answer import Answer, Comparison
    from whatif.study.check.check import Checked
    from whatif.study.draft import Draft
    from whatif.study.raw import Path, Raw


class Answered:
    """The latest comparison, and which of its columns still hold.

    An answer is shown only while all that it was worked out from is the same: its scenario, the
    reference, and for both of them the scenario whose hour meters hold there, since the meters'
    gap is found in that one. What it was worked out from is compared, never the plans made of it:
    it is asked at every repaint, and a plan may take a search for how parts fit.
    """

    def __init__(self) -> None:
        self._found: Comparison | None = None
        self._then: Checked | None = None
        self._current: tuple[Checked, Mapping[str, Answer]] | None = None

    def take(self, found: Comparison, checked: Checked) -> None:
        """Keep a comparison together with the check of the draft that it answers.

        One that lacks scenarios is news of the others; of these what still holds is kept.
        """
        answers = {**self.current(checked), **found.answers}
        ids = [id_ for id_ in checked.draft.ids if id_ in answers]
        found = replace(found, answers={id_: answers[id_] for id_ in ids})
        self._found, self._then, self._current = found, checked, None

    def current(self, checked: Checked) -> Mapping[str, Answer]:
        """The answers that belong to what is shown, in its order."""
        if self._current is None or self._current[0] is not checked:
            self._current = (checked, self._still_true(checked))
        return self._current[1]

    def _still_true(self, now: Checked) -> Mapping[str, Answer]:
        found, then = self._found, self._then
        if found is None or then is None or not (then.is_sound and now.is_sound):
            return {}
        if then is now:
            return found.answers
        reference = found.reference
        if _common(then) != _common(now) or not _same(then, now, reference):
            return {}
        today = now.draft.today_id or ""
        # Capital, and what a payback rests on, are counted from the shop of today, in money alone.
        in_money = any(answer.money is not None for answer in found.answers.values())
        if in_money and not _same(then, now, today):
            return {}
        titles = [_titles(each.draft, reference, today) for each in (then, now)]
        return {
            id_: found.answers[id_]
            if then.resolved[id_] is now.resolved[id_]
            else _named_as(found.answers[id_], now.resolved[id_])
            for id_ in now.draft.ids
            if id_ in found.answers
            and _same(then, now, id_)
            # Money is told with the titles of the reference and of today.
            and (titles[0] == titles[1] or found.answers[id_].money is None)
        }


def _common(checked: Checked) -> tuple[object, ...]:
    """What all answers depend on beside the scenarios themselves."""
    heads = [checked.head(name) for name in HEAD_KEYS if name not in ("format", "title")]
    # One contribution anywhere turns the worth of all pieces from minutes into money.
    return *heads, bool(checked.unused.in_money)


def _same(then: Checked, now: Checked, scenario: str) -> bool:
    """Whether an answer of a scenario was worked out from what holds now."""
    if scenario not in then.resolved or scenario not in now.resolved:
        return False
    before, after = (metered_in(each.resolved, scenario) for each in (then, now))
    return (
        before == after
        and _holds_alike(then, now, scenario)
        and (before is None or _holds_alike(then, now, before))
    )


def _holds_alike(then: Checked, now: Checked, scenario: str) -> bool:
    """Whether a scenario holds the same values and things, its title and notes aside.

    What is odd about it is asked last: it hangs on the scenario and the reference alone, and is
    looked for when it is asked for first.
    """
    before, after = then.resolved[scenario], now.resolved[scenario]
    if before is not after and not (
        before.things == after.things and _values(then, scenario) == _values(now, scenario)
    ):
        return False
    if before is after and _reference(then) is _reference(now):
        return True
    return then.holding[scenario] == now.holding[scenario]


def _reference(checked: Checked) -> Resolved | None:
    return checked.resolved.get(checked.draft.reference_id or "")


def _values(checked: Checked, scenario: str) -> dict[Path, tuple[Raw | None, str | None, bool]]:
    """The raw values, and of each where it stands and whether it is a guess.

    A 0 may have been meant, and a likely range draws what a value is by where it stands.
    """
    return {
        path: (given.raw, given.origin.scenario, given.origin.is_assumed)
        for path, given in checked.resolved[scenario].values.items()
        if path not in (("title",), ("notes",), ("done_on",))
    }


def _titles(draft: Draft, *scenarios: str) -> list[str]:
    return [draft.scenario(scenario).title for scenario in scenarios]


def _named_as(answer: Answer, here: Resolved) -> Answer:
    """The answer with the title and the notes of now, on which no figure depends."""
    title, notes = here.value("title") or here.scenario, here.value("notes")
    if (answer.plan.title, answer.plan.notes) == (title, notes):
        return answer
    return replace(answer, plan=replace(answer.plan, title=title, notes=notes))
