"""Saving a study: whole or not at all, and comments never lost unsaid (rule `study.edits`)."""

import os
from collections.abc import Iterator
from contextlib import suppress
from functools import lru_cache
from itertools import count
from pathlib import Path as FilePath
from typing import Final

import tomli_w

from whatif.records import dataclass
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.file.atomic import add_file, replace_file
from whatif.study.file.reading import StudyError, comments, fingerprint, read_bytes
from whatif.study.file.unfinished import clear_unfinished
from whatif.study.levers import flat_table
from whatif.study.raw import Path, Raw, Table, thawed
from whatif.study.refused import FileFaultKind
from whatif.study.schema.catalogue import LEVER, THINGS


class ChangedOnDisk(StudyError):
    """The file is not the one that was read; saving by force would drop another's work."""


@dataclass(frozen=True)
class Written:
    """The fingerprint of a file that was saved.

    `copied_to` is the copy of the file as it was, made because it had comments
    that saving drops. `has_other_names` where hard links to it were there, which keep
    what it held: putting a new file in its place is what makes saving whole or nothing.
    """

    fingerprint: str
    copied_to: FilePath | None = None
    has_other_names: bool = False


def write_file(
    draft: Draft, path: FilePath | str, expected: str | None, *, force: bool = False
) -> Written:
    """Save `draft` at `path`; raises `StudyError`, and the file is then as it was.

    `expected` is the fingerprint of the file when it was last read or written,
    None for a file that is new. Where another file stands there, `ChangedOnDisk`
    is raised unless `force` is given. A link stays a link.
    """
    path = FilePath(path)
    place = _place_of(path)
    before = _content(path, place)
    if not force:
        _refuse_changed(path, before, expected)
    content = to_text(draft).encode()
    now = fingerprint(content)
    if before == content:
        return Written(now)

    def unless_changed() -> None:
        if not force and _content(path, place) != before:
            raise ChangedOnDisk(FileFaultKind.CHANGED_BY_SOMEBODY, path)

    copied_to, is_new, has_other_names = None, False, False
    try:
        has_other_names = before is not None and place.stat().st_nlink > 1
        copied_to, is_new = _keep_comments(draft, place, before)
        # A disk may be slow, and another program quick.
        replace_file(place, content, before_that=unless_changed)
    except (OSError, StudyError) as fault:
        # A drive of the network may do what it was asked and tell a fault all the same.
        if isinstance(fault, StudyError) or not _holds(place, content):
            if copied_to is not None and is_new:
                copied_to.unlink(missing_ok=True)
            if isinstance(fault, StudyError):
                raise
            raise StudyError(FileFaultKind.NOT_SAVED, path, cause=fault) from None
    clear_unfinished(place.parent)
    return Written(now, copied_to, has_other_names)


def replace_text(text: str, path: FilePath, expected: str) -> None:
    """Put a text in a file's place as it stands, for one that is no study yet.

    Raises `StudyError`, and the file is then as it was; `ChangedOnDisk` where it is not the one of
    the fingerprint `expected`.
    """
    place = _place_of(path)

    def unless_changed() -> None:
        _refuse_changed(path, _content(path, place), expected)

    unless_changed()
    try:
        replace_file(place, text.encode(), before_that=unless_changed)
    except OSError as fault:
        raise StudyError(FileFaultKind.NOT_SAVED, path, cause=fault) from None
    clear_unfinished(place.parent)


def _place_of(path: FilePath) -> FilePath:
    """Where a path leads; nowhere once the folder that it is told from has been removed."""
    try:
        return FilePath(os.path.realpath(path))
    except OSError as fault:
        raise StudyError(FileFaultKind.NOT_SAVED, path, cause=fault) from None


def _holds(place: FilePath, content: bytes) -> bool:
    with suppress(StudyError):
        return read_bytes(place) == content
    return False


def _content(path: FilePath, place: FilePath) -> bytes | None:
    """What stands in the file now, None where there is none."""
    try:
        if place.is_dir():
            raise StudyError(FileFaultKind.FOLDER_TO_WRITE, path)
        if not place.exists():
            return None
    except OSError as fault:
        raise StudyError(FileFaultKind.NO_PLACE, path, cause=fault) from None
    if not place.is_file():
        raise StudyError(FileFaultKind.NO_ORDINARY_FILE, path)
    if not os.access(place, os.W_OK):
        # Replacing would succeed, but whoever made the file read-only meant it.
        raise StudyError(FileFaultKind.READ_ONLY, path)
    return read_bytes(place)


def _refuse_changed(path: FilePath, before: bytes | None, expected: str | None) -> None:
    if before is None:
        return
    if expected is None:
        raise ChangedOnDisk(FileFaultKind.FILE_IS_THERE, path)
    if fingerprint(before) != expected:
        raise ChangedOnDisk(FileFaultKind.CHANGED_BY_SOMEBODY, path)


