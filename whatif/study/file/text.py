"""From a draft to the text of a study file, only what was entered, always in one order."""

from collections.abc import Iterator
from typing import Final

import tomli_w

from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.raw import Path, Raw, Table, thawed
from whatif.study.schema.catalogue import THINGS

_LONGEST_LINE: Final = 100


def to_text(draft: Draft) -> str:
    """The study as TOML; `read_text` makes an equal draft of it.

    A root scenario is written in tables, one for each thing; a scenario with a
    parent as a short list of dotted keys, so that what differs is seen at once.
    """
    blocks = ["\n".join(_head(draft))]
    for name, raw in draft.head.items():
        if isinstance(raw, Table):
            blocks.append(tomli_w.dumps({name: thawed(raw)}).rstrip("\n"))
    plain = [each for each in draft.scenarios if () in each.entered]
    if plain:
        lines = (_line((each.id,), each.entered[()]) for each in plain)
        blocks.append("\n".join(("[scenario]", *lines)))
    for scenario in draft.scenarios:
        if () not in scenario.entered:
            blocks.extend("\n".join(block) for block in _blocks(scenario))
    body = "\n\n".join(block for block in blocks if block)
    text = draft.preamble + (body + "\n" if body else "")
    return text.replace("\n", draft.newline)


def _head(draft: Draft) -> Iterator[str]:
    for name, raw in draft.head.items():
        if not isinstance(raw, Table):
            yield _line((name,), raw)


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
