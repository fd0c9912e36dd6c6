"""Which texts are refused as quantities, and in which words."""

import pytest

from whatif.units import Dimension, UnitsError, parse
from whatif.units.table import find_unit

TIME, LENGTH, MASS = Dimension.TIME, Dimension.LENGTH, Dimension.MASS
AREA, PERCENT = Dimension.AREA, Dimension.PERCENT


def message(text: str, dimension: Dimension) -> str:
    with pytest.raises(UnitsError) as refused:
        parse(text, dimension)
    return str(refused.value)


# Text, kind wanted, a word of the reason, the text to type instead.
REFUSED = [
    # numbers
    ("1,5 mm", LENGTH, "point", "1.5 mm"),
    ("1 000 mm", LENGTH, "stand together", "1000 mm"),
    ("1\N{NARROW NO-BREAK SPACE}000 mm", LENGTH, "stand together", "1000 mm"),
    ("1 234 567 mm", LENGTH, "stand together", "1234567 mm"),
    ("1'000 mm", LENGTH, "stand together", "1000 mm"),
    ("1'500 mm", LENGTH, "stand together", "1500 mm"),
    ("1,000 mm", LENGTH, "comma", "1000 mm"),
    ("1,000 mm", LENGTH, "comma", "1.000 mm"),
    ("1.2.3 mm", LENGTH, "one decimal point", "27 in"),
    ("1e3 mm", LENGTH, "power of ten", "27 in"),
    ("1E+3 mm", LENGTH, "power of ten", "27 in"),
    ("0x10 mm", LENGTH, "0 to 9", "27 in"),
    ("9**9**9 mm", LENGTH, "calculated", "27 in"),
    ("2^3 mm", LENGTH, "calculated", "27 in"),
    ("1/0 in", LENGTH, "divided by 0", "27 in"),
    ("1 1 1/2 in", LENGTH, "more than one number", "27 in"),
    ("1/2/3 in", LENGTH, "one stroke", "27 in"),
    ("1 / 2 in", LENGTH, "no spaces", "27 in"),
    ("1 4/4 in", LENGTH, "smaller than one", "27 in"),
    ("1 5/4 in", LENGTH, "smaller than one", "27 in"),
    ("1 -1/2 in", LENGTH, "no unit", "27 in"),
    ("--5 mm", LENGTH, "no number", "27 in"),
    ("5-6 mm", LENGTH, "range", "27 in"),
    ("5 - 6 mm", LENGTH, "range", "27 in"),
    ("5 – 6 min", TIME, "range", "12 min"),
    ("~5 mm", LENGTH, "plain value", "27 in"),
    ("5 ±0.1 mm", LENGTH, "plain value", "27 in"),
    ("nan h", TIME, "no number", "12 min"),
    ("inf h", TIME, "no number", "12 min"),
    ("-inf h", TIME, "no number", "12 min"),
    ("until done", TIME, "no number", "12 min"),
    ("٣ mm", LENGTH, "digits 0 to 9", "27 in"),
    ("５ mm", LENGTH, "digits 0 to 9", "27 in"),
    ("5² mm", LENGTH, "no unit", "27 in"),
    ("1234567890" * 2 + "12345 mm", LENGTH, "24 digits", "27 in"),
    ("0." + "0" * 24 + "1 mm", LENGTH, "24 digits", "27 in"),
    ("5 mm" + " " * 57, LENGTH, "60 characters", "27 in"),
    # no unit, or too much of it
    ("", TIME, "nothing in it", "12 min"),
    ("   ", TIME, "nothing in it", "12 min"),
    ("-", LENGTH, "no number", "27 in"),
    ("mm", LENGTH, "no number", "27 in"),
    ("5", TIME, "no unit", "5 min"),
    ("5", LENGTH, "no unit", "5 in"),
    ("5", MASS, "no unit", "5 kg"),
    ("5", AREA, "no unit", "5 ft²"),
    ("85", PERCENT, "no unit", "85 %"),
    ("0.85", PERCENT, "no unit", "85 %"),
    ("-0.85", PERCENT, "no unit", "-85 %"),
    ("1 h 30", TIME, "no unit", "1 h 30 min"),
    ("12' 6", LENGTH, "no unit", "12' 6 in"),
    ("12 lb 4", MASS, "no unit", "12 lb 4 oz"),
    ("5 in 6", LENGTH, "no unit", "27 in"),
    ("1:30", TIME, "colon", "12 min"),
    ("16 h/day", TIME, "after the unit", "16 h"),
    ("16 h / day", TIME, "after the unit", "16 h"),
    ("16 h per day", TIME, "after the unit", "16 h"),
    ("16 hours a day", TIME, "after the unit", "16 hours"),
    ("85 %/day", PERCENT, "after the unit", "85 %"),
    ("5 mm mm", LENGTH, "twice", "5 mm"),
    ("5 mm 6 mm", LENGTH, "twice", "27 in"),
    ("5 % 5 %", PERCENT, "twice", "85 %"),
    ("5 mm-", LENGTH, "does not belong", "27 in"),
    ("5 ft-", LENGTH, "dash", "27 in"),
    ("140x90x60 mm", LENGTH, "a place of its own", "27 in"),
    ("140 mm x 90 mm", LENGTH, "a place of its own", "27 in"),
    ("1 h, 30 min", TIME, "comma", "1 h 30 min"),
    ("1 h and 30 min", TIME, "between the parts", "1 h 30 min"),
    ("5\nmm", LENGTH, "one line", "27 in"),
    ("5\u200bmm", LENGTH, "hidden character", "27 in"),
    ("5 mm\x1b[2J", LENGTH, "hidden character", "27 in"),
    ("\ud800", LENGTH, "hidden character", "27 in"),
    # compounds
    ("1.5 h 30 min", TIME, "last number", "12 min"),
    ("1/2 h 30 min", TIME, "last number", "12 min"),
    ("1½ ft 2 in", LENGTH, "last number", "27 in"),
    ("30 min 1 h", TIME, "comes first", "1 h 30 min"),
    ("-6 in 1 ft", LENGTH, "comes first", "-1 ft 6 in"),
    ("1 h 1 h", TIME, "twice", "12 min"),
    ("1 h 1 hour", TIME, "twice", "12 min"),
    ("1 ft 2 mm", LENGTH, "do not go together", "27 in"),
    ("1 lb 2 g", MASS, "do not go together", "40 lb"),
    # units of another kind, and near misses
    ("5 m", TIME, "m is metres", "5 min"),
    ("5 M", TIME, "no unit of time", "5 min"),
    ("1h30m", TIME, "m is metres", "1h30min"),
    ("5 min", LENGTH, "min is minutes", "5 mm"),
    ("5 minutes", LENGTH, "a unit of time", "5 mm"),
    ("5'", TIME, "feet", "5 min"),
    ('5"', TIME, "inches", "5 s"),
    ("5 S", TIME, "capital", "5 s"),
    ("5 H", TIME, "capital", "5 h"),
    ("5 D", TIME, "capital", "5 d"),
    ("5 hR", TIME, "capital", "5 hr"),
    ("5 T", MASS, "capital", "5 t"),
    ("5 G", MASS, "capital", "5 g"),
    ("5 M", LENGTH, "capital", "5 m"),
    ("5 Mm", LENGTH, "capital", "5 mm"),
    ("5 mM", LENGTH, "capital", "5 mm"),
    ("5 MS", TIME, "capital", "5 ms"),
    ("2 M²", AREA, "capital", "2 m²"),
    ("2 Mm²", AREA, "capital", "2 mm²"),
    ("5 S", LENGTH, "no unit of length", "27 in"),
    ("2 m", AREA, "m is metres", "2 m²"),
    ("2 ft", AREA, "ft is feet", "2 ft²"),
    ("2 m²", LENGTH, "square metres", "2 m"),
    ("2 m2", LENGTH, "square metres", "2 m"),
    ("2 m^2", LENGTH, "square metres", "2 m"),
    ("2 m2 per pallet", AREA, "after the unit", "2 m2"),
    ("2 ha", AREA, "no unit of area", "2.5 m²"),
    ("5 min", PERCENT, "a percentage is wanted", "85 %"),
    ("5 pcs", TIME, "no unit of time", "12 min"),
    ("5 pcs", LENGTH, "no unit of length", "27 in"),
    ("5 minuts", TIME, "no unit of time", "5 minutes"),
    ("5 parsecs", TIME, "no unit of time", "12 min"),
    ("5 inchs", LENGTH, "no unit of length", "5 inches"),
    ("5 kilos", MASS, "no unit of mass", "5 kg"),
    # words with more than one meaning, or none that is fixed
    ("5 mil", LENGTH, "a thousandth of an inch", "5 thou"),
    ("5 mil", LENGTH, "a millimetre to others", "5 mm"),
    ("5 ton", MASS, "2000 lb or 2240 lb", "5 t"),
    ("5 Tons", MASS, "2000 lb or 2240 lb", "5 lb"),
    ("2 months", TIME, "no fixed length", "4 weeks"),
    ("1 year", TIME, "no fixed length", "52 weeks"),
    ("2 shifts", TIME, "no fixed length", "8 h"),
]


@pytest.mark.parametrize(("text", "dimension", "reason", "instead"), REFUSED)
def test_a_refusal_says_why_and_what_to_type(
    text: str, dimension: Dimension, reason: str, instead: str
) -> None:
    said = message(text, dimension)
    assert reason in said
    assert f'"{instead}"' in said.split("; write ", 1)[1]
    assert parse(instead, dimension).text == instead


@pytest.mark.parametrize(("text", "dimension", "reason", "instead"), REFUSED)
def test_a_refusal_names_the_text_and_is_fit_for_a_terminal(
    text: str, dimension: Dimension, reason: str, instead: str
) -> None:
    said = message(text, dimension)
    assert said.isprintable()
    if text.isprintable() and len(text) <= 60:
        assert said.startswith(f'"{text}": ')


def test_a_very_long_text_is_told_shortened() -> None:
    said = message("x" * 100_000, TIME)
    assert len(said) < 200
    assert said.startswith('"xxx')


@pytest.mark.parametrize("written", ["Mm", "mM", "MS", "Ms", "MG", "S", "M", "H", "D", "T", "G"])
def test_capitals_that_mean_something_else_are_no_units(written: str) -> None:
    assert find_unit(written) is None
