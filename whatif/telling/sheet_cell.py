"""A value of the sheet as it is shown, and what it takes, is and comes from, in words."""

from __future__ import annotations

from enum import Enum
from functools import partial
from typing import TYPE_CHECKING, Final

from whatif.records import dataclass
from whatif.study.check.entries import known_instead, stands_for_table
from whatif.study.resolve import ASSUMED
from whatif.study.schema.catalogue import THINGS, dotted, key_for
from whatif.study.typed import ALL, takes_all, takes_share, things_words
from whatif.telling.amounts import NOTHING
from whatif.telling.in_words import key_words, scenario_title
from whatif.telling.problems import unused_words
from whatif.telling.sources import NOT_ENTERED, source_words

if TYPE_CHECKING:
    from whatif.study.check.check import Checked
    from whatif.study.raw import Path
    from whatif.study.resolve import Resolved

ATTENDED: Path = ("hours", "attended")
"""The path under which the sheet shows the attended hours; no file holds it."""


class Mark(Enum):
    """The sign after a value that tells where it is from, so that no colour is needed."""

    ENTERED = " "
    INHERITED = "↑"
    ASSUMED = "~"
    WRONG = "!"


UNUSED: Final = "×"
"""The sign after a value that has no effect; it stands in the place of where that is from."""

LEGEND: Final = (
    f"{Mark.INHERITED.value} from above  {Mark.ASSUMED.value} assumed  {UNUSED} not used"
)
"""What the signs say."""


@dataclass(frozen=True, slots=True)
class SheetCell:
    """A value of one scenario as the sheet shows it.

    Attributes:
        text: "" where the scenario has no such thing.
        typed: what stands in the file, where the text is that turned into other units.
        is_unused: whether the value changes no answer of this scenario.
        in_short: what stands for the text where there is no room for it; "" for nothing.
    """

    text: str
    mark: Mark
    is_unused: bool = False
    exists: bool = True
    typed: str = ""
    in_short: str = ""


def about_value(
    checked: Checked,
    scenario: str,
    path: Path,
    label: str,
    cell: SheetCell,
    *,
    brief: bool = False,
    terse: bool = False,
) -> str:
    """What the chosen value takes, what it is and where it is from, in one line.

    ``brief`` leaves out whose it is and what stands above it, which the columns show; ``terse``
    what it takes and where it is from too, of one that is not used: why it is not matters more.
    """
    title = scenario_title(checked, scenario)
    if path == ATTENDED:
        return f"{_of(label, title, brief=brief)}: a time; moves the end of the last shift."
    key = key_for(path)
    if key is None:
        return unknown_key_words(label, path, cell)
    if path[0] in THINGS:
        # Its heading may have scrolled away.
        label = f"{path[1]}: {label}"
    if not cell.exists:
        return f"{label}: {title} has no {path[0]} {path[1]}."
    resolved = checked.resolved[scenario]
    origin = resolved.origin(*path)
    named = partial(scenario_title, checked)
    if cell.text == NOTHING:
        here = (
            f"not given ({key.default_words})" if key.default_words != "not given" else "not given"
        )
    else:
        value = f"{cell.text}{_of_each(resolved, path)}"
        here = f"{value}, {NOT_ENTERED if origin == ASSUMED else source_words(origin, named)}"
    parts = [f"{_of(label, title, brief=brief)}: {key.kind.typed_as}.", f"Here {here}."]
    if cell.typed:
        # First, since a narrow screen cuts the end.
        converted = f"{label}: {cell.text} is converted, typed is {cell.typed}."
        parts = [converted, f"Allowed: {key.kind.typed_as}.", parts[1]]
    if origin.guessed:
        guessed = f"{label}: {cell.text}, {source_words(origin, named)}."
        parts = [guessed, f"Allowed: {key.kind.typed_as}."]
    parent = checked.resolved[scenario].raw("parent")
    is_own = cell.mark is Mark.ENTERED and not brief
    if is_own and isinstance(parent, str) and parent in checked.resolved:
        given = checked.resolved[parent].values.get(path)
        if given is not None and given.raw is not None and key.says.inherited:
            parent_title = scenario_title(checked, parent)
            parts.append(f"{parent_title} has {key.kind.written(given.raw)}.")
    if cell.is_unused:
        if terse:
            parts = [f"{label}: {cell.text}."]
        parts.append(f"Not used: {unused_words(checked.unused.why(scenario, path))}.")
    return " ".join(parts)


