"""The levers of a study: what a search may change, as the file has it (rule `keys.lever`)."""

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from typing import Any, Final

from whatif.records import dataclass
from whatif.study.draft import Draft
from whatif.study.raw import Path, Raw, Table
from whatif.study.resolve import GIVEN_BACK
from whatif.study.schema.catalogue import ALSO, ANY, LEVER, LEVER_KEYS, Key, key_for

RELATIVE: Final = ("+", "-")
"""How a value begins that is so much more or less than what holds."""


PRICES: Final = ("price", "price_each", "yearly")
"""The prices of a lever."""


@dataclass(frozen=True, slots=True)
class SearchLever:
    """One lever: the key that is changed, the values that are tried, and what that costs.

    Attributes:
        key: path under a scenario, with `ANY` for all that are in use.
        also: what is entered with every value, by path.
        assumed: whether it is proposed, and nobody has entered it.
        said: names of the prices that are entered; one of 0 is a price too.
    """

    id: str
    key: Path
    values: tuple[str, ...]
    also: tuple[tuple[Path, Raw], ...] = ()
    title: str = ""
    price: Fraction = Fraction(0)
    price_each: Fraction = Fraction(0)
    yearly: Fraction = Fraction(0)
    assumed: bool = False
    said: tuple[str, ...] = ()

    @property
    def has_price(self) -> bool:
        """Whether it has a price of its own: one that is entered, be it 0, or proposed above 0."""
        return bool(self.said or self.price or self.price_each or self.yearly)

    @property
    def entries(self) -> dict[Path, Raw]:
        """What a file holds below its id to say the same."""
        found: dict[Path, Raw] = {("title",): self.title} if self.title else {}
        found |= {("key",): ".".join(self.key), ("values",): self.values}
        for name in PRICES:
            amount: Fraction = getattr(self, name)
            if amount or name in self.said:
                kind = LEVER_KEYS[name].kind
                found[(name,)] = kind.typed(format(float(amount), ".12g"))
        return found | {(ALSO, *path): raw for path, raw in self.also}


def entered_levers(draft: Draft) -> dict[str, dict[Path, Raw]]:
    """What is entered below the id of each lever, in file order; what is no table has none."""
    table = draft.head.get(LEVER)
    if not isinstance(table, Table):
        return {}
    return {id_: dict(flat_table(raw)) for id_, raw in table.items if isinstance(raw, Table)}


def levers_of(draft: Draft) -> dict[str, SearchLever]:
    """The levers of a study without problems, by id."""
    return {id_: _lever(id_, entries) for id_, entries in entered_levers(draft).items()}


def _lever(id_: str, entries: Mapping[Path, Raw]) -> SearchLever:
    def read(name: str) -> Any:
        key, raw = LEVER_KEYS[name], entries.get((name,), GIVEN_BACK)
        return key.kind.read(key.default if raw == GIVEN_BACK else raw)

    return SearchLever(
        id=id_,
        key=tuple(read("key").split(".")),
        values=read("values"),
        also=tuple((path[1:], raw) for path, raw in entries.items() if path[0] == ALSO),
        title=read("title"),
        price=read("price"),
        price_each=read("price_each"),
        yearly=read("yearly"),
        said=tuple(name for name in PRICES if entries.get((name,), GIVEN_BACK) != GIVEN_BACK),
    )


def key_of_lever(path: Path) -> Key | None:
    """The key of a scenario that a lever's path means; None where there is none."""
    return key_for(tuple("id" if part == ANY else part for part in path))


def flat_table(table: Table, above: Path = ()) -> Iterator[tuple[Path, Raw]]:
    """What stands in a table and in those below it, by its path."""
    for name, raw in table.items:
        if isinstance(raw, Table) and raw.items:
            yield from flat_table(raw, (*above, name))
        else:
            yield (*above, name), raw


def with_lever(draft: Draft, id_: str, entries: Mapping[Path, Raw]) -> Draft:
    """The draft with a lever entered so, or without it where there are no entries."""
    table = draft.head.get(LEVER)
    items = dict(table.items) if isinstance(table, Table) else {}
    if entries:
        items[id_] = _nested(entries)
    else:
        items.pop(id_, None)
    return draft.with_head(LEVER, Table(tuple(items.items())) if items else None)


def also_text(also: Iterable[tuple[Path, Raw]]) -> str:
    """What goes with a lever, as it is typed: "part.*.fixtures = ; machine.mill.pallets = 2"."""
    return "; ".join(f"{'.'.join(path)} = {_written(path, raw)}".rstrip() for path, raw in also)


def also_from(text: str) -> tuple[tuple[Path, Raw], ...]:
    """What goes with a lever, as it was typed; raises `ValueError` with the piece that is none.

    Of a key that there is not the text stands as it is, for the check to tell.
    """
    found: dict[Path, Raw] = {}
    for piece in filter(None, map(str.strip, text.split(";"))):
        name, between, value = (each.strip() for each in piece.partition("="))
        if not between or not name:
            raise ValueError(piece)
        path = tuple(name.split("."))
        key = key_of_lever(path)
        found[path] = value if key is None or not value else key.kind.typed(value)
    return tuple(found.items())


def _written(path: Path, raw: Raw) -> str:
    key = key_of_lever(path)
    return str(raw) if key is None or raw == GIVEN_BACK else key.kind.written(raw)


def _nested(entries: Mapping[Path, Raw]) -> Table:
    names = dict.fromkeys(path[0] for path in entries)
    found: list[tuple[str, Raw]] = []
    for name in names:
        below = {path[1:]: raw for path, raw in entries.items() if path[0] == name and path[1:]}
        found.append((name, _nested(below) if below else entries[name,]))
    return Table(tuple(found))
