"""The sheet of inputs: which rows there are, and what stands in each scenario's column.

Rows come from the one catalogue of keys and from the things that the shown scenarios have;
nothing here draws.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cache, lru_cache
from operator import itemgetter
from typing import TYPE_CHECKING

from whatif.records import dataclass
from whatif.session.hours import UNATTENDED, attended_text
from whatif.study.raw import Path, shown
from whatif.study.resolve import ASSUMED, Given, Resolved, Source
from whatif.study.schema.catalogue import ANY, THINGS, Key, dotted, key_for, keys_of, label_at
from whatif.telling.amounts import NOTHING
from whatif.telling.sheet_cell import ATTENDED, Mark, SheetCell

if TYPE_CHECKING:
    from whatif.study.check.check import Checked
    from whatif.study.draft import Draft

NOT_GIVEN = NOTHING
"""In place of a value that nobody has to enter."""

AS_TYPED = "as typed"
UNITS = (AS_TYPED, "metric", "inch")
"""What lengths, masses and areas may be shown in."""


def result_units(units: str, draft: Draft) -> str:
    """What results are shown in: as the study has it until something is chosen."""
    if units != AS_TYPED:
        return units
    return "inch" if draft.head.get("units") == "inch" else "metric"


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading over rows that are about one thing; ``place`` names it for folding."""

    place: Path
    title: str


@dataclass(frozen=True, slots=True)
class Line:
    """A row of values, one for each scenario shown."""

    place: Path
    path: Path
    label: str


Row = Heading | Line


UNKNOWN_KEYS: Path = ("?",)
"""The place of keys that are not known and stand under no heading of the sheet."""

_GROUPS = (
    ("hours", "hours a day"),
    ("machine", "machines"),
    ("shift", "people"),
    ("unattended", "nobody there"),
    ("part", "part"),
    ("handling", "visits of people"),
    ("sequence", "what is loaded next"),
    ("said", "said in the meeting"),
    ("hour_meters", "hour meters"),
    ("stop", "stops"),
    ("rush", "rush order"),
    ("order", "order"),
    ("money", "money"),
    ("scenario", "about the scenario"),
)
"""The order of the sheet: what is changed most stands first (our own reasoning)."""

_OWN: dict[str, tuple[Line, ...]] = {
    "hours": (
        Line(("hours",), ATTENDED, "attended"),
        Line(("hours",), UNATTENDED, "unattended after shift"),
    ),
    "scenario": (
        Line(("scenario",), ("title",), "title"),
        Line(("scenario",), ("parent",), "based on"),
        Line(("scenario",), ("notes",), "notes"),
        Line(("scenario",), ("done_on",), "done on"),
    ),
}
"""Rows of the sheet that stand under no group of the file."""


Shape = Mapping[Path, tuple[str, ...]]
"""The things of a scenario, by the path above their ids: what decides which rows there are."""


def shapes(checked: Checked, columns: Sequence[str]) -> tuple[Shape, ...]:
    """The shapes of the scenarios in ``columns``, each once where scenarios share it."""
    things = (checked.resolved[scenario].things for scenario in columns)
    return tuple({id(shape): shape for shape in things}.values())


def rows(checked: Checked, columns: Sequence[str], folded: frozenset[Path]) -> list[Row]:
    """The rows of the sheet for the scenarios in ``columns``, folded headings closed."""
    all_rows: list[Row] = []
    blocks = list(_blocks(shapes(checked, columns)))
    places = {heading.place for heading, _ in blocks}
    unknown = _unknown_key_lines(checked, columns, places)
    if UNKNOWN_KEYS in {line.place for line in unknown}:
        blocks.insert(0, (Heading(UNKNOWN_KEYS, "keys that are not known"), ()))
    for heading, own in blocks:
        all_rows.append(heading)
        lines = [*own, *(line for line in unknown if line.place == heading.place)]
        if heading.place not in folded:
            all_rows += lines
    return all_rows


def _unknown_key_lines(checked: Checked, columns: Sequence[str], places: set[Path]) -> list[Line]:
    """A row for each key that is not known, under the heading that it stands at in the file."""
    paths = dict.fromkeys(
        path for scenario in columns for path in checked.unknown_keys.get(scenario, ())
    )
    return [_unknown_key_line(path, places) for path in paths]


def _unknown_key_line(path: Path, places: set[Path]) -> Line:
    for depth in (2, 1):
        if len(path) > depth and path[:depth] in places:
            return Line(path[:depth], path, dotted(path[depth:]))
    return Line(UNKNOWN_KEYS, path, dotted(path) or "(the whole scenario)")


def _blocks(shapes: Sequence[Shape]) -> Iterator[tuple[Heading, Sequence[Line]]]:
    for group, words in _GROUPS:
        if group in _OWN:
            yield Heading((group,), words), _OWN[group]
        elif group in THINGS:
            for thing in _ids(shapes, (group,)):
                place = (group, thing)
                lines = _thing_lines(place, _ids(shapes, (*place, "on")))
                yield Heading(place, f"{words}: {thing}"), lines
        else:
            yield Heading((group,), words), _group_lines(group)


