"""What the grammar of quantities reads, exactly, and how values are shown.

Conversion factors that stand in here as numbers: 1 in = 25.4 mm, 1 ft = 12 in,
1 yd = 3 ft, 1 lb = 0.45359237 kg, 1 lb = 16 oz (NIST SP 811, from memory);
1 thou = 0.001 in (common practice, no source).
"""

import pickle
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import FrozenInstanceError
from fractions import Fraction
from threading import Barrier

import pint
import pytest

from whatif.units import Dimension, Quantity, UnitsError, parse, reader, show, table
from whatif.units.table import SPELLINGS, UNITS, factor, library_factor

TIME, LENGTH, MASS = Dimension.TIME, Dimension.LENGTH, Dimension.MASS
AREA, PERCENT = Dimension.AREA, Dimension.PERCENT


# What is read ------------------------------------------------------------------------------

LENGTHS_IN_INCHES = {
    "27 in": "27",
    "27in": "27",
    '27"': "27",
    "27″": "27",
    "27''": "27",
    "27 in.": "27",
    "27 IN": "27",
    "27 Inches": "27",
    "1 inch": "1",
    "12 in": "12",
    ".5 in": "1/2",
    "5. in": "5",
    "3/4 in": "3/4",
    "5/4 in": "5/4",
    "3⁄4 in": "3/4",
    "½ in": "1/2",
    "⅞in": "7/8",
    "1½ in": "3/2",
    "1 ½ in": "3/2",
    "1-½ in": "3/2",
    "1 1/2 in": "3/2",
    "1  1/2 in": "3/2",
    "1-1/2 in": "3/2",
    "-1 1/2 in": "-3/2",
    "− 1/2 in": "-1/2",
    "12 ft 6 in": "150",
    "12ft6in": "150",
    "12 ft. 6 in.": "150",
    "12 Ft 6 In": "150",
    "12' 6\"": "150",
    "12'6\"": "150",
    "12'-6\"": "150",
    "12' - 6\"": "150",
    "12′ 6″": "150",
    "12’ 6”": "150",
    "12 ft 6 1/2 in": "301/2",
    "12 ft 6½ in": "301/2",
    "12'-6 1/2\"": "301/2",
    "1 ft2in": "14",
    "1ft2 in": "14",
    "1ft2 1/2 in": "29/2",
    "12 feet": "144",
    "1 foot": "12",
    "12'": "144",
    "2 yd 1 ft": "84",
    "1 yard 2 ft 3 in": "63",
    "-1 ft 6 in": "-18",
    "5 thou": "5/1000",
}


@pytest.mark.parametrize(("text", "inches"), LENGTHS_IN_INCHES.items())
def test_lengths_in_inches_are_exact(text: str, inches: str) -> None:
    assert parse(text, LENGTH).value == Fraction(inches) * Fraction("25.4")


LENGTHS_IN_MM = {
    "5 mm": "5",
    "5mm": "5",
    "12.50 mm": "12.5",
    "-5 mm": "-5",
    "+5 mm": "5",
    "-0 mm": "0",
    "5 MM": "5",
    "5 millimetres": "5",
    "5 Millimeter": "5",
    "2.5 cm": "25",
    "5 dm": "500",
    "1.2 m": "1200",
    "1 metre": "1000",
    "1 m 20 cm": "1200",
    "1m20cm": "1200",
    "1m2cm": "1020",
    "1 m 2.5 mm": "1002.5",
    "250 µm": "0.25",  # micro sign
    "250 μm": "0.25",  # Greek mu
    "250 um": "0.25",
    "250 microns": "0.25",
    "1 yd": "914.4",
    "1/3 mm": "1/3",
    "5\N{NO-BREAK SPACE}mm": "5",
    "5\N{NARROW NO-BREAK SPACE}mm": "5",
    "\t5\tmm ": "5",
    "5 mm" + " " * 56: "5",  # the longest text that is read
}


@pytest.mark.parametrize(("text", "mm"), LENGTHS_IN_MM.items())
def test_metric_lengths_are_exact(text: str, mm: str) -> None:
    assert parse(text, LENGTH).value == Fraction(mm)


