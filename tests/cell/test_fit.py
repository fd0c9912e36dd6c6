"""A part on a machine: how many make a load, and by how much it fits or misses.

The figures are worked out by hand beside each check, after rule `fit.face` and those with it.
"""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lengths import examples

from whatif.answers.on_table import LargerFace
from whatif.cell.fit.fit import Face, Fit, Growth, Limit, Piece, fit, needed_for
from whatif.cell.fit.nesting import holds
from whatif.telling.fit import fit_limit_words, growth_words

Number = int | str


def mm(*lengths: Number) -> tuple[Fraction, ...]:
    return tuple(Fraction(length) for length in lengths)


def pair(length: Number, width: Number) -> tuple[Fraction, Fraction]:
    return Fraction(length), Fraction(width)


def box(length: Number, width: Number, height: Number) -> tuple[Fraction, Fraction, Fraction]:
    return Fraction(length), Fraction(width), Fraction(height)


# A table with a free face of 600 x 400 mm, and a block of which 3 x 3 lie on it, 50 mm apart.
TABLE = Face(
    table=pair(650, 450),
    travel=pair(700, 500),
    work_height=Fraction(300),
    table_load=Fraction(250),
    faces=1,
)
BLOCK = Piece(
    size=box(160, 100, 80),
    mass=Fraction(10),
    fixture_mass=Fraction(40),
    turn="flat",
    gap=Fraction(50),
    edge=Fraction(25),
    fixture_height=Fraction(120),
    wanted=None,
)


def limit(found: Fit, kind: str, axis: str | None = None) -> Limit:
    (one,) = (one for one in found.limits if (one.kind, one.axis) == (kind, axis))
    return one


def numbers(one: Limit) -> tuple[object, ...]:
    return one.state, one.has, one.needs, one.margin


def told(one: Limit, units: str = "metric") -> str:
    return fit_limit_words(one, "body", "mill", units)


def grown(growth: Growth) -> tuple[object, object]:
    return growth.length, growth.width


def test_as_many_as_fit_make_the_load() -> None:
    # Along 3 x 160 + 2 x 50 = 580 of 600, across 3 x 100 + 2 x 50 = 400 of 400.
    found = fit(BLOCK, TABLE)
    assert found.fits
    assert (found.per_pallet, found.most, found.cut_down) == (9, 9, False)
    assert found.free_face == pair(600, 400)
    assert found.standing == 2
    assert numbers(limit(found, "face", "length")) == ("met", 600, 580, 20)
    assert numbers(limit(found, "face", "width")) == ("met", 400, 400, 0)
    assert numbers(limit(found, "height")) == ("met", 300, 200, 100)
    assert numbers(limit(found, "load")) == ("met", 250, 130, 120)  # 9 x 10 + 40 kg
    assert [told(one) for one in found.limits] == [
        "Length: 9 pieces need 580 mm, the face has 600 mm between its edges: 20 mm to spare.",
        "Width: 9 pieces need 400 mm, the face has 400 mm between its edges: 0 mm to spare.",
        "Height: 80 mm of part and 120 mm of fixture, the work height is 300 mm: 100 mm to spare.",
        "Load: 9 pieces of 10 kg and 40 kg of fixture make 130 kg, table or pallet may carry "
        "250 kg: 120 kg to spare.",
    ]


def test_the_layout_is_measured_from_the_tables_corner() -> None:
    found = fit(BLOCK, TABLE)
    assert found.layout[0] == mm(25, 25, 160, 100)
    assert found.layout[-1] == mm(25 + 2 * 210, 25 + 2 * 150, 160, 100)


def test_travel_smaller_than_the_table_lies_in_its_middle() -> None:
    # Travel 400 of 650: the reach begins at 125; 160 + 50 + 160 = 370 of it are needed.
    found = fit(BLOCK, replace(TABLE, travel=pair(400, 500)))
    assert found.free_face == pair(400, 400)
    assert found.per_pallet == 6
    assert found.layout[0] == mm(125, 25, 160, 100)
    assert told(limit(found, "face", "length")) == (
        "Length: 6 pieces need 370 mm, the travel is 400 mm: 30 mm to spare."
    )
    assert "between its edges" in told(limit(found, "face", "width"))


