"""A study's models: read by their kinds, frozen, equal by their values."""

from __future__ import annotations

import pickle

import pytest

from whatif.study.schema.kinds.kind import KindError
from whatif.study.schema.models.cell import WhatIsSaid, WithNobody
from whatif.study.schema.models.study import Scenario


def test_what_is_missing_is_as_assumed_and_not_entered() -> None:
    said = WhatIsSaid.of({"with_nobody": {"hours": "2 h"}})
    assert said.machines is None
    assert said.with_nobody == WithNobody.of({"hours": "2 h", "cutting": "100 %"})
    assert said.with_nobody.is_entered("hours")
    assert not said.with_nobody.is_entered("cutting")
    assert said.with_nobody != WithNobody.of({"hours": "3 h"})


def test_things_are_by_id() -> None:
    scenario = Scenario.of({"id": "a", "part": {"body": {"cycle": "3 min", "weekly": 2}}})
    assert list(scenario.part) == ["body"]
    assert scenario.part["body"].weekly == 2
    assert scenario.machine == {}


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"id": "a", "colour": "red"}, "colour"),
        ({}, "lacks id"),
        ({"id": "a", "part": {"b c": {}}}, "allowed"),
        ({"id": "a", "part": {"body": {"weekly": 1}}}, "cycle"),
    ],
)
def test_what_no_study_may_hold(values: dict[str, object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        Scenario.of(values)


def test_a_value_goes_through_its_kind() -> None:
    with pytest.raises(KindError):
        WithNobody.of({"hours": "30 h"})
    with pytest.raises(KindError):
        WithNobody.of({"hours": ""})


def test_a_model_is_never_changed_and_travels() -> None:
    made = WithNobody.of({"hours": "2 h"})
    with pytest.raises(AttributeError):
        made.hours = made.cutting
    with pytest.raises(AttributeError):
        del made.hours
    gone = pickle.loads(pickle.dumps(made))
    assert gone == made
    assert hash(gone) == hash(made)
    assert gone.is_entered("hours")