def not_there_words(path: Path, title: str) -> str:
    """Why there is nothing to type over, and what to do about it."""
    return f"{title} has no {path[0]} {path[1]}. n adds one; or go to a column that has it."


def asked_for(path: Path, label: str) -> tuple[str, ...]:
    """What a value takes while it is typed, without what stands there: ever shorter."""
    key = key_for(path)
    if key is None or path == ATTENDED:
        return ()
    takes = key.kind.typed_as
    # The last clause is a bound: who types beyond it is told so.
    least = takes.rpartition(", ")[0] or takes
    of = f"{path[1]}: " if path[0] in THINGS else ""
    return f"{of}{label}: {takes}.", f"{label}: {takes}.", f"{label}: {least}."


def _of(label: str, title: str, *, brief: bool) -> str:
    return label if brief else f"{label}, {title}"


def unknown_key_words(label: str, path: Path, cell: SheetCell) -> str:
    """What to do about a key that is not known."""
    if not cell.exists:
        return f"{label}: there is no such key, and nothing is entered here."
    meant = known_instead(path)
    hint = f" Did you mean {dotted(meant)}? Enter renames it." if meant is not None else ""
    return f"{label}: {unknown_key_fault(path)}.{hint} Del removes it."


def unknown_key_fault(path: Path) -> str:
    """What is wrong with a key that is not known."""
    is_table = stands_for_table(path)
    return "it is one value, and a table is wanted" if is_table else "there is no such key"


def takes_words(path: Path) -> str:
    """What a value takes, and what it is."""
    key = key_for(path)
    takes = "" if key is None else f"{key.kind.typed_as[0].upper()}{key.kind.typed_as[1:]}. "
    also = or_typed(path)
    return f"{takes}{also}{' ' * bool(also)}{meaning_words(path)}"


def help_words(path: Path) -> str:
    """All that help has on a value: what it is, what may be typed, its key, default and bounds."""
    key = key_for(path)
    # A list has brackets and quotes in the file, and none where it is typed.
    differs = key is not None and key.kind.typed_as != key.kind.allowed
    typed = f"Typed here: {key.kind.typed_as}" if key is not None and differs else ""
    said = (meaning_words(path), typed, or_typed(path), key_words(path))
    return "\n".join(filter(None, said))


def or_typed(path: Path) -> str:
    """What else may be typed over a value: a share of it, and all things alike; "" for nothing."""
    key = key_for(path)
    share = path == ATTENDED or (key is not None and takes_share(key))
    said = ["-20 % or +10 % of what stands here"] if share else []
    if key is not None and takes_all(key):
        said.append(f"{ALL} before it for all {things_words(path)}")
    return f"Also {', and '.join(said)}." if said else ""


def _of_each(resolved: Resolved, path: Path) -> str:
    """Of fixtures where a part stands for several numbers, that these are each number's."""
    if path[-1] != "fixtures" or (resolved.raw(*path[:-1], "numbers") or 1) == 1:
        return ""
    return " of each number"


def meaning_words(path: Path, *, brief: bool = False) -> str:
    """What a value is and how a shop finds it; that alone is left out where it is to be brief."""
    if path == ATTENDED:
        return "Hours of the busiest day that some shift covers. Look at the shift plan."
    key = key_for(path)
    if key is None:
        return ""
    meaning = key.says.meaning[0].upper() + key.says.meaning[1:]
    return f"{meaning}." if brief else f"{meaning}. To find it: {key.says.find}"