@lru_cache(maxsize=1024)
def _thing_lines(place: Path, machines: tuple[str, ...]) -> tuple[Line, ...]:
    """The rows of a thing, and of a part those of the machines on which it is other."""
    lines = [
        Line(place, (*place, *key.pattern[2:]), key.label)
        for key in keys_of(place[0])
        if key.pattern.count(ANY) == 1
    ]
    for machine in machines:
        paths = (
            (*place, "on", machine, key.name)
            for key in keys_of(place[0])
            if key.pattern.count(ANY) == 2
        )
        lines += [Line(place, path, label_at(path)) for path in paths]
    return tuple(lines)


@cache
def _group_lines(group: str) -> tuple[Line, ...]:
    return tuple(Line((group,), key.pattern, key.label) for key in keys_of(group))


def _ids(shapes: Sequence[Shape], above: Path) -> tuple[str, ...]:
    """The things below a path that any of the scenarios has."""
    return tuple(dict.fromkeys(id_ for shape in shapes for id_ in shape.get(above, ())))


def cell(checked: Checked, scenario: str, path: Path, units: str = AS_TYPED) -> SheetCell:
    """What stands in a scenario's column at a path, ``units`` being one of :data:`UNITS`."""
    resolved = checked.resolved[scenario]
    if path == ATTENDED:
        own = any(
            path[0] == "shift"
            and path[2] in ("days", "start", "end")
            and given.origin.kind is not Source.INHERITED
            for path, given in resolved.values.items()
        )
        mark = Mark.ENTERED if own or not resolved.ids("shift") else Mark.INHERITED
        return SheetCell(attended_text(resolved), mark)
    given = resolved.values.get(path)
    key = key_for(path)
    unknown = checked.unknown_keys.get(scenario, {}).get(path)
    if unknown is not None:
        return SheetCell(shown(unknown), Mark.WRONG)
    if given is None or key is None:
        return SheetCell("", Mark.ENTERED, exists=False)
    text = turned = _text(key, given)
    if text == NOT_GIVEN and key.name == "weekly":
        text = turned = _derived(resolved, path[1])
    if units == AS_TYPED and given.origin == ASSUMED and checked.is_sound:
        # Nobody has typed it, so it stands in what the study is told in.
        units = result_units(units, checked.draft)
    if units != AS_TYPED and given.raw is not None:
        turned = key.kind.in_units(given.raw, units) or text
    return SheetCell(
        text=turned,
        mark=_mark(resolved, path),
        is_unused=checked.unused.why(scenario, path) is not None,
        typed=text if turned != text and given.origin != ASSUMED else "",
        in_short="" if given.raw is None else key.kind.in_short(given.raw),
    )


def _text(key: Key, given: Given) -> str:
    if given.raw is None or (given.raw == "" and given.origin == ASSUMED):
        return NOT_GIVEN
    return key.kind.written(given.raw)


def _derived(resolved: Resolved, part: str) -> str:
    """What is wanted of an operation a week, as the next one needs it."""
    weekly = resolved.weekly(part)
    return NOT_GIVEN if weekly is None else f"{float(weekly):.6g}"


def _mark(resolved: Resolved, path: Path) -> Mark:
    origin = resolved.origin(*path)
    if (resolved.must_have(path) or origin != ASSUMED) and resolved.value(*path) is None:
        return Mark.WRONG
    if origin.is_assumed:
        return Mark.ASSUMED
    return Mark.INHERITED if origin.kind is Source.INHERITED else Mark.ENTERED


def editable_text(checked: Checked, scenario: str, path: Path) -> str:
    """The text that an editor starts with."""
    text = cell(checked, scenario, path).text
    return "" if text == NOT_GIVEN else text


Differing = frozenset[Line]


def differing(checked: Checked, columns: Sequence[str]) -> Differing:
    """The rows in which the scenarios do not all have the same value.

    Quantities are the same where they are worth the same: "1 h" and "60 min".
    """
    held = [checked.resolved[scenario] for scenario in columns]
    if not held:
        return frozenset()
    may_differ = _entered_apart(held)
    return frozenset(
        row
        for row in rows(checked, columns, frozenset())
        # A key that is not known is always shown: it is to be mended.
        if isinstance(row, Line)
        and (is_unknown_key(row.path) or (may_differ(row.path) and _differ(held, row.path)))
    )


def _differ(held: Sequence[Resolved], path: Path) -> bool:
    given, meant = held[0].values.get(path), _meant(held[0], path)
    # What nobody has entered, and what several inherit from one, is one and the same thing.
    others = (
        scenario for scenario in held if given is None or scenario.values.get(path) is not given
    )
    return any(_meant(scenario, path) != meant for scenario in others)


