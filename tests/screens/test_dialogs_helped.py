"""F1 on whatever is laid over a screen: it tells what is asked and the keys, and comes back."""

from __future__ import annotations

from pathlib import Path

import pytest
from screen import SCENARIOS, on_screen

from whatif.screens.dialogs.dialog import Dialog
from whatif.screens.dialogs.reading import ReadText

DEMO = SCENARIOS / "one-person.toml"


@pytest.mark.parametrize(
    ("keys", "tells"),
    [
        # A list that is found in, one with letters, a line to type, notes, a question.
        (("y",), "puts what is found at the top"),
        (("n",), "takes it at once"),
        (("a",), "what is wrong with it is said"),
        (("e", "n"), "keep the notes"),
        (("f6",), "It shows"),
    ],
)
async def test_f1_tells_of_a_small_screen_and_comes_back(
    keys: tuple[str, ...], tells: str, tmp_path: Path
) -> None:
    study = tmp_path / "study.toml"
    study.write_text(DEMO.read_text())
    async with on_screen(study) as screen:
        await screen.press(*keys)
        asked = screen.app.screen
        assert isinstance(asked, Dialog)
        await screen.press("f1")
        told = screen.app.screen
        assert isinstance(told, ReadText)
        assert tells in told.text
        await screen.press("escape")
        assert screen.app.screen is asked


def _kinds(of: type[Dialog]) -> set[type[Dialog]]:
    return {kind for each in of.__subclasses__() for kind in {each, *_kinds(each)}}


def test_no_small_screen_is_without_help() -> None:
    import whatif.screens.dialogs.forms
    import whatif.screens.dialogs.lists
    import whatif.screens.dialogs.mend_text
    import whatif.screens.dialogs.texts

    assert whatif.screens.dialogs
    # Tests have kinds of their own.
    kinds = [
        each
        for each in _kinds(Dialog)
        if each.__module__.startswith("whatif.") and not each.__subclasses__()
    ]
    without = [each.__name__ for each in kinds if not hasattr(each, "action_help")]
    assert len(kinds) > 8
    assert without == []