TIMES_IN_SECONDS = {
    "12 min": "720",
    "0.5 min": "30",
    "5 Min": "300",
    "5 MIN": "300",
    "5 min.": "300",
    "5 minutes": "300",
    "1 minute": "60",
    "1 h 30 min": "5400",
    "1h30min": "5400",
    "1h2 min": "3720",
    "1h 30 min 15.5 s": "5415.5",
    "1 hr 30 min": "5400",
    "2 Hrs": "7200",
    "5 hours": "18000",
    "1½ h": "5400",
    "1 1/2 h": "5400",
    "2 d 4 h": "187200",
    "3 days": "259200",
    "1 week": "604800",
    "1 Week": "604800",
    "2 wk": "1209600",
    "1 week 2 d": "777600",
    "45 s": "45",
    "45 sec": "45",
    "1 second": "1",
    "500 ms": "1/2",
    "1 h 90 min": "9000",
    "-1 h 30 min": "-5400",
    "123456789012345 s": "123456789012345",
    "0.12345678901234566 min": "7.4074073407407396",
}


@pytest.mark.parametrize(("text", "seconds"), TIMES_IN_SECONDS.items())
def test_times_are_exact(text: str, seconds: str) -> None:
    assert parse(text, TIME).value == Fraction(seconds)


POUND = Fraction("0.45359237")
OTHERS = {
    ("40 lb", MASS): 40 * POUND,
    ("40 lbs", MASS): 40 * POUND,
    ("40 LB", MASS): 40 * POUND,
    ("1 pound", MASS): POUND,
    ("12 lb 4 oz", MASS): Fraction(49, 4) * POUND,
    ("8 ounces", MASS): POUND / 2,
    ("18 kg", MASS): Fraction(18),
    ("18 Kg", MASS): Fraction(18),
    ("18 KG", MASS): Fraction(18),
    ("1 kg 250 g", MASS): Fraction("1.25"),
    ("250 grams", MASS): Fraction("0.25"),
    ("250 mg", MASS): Fraction("0.00025"),
    ("1.2 t", MASS): Fraction(1200),
    ("2 tonnes", MASS): Fraction(2000),
    ("2 m²", AREA): Fraction(2),
    ("2 m2", AREA): Fraction(2),
    ("2m2", AREA): Fraction(2),
    ("2 m^2", AREA): Fraction(2),
    ("2 sq m", AREA): Fraction(2),
    ("2 sqm", AREA): Fraction(2),
    ("2 square metres", AREA): Fraction(2),
    ("2 m2 50 cm2", AREA): Fraction("2.005"),
    ("50 cm²", AREA): Fraction("0.005"),
    ("50 mm2", AREA): Fraction("0.00005"),
    ("50 MM2", AREA): Fraction("0.00005"),
    ("10 ft²", AREA): Fraction("0.9290304"),
    ("10 ft2", AREA): Fraction("0.9290304"),
    ("10 sq ft", AREA): Fraction("0.9290304"),
    ("10 Sq. Ft.", AREA): Fraction("0.9290304"),
    ("10 SQFT", AREA): Fraction("0.9290304"),
    ("10 square feet", AREA): Fraction("0.9290304"),
    ("1 yd²", AREA): Fraction("0.83612736"),
    ("100 in²", AREA): Fraction("0.064516"),
    ("100 sq in", AREA): Fraction("0.064516"),
    ("85 %", PERCENT): Fraction(17, 20),
    ("85%", PERCENT): Fraction(17, 20),
    ("85 percent", PERCENT): Fraction(17, 20),
    ("85 Percent", PERCENT): Fraction(17, 20),
    ("85 per cent", PERCENT): Fraction(17, 20),
    ("12.5 %", PERCENT): Fraction(1, 8),
    ("1/2 %", PERCENT): Fraction(1, 200),
    ("0 %", PERCENT): Fraction(0),
}


@pytest.mark.parametrize(("given", "value"), OTHERS.items())
def test_masses_areas_and_percentages_are_exact(
    given: tuple[str, Dimension], value: Fraction
) -> None:
    assert parse(*given).value == value


def test_a_dozen_inches_is_exact_where_floats_are_not() -> None:
    assert parse("12 in", LENGTH).value == Fraction("304.8")