@pytest.mark.parametrize(
    ("table", "travel", "corner", "unchecked"),
    [
        (pair(650, 450), None, mm(25, 25), "Reach"),
        (None, pair(600, 400), mm(0, 0), "Table"),
    ],
)
def test_where_only_table_or_travel_is_given_it_alone_counts_and_the_other_is_told(
    table: tuple[Fraction, Fraction] | None,
    travel: tuple[Fraction, Fraction] | None,
    corner: tuple[Fraction, ...],
    unchecked: str,
) -> None:
    found = fit(BLOCK, replace(TABLE, table=table, travel=travel))
    assert found.free_face == pair(600, 400)
    assert found.per_pallet == 9
    assert found.layout[0][:2] == corner
    wanting = limit(found, "face")
    assert wanting.state == "unchecked"
    assert told(wanting).startswith(f"{unchecked}: the machine's ")
    assert told(wanting).endswith("not given, so not checked: enter it.")


def test_without_table_and_travel_the_number_is_unknown() -> None:
    bare = replace(TABLE, table=None, travel=None)
    found = fit(BLOCK, bare)
    assert (found.fits, found.per_pallet, found.most) == (True, 1, None)
    assert (found.layout, found.free_face) == ((), None)
    assert numbers(limit(found, "face")) == ("unchecked", None, None, None)
    assert told(limit(found, "face")) == (
        "Face: the machine's table and travel are not given, so not checked: enter one of them."
    )
    assert limit(found, "height").state == "met"
    assert fit(replace(BLOCK, wanted=7), bare).per_pallet == 7


def test_without_a_size_the_load_is_still_checked() -> None:
    unknown = replace(BLOCK, size=None, wanted=3)
    found = fit(unknown, TABLE)
    assert (found.fits, found.per_pallet, found.most, found.standing) == (True, 3, None, 2)
    assert found.free_face == pair(600, 400)
    assert told(limit(found, "face")) == (
        "Face: the part's size is not given, so not checked: enter it."
    )
    assert limit(found, "height").state == "unchecked"
    assert numbers(limit(found, "load")) == ("met", 250, 70, 180)  # 3 x 10 + 40 kg
    # 250 - 40 = 210 kg carry two of 80 kg, and none of 220 kg.
    two = fit(replace(unknown, mass=Fraction(80)), TABLE)
    assert (two.per_pallet, two.cut_down) == (2, True)
    none = fit(replace(unknown, mass=Fraction(220)), TABLE)
    assert (none.fits, none.per_pallet, none.most) == (False, 0, 0)
    assert numbers(limit(none, "load")) == ("missed", 250, 260, -10)


def test_nothing_given_is_nothing_checked() -> None:
    found = fit(
        replace(BLOCK, size=None, mass=Fraction(0), fixture_mass=Fraction(0)),
        Face(None, None, None, None, 1),
    )
    assert (found.fits, found.per_pallet, found.most) == (True, 1, None)
    assert {one.state for one in found.limits} == {"unchecked"}
    assert all("not given, so not checked: enter" in told(one) for one in found.limits)


def test_without_a_mass_the_load_is_not_checked_unless_the_fixture_alone_is_too_heavy() -> None:
    light = replace(BLOCK, mass=Fraction(0))
    assert told(limit(fit(light, TABLE), "load")) == (
        "Load: the part's mass is not given, so not checked: enter it."
    )
    heavy = fit(replace(light, fixture_mass=Fraction(260)), TABLE)
    assert not heavy.fits
    assert numbers(limit(heavy, "load")) == ("missed", 250, 260, -10)


def test_mass_allows_fewer_than_the_face() -> None:
    # (250 - 40) / 50 = 4.2.
    found = fit(replace(BLOCK, mass=Fraction(50)), TABLE)
    assert (found.per_pallet, found.most, found.cut_down) == (4, 4, False)
    assert len(found.layout) == 4
    assert numbers(limit(found, "load")) == ("met", 250, 240, 10)
    assert told(limit(found, "load")).endswith(
        "10 kg to spare. One more would be too heavy; there is room for 9."
    )
    wanted = fit(replace(BLOCK, mass=Fraction(50), wanted=5), TABLE)
    assert (wanted.per_pallet, wanted.cut_down) == (4, True)
    fewer = fit(replace(BLOCK, mass=Fraction(50), wanted=4), TABLE)
    assert (fewer.per_pallet, fewer.cut_down) == (4, False)
    assert "too heavy" not in told(limit(fewer, "load"))


