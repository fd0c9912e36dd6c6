"""Which two alternatives were not tried together; gains by the pencil of `alternatives`."""

from __future__ import annotations

from alternatives import judged, one
from answer_studies import TODAY, sound

from whatif.answers.answer import Answer
from whatif.answers.together import not_together

SHOP = TODAY.replace("scenario.today", "scenario.now")
PALLETS = '[scenario.a]\nparent = "now"\nmachine.mill.pallets = 4\nmachine.mill.price = 900\n'
LONGER = '[scenario.b]\nparent = "now"\nshift.early.end = "18:00"\nmachine.mill.price = 10\n'
BETTER = {"a": one(20, 21, 22), "b": one(8, 9, 10)}


def found(text: str, **others: Answer) -> tuple[str, str] | None:
    return not_together(judged(**others), sound(SHOP + text).resolved)


def test_two_of_different_kinds_that_no_scenario_has_both_of_are_found() -> None:
    assert found(PALLETS + LONGER, **BETTER) == ("a", "b")
    # Whichever comes first.
    assert found(PALLETS + LONGER, a=BETTER["b"], b=BETTER["a"]) == ("b", "a")


def test_a_scenario_that_changes_both_has_tried_them_with_whatever_values() -> None:
    both = '[scenario.c]\nparent = "a"\nmachine.mill.pallets = 3\nshift.early.end = "17:00"\n'
    assert found(PALLETS + LONGER + both, **BETTER) is None
    # One that is based on the other has both, too.
    based = LONGER.replace('parent = "now"', 'parent = "a"')
    assert found(PALLETS + based, **BETTER) is None


def test_what_changes_the_same_thing_is_no_pair() -> None:
    more = '[scenario.b]\nparent = "now"\nmachine.mill.pallets = 6\n'
    assert found(PALLETS + more, **BETTER) is None
    # What only has a price, or other notes, changes nothing.
    priced = '[scenario.b]\nparent = "now"\nnotes = "dear"\nmachine.mill.price = 10\n'
    assert found(PALLETS + priced, **BETTER) is None


def test_only_what_is_clearly_better_is_a_pair() -> None:
    assert found(PALLETS + LONGER, a=BETTER["a"], b=one(-1, 5, 9)) is None
    assert found(PALLETS + LONGER, a=BETTER["a"]) is None


def test_a_shift_more_is_another_change_than_a_longer_one() -> None:
    """A late shift has an end of its own, which lengthens nothing."""
    late = (
        '[scenario.c]\nparent = "a"\n[scenario.c.shift.late]\n'
        'days = ["mon"]\nstart = "18:00"\nend = "22:00"\n'
    )
    assert found(PALLETS + LONGER + late, **BETTER) == ("a", "b")
    later = late.replace('"a"', '"now"').replace(".c", ".b")
    assert found(PALLETS + later, **BETTER) == ("a", "b")
    # Both are hours worked, of which nobody has two at once for the asking.
    longer = LONGER.replace("scenario.b", "scenario.a")
    assert found(longer + later, **BETTER) is None
