"""Properties of quantities that hold for every text and every value."""

from fractions import Fraction

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from whatif.units import Dimension, UnitsError, parse, show
from whatif.units.table import SPELLINGS, UNITS, Unit, factor

# No deadline: a busy machine is no fault of the grammar.
untimed = settings(deadline=None, database=None)

DIMENSIONS = st.sampled_from(Dimension)
LIKE_A_QUANTITY = st.text(st.sampled_from("0123456789 ./-+'\"½²,:*^%ehminftdlbozskg"), max_size=60)
WHOLE = st.integers(0, 999_999)
SPACES = st.sampled_from(["", " ", "  ", "\N{NO-BREAK SPACE}", "\t"])


@st.composite
def numbers(draw: st.DrawFn) -> tuple[str, Fraction]:
    """A number as people write it, with its value."""
    whole, top = draw(WHOLE), draw(st.integers(0, 63))
    bottom = draw(st.integers(top + 1, 64))
    decimals = draw(st.text("0123456789", min_size=1, max_size=6))
    glyph, part = draw(st.sampled_from([("½", "1/2"), ("¾", "3/4"), ("⅝", "5/8"), ("⅓", "1/3")]))
    return draw(
        st.sampled_from(
            [
                (f"{whole}", Fraction(whole)),
                (f"{whole}.{decimals}", Fraction(f"{whole}.{decimals}")),
                (f".{decimals}", Fraction(f".{decimals}")),
                (f"{top}/{bottom}", Fraction(top, bottom)),
                (f"{whole} {top}/{bottom}", whole + Fraction(top, bottom)),
                (f"{whole}-{top}/{bottom}", whole + Fraction(top, bottom)),
                (f"{whole}{glyph}", whole + Fraction(part)),
                (f"{whole} {glyph}", whole + Fraction(part)),
            ]
        )
    )


@untimed
@given(st.one_of(st.text(max_size=80), LIKE_A_QUANTITY), DIMENSIONS)
@example("1 1/2 in", Dimension.LENGTH)
@example("9**9**9 mm", Dimension.LENGTH)
@example("1" * 60, Dimension.TIME)
@example("1 " * 30, Dimension.TIME)
@example("1/" * 30, Dimension.LENGTH)
@example("1 ft" * 15, Dimension.LENGTH)
@example("sq " * 20, Dimension.AREA)
def test_any_text_is_read_or_refused_with_something_to_type(
    text: str, dimension: Dimension
) -> None:
    try:
        quantity = parse(text, dimension)
    except UnitsError as refused:
        said = str(refused)
        assert said.isprintable()
        cure = said.rsplit("; write ", 1)[1].removesuffix('"').split('"', 1)[1]
        for instead in cure.split('" or "'):
            assert parse(instead, dimension).dimension is dimension
    else:
        assert quantity.text == text
        assert quantity.dimension is dimension


@untimed
@given(
    numbers(), st.sampled_from(sorted(SPELLINGS)), SPACES, SPACES, st.sampled_from(["", "-", "+"])
)
def test_a_number_with_a_unit_is_worth_their_product(
    number: tuple[str, Fraction], spelling: str, before: str, between: str, sign: str
) -> None:
    written, value = number
    unit = SPELLINGS[spelling]
    text = f"{before}{sign}{written}{between}{spelling}{before}"
    quantity = parse(text, unit.dimension)
    assert quantity.value == value * factor(unit) * (-1 if sign == "-" else 1)
    assert quantity.text == text


@untimed
@given(st.data(), SPACES, st.booleans())
def test_a_compound_is_the_sum_of_its_parts(
    data: st.DataObject, between: str, negative: bool
) -> None:
    families = sorted({(u.dimension.name, u.family) for u in UNITS.values() if u.below})
    kind, family = data.draw(st.sampled_from(families))
    dimension = Dimension[kind]
    members = [u for u in UNITS.values() if u.dimension is dimension and u.family == family]
    chosen = data.draw(st.lists(st.sampled_from(members), min_size=2, max_size=3, unique=True))
    chosen.sort(key=factor, reverse=True)
    counts = data.draw(st.lists(WHOLE, min_size=len(chosen) - 1, max_size=len(chosen) - 1))
    last, last_value = data.draw(numbers())
    parts = [f"{count} {unit.symbol}" for count, unit in zip(counts, chosen, strict=False)]
    text = ("-" if negative else "") + between.join([*parts, f"{last} {chosen[-1].symbol}"])
    assume(len(text) <= 60)
    total = last_value * factor(chosen[-1])
    total += sum(count * factor(unit) for count, unit in zip(counts, chosen, strict=False))
    assert parse(text, dimension).value == (-total if negative else total)


@untimed
@given(st.sampled_from(list(UNITS.values())), DIMENSIONS, WHOLE)
def test_a_unit_of_another_kind_is_never_taken(unit: Unit, wanted: Dimension, count: int) -> None:
    assume(unit.dimension is not wanted)
    with pytest.raises(UnitsError, match="is wanted"):
        parse(f"{count} {unit.symbol}", wanted)


@untimed
@given(
    st.fractions(-100_000, 100_000, max_denominator=10**6),
    DIMENSIONS,
    st.sampled_from(["metric", "inch"]),
)
def test_what_is_shown_reads_as_nearly_the_value(
    value: Fraction, dimension: Dimension, system: str
) -> None:
    again = parse(show(value, dimension, system), dimension).value
    # Three figures, or half of the last place shown: half a second, 0.005 mm or 0.0005 in,
    # 0.005 kg or lb, 0.05 ft², 0.05 %.
    half = {
        Dimension.TIME: Fraction(1, 2),
        Dimension.LENGTH: Fraction("0.0127"),
        Dimension.MASS: Fraction("0.005"),
        Dimension.AREA: Fraction("0.005"),
        Dimension.PERCENT: Fraction("0.0005"),
    }[dimension]
    assert abs(again - value) <= half
    if abs(value) > Fraction(1, 1000):
        assert abs(again - value) <= abs(value) * Fraction("0.05")


@untimed
@given(st.fractions(0, 10**7, max_denominator=10**4))
def test_whole_seconds_are_the_nearest_halves_up(value: Fraction) -> None:
    seconds = parse(f"{value.numerator}/{value.denominator} s", Dimension.TIME).seconds
    assert Fraction(-1, 2) < seconds - value <= Fraction(1, 2)
