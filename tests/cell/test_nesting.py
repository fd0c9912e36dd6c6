"""Pieces on a table, held against published cases, an exact solver and what must always hold."""

from fractions import Fraction
from functools import cache
from math import gcd

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lengths import examples

from whatif.cell.fit import nesting, nesting_cuts
from whatif.cell.fit.nesting import PLACES_UP_TO, Nest, Place, holds, nest, plain_rows

# (length, width, piece length, piece width, most). The quadruples are classical test cases
# (Bischoff and Dowsland 1982, Nelissen 1995, Scheithauer and Terno 1996; citation from memory).
# The optimum is computed anew: an arrangement meets the bound of Barnes, or, for the two in
# MISSING_THE_BOUND, the exact solver below excludes one piece more.
CLASSICAL = [
    (14, 10, 3, 2, 23),
    (22, 16, 5, 3, 23),
    (30, 22, 7, 4, 23),
    (1000, 1000, 205, 159, 30),
    (57, 44, 12, 5, 41),
    (86, 82, 15, 11, 42),
    (42, 39, 9, 4, 45),
    (40, 25, 7, 3, 47),
    (124, 81, 21, 10, 47),
    (56, 52, 12, 5, 48),
    (153, 100, 24, 7, 90),
]
MISSING_THE_BOUND = [(34, 23, 5, 4, 38), (1200, 800, 176, 135, 38)]

# No arrangement by cuts in two and in five reaches the optimum of these. The first two computed;
# the third: Birgin, Lobato and Morabito, J. Oper. Res. Soc. 61 (2010) 306-320.
OUT_OF_REACH = [(43, 26, 7, 3, 53), (57, 34, 7, 4, 69), (49, 28, 8, 3, 57)]

# Sizes of tables, with what plain rows hold. Computed: the most meets the bound of Barnes, for
# three of them only once the face is shrunk to sums of the piece's sides.
TABLES = [
    (400, 400, 90, 60, 28, 24),
    (500, 500, 120, 70, 29, 28),
    (630, 630, 110, 75, 48, 40),
    (1000, 1000, 180, 130, 40, 35),
    (500, 500, 76, 51, 60, 54),
    (800, 630, 97, 64, 76, 72),
]