def test_a_load_to_the_last_gram_is_met() -> None:
    exact = replace(BLOCK, mass=Fraction(210, 9))  # 9 x 210/9 + 40 = 250
    assert fit(exact, TABLE).per_pallet == 9
    over = replace(BLOCK, mass=Fraction(210, 9) + Fraction(1, 10**6))
    assert fit(over, TABLE).per_pallet == 8


def test_faces_multiply_the_load_and_the_layout_shows_the_fullest() -> None:
    four = replace(TABLE, faces=4, table_load=Fraction(1000))
    found = fit(BLOCK, four)
    assert (found.per_pallet, found.most, len(found.layout)) == (36, 36, 9)
    assert told(limit(found, "face", "length")).startswith("Length: 9 pieces on one face need")
    assert limit(found, "load").needs == 36 * 10 + 40
    stated = fit(replace(BLOCK, wanted=11), four)
    assert (stated.per_pallet, stated.most, len(stated.layout)) == (11, 36, 9)
    few = fit(replace(BLOCK, wanted=2), four)
    assert (few.per_pallet, few.most, len(few.layout)) == (2, 36, 2)


def test_more_wanted_than_fit_is_cut_down() -> None:
    found = fit(replace(BLOCK, wanted=12), TABLE)
    assert (found.per_pallet, found.most, found.cut_down) == (9, 9, True)
    assert not fit(replace(BLOCK, wanted=9), TABLE).cut_down


def test_fewer_wanted_lie_in_plain_rows() -> None:
    # 120 x 70 on 500 x 500: 28 in plain rows (4 x 7), 29 with some of them turned (see the tables
    # in test_nesting).
    small = replace(BLOCK, size=box(120, 70, 50), gap=Fraction(0), edge=Fraction(0))
    square = replace(TABLE, table=pair(500, 500), travel=None, table_load=None)
    ways = {place[2:] for place in fit(small, square).layout}
    assert len(ways) == 2
    few = fit(replace(small, wanted=28), square)
    assert {place[2:] for place in few.layout} == {mm(120, 70)}
    assert (few.per_pallet, few.most, len(few.layout)) == (28, 29, 28)


def test_too_high_misses_by_the_excess() -> None:
    found = fit(BLOCK, replace(TABLE, work_height=Fraction(185)))
    assert (found.fits, found.per_pallet, found.most, found.layout) == (False, 0, 0, ())
    assert not found.cut_down
    assert numbers(limit(found, "height")) == ("missed", 185, 200, -15)
    assert told(limit(found, "height")) == (
        "Height: 80 mm of part and 120 mm of fixture, the work height is 185 mm: "
        "it misses by 15 mm."
    )
    # The rest is told for a single piece.
    assert numbers(limit(found, "face", "length")) == ("met", 600, 160, 440)
    assert limit(found, "load").needs == 50


def test_too_high_is_told_even_where_the_face_is_unknown() -> None:
    found = fit(BLOCK, replace(TABLE, table=None, travel=None, work_height=Fraction(185)))
    assert (found.fits, found.per_pallet, found.most) == (False, 0, 0)


def test_a_piece_too_large_misses_in_its_better_direction() -> None:
    # Free 600 x 400. As entered 450 x 620: 220 too wide. Turned: 20 too long and 50 too wide.
    found = fit(replace(BLOCK, size=box(450, 620, 80)), TABLE)
    assert not found.fits
    assert numbers(limit(found, "face", "length")) == ("missed", 600, 620, -20)
    assert numbers(limit(found, "face", "width")) == ("missed", 400, 450, -50)
    assert told(limit(found, "face", "length")) == (
        "Length: 1 piece, turned, needs 620 mm, the face has 600 mm between its edges: "
        "it misses by 20 mm."
    )


def test_a_bar_that_suits_either_axis_but_not_both_is_missed() -> None:
    # Free 50 x 400, a bar of 420 x 30: along it lacks 370, across only 20.
    found = fit(replace(BLOCK, size=box(420, 30, 80)), replace(TABLE, travel=pair(50, 500)))
    assert not found.fits
    assert numbers(limit(found, "face", "length")) == ("met", 50, 30, 20)
    assert numbers(limit(found, "face", "width")) == ("missed", 400, 420, -20)


