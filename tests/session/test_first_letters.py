"""Letters that begin a value of a row are no commands there."""

from __future__ import annotations

import pytest

from whatif.session.first_letters import first_letters


@pytest.mark.parametrize(
    ("path", "letters"),
    [
        (("shift", "day", "days"), "mtwfsdae"),
        (("unattended", "nights"), "mtwfsdaen"),
        (("shift", "day", "breaks"), ""),
        (("machine", "mill", "unattended"), ""),
        (("part", "plate", "machines"), ""),
        (("part", "plate", "cycle"), ""),
        (("machine", "mill", "pallets"), ""),
        (("hours", "attended"), ""),
        (("notes",), ""),
    ],
)
def test_they_are_those_of_its_kind(path: tuple[str, ...], letters: str) -> None:
    assert first_letters(path) == {*letters, *letters.upper()}


def test_a_title_may_begin_with_any_but_those_of_undo() -> None:
    assert {"N", "U", "z"} <= first_letters(("title",))
    assert not {"u", "r"} & first_letters(("title",))
