"""What lies between two drafts, change by change, each with the name that its edit has."""

from collections.abc import Iterator
from dataclasses import replace

from whatif.records import dataclass
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.edits.edit import title_of
from whatif.study.edits.tree import AddScenario
from whatif.study.edits.values import ClearValue, SetHead, SetValue
from whatif.study.resolve import GIVEN_BACK
from whatif.study.schema.catalogue import LEVER, dotted, key_for

MOST = 300
"""Changes that are told one by one; what is beyond them is told as one."""


@dataclass(frozen=True)
class Between:
    """One change on the way from a draft to another: its name, and the draft behind it."""

    says: str
    draft: Draft


def between(before: Draft, after: Draft) -> Iterator[Between]:
    """The changes that lead from `before` to `after`, which the last of them is.

    Nothing where the two are equal. What has no name of its own, such as the order of
    scenarios, and what is beyond the first 300, is one change.
    """
    at = before
    for many, change in enumerate(_by_name(before, after)):
        if many == MOST:
            break
        yield change
        at = change.draft
    if at != after:
        yield Between("what else was changed", after)


def _by_name(before: Draft, after: Draft) -> Iterator[Between]:
    at = before
    for scenario in before:
        if not after.has(scenario.id):
            gone = tuple(each for each in at.scenarios if each.id != scenario.id)
            name = f"{title_of(at, scenario.id)} removed"
            at = replace(at, scenarios=gone)
            yield Between(name, at)
    for scenario in after:
        if not before.has(scenario.id):
            name = AddScenario(scenario.id, scenario.parent, scenario.title).says(after)
            at = replace(at, scenarios=_with_new(at, scenario, after))
            yield Between(name, at)
    for name in (*after.head, *(name for name in before.head if name not in after.head)):
        raw = after.head.get(name)
        if before.head.get(name) != raw:
            edit = SetHead(name, GIVEN_BACK if raw is None else raw)
            said = "levers of the search changed" if name == LEVER else edit.says(at)
            at = at.with_head(name, raw)
            yield Between(said, at)
    for scenario in after:
        if before.has(scenario.id):
            for change in _in_one(at, scenario):
                at = change.draft
                yield change


def _with_new(at: Draft, new: ScenarioDraft, after: Draft) -> tuple[ScenarioDraft, ...]:
    """The scenarios with a new one where it is to stand."""
    behind = set(after.ids[: after.ids.index(new.id)])
    place = max((i + 1 for i, id_ in enumerate(at.ids) if id_ in behind), default=0)
    return (*at.scenarios[:place], new, *at.scenarios[place:])


def _in_one(at: Draft, wanted: ScenarioDraft) -> Iterator[Between]:
    """The values entered, changed and taken out in a scenario that both have."""
    own = at.scenario(wanted.id)
    paths = (*wanted.entered, *(path for path in own.entered if path not in wanted.entered))
    for path in paths:
        raw = wanted.entered.get(path)
        if own.entered.get(path) == raw and (path in own.entered) == (path in wanted.entered):
            continue
        if key_for(path) is None:
            name = f"{dotted(path)} {'removed' if raw is None else 'entered'}"
        else:
            edit = ClearValue(wanted.id, path) if raw is None else SetValue(wanted.id, path, raw)
            name = edit.says(at)
        if raw is None:
            own = replace(own, entered={p: r for p, r in own.entered.items() if p != path})
        else:
            own = own.having(path, raw)
        at = at.with_scenario(own)
        yield Between(name, at)