def test_edges_may_leave_nothing() -> None:
    found = fit(BLOCK, replace(TABLE, table=pair(40, 450)))
    assert not found.fits
    assert found.free_face == pair(0, 400)
    # 40 - 2 x 25 = -10; the block, turned, needs 100.
    assert numbers(limit(found, "face", "length")) == ("missed", -10, 100, -110)
    assert told(limit(found, "face", "length")) == (
        "Length: 1 piece, turned, needs 100 mm, edges of 25 mm leave nothing of the face: "
        "it misses by 110 mm."
    )


def test_a_miss_of_a_hair_is_not_shown_as_nothing() -> None:
    hair = replace(BLOCK, fixture_height=Fraction(220) + Fraction(1, 10000))
    found = fit(hair, TABLE)
    assert not found.fits
    assert limit(found, "height").margin == Fraction(-1, 10000)
    assert told(limit(found, "height")).endswith("it misses by less than 0.001 mm.")


def test_lengths_are_shown_with_three_decimals() -> None:
    # 80 + 120.2505 of 300: 99.7495, halves up.
    found = fit(replace(BLOCK, fixture_height=Fraction("120.2505")), TABLE)
    assert told(limit(found, "height")) == (
        "Height: 80 mm of part and 120.251 mm of fixture, the work height is 300 mm: "
        "99.75 mm to spare."
    )


# 100 x 200 x 300, nothing between: 600 x 400 hold 4 lying on 300 x 200, 12 upright on 200 x 100 and
# 8 on 300 x 100.
SLAB = replace(
    BLOCK,
    size=box(300, 200, 100),
    gap=Fraction(0),
    mass=Fraction(1),
    fixture_height=Fraction(0),
)


def test_flat_keeps_the_third_size_up() -> None:
    found = fit(SLAB, TABLE)
    assert (found.per_pallet, found.standing) == (4, 2)


def test_any_side_may_be_down_where_that_holds_more() -> None:
    found = fit(replace(SLAB, turn="any"), TABLE)
    assert (found.per_pallet, found.standing) == (12, 0)
    assert numbers(limit(found, "height")) == ("met", 300, 300, 0)
    assert found.layout[0][2:] in {mm(200, 100), mm(100, 200)}


def test_any_side_respects_the_height() -> None:
    # 300 up is too high for 250, 200 up is not.
    found = fit(replace(SLAB, turn="any"), replace(TABLE, work_height=Fraction(250)))
    assert (found.per_pallet, found.standing) == (8, 1)
    low = fit(replace(SLAB, turn="any"), replace(TABLE, work_height=Fraction(100)))
    assert (low.per_pallet, low.standing) == (4, 2)


def test_of_equal_standings_the_size_as_entered_is_kept() -> None:
    # The load allows 3, which every standing holds.
    heavy = replace(SLAB, turn="any", mass=Fraction(70))
    found = fit(heavy, TABLE)
    assert (found.per_pallet, found.standing) == (3, 2)
    # Entered upright, too high by 40 then: of the other two the lower stands firmer.
    upright = replace(heavy, size=box(100, 200, 300))
    assert fit(upright, replace(TABLE, work_height=Fraction(260))).standing == 0
    sideways = replace(heavy, size=box(200, 100, 300))
    assert fit(sideways, replace(TABLE, work_height=Fraction(260))).standing == 1
    # Four faces hold 16 as entered, the load allows 5: no need to turn, though one face holds 4.
    five = fit(replace(heavy, mass=Fraction(40)), replace(TABLE, faces=4))
    assert (five.per_pallet, five.standing) == (5, 2)


def test_any_side_may_be_down_where_the_face_is_unknown() -> None:
    upright = replace(SLAB, turn="any", size=box(100, 200, 300))
    bare = replace(TABLE, table=None, travel=None, work_height=Fraction(150))
    found = fit(upright, bare)
    assert (found.fits, found.per_pallet, found.standing) == (True, 1, 0)


def test_any_side_that_misses_is_told_by_the_least_miss() -> None:
    # Under 300 mm on 600 x 400. As entered, 350 up: 200 too long and 50 too high. 310 up: 200 and
    # 10. 800 up: within the face, and 500 too high.
    found = fit(replace(SLAB, turn="any", size=box(310, 800, 350)), TABLE)
    assert (found.fits, found.standing) == (False, 0)
    assert limit(found, "height").margin == -10
    assert limit(found, "face", "length").margin == -200