@pytest.mark.parametrize("dimension", Dimension)
def test_the_example_of_every_dimension_reads(dimension: Dimension) -> None:
    assert parse(dimension.example, dimension).value > 0
    assert dimension.noun in dimension.a_noun


@pytest.mark.parametrize("spelling", SPELLINGS)
def test_every_spelling_in_the_table_is_reached_by_the_grammar(spelling: str) -> None:
    unit = SPELLINGS[spelling]
    assert parse(f"3 {spelling}", unit.dimension).value == 3 * factor(unit)


# The value type ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "seconds"),
    [("0.4 s", 0), ("0.5 s", 1), ("1.5 s", 2), ("2.5 s", 3), ("-0.5 s", 0), ("-1.5 s", -1),
     ("1/3 min", 20), ("0.125 min", 8), ("499 ms", 0)],
)  # fmt: skip
def test_seconds_are_whole_with_halves_up(text: str, seconds: int) -> None:
    assert parse(text, TIME).seconds == seconds


def test_only_times_have_seconds() -> None:
    with pytest.raises(TypeError, match="a length"):
        _ = parse("5 mm", LENGTH).seconds


def test_a_quantity_keeps_its_text_and_is_a_frozen_value() -> None:
    quantity = parse(" 12.50  mm\t", LENGTH)
    assert quantity.text == str(quantity) == " 12.50  mm\t"
    assert quantity == Quantity(" 12.50  mm\t", LENGTH, Fraction(25, 2))
    assert quantity != parse("12.5 mm", LENGTH)
    assert len({quantity, parse(" 12.50  mm\t", LENGTH)}) == 1
    with pytest.raises(FrozenInstanceError):
        quantity.text = "13 mm"  # type: ignore[misc]  # the assignment is what is tested


def test_a_quantity_travels_between_processes() -> None:
    quantity = parse("1 1/2 in", LENGTH)
    assert pickle.loads(pickle.dumps(quantity)) == quantity


# What screens show -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "dimension", "metric", "inch"),
    [
        ("12 min", TIME, "12 min", "12 min"),
        ("90 min", TIME, "1 h 30 min", "1 h 30 min"),
        ("5415 s", TIME, "1 h 30 min 15 s", "1 h 30 min 15 s"),
        ("3601 s", TIME, "1 h 1 s", "1 h 1 s"),
        ("0 min", TIME, "0 s", "0 s"),
        ("7.25 s", TIME, "7.3 s", "7.3 s"),
        ("59.6 s", TIME, "1 min", "1 min"),
        ("90.5 s", TIME, "1 min 31 s", "1 min 31 s"),
        ("2 d 4 h", TIME, "52 h", "52 h"),
        ("168 h", TIME, "1 week", "1 week"),
        ("2 weeks", TIME, "2 weeks", "2 weeks"),
        ("-90 min", TIME, "-1 h 30 min", "-1 h 30 min"),
        ("27.5 in", LENGTH, "698.5 mm", "27.5 in"),
        ("1 1/2 in", LENGTH, "38.1 mm", "1.5 in"),
        ("100 mm", LENGTH, "100 mm", "3.937 in"),
        ("-5 mm", LENGTH, "-5 mm", "-0.197 in"),
        ("0 mm", LENGTH, "0 mm", "0 in"),
        ("40 lb", MASS, "18.14 kg", "40 lb"),
        ("1 t", MASS, "1000 kg", "2204.62 lb"),
        ("5 g", MASS, "0.005 kg", "0.011 lb"),
        ("0.25 m²", AREA, "0.25 m²", "2.7 ft²"),
        ("85 %", PERCENT, "85 %", "85 %"),
        ("1/3 %", PERCENT, "0.333 %", "0.333 %"),
        ("12.55 %", PERCENT, "12.6 %", "12.6 %"),
    ],
)
def test_values_are_shown_in_the_study_s_units(
    text: str, dimension: Dimension, metric: str, inch: str
) -> None:
    value = parse(text, dimension).value
    assert show(value, dimension, "metric") == metric
    assert show(value, dimension, "inch") == inch


