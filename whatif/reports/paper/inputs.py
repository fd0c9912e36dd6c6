"""What a scenario is worked out from: entered, inherited and assumed, a row a thing or a value."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from whatif.records import dataclass
from whatif.reports.document import Column, TextTable
from whatif.study.resolve import ASSUMED, Source
from whatif.study.schema.catalogue import THINGS, key_for, label_at
from whatif.telling.amounts import NOTHING
from whatif.telling.paper import further_words
from whatif.telling.sources import source_words

if TYPE_CHECKING:
    from whatif.study.check.check import Checked
    from whatif.study.raw import Path
    from whatif.study.resolve import Given, Resolved

_NO_INPUTS: Final = frozenset(("title", "notes", "parent"))
"""Values of a scenario that nothing is worked out from."""

SORTS: Final = tuple(source.value for source in Source)
"""The columns, in their order: entered, inherited, assumed."""


@dataclass(frozen=True, slots=True)
class InputTold:
    """One value that has an effect.

    Attributes:
        thing: what it is about: "part housing".
        sort: of `SORTS`; a guess that was entered as a start counts as assumed.
    """

    thing: str
    label: str
    value: str
    sort: str
    source: str

    @property
    def text(self) -> str:
        """In a list of several."""
        return f"{self.label} {self.value}"


def inputs_told(checked: Checked, scenario: str, units: str) -> tuple[list[InputTold], int]:
    """All that have an effect, in the book's order; and how many have none, or are not given."""
    resolved = checked.resolved[scenario]
    told: list[InputTold] = []
    left_out = 0
    for path, given in resolved.values.items():
        if path[0] in _NO_INPUTS or path[0] == "said" or key_for(path) is None:
            continue
        each = _told(resolved, path, given, units)
        if checked.unused.why(scenario, path) is not None or each.value in _NONE:
            left_out += 1
        else:
            told.append(each)
    return told, left_out


_NONE: Final = ("not given", NOTHING)
"""In place of a value that there is not."""


def _told(resolved: Resolved, path: Path, given: Given, units: str) -> InputTold:
    origin = given.origin
    sort = Source.ASSUMED if origin.is_assumed else origin.kind
    return InputTold(
        " ".join(path[:2]) if path[0] in THINGS else path[0].replace("_", " "),
        label_at(path),
        _value(resolved, path, given, units),
        sort.value,
        source_words(origin),
    )


def _value(resolved: Resolved, path: Path, given: Given, units: str) -> str:
    key = key_for(path)
    assert key is not None  # it was looked up before
    if path[-1] == "weekly" and given.raw is None:
        weekly = resolved.weekly(path[1])
        return NOTHING if weekly is None else f"{float(weekly):.6g}"
    if given.raw is None or (given.raw == "" and given.origin == ASSUMED):
        return key.default_words
    turned = key.kind.in_units(given.raw, units) if given.origin == ASSUMED else ""
    return turned or key.kind.written(given.raw)


def inputs_table(told: list[InputTold], most: int, most_things: int) -> tuple[TextTable, int]:
    """A row a thing, and of how many things there is none.

    Args:
        most: of a sort so many are named.
        most_things: so many things have a row.
    """
    things: dict[str, dict[str, list[InputTold]]] = {}
    for each in _gathered(told):
        things.setdefault(each.thing, {}).setdefault(each.sort, []).append(each)
    columns = [Column("", at_left=True), *(Column(sort, at_left=True) for sort in SORTS)]
    shown = list(things.items())[:most_things]
    rows = [(thing, *_listed(by_sort, most)) for thing, by_sort in shown]
    return TextTable(columns, rows, kept=()), len(things) - len(shown)


def _gathered(told: list[InputTold]) -> list[InputTold]:
    """The same, but what all things of a sort have alike once: "every part"."""
    of_sort: dict[str, set[str]] = {}
    for each in told:
        sort, _, name = each.thing.partition(" ")
        if name and sort in THINGS:
            of_sort.setdefault(sort, set()).add(name)
    counts = Counter((_sort(each), each.sort, each.text) for each in told)
    gathered: dict[InputTold, None] = {}
    order = {sort: place for place, sort in enumerate(dict.fromkeys(map(_sort, told)))}
    for each in told:
        sort = _sort(each)
        many = len(of_sort.get(sort, ()))
        is_alike = many > 1 and counts[sort, each.sort, each.text] == many
        if is_alike:
            gathered[replace(each, thing=f"{_EVERY}{sort}", source="")] = None
        else:
            gathered[each] = None
    # What holds for every one stands above them.
    return sorted(gathered, key=lambda each: (order[_sort(each)], not _is_every(each)))


def _is_every(told: InputTold) -> bool:
    return told.thing.startswith(_EVERY)


_EVERY = "every "


def _sort(told: InputTold) -> str:
    return told.thing.removeprefix(_EVERY).partition(" ")[0]


def _listed(by_sort: dict[str, list[InputTold]], most: int) -> Iterator[str]:
    for sort in SORTS:
        items = by_sort.get(sort, [])
        named = items if len(items) <= most + 1 else items[:most]
        texts = [each.text for each in named]
        if len(named) < len(items):
            texts.append(further_words(len(items) - len(named)))
        yield "; ".join(texts) or NOTHING


def all_inputs_table(told: list[InputTold]) -> TextTable:
    """A row a value, with where it is from."""
    columns = [Column(head, at_left=True) for head in ("about", "input", "value", "from")]
    return TextTable(
        columns,
        [(each.thing, each.label, each.value, each.source) for each in told],
        kept=(),
        names=2,
    )