def test_one_more_piece_needs_a_longer_or_wider_face() -> None:
    # Nine blocks fill 580 x 400. Ten lie as 5 x 2 on their narrow side: 5 x 100 + 4 x 50 = 700
    # by 370, or 4 x 3: 790 by 400; what else is found may need less, never more.
    growth = needed_for(BLOCK, TABLE, 10)
    assert growth.length is not None
    assert growth.width is not None
    assert 0 < growth.length <= 100
    for length, width, hair in (
        (650 + growth.length, Fraction(450), (1, 0)),
        (Fraction(650), 450 + growth.width, (0, 1)),
    ):
        larger = replace(TABLE, travel=None, table=(length, width))
        assert (fit(BLOCK, larger).most or 0) >= 10
        smaller = replace(larger, table=(length - hair[0], width - hair[1]))
        assert fit(BLOCK, smaller).most == 9
    assert growth_words(LargerFace(growth), "metric") == (
        f"Room for 10 pieces on a face takes {growth.length} mm more length or "
        f"{growth.width} mm more width."
    )


def test_what_it_takes_to_fit_at_all() -> None:
    # 620.5 x 350 on 600 x 400: 20.5 mm are missing in length, 21 in whole mm; turned, 220.5
    # in width.
    growth = needed_for(replace(BLOCK, size=box("620.5", 350, 80)), TABLE, 1)
    assert grown(growth) == (21, 221)
    assert growth_words(LargerFace(growth), "metric") == (
        "Room for 1 piece on a face takes 21 mm more length or 221 mm more width."
    )


def test_growth_may_help_on_one_axis_or_on_none() -> None:
    # 1000 x 390 on 600 x 400 lacks 400 in length; in width 600, more than the table's 450.
    growth = needed_for(replace(BLOCK, size=box(1000, 390, 80)), TABLE, 1)
    assert grown(growth) == (400, None)
    assert (
        growth_words(LargerFace(growth), "metric")
        == "Room for 1 piece on a face takes 400 mm more length."
    )
    growth = needed_for(replace(BLOCK, size=box(2000, 500, 80)), TABLE, 1)
    assert grown(growth) == (None, None)
    assert (
        growth_words(LargerFace(growth), "metric")
        == "No face up to twice as long and as wide holds 1 piece."
    )


def test_where_neither_axis_alone_helps_both_are_told() -> None:
    # 560 x 380 on 400 x 400 less 25 at each edge, 350 x 350: turned it lacks 30 in length and 210
    # in width, and the other way 210 and 30; the least length comes first.
    piece = replace(BLOCK, size=box(560, 380, 30), edge=Fraction(25))
    growth = needed_for(piece, replace(TABLE, travel=None, table=(Fraction(400), Fraction(400))), 1)
    assert (*grown(growth), growth.both) == (None, None, (30, 210))
    assert growth_words(LargerFace(growth), "metric") == (
        "Room for 1 piece on a face takes 30 mm more length and 210 mm more width."
    )


def test_growth_is_nothing_where_the_pieces_fit() -> None:
    growth = needed_for(BLOCK, TABLE, 9)
    assert grown(growth) == (0, 0)
    assert growth_words(LargerFace(growth), "metric") == "The face as it is has room for 9 pieces."


@pytest.mark.parametrize(
    ("piece", "face", "text"),
    [
        (replace(BLOCK, size=None), TABLE, "Not known: enter the part's size."),
        (
            BLOCK,
            replace(TABLE, table=None, travel=None),
            "Not known: enter the machine's table or travel.",
        ),
        (
            BLOCK,
            replace(TABLE, work_height=Fraction(100)),
            "The part is too high; a larger face does not help.",
        ),
    ],
)
def test_growth_is_not_known_or_no_help(piece: Piece, face: Face, text: str) -> None:
    growth = needed_for(piece, face, 1)
    assert (*grown(growth), growth_words(LargerFace(growth), "metric")) == (None, None, text)


