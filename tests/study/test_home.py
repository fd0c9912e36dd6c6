"""Where a value is entered so that it holds for the whole shop."""

from __future__ import annotations

import pytest

from whatif.study.edits.values import home_of, others_of
from whatif.study.file.reading import read_text

DRAFT = read_text("""\
format = 1
reference = "now"
[scenario.root]
part.a.cycle = "1 min"
[scenario.now]
parent = "root"
part.b.cycle = "1 min"
money.wage = 3
[scenario.more]
parent = "now"
part.c.cycle = "1 min"
part.a.contribution = 5
[scenario.beside]
parent = "root"
[scenario.apart]
part.a.cycle = "1 min"
""")


def paid(part: str) -> tuple[str, ...]:
    return ("part", part, "contribution")


@pytest.mark.parametrize(
    ("path", "chosen", "home"),
    [
        (paid("a"), "more", "root"),  # although it has one of its own
        (paid("b"), "more", "now"),
        (paid("c"), "more", "more"),  # the reference has no such part
        (paid("a"), "now", "root"),
        (paid("a"), "beside", "root"),
        (paid("a"), "apart", "apart"),
        (("money", "wage"), "more", "now"),  # where the reference enters it
        (("money", "wage"), "beside", "root"),
        (("money", "rate"), "more", "root"),
        (("money", "rate"), "apart", "apart"),
    ],
)
def test_where_it_holds_for_all(path: tuple[str, ...], chosen: str, home: str) -> None:
    assert home_of(DRAFT, path, chosen, DRAFT.reference_id) == home


@pytest.mark.parametrize(
    ("path", "home", "others"),
    [
        (paid("a"), "root", ("more", "apart")),
        (paid("b"), "now", ()),  # the others have no such part
        (("money", "wage"), "now", ("root", "beside", "apart")),
    ],
)
def test_who_has_one_of_their_own(path: tuple[str, ...], home: str, others: object) -> None:
    assert others_of(DRAFT, path, home) == others