def _keep_comments(
    draft: Draft, place: FilePath, before: bytes | None
) -> tuple[FilePath | None, bool]:
    """Copy the file as it is where saving would drop comments of it.

    Gives the copy's path, None where none is needed, and whether it was made just now.
    """
    if before is None:
        return None, False
    text = before.decode("utf-8-sig", errors="replace").replace("\r\n", "\n")
    preamble, others = comments(text)
    if not others and (not preamble or preamble.strip() == draft.preamble.strip()):
        return None, False
    for number in count(1):
        ending = ".with-comments" if number == 1 else f".with-comments.{number}"
        copy = place.with_name(place.name + ending)
        if copy.is_file() and copy.read_bytes() == before:
            return copy, False
        if not os.path.lexists(copy):
            break
    add_file(copy, before, place)
    return copy, True


_LONGEST_LINE: Final = 100


def to_text(draft: Draft) -> str:
    """The study as TOML; `read_text` makes an equal draft of it.

    A root scenario is written in tables, one for each thing; a scenario with a
    parent as a short list of dotted keys, so that what differs is seen at once.
    """
    blocks = ["\n".join(_head(draft))]
    for name, raw in draft.head.items():
        if name == LEVER and isinstance(raw, Table):
            blocks.extend(_levers(raw))
        elif isinstance(raw, Table):
            blocks.append(tomli_w.dumps({name: thawed(raw)}).rstrip("\n"))
    plain = [each for each in draft.scenarios if () in each.entered]
    if plain:
        lines = (_line((each.id,), each.entered[()]) for each in plain)
        blocks.append("\n".join(("[scenario]", *lines)))
    for scenario in draft.scenarios:
        if () not in scenario.entered:
            blocks.extend(_text_of(scenario))
    body = "\n\n".join(block for block in blocks if block)
    text = draft.preamble + (body + "\n" if body else "")
    return text.replace("\n", draft.newline)


def _levers(table: Table) -> Iterator[str]:
    """The levers, a table each, with what stands deeper as dotted keys."""
    plain = [(id_, raw) for id_, raw in table.items if not isinstance(raw, Table)]
    if plain or not table.items:
        yield "\n".join((f"[{LEVER}]", *(_line((id_,), raw) for id_, raw in plain)))
    for id_, raw in table.items:
        if isinstance(raw, Table):
            lines = [_line(path, value) for path, value in flat_table(raw)]
            yield "\n".join((f"[{LEVER}.{_key(id_)}]", *lines))


def _head(draft: Draft) -> Iterator[str]:
    for name, raw in draft.head.items():
        if not isinstance(raw, Table):
            yield _line((name,), raw)


# After an edit all other scenarios stand as they stood, and the text is written after each.
@lru_cache(maxsize=4096)
def _text_of(scenario: ScenarioDraft) -> tuple[str, ...]:
    return tuple("\n".join(block) for block in _blocks(scenario))


def _blocks(scenario: ScenarioDraft) -> Iterator[list[str]]:
    """The tables of a scenario, each with its heading and its lines."""
    above = ("scenario", scenario.id)
    tables: dict[Path, list[str]] = {(): []}
    for path, raw in scenario.entered.items():
        table = () if scenario.parent is not None else _table_of(path, raw)
        lines = tables.setdefault(table, [])
        if path != table:
            lines.append(_line(path[len(table) :], raw))
    for table, lines in tables.items():
        heading = ".".join(_key(part) for part in (*above, *table))
        yield [f"[{heading}]", *lines]


def _table_of(path: Path, raw: Raw) -> Path:
    """The table that a value of a root scenario is written in."""
    depth = 2 if path[0] in THINGS else 1
    if len(path) > depth or (len(path) == depth and isinstance(raw, Table)):
        return path[:depth]
    return ()


def _line(path: Path, raw: Raw) -> str:
    key = ".".join(_key(part) for part in path)
    line = f"{key} = {_value(raw)}"
    if isinstance(raw, tuple) and len(line) > _LONGEST_LINE:
        inside = "".join(f"    {_value(item)},\n" for item in raw)
        return f"{key} = [\n{inside}]"
    if isinstance(raw, str) and "\n" in raw and "\r" not in raw:
        return f"{key} = {_scalar(raw, lines=True)}"
    return line


@lru_cache(maxsize=1024)
def _key(part: str) -> str:
    return tomli_w.dumps({part: 0}).removesuffix(" = 0\n")


def _value(raw: Raw) -> str:
    if isinstance(raw, tuple):
        return f"[{', '.join(_value(item) for item in raw)}]"
    if isinstance(raw, Table):
        inside = ", ".join(f"{_key(name)} = {_value(item)}" for name, item in raw.items)
        return f"{{ {inside} }}" if inside else "{}"
    return _scalar(raw)


def _scalar(raw: Raw, lines: bool = False) -> str:
    text = tomli_w.dumps({"k": raw}, multiline_strings=lines)
    return text.removeprefix("k = ").removesuffix("\n")
