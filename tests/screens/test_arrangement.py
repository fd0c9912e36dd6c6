"""How a study is looked at: which columns stand where."""

from __future__ import annotations

from whatif.screens.desk.arrangement import Arrangement

IDS = ("a", "b", "c", "d")


def test_kept_columns_stand_first_and_new_ones_behind_their_neighbour() -> None:
    arrangement = Arrangement().keeping("c", "a")
    assert arrangement.columns(IDS, "a") == ("a", "c", "b", "d")
    assert arrangement.keeping("a", "a").columns(IDS, "a") == ("c", "a", "b", "d")
    moved = arrangement.moving("d", -1, IDS, "a")
    assert moved.columns(IDS, "a") == ("a", "c", "d", "b")
    assert moved.columns(("a", "b", "new", "c", "d"), "a") == ("a", "c", "d", "b", "new")
    assert moved.columns(("b", "d"), "b") == ("b", "d")


def test_a_column_does_not_leave_its_side() -> None:
    arrangement = Arrangement()
    assert arrangement.moving("b", -1, IDS, "a") == arrangement
    assert arrangement.moving("a", -1, IDS, "a") == arrangement
    assert arrangement.moving("d", 1, IDS, "a") == arrangement


def test_what_is_hidden_keeps_its_place() -> None:
    arrangement = Arrangement().hiding("b").hiding("c")
    assert arrangement.columns(IDS, "a") == ("a", "d")
    assert arrangement.out_of_sight(IDS) == ("b", "c")
    assert arrangement.moving("d", 1, IDS, "a") == arrangement
    assert arrangement.showing("b", "c").columns(IDS, "a") == IDS
    assert arrangement.out_of_sight(("b", "c")) == ()
