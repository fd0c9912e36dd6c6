"""Values that are entered but that nobody has measured (rule `study.guesses`).

A scenario's notes say "Assumed until measured: part.body.cycle = 10 min; part.body.weekly = 100."
A value counts as assumed as long as it is still the one in that sentence; entering a value, the
same one too, takes it out of the sentence. It may also name a default that was asked for and is
not known: what is not entered is assumed anyhow, and entering it takes it out likewise.
"""

import re
from collections.abc import Callable, Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import Final, TypeAlias

from whatif.study.draft import ScenarioDraft
from whatif.study.raw import Path, Raw
from whatif.study.schema.catalogue import THINGS, dotted, key_for

NOTES: Final[Path] = ("notes",)

Guesses: TypeAlias = Mapping[Path, str]
"""The values as an editor writes them, by their paths."""

Moved: TypeAlias = Callable[[Path, str], tuple[Path, str] | None]
"""Where a guess goes, and with what value; None where it goes altogether."""

_BEGINS: Final = "Assumed until measured:"
# A value holds neither of ";=": so what a person writes behind the sentence is never part of it.
_PAIR: Final = r"[a-z_]+(?:\.[A-Za-z0-9_-]+)+ = [^;=\n]+?"
_SENTENCE: Final = rf"{_BEGINS}\s+({_PAIR}(?:;\s+{_PAIR})*)\.(?=\s|$)"
_WITH_BREAK: Final = rf"\s*{_SENTENCE}"


def guesses_of(scenario: ScenarioDraft) -> Guesses:
    """What the notes of a scenario name as assumed."""
    notes = scenario.entered.get(NOTES)
    return _guesses_in(notes) if isinstance(notes, str) and _BEGINS in notes else {}


@lru_cache(maxsize=64)
def _guesses_in(notes: str) -> Guesses:
    guesses: dict[Path, str] = {}
    for sentence in re.finditer(_SENTENCE, notes):
        for pair in re.split(r";\s+", sentence[1]):
            key, _, value = pair.partition(" = ")
            guesses[tuple(key.split("."))] = value.strip()
    return MappingProxyType(guesses)


def is_guess(guesses: Guesses, path: Path, raw: Raw) -> bool:
    """Whether a value is still the one that was only assumed."""
    return path in guesses and guesses[path] == written(path, raw)


def is_as_parent(scenario: ScenarioDraft) -> bool:
    """Whether it is as the one that it is based on; a price that is still open is no change."""
    raw, guesses = scenario.entered.get(_ONE_OFF), guesses_of(scenario)
    is_open = raw == 0 and is_guess(guesses, _ONE_OFF, raw)
    return (scenario.without(_ONE_OFF) if is_open else scenario).changes_nothing


_ONE_OFF: Final[Path] = ("money", "one_off")


def written(path: Path, raw: Raw) -> str:
    """A value as the sentence has it."""
    key = key_for(path)
    return "" if key is None else key.kind.written(raw)


def default_written(path: Path) -> str:
    """What holds where nothing is entered, as the sentence has it."""
    key = key_for(path)
    # A semicolon would end the value.
    return "" if key is None else key.default_words.replace(";", ",")


def in_words(notes: str) -> str:
    """Notes as they are read: what is assumed by its labels in place of the file's keys."""
    return re.sub(_SENTENCE, lambda sentence: _plainly(_guesses_in(sentence[0])), notes)


def _plainly(guesses: Guesses) -> str:
    """The sentence in words; things of one sort that have the same value stand together."""
    alike: dict[tuple[str, str, str], list[str]] = {}
    for path, value in guesses.items():
        key = key_for(path)
        of_thing = key is not None and path[0] in THINGS
        label = dotted(path) if key is None else key.label
        things = alike.setdefault((path[0] if of_thing else "", label, value), [])
        if of_thing:
            things.append(" on ".join((path[1], *path[3:4][: len(path) - 4])))
    said = "; ".join(
        f"{label} ({sort} {', '.join(things)}): {value}" if things else f"{label}: {value}"
        for (sort, label, value), things in alike.items()
    )
    return f"{_BEGINS} {said}."


def sentence(guesses: Guesses) -> str:
    """The sentence that names values as assumed; "" where there are none."""
    pairs = "; ".join(f"{dotted(path)} = {value}" for path, value in guesses.items())
    return f"{_BEGINS} {pairs}." if pairs else ""


def with_guesses(scenario: ScenarioDraft, guesses: Guesses) -> ScenarioDraft:
    """The scenario with these values named in its notes beside those that are there."""
    return _saying(scenario, {**guesses_of(scenario), **guesses}) if guesses else scenario


def moved_guesses(scenario: ScenarioDraft, moved: Moved) -> ScenarioDraft:
    """The scenario with its guesses gone elsewhere, or gone altogether."""
    before = guesses_of(scenario)
    after = dict(filter(None, (moved(path, value) for path, value in before.items())))
    return scenario if after == before else _saying(scenario, after)


def without_guess(scenario: ScenarioDraft, path: Path) -> ScenarioDraft:
    """The scenario after somebody has said what the value at a path is."""
    return moved_guesses(
        scenario, lambda guessed, value: None if guessed == path else (guessed, value)
    )


def _saying(scenario: ScenarioDraft, guesses: Guesses) -> ScenarioDraft:
    """The scenario with one sentence in its notes, where the first one stood or at their end."""
    notes = str(scenario.entered.get(NOTES, ""))
    said, first = sentence(guesses), re.search(_SENTENCE, notes)
    if first is None:
        notes = f"{notes.rstrip()}\n{said}" if notes.strip() else said
    else:
        # A second one, of notes that a person has put together, goes with its break of the line.
        head, tail = notes[: first.start()], re.sub(_WITH_BREAK, "", notes[first.end() :])
        notes = head + said + tail if said else (head.rstrip() + tail).lstrip()
    return scenario.having(NOTES, notes) if notes.strip() else scenario.without(NOTES)