def barnes(length: int, width: int, along: int, across: int) -> int:
    """The bound of Barnes as it is published, all divided by what the piece's sides share.

    F. W. Barnes, "Packing the maximum number of m x n tiles in a large p x q rectangle", Discrete
    Mathematics 26 (1979) 93-100, from memory.
    """
    common = gcd(along, across)
    length, width, along, across = (one // common for one in (length, width, along, across))
    lost = []
    for n in (along, across):
        r, s = length % n, width % n
        lost.append(min(r * s, (n - r) * (n - s)))
    return (length * width - max(lost)) // (along * across)


def shrunk(side: int, along: int, across: int) -> int:
    """The longest sum of piece sides within a side: pieces pushed to a corner end at such sums."""
    return max(i * along + (side - i * along) // across * across for i in range(side // along + 1))


def exact(*lengths: float | Fraction) -> list[Fraction]:
    return [Fraction(length) for length in lengths]


def of(*lengths: float | Fraction, cap: int = nesting.STEP_CAP) -> Nest:
    """Length, width, piece length, piece width and, where there is one, gap."""
    return nest(*exact(*lengths), cap=cap)


def check_places(
    places: tuple[Place, ...], face: tuple[int | Fraction, ...], piece: set[Fraction], gap: Fraction
) -> None:
    for x, y, dx, dy in places:
        assert {dx, dy} == piece
        assert x >= 0
        assert y >= 0
        assert x + dx <= face[0]
        assert y + dy <= face[1]
    for i, (x, y, dx, dy) in enumerate(places):
        for u, v, du, dv in places[:i]:
            apart_x = x >= u + du + gap or u >= x + dx + gap
            apart_y = y >= v + dv + gap or v >= y + dy + gap
            assert apart_x or apart_y


@pytest.mark.outside(
    "Bischoff & Dowsland 1982, Nelissen 1995, Scheithauer & Terno 1996: most pieces", values=11
)
@pytest.mark.parametrize(("length", "width", "along", "across", "most"), CLASSICAL)
def test_classical_cases_are_reached_and_proven(
    length: int, width: int, along: int, across: int, most: int
) -> None:
    found = of(length, width, along, across)
    assert found.count == found.bound == len(found.places) == most
    assert found.count == found.bound
    assert not found.cut_off
    check_places(found.places, (length, width), {Fraction(along), Fraction(across)}, Fraction(0))


@pytest.mark.parametrize(("length", "width", "along", "across", "most"), MISSING_THE_BOUND)
def test_an_optimum_below_the_bound_is_reached_but_not_called_proven(
    length: int, width: int, along: int, across: int, most: int
) -> None:
    found = of(length, width, along, across)
    assert (found.count, found.bound) == (most, most + 1)
    assert found.count < found.bound
    assert not found.cut_off


@pytest.mark.outside("Birgin, Lobato & Morabito 2010: most pieces, 57, missed by one at most")
@pytest.mark.parametrize(("length", "width", "along", "across", "most"), OUT_OF_REACH)
def test_where_cuts_in_five_do_not_reach_the_optimum_one_piece_is_missing(
    length: int, width: int, along: int, across: int, most: int
) -> None:
    found = of(length, width, along, across)
    assert most - 1 <= found.count <= found.bound
    assert found.bound >= most
    assert not found.cut_off


@pytest.mark.parametrize(("length", "width", "along", "across", "most", "rows"), TABLES)
def test_tables_hold_more_than_plain_rows(
    length: int, width: int, along: int, across: int, most: int, rows: int
) -> None:
    found = of(length, width, along, across)
    assert found.count == most
    assert found.count == found.bound
    plain = plain_rows(*exact(length, width, along, across))
    assert plain.count == len(plain.places) == rows
    assert plain.count < plain.bound


@pytest.mark.outside("Barnes 1979: most pieces on a face, closed form")
@pytest.mark.parametrize(
    ("length", "width", "along", "across", "most"),
    [*CLASSICAL, *(case[:5] for case in TABLES)],
)
def test_published_optima_meet_the_bound_on_the_shrunk_face(
    length: int, width: int, along: int, across: int, most: int
) -> None:
    face = shrunk(length, along, across), shrunk(width, along, across)
    assert barnes(*face, along, across) == most
    assert of(length, width, along, across).bound == most


def test_the_bound_of_the_whole_face_may_be_too_high() -> None:
    """42, 64 and 81 where 40, 60 and 76 are most: beyond the last sum of sides lies nothing."""
    whole = [barnes(*case[:4]) for case in TABLES]
    assert [(has, case[4]) for has, case in zip(whole, TABLES, strict=True) if has != case[4]] == [
        (42, 40), (64, 60), (81, 76),
    ]  # fmt: skip


@pytest.mark.parametrize(("length", "width", "along", "across", "most"), CLASSICAL)
def test_turning_the_face_or_the_piece_changes_nothing(
    length: int, width: int, along: int, across: int, most: int
) -> None:
    assert of(width, length, along, across).count == most
    assert of(length, width, across, along).count == most
    # A third of everything: no whole numbers any more.
    assert of(*(Fraction(side, 3) for side in (length, width, along, across))).count == most


def test_a_gap_is_kept_between_pieces_and_not_at_the_edge() -> None:
    # By hand: 3 x 100 + 2 x 20 = 340 along, 2 x 60 + 20 = 140 across.
    found = of(340, 140, 100, 60, 20)
    assert found.count == 6
    check_places(found.places, (340, 140), {Fraction(100), Fraction(60)}, Fraction(20))
    # A hair shorter: four, and one more across the end.
    assert of(Fraction(3399, 10), 140, 100, 60, 20).count == 5


def test_lengths_are_exact_to_the_last_fraction() -> None:
    # 12 in are exactly 304.8 mm (the inch of 25.4 mm, 1959 agreement, from memory).
    foot = 12 * Fraction("25.4")
    assert of(foot, foot, Fraction("101.6"), Fraction("152.4")).count == 6
    assert of(foot - Fraction(1, 10**9), foot, Fraction("101.6"), Fraction("152.4")).count == 5


def test_plain_rows_are_kept_where_nothing_is_gained() -> None:
    found = of(200, 100, 50, 25)
    assert found.places == plain_rows(*exact(200, 100, 50, 25)).places
    assert {place[2:] for place in found.places} == {(Fraction(50), Fraction(25))}


@pytest.mark.parametrize(
    ("length", "width"), [(9, 100), (100, 9), (0, 100), (-20, 100), (-20, -20)]
)
def test_a_face_too_small_holds_nothing_and_that_is_proven(length: int, width: int) -> None:
    found = of(length, width, 20, 10, 5)
    assert (found.count, found.places, found.bound) == (0, (), 0)


@pytest.mark.parametrize(("along", "across", "gap"), [(0, 10, 0), (10, -1, 0), (10, 10, -1)])
def test_impossible_pieces_are_refused(along: int, across: int, gap: int) -> None:
    with pytest.raises(ValueError, match="must"):
        of(100, 100, along, across, gap)


def test_square_pieces_lie_in_rows() -> None:
    # 10 mm squares on a table of 2 m: 200 x 200.
    found = of(2000, 2000, 10, 10)
    assert found.count == len(found.places) == 40_000
    assert found.count == found.bound
    assert found.steps == 0


def test_where_very_many_fit_only_rows_and_bands_are_tried_and_that_is_told() -> None:
    # By hand: 200 x 181 in plain rows; bands fill 2000 = 10 i + 11 j and lose less than a row.
    found = of(2000, 2000, 10, 11)
    assert found.cut_off
    assert found.steps == 0
    assert 200 * 181 < found.count <= found.bound
    assert len(found.places) == found.count


@pytest.mark.long
def test_countless_pieces_are_counted_but_not_all_listed() -> None:
    found = of(2000, 2000, Fraction(1, 1000), Fraction(1, 999))
    assert found.count == 2_000_000 * 1_998_000
    assert found.count == found.bound
    assert len(found.places) == PLACES_UP_TO


@pytest.mark.parametrize(
    ("length", "width", "along", "across"),
    [
        (399_000, 1003, 1000, 997),  # a long way for cuts within cuts
        (100_267, 5376, 2107, 1932),
        (149_015, 5867, 3659, 924),
    ],
)
def test_hard_cases_end_at_the_cap_and_still_hold_what_bands_hold(
    length: int, width: int, along: int, across: int
) -> None:
    found = of(length, width, along, across, cap=20_000)
    assert found.cut_off
    assert found.count < found.bound
    assert found.count >= plain_rows(*exact(length, width, along, across)).count
    # The tables of one cut may be finished over the cap.
    assert found.steps < 200_000


def test_cuts_too_deep_end_the_search_and_that_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    # (40, 25, 7, 3) holds 47 by five cuts within one another, its plain rows 40.
    monkeypatch.setattr(nesting_cuts, "_DEPTH_CAP", 2)
    shallow = nesting_cuts.Search(40, 25, 7, 3).run(nesting.STEP_CAP)
    assert shallow.cut_off
    assert 40 <= shallow.count <= 47


def test_where_too_many_lie_side_by_side_only_plain_rows_are_tried() -> None:
    # Width 4 takes two rows of 3 x 2, or one turned. 3 x 67 + 2: the 2 takes a turned one more.
    assert of(203, 4, 3, 2).count == 2 * 67 + 1
    # The same far longer, 3 x 6667 + 2.
    long = of(20_003, 4, 3, 2)
    assert (long.count, long.bound) == (2 * 6667, 2 * 6667 + 1)
    assert long.cut_off


def test_a_cap_is_told_and_more_steps_find_more() -> None:
    # (40, 25, 7, 3) holds 47; its plain rows 40.
    short = of(40, 25, 7, 3, cap=100)
    assert short.cut_off
    assert 40 <= short.count < 47
    full = of(40, 25, 7, 3)
    assert not full.cut_off
    assert full.count == 47


def test_the_same_question_has_the_same_answer_when_it_is_not_remembered() -> None:
    question = (86, 82, 15, 11, 1500)
    first = nesting._solve.__wrapped__(*question)
    assert first.cut_off
    assert nesting._solve.__wrapped__(*question) == first


def test_holds_asks_for_a_number_and_gets_yes_or_no() -> None:
    table = exact(500, 500, 120, 70)
    assert holds(*table, wanted=29)  # needs the search: rows hold 28
    assert holds(*table, wanted=28)
    assert not holds(*table, wanted=30)
    assert not holds(*exact(34, 23, 5, 4), wanted=39)  # the bound alone does not tell


def can_hold(length: int, width: int, along: int, across: int, count: int) -> bool:
    """An exact solver, on a grid of cells, that knows nothing of cuts or bounds.

    The first free cell, row by row, is covered by a piece (two ways) or is one of the cells
    that stay empty.
    """
    length, width = sorted((length, width))  # the shorter the row, the fewer ways to fill it

    def piece(dx: int, dy: int) -> int:
        return sum(1 << (row * length + column) for row in range(dy) for column in range(dx))

    shapes = {(dx, dy): piece(dx, dy) for dx, dy in ((along, across), (across, along))}

    @cache
    def can_fill(cell: int, taken: int, empty: int) -> bool:
        """What is taken is told from the cell on, so that what lies behind makes no difference."""
        while taken & 1:
            cell, taken = cell + 1, taken >> 1
        if cell >= length * width:
            return True
        row, column = divmod(cell, length)
        for (dx, dy), shape in shapes.items():
            fits = column + dx <= length and row + dy <= width and not taken & shape
            if fits and can_fill(cell, taken | shape, empty):
                return True
        return empty > 0 and can_fill(cell + 1, taken >> 1, empty - 1)

    return can_fill(0, 0, length * width - count * along * across)


def most_exactly(length: int, width: int, along: int, across: int) -> int:
    count = length * width // (along * across)
    while not can_hold(length, width, along, across, count):
        count -= 1
    return count


def sums_within(side: int, along: int, across: int) -> set[tuple[int, int]]:
    """How many sides of either kind may lie one after the other along a side of the face."""
    return {
        (i, j) for i in range(side // along + 1) for j in range((side - i * along) // across + 1)
    }


@pytest.mark.long
@pytest.mark.outside(
    "Scheithauer & Terno 1996: rectangles whose optimum is below the bound", values=2
)
@pytest.mark.parametrize(("length", "width", "along", "across", "most"), MISSING_THE_BOUND)
def test_one_piece_more_is_excluded_exactly(
    length: int, width: int, along: int, across: int, most: int
) -> None:
    """Both cases are one: along either side the same sums of piece sides fit, which alone counts
    (equivalence of pallets: K. A. Dowsland, European Journal of Operational Research 16 (1984),
    from memory). The smaller has cells few enough to try everything."""
    small = MISSING_THE_BOUND[0]
    for side, of_small in ((length, small[0]), (width, small[1])):
        assert sums_within(side, along, across) == sums_within(of_small, small[2], small[3])
    assert can_hold(*small[:4], most) is True
    assert can_hold(*small[:4], most + 1) is False
    assert of(length, width, along, across).count == most


@examples(150)
@given(st.integers(1, 9), st.integers(1, 7), st.integers(1, 5), st.integers(1, 5))
def test_tiny_cases_agree_with_an_exact_solver(
    length: int, width: int, along: int, across: int
) -> None:
    found = of(length, width, along, across)
    most = most_exactly(length, width, along, across)
    assert found.count == most
    assert found.bound >= most


def test_a_pinwheel_is_found_where_the_exact_solver_says_so() -> None:
    # Four 3 x 2 pieces around an empty middle; cuts in two alone hold 3.
    assert most_exactly(5, 5, 3, 2) == of(5, 5, 3, 2).count == 4
    # 8 x 7 with 3 x 2 pieces: both know 9.
    assert most_exactly(8, 7, 3, 2) == of(8, 7, 3, 2).count == 9


def lengths(least: int, most: int) -> st.SearchStrategy[Fraction]:
    """Millimetres, some in tenths, thirds and 1/32 in."""
    return st.builds(
        lambda whole, part: Fraction(whole) + part,
        st.integers(least, most),
        st.sampled_from([Fraction(0), Fraction(1, 10), Fraction(1, 3), Fraction("25.4") / 32]),
    )


@examples(150)
@given(lengths(50, 900), lengths(50, 700), lengths(40, 300), lengths(40, 300), lengths(0, 60))
def test_pieces_lie_inside_and_apart(
    length: Fraction, width: Fraction, along: Fraction, across: Fraction, gap: Fraction
) -> None:
    found = nest(length, width, along, across, gap)
    assert len(found.places) == found.count <= found.bound
    assert found.count >= plain_rows(length, width, along, across, gap).count
    assert list(found.places) == sorted(found.places, key=lambda place: (place[1], place[0]))
    check_places(found.places, (length, width), {along, across}, gap)


@examples(60)
@given(lengths(200, 900), lengths(200, 700), lengths(40, 300), lengths(40, 300), lengths(1, 200))
def test_a_larger_face_never_holds_less_where_the_search_was_complete(
    length: Fraction, width: Fraction, along: Fraction, across: Fraction, more: Fraction
) -> None:
    small, large = nest(length, width, along, across), nest(length + more, width, along, across)
    if not large.cut_off:
        assert large.count >= small.count