def _entered_apart(held: Sequence[Resolved]) -> Callable[[Path], bool]:
    """Tells whether a value may differ at all, without a look at the scenarios one by one.

    It does not where it is entered above all of them or nowhere, and all have the thing that it
    is about.
    """
    if not all(scenario.is_whole for scenario in held):
        return lambda path: True
    shared = _above_all(held)
    entered: set[Path] = set()
    for scenario in _with_those_above(held):
        if scenario not in shared:
            entered.update(scenario.own.entered)
    groups = {path[0] for path in entered}
    things = tuple({id(scenario.things): scenario.things for scenario in held}.values())
    apart = {
        (*above, id_)
        for shape in things
        for above, ids in shape.items()
        for id_ in ids
        if any(id_ not in other.get(above, ()) for other in things)
    }

    def may_differ(path: Path) -> bool:
        if path == ATTENDED:
            return "shift" in groups or any(thing[0] == "shift" for thing in apart)
        key = key_for(path)
        return (
            path in entered
            or key is None
            or not key.says.inherited
            or path[:2] in apart
            or path[:4] in apart
        )

    return may_differ


def _with_those_above(held: Sequence[Resolved]) -> dict[Resolved, None]:
    """The scenarios, and all that they inherit from."""
    found: dict[Resolved, None] = {}
    for scenario in held:
        at: Resolved | None = scenario
        while at is not None and at not in found:
            found[at] = None
            at = at.above
    return found


def _above_all(held: Sequence[Resolved]) -> set[Resolved]:
    """Those that all inherit from: from the root down to where they part."""
    based: dict[Resolved | None, list[Resolved]] = {}
    for scenario in _with_those_above(held):
        based.setdefault(scenario.above, []).append(scenario)
    columns, shared = set(held), set()
    at = based.get(None, [])
    while len(at) == 1:
        shared.add(at[0])
        at = [] if at[0] in columns else based.get(at[0], [])
    return shared


def only_differing(shown: Sequence[Row], differ: Differing, kept: Line | None) -> tuple[Row, ...]:
    """The rows that differ with their headings, and ``kept``, which may be being edited."""
    places = {line.place for line in (*differ, *((kept,) if kept else ()))}
    return tuple(
        row
        for row in shown
        if (row.place in places if isinstance(row, Heading) else row in differ or row == kept)
    )


def is_unknown_key(path: Path) -> bool:
    """Whether no key of a study file stands at a path of the sheet."""
    return path != ATTENDED and key_for(path) is None


def _meant(resolved: Resolved, path: Path) -> object:
    return attended_text(resolved) if path == ATTENDED else resolved.meant(path)


def find_rows(rows: Sequence[Row], typed: str, start: int) -> list[Row]:
    """The rows that a text may mean, likeliest first.

    A heading is meant where every word stands in it, a value where every word stands in its
    label or its heading, one at least in the label: "pallets mill". A value of just that name
    comes first, then names that begin so, whole words before parts of one, then words of a name,
    then words of its heading, then whatever has it within. Of those that are as near the shortest
    name is first, and otherwise the rows follow each other from ``start`` downwards and then from
    the top. Where no name is like that, what the help says of a value may have the words: "wanted"
    is the weekly demand.
    """
    wanted = _words(typed)
    if not wanted:
        return []
    return _named(rows, wanted, start) or _told(rows, wanted, start)


def _told(rows: Sequence[Row], wanted: Sequence[str], start: int) -> list[Row]:
    """The values of which the help says something with those words, first where it begins so.

    Of what is said alike, as of the same value of several parts, from a row on downwards.
    """
    found: list[tuple[int, Row]] = []
    for row in (*rows[start:], *rows[:start]):
        key = key_for(row.path) if isinstance(row, Line) else None
        said = () if key is None else _words(key.says.meaning)
        places = [
            next((i for i, w in enumerate(said) if w.startswith(word)), -1) for word in wanted
        ]
        if min(places) >= 0:
            found.append((max(places), row))
    return [row for _, row in sorted(found, key=itemgetter(0))]


def _named(rows: Sequence[Row], wanted: Sequence[str], start: int) -> list[Row]:
    matches: list[tuple[int, int, int, Row]] = []
    heading = ""
    for place, row in enumerate(rows):
        own = " ".join(_words(row.title if isinstance(row, Heading) else row.label))
        heading = own if isinstance(row, Heading) else heading
        whole = f"{heading} {own}"
        if all(word in whole for word in wanted) and any(word in own for word in wanted):
            far = _far(wanted, own, whole, is_value=not isinstance(row, Heading))
            matches.append((far, len(own), (place - start) % len(rows), row))
    return [match[-1] for match in sorted(matches, key=lambda match: match[:-1])]


def _far(wanted: Sequence[str], own: str, whole: str, *, is_value: bool) -> int:
    """How far a row's name is from what is wanted."""
    text = " ".join(wanted)
    if is_value and text.endswith(own) and whole.endswith(text):
        return 0
    if f"{own} ".startswith(f"{text} "):
        return 1
    if own.startswith(text):
        return 2
    words = own.split()
    if all(word in words for word in wanted):
        return 3
    if all(_begins(word, own) for word in wanted):
        return 4
    return 5 if all(_begins(word, whole) for word in wanted) else 6


def _words(text: str) -> list[str]:
    """The words of a name as they are compared.

    A heading may be typed as it is told, "mill: ", and a word with a hyphen or without: "set-up".
    """
    return text.lower().replace(":", " ").replace("-", "").split()


def _begins(word: str, text: str) -> bool:
    return any(other.startswith(word) for other in text.split())