def test_growth_tries_only_standings_that_are_low_enough() -> None:
    # On 600 x 400, 300 up is too high; with 200 up there is room for 8 of 300 x 100.
    growth = needed_for(replace(SLAB, turn="any"), replace(TABLE, work_height=Fraction(250)), 9)
    assert growth.length == 100  # one column, turned: 4 x 100 across 400 needs 100 x 300
    assert growth.width == 100  # one row more


whole = st.integers


@st.composite
def parts_and_faces(draw: st.DrawFn) -> tuple[Piece, Face]:
    def length(least: int, most: int) -> Fraction:
        return Fraction(draw(whole(least, most)), draw(st.sampled_from([1, 3, 10])))

    def maybe(value: Fraction) -> Fraction | None:
        return value if draw(st.booleans()) else None

    table, travel = (
        (length(300, 900), length(300, 900)) if draw(st.booleans()) else None for _ in range(2)
    )
    piece = Piece(
        size=(length(40, 400), length(40, 400), length(40, 400)),
        mass=length(0, 30),
        fixture_mass=length(0, 100),
        turn=draw(st.sampled_from(["flat", "any"])),
        gap=length(0, 60),
        edge=length(0, 40),
        fixture_height=length(0, 100),
        wanted=draw(st.none() | whole(1, 40)),
    )
    height, load = maybe(length(50, 600)), maybe(length(20, 400))
    return piece, Face(table, travel, height, load, draw(whole(1, 4)))


@examples(200)
@given(parts_and_faces())
def test_every_load_respects_every_limit(case: tuple[Piece, Face]) -> None:
    piece, face = case
    found = fit(piece, face)
    assert piece.size is not None
    assert found.fits == (found.per_pallet > 0)
    assert found.fits == all(one.state != "missed" for one in found.limits)
    for one in found.limits:
        assert (one.state == "unchecked") == (one.margin is None)
        if one.margin is not None and one.has is not None and one.needs is not None:
            assert one.margin == one.has - one.needs
            assert (one.state == "met") == (one.margin >= 0)
    if piece.wanted is not None:
        assert found.per_pallet <= piece.wanted
        assert found.cut_down == (0 < found.per_pallet < piece.wanted)
    elif found.most is not None:
        assert found.per_pallet == found.most
    if found.fits:
        assert face.table_load is None or (
            found.per_pallet * piece.mass + piece.fixture_mass <= face.table_load
        )
        assert face.work_height is None or (
            piece.size[found.standing] + piece.fixture_height <= face.work_height
        )
    check_layout(found, piece, face)


def check_layout(found: Fit, piece: Piece, face: Face) -> None:
    assert len(found.layout) * face.faces >= found.per_pallet or found.most is None
    assert len(found.layout) <= found.per_pallet
    for i, (x, y, dx, dy) in enumerate(found.layout):
        if face.table is not None:
            assert piece.edge <= x <= face.table[0] - piece.edge - dx
            assert piece.edge <= y <= face.table[1] - piece.edge - dy
        for u, v, du, dv in found.layout[:i]:
            apart_x = x >= u + du + piece.gap or u >= x + dx + piece.gap
            apart_y = y >= v + dv + piece.gap or v >= y + dy + piece.gap
            assert apart_x or apart_y
    if face.travel is not None and found.layout:
        for axis in (0, 1):
            near = min(place[axis] for place in found.layout)
            far = max(place[axis] + place[axis + 2] for place in found.layout)
            assert far - near <= face.travel[axis]


@examples(40)
@given(whole(300, 900), whole(300, 700), whole(60, 300), whole(60, 300), whole(0, 50))
def test_growth_is_enough_and_a_millimetre_less_is_not(
    length: int, width: int, along: int, across: int, gap: int
) -> None:
    piece = replace(BLOCK, size=box(along, across, 80), gap=Fraction(gap), edge=Fraction(0))
    face = replace(TABLE, table=pair(length, width), travel=None, table_load=None)
    more = (fit(piece, face).most or 0) + 1
    growth = needed_for(piece, face, more)
    base = Fraction(along), Fraction(across), Fraction(gap)
    if growth.length is not None:
        assert holds(length + growth.length, Fraction(width), *base, wanted=more)
    if growth.width is not None:
        assert holds(Fraction(length), width + growth.width, *base, wanted=more)
        assert not holds(Fraction(length), width + growth.width - 1, *base, wanted=more, cap=30_000)
