"""Enter on a value of any key opens the line for a number, and else a form or list that fits."""

from __future__ import annotations

import pytest
from desk_host import NotingHost, host_of
from every_key_study import EVERY_KEY

from whatif.screens.desk import forms
from whatif.screens.dialogs.dialog import Dialog
from whatif.study.schema.catalogue import KEYS, Key, pattern_of

ONE_LINE = {"start", "end", "arrives", "due", "done_on", "currency"}
"""A time of the day, a moment, a date, three letters: typed as they stand, like a number."""

KEYS_ON_ROWS = [key for key in KEYS if key.name not in ("parent", "title", "notes")]


@pytest.fixture(scope="module")
def host(tmp_path_factory: pytest.TempPathFactory) -> NotingHost:
    return host_of(tmp_path_factory.mktemp("every"), EVERY_KEY)


class OfFields(Dialog):
    """In the place of forms whose fields only an app that runs can make."""

    def __init__(self, *_: object) -> None:
        pass


@pytest.mark.parametrize("key", KEYS_ON_ROWS, ids=lambda key: key.dotted)
def test_what_is_no_number_has_a_form(
    key: Key, host: NotingHost, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(forms, "BreaksForm", OfFields)
    monkeypatch.setattr(forms, "SidesForm", OfFields)
    entered = host.state.session.draft.scenario("now").entered
    path = next(path for path in entered if pattern_of(path) == key.pattern)
    host.asked = None
    host.put_on(path, "now")
    host.controllers.entering.press_enter()
    is_typed = key.kind.numeric or key.kind.dimension is not None or key.name in ONE_LINE
    assert (host.asked is None, host.focus.startswith("editor")) == (is_typed, is_typed)
    host.controllers.values.close(keep=False)
