"""A sign has one meaning, in whichever drawing it stands."""

from __future__ import annotations

from whatif.screens.widgets import bars
from whatif.telling import blocks, night_pictures
from whatif.telling.curve_plot import BAND_SIGN
from whatif.telling.week.drawn import MARKS
from whatif.telling.week.lanes import Of

SIGNS = {
    name: sign
    for name, sign in vars(blocks).items()
    if name.isupper() and isinstance(sign, str) and len(sign) == 1
}


def test_no_two_meanings_share_a_sign() -> None:
    assert len(set(SIGNS.values())) == len(SIGNS) == 12


def test_drawings_take_their_signs_from_the_one_list() -> None:
    counts = set("0123456789*")
    week = {mark.block for marks in MARKS.values() for mark in marks.values()} - counts - {" "}
    night = set(night_pictures.SIGNS.values()) - {" "}
    assert week | night | set(blocks.BLOCKS.values()) <= set(SIGNS.values())
    assert {bars.LIKELY} == set(BAND_SIGN)


def test_what_may_begin_looks_the_same_in_the_week_and_in_the_night() -> None:
    assert night_pictures.SIGNS[night_pictures.Shade.STANDS] == blocks.MAY_BEGIN
    assert blocks.MAY_BEGIN in {mark.block for mark in MARKS[Of.PEOPLE].values()}


def test_loaded_pallets_are_quieter_than_cuts() -> None:
    """Counts of them, and those that are ready, have the look of what rests."""
    assert {mark.family for mark in MARKS[Of.LOADED].values()} == {"resting"}
    assert MARKS[Of.PALLET]["r"].family == "resting"
