"""Studies of any shape, right and wrong, for tests of what must always hold."""

from decimal import Decimal
from typing import Any

from hypothesis import strategies as st

from whatif.study.schema.catalogue import HEAD_KEYS, KEYS

SCALARS = st.one_of(
    st.integers(-(2**63), 2**63 - 1),
    st.booleans(),
    st.text(st.characters(exclude_categories=["Cs"]), max_size=20),
    st.decimals(allow_nan=False, allow_infinity=False).map(
        lambda each: each if each.as_tuple().exponent < 0 else Decimal(f"{each:E}")  # type: ignore[operator]  # finite, so an int
    ),
    st.sampled_from(["", "11 min", "27 in", "a\nb", "mon", "#"]),
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from("abc"), inner, max_size=2)
    ),
    max_leaves=4,
)
IDS = st.one_of(st.sampled_from(["mill", "lathe", "body", "a-1"]), st.text(max_size=4).filter(
    lambda each: each.isprintable()))  # fmt: skip
PATHS = st.one_of(
    st.sampled_from(KEYS).flatmap(
        lambda key: st.tuples(*(IDS if part == "*" else st.just(part) for part in key.pattern))
    ),
    st.lists(IDS, min_size=1, max_size=3).map(tuple),
)


@st.composite
def toml_tables(draw: st.DrawFn) -> dict[str, Any]:
    """What a file holds: known and unknown keys, right and wrong values, in any order."""
    root: dict[str, Any] = draw(
        st.dictionaries(st.one_of(st.sampled_from(list(HEAD_KEYS)), IDS), VALUES, max_size=4)
    )
    scenarios: dict[str, Any] = {}
    for one in draw(st.lists(IDS, max_size=3, unique=True)):
        entries = draw(st.lists(st.tuples(PATHS, VALUES), max_size=8))
        if draw(st.integers(0, 9)) == 0:
            scenarios[one] = draw(VALUES)
            continue
        table: dict[str, Any] = {}
        if draw(st.booleans()):
            table["parent"] = draw(IDS)
        for path, value in entries:
            put(table, path, value)
        scenarios[one] = table
    return {**root, "scenario": scenarios}


def put(table: dict[str, Any], path: tuple[str, ...], value: Any) -> None:
    """Set a value deep in a table, unless a plain value is in the way."""
    for part in path[:-1]:
        below = table.setdefault(part, {})
        if not isinstance(below, dict):
            return
        table = below
    table[path[-1]] = value


PREAMBLES = st.lists(
    st.text(st.characters(exclude_categories=["Cs", "Cc", "Zl", "Zp"]), max_size=9), max_size=3
).map(lambda lines: "".join(f"#{line}\n\n" for line in lines))