def test_plain_numbers_are_shown_too() -> None:
    assert show(720, TIME, "metric") == "12 min"
    assert show(698.5, LENGTH, "inch") == "27.5 in"
    assert show(-0.0, LENGTH, "metric") == "0 mm"
    assert show(-0.0000000001, LENGTH, "metric") == "0 mm"


def test_an_unknown_system_is_refused() -> None:
    with pytest.raises(ValueError, match="metric"):
        show(1, LENGTH, "imperial")


# The unit library --------------------------------------------------------------------------


@pytest.mark.outside("NIST SP 811: in, ft, yd, lb, oz, in², ft² and yd² in SI units", values=8)
def test_every_factor_is_exact() -> None:
    exact = {
        "in": "25.4", "ft": "304.8", "yd": "914.4", "thou": "0.0254", "µm": "0.001",
        "mm": "1", "cm": "10", "dm": "100", "m": "1000",
        "lb": "0.45359237", "oz": "0.028349523125", "mg": "0.000001", "g": "0.001",
        "kg": "1", "t": "1000",
        "ms": "0.001", "s": "1", "min": "60", "h": "3600", "d": "86400", "week": "604800",
        "m²": "1", "dm²": "0.01", "cm²": "0.0001", "mm²": "0.000001",
        "in²": "0.00064516", "ft²": "0.09290304", "yd²": "0.83612736", "%": "0.01",
    }  # fmt: skip
    assert {symbol: factor(unit) for symbol, unit in UNITS.items()} == {
        symbol: Fraction(value) for symbol, value in exact.items()
    }


@pytest.mark.outside("pint: all units")
def test_the_library_says_the_same_of_every_unit() -> None:
    assert all(factor(unit) == library_factor(unit) for unit in UNITS.values())


@pytest.fixture
def _no_factors_yet() -> Iterator[None]:
    table._factors.cache_clear()
    yield
    table._factors.cache_clear()


@pytest.mark.usefixtures("_no_factors_yet")
def test_threads_that_start_together_build_one_registry(monkeypatch: pytest.MonkeyPatch) -> None:
    built: list[object] = []
    registry = pint.UnitRegistry

    def counted(non_int_type: type[Fraction]) -> object:
        built.append(non_int_type)
        return registry(non_int_type=non_int_type)

    monkeypatch.setattr(pint, "UnitRegistry", counted)
    together = Barrier(8)

    def read(_: int) -> Fraction:
        together.wait()
        return parse("12 yd", LENGTH).value

    with ThreadPoolExecutor(8) as pool:
        assert set(pool.map(read, range(8))) == {Fraction("10972.8")}
    assert built == [Fraction]


def test_only_a_rare_unit_imports_the_library() -> None:
    script = (
        "import sys; from whatif.units import Dimension, parse\n"
        "for text in ('900 mm', '2 ft 6 1/2 in', '1 yd'):\n"
        "    parse(text, Dimension.LENGTH); print('pint' in sys.modules)"
    )
    ran = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert ran.stdout.split() == ["False", "False", "True"]


def test_what_a_user_typed_never_reaches_the_library(monkeypatch: pytest.MonkeyPatch) -> None:
    parse("1 yd", LENGTH)  # the registry is there

    def seen(*_: object) -> None:
        raise AssertionError("the library was asked")

    monkeypatch.setattr(pint.UnitRegistry, "parse_expression", seen)
    monkeypatch.setattr(pint.UnitRegistry, "Quantity", seen)
    assert parse("27 in", LENGTH).value == Fraction("685.8")
    with pytest.raises(UnitsError, match="pcs"):
        parse("5 pcs", LENGTH)


def test_digits_and_a_symbol_need_no_grammar_and_are_worth_the_same(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    texts = [
        (f"{number} {symbol}", unit.dimension)
        for symbol, unit in UNITS.items()
        for number in ("12", "0", "007", "1.5", ".5", "12.", "1.50")
    ]
    monkeypatch.setattr(reader, "_plain_value", lambda *_: None)
    read = [parse(*text) for text in texts]
    monkeypatch.undo()
    monkeypatch.setattr(reader, "_split", lambda *_: pytest.fail("the grammar"))
    assert [parse(*text) for text in texts] == read
