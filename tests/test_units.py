"""Lengths, areas and angles read and written."""

import math
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from tutor.faults import Fault
from tutor.units import Unit, format_angle, format_area, format_inches, format_length, parse_length

# scipy.constants holds the SI values of the units (BIPM, The International System of Units), in metres
# and radians; every expected length below is computed from these.
INCH = constants.inch * 1000
CM = constants.centi * 1000

PAPER = st.floats(-10_000, 10_000)


@pytest.mark.parametrize(
    ("unit", "mm"), [(Unit.INCH, constants.inch * 1000), (Unit.CM, constants.centi * 1000), (Unit.MM, 1.0)]
)
def test_units_are_what_the_si_says(unit: Unit, mm: float) -> None:
    assert float(unit.mm) == pytest.approx(mm, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("1 1/2", 1.5 * INCH),
        ("1-1/2", 1.5 * INCH),
        ("1–1/2", 1.5 * INCH),
        ('1.5"', 1.5 * INCH),
        ("1.5″", 1.5 * INCH),
        ("1.5”", 1.5 * INCH),
        ("1.5''", 1.5 * INCH),
        ("1 1/2 in", 1.5 * INCH),
        ("1 1/2 in.", 1.5 * INCH),
        ("1 1/2 Inches", 1.5 * INCH),
        ("1\u00a01/2\u202finch", 1.5 * INCH),
        ("1½", 1.5 * INCH),
        ("1 ½", 1.5 * INCH),
        ("1-½ in", 1.5 * INCH),
        ("½ in", 0.5 * INCH),
        ("1⁄2", 0.5 * INCH),
        ("1∕2", 0.5 * INCH),
        ("3/2", 1.5 * INCH),
        ("1,5", 1.5 * INCH),
        ("0,500", 0.5 * INCH),
        ("13.375", 13.375 * INCH),
        (".5", 0.5 * INCH),
        ("3.", 3 * INCH),
        ("-1 1/2", -1.5 * INCH),
        ("-1-1/2", -1.5 * INCH),
        ("−1½", -1.5 * INCH),
        ("- 2", -2 * INCH),
        ("3.8 cm", 3.8 * CM),
        ("3.8cm", 3.8 * CM),
        ("3,8 cm", 3.8 * CM),
        ("+3 cm", 3 * CM),
        ("  3 CM\n", 3 * CM),
        ("3 centimetres", 3 * CM),
        ("38mm", 38.0),
        ("38 millimeters", 38.0),
        ("1234,567 mm", 1234.567),
        ("100000 mm", 100_000.0),
    ],
)
def test_lengths_are_read_as_people_write_them(text: str, mm: float) -> None:
    assert parse_length(text, Unit.INCH) == pytest.approx(mm, rel=1e-14)


@pytest.mark.parametrize(("unit", "mm"), [(Unit.CM, 15.0), (Unit.INCH, 38.1), (Unit.MM, 1.5)])
def test_a_bare_number_is_in_the_unit_asked_for(unit: Unit, mm: float) -> None:
    assert parse_length("1 1/2", unit) == mm


@pytest.mark.parametrize("sign", "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒")
def test_fraction_signs_are_the_fractions_unicode_writes_them_as(sign: str) -> None:
    # Unicode Character Database: the compatibility decomposition of each sign, such as 1⁄2.
    written_out = unicodedata.normalize("NFKC", sign)
    assert "\N{FRACTION SLASH}" in written_out
    assert parse_length(sign, Unit.INCH) == parse_length(written_out, Unit.INCH)
    assert parse_length(f"3{sign}", Unit.INCH) == parse_length(f"3 {written_out}", Unit.INCH)


def test_zero_has_no_sign() -> None:
    assert math.copysign(1, parse_length("-0", Unit.CM)) == 1


@pytest.mark.parametrize(
    ("text", "right"),
    [
        ("1,500", "write 1.500 or 1500"),
        ("-12,345 mm", "write 12.345 or 12345"),
        ("1.500,0", "write 1500.0 or 15000"),
        ("1,500.0 in", "write 1500.0 or 15000"),
    ],
)
def test_a_number_with_two_readings_asks_which(text: str, right: str) -> None:
    with pytest.raises(Fault) as caught:
        parse_length(text, Unit.CM, "opening")
    assert str(caught.value) == f'opening: "{text}" can mean two numbers; {right}'


@pytest.mark.parametrize("text", ["12,5,3", "1.2.3", "1,2.3", "12,345,6", "1,5,000", "1234,567,8"])
def test_commas_that_set_off_neither_decimals_nor_thousands_make_no_number(text: str) -> None:
    with pytest.raises(Fault) as caught:
        parse_length(text, Unit.CM, "opening")
    told = f'opening: "{text}" can\'t be read as one number; write one comma or point, before the decimals'
    assert str(caught.value) == told


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", '"" is not a length'),
        ("   ", '"" is not a length'),
        ("in", '"in" is not a length'),
        ("wide", '"wide" is not a length'),
        ("nan", '"nan" is not a length'),
        ("inf", '"inf" is not a length'),
        ("-Infinity cm", '"-Infinity cm" is not a length'),
        ("1e3", '"1e3" is not a length'),
        ("--3", '"--3" is not a length'),
        ("1 - 1/2", '"1 - 1/2" is not a length'),
        ("1 2", '"1 2" is not a length'),
        ("1 1 1/2", '"1 1 1/2" is not a length'),
        ("1/2/3", '"1/2/3" is not a length'),
        ("½5", '"½5" is not a length'),
        ("½/2", '"½/2" is not a length'),
        ("٣", '"٣" is not a length'),
        (".", '"." is not a length'),
        ("3 + 4", '"3 + 4" is not a length'),
        ("1/0", '"1/0" divides by zero'),
        ("1 3/2", '"1 3/2" has a fraction that is not below one'),
        ("5 m", '"5 m" ends in no unit known here'),
        ("3'", '"3\'" ends in no unit known here'),
        ("100000.001 mm", '"100000.001 mm" is beyond 100 m'),
        ("-4000 in", '"-4000 in" is beyond 100 m'),
        ("1" * 41, f'"{"1" * 40}…" is too long for a length'),
        ("\x1b[2J", '"\\x1b[2J" is not a length'),
        ("3\ncm\n4", '"3\\x0acm\\x0a4" is not a length'),
    ],
)
def test_what_is_no_length_is_refused_in_one_line(text: str, what: str) -> None:
    with pytest.raises(Fault) as caught:
        parse_length(text, Unit.INCH, "opening")
    line = str(caught.value)
    assert line.startswith(f"opening: {what}; ")
    assert line.isprintable()


def read(text: str) -> float | Fault:
    try:
        return parse_length(text, Unit.CM)
    except Fault as fault:
        return fault


@given(st.text() | st.text("0123456789 .,/-½¼in\"cm'", max_size=12))
def test_any_text_is_a_length_or_a_fault(text: str) -> None:
    result = read(text)
    if isinstance(result, Fault):
        assert str(result).isprintable()
        assert result.right
    else:
        assert abs(result) <= 100_000


@given(st.integers(0, 3000), st.integers(0, 63), st.sampled_from([" ", "-"]), st.sampled_from(["", "-"]))
def test_mixed_numbers_are_read_exactly(whole: int, over: int, between: str, sign: str) -> None:
    # 25.4 mm to the inch, in whole tenths of a millimetre: 254 (64 whole + over) / 640, rounded once.
    tenths = 254 * (64 * whole + over)
    expected = tenths / 640
    assert parse_length(f"{sign}{whole}{between}{over}/64", Unit.INCH) == (-expected if sign else expected)


@given(PAPER, st.sampled_from([1, 2]), st.booleans())
def test_centimetres_survive_the_round_trip(mm: float, decimals: int, signed: bool) -> None:
    text = format_length(mm, Unit.CM, signed, decimals)
    assert abs(parse_length(text, Unit.MM) - mm) <= 10 / 10**decimals / 2 + 1e-9


@given(PAPER, st.booleans())
def test_millimetres_survive_the_round_trip(mm: float, signed: bool) -> None:
    assert abs(parse_length(format_length(mm, Unit.MM, signed), Unit.CM) - mm) <= 0.05 + 1e-9


@given(PAPER, st.booleans())
def test_inches_survive_the_round_trip(mm: float, signed: bool) -> None:
    text = format_length(mm, Unit.INCH, signed)
    assert text == format_inches(mm, signed)
    assert abs(parse_length(text, Unit.CM) - mm) <= INCH / 32 + 1e-9


@given(PAPER, st.sampled_from(Unit))
def test_a_length_and_its_opposite_differ_in_the_sign_alone(mm: float, unit: Unit) -> None:
    there, back = format_length(mm, unit, signed=True), format_length(-mm, unit, signed=True)
    assert there.lstrip("+-") == back.lstrip("+-")
    assert {there[0], back[0]} == {"+", "-"} or there == back


@pytest.mark.parametrize(
    ("inches", "text"),
    [
        (13.375, "13 3/8 in"),
        (-1.5, "-1 1/2 in"),
        (0.0625, "1/16 in"),
        (0.03, "0 in"),
        (-0.03, "0 in"),
        (-0.04, "-1/16 in"),
        (0.97, "1 in"),
        (15.99, "16 in"),
    ],
)
def test_inches_are_shown_as_a_tape_shows_them(inches: float, text: str) -> None:
    assert format_inches(inches * INCH) == text


@pytest.mark.parametrize("mm", [0.0, -0.0, -0.04, 0.04, -1e-300])
@pytest.mark.parametrize(("unit", "text"), [(Unit.CM, "0.0 cm"), (Unit.INCH, "0 in"), (Unit.MM, "0.0 mm")])
def test_nothing_is_never_less_or_more_than_nothing(mm: float, unit: Unit, text: str) -> None:
    assert format_length(mm, unit) == format_length(mm, unit, signed=True) == text


def test_lengths_are_shown_in_each_unit() -> None:
    assert format_length(13.375 * INCH, Unit.CM) == "34.0 cm"
    assert format_length(13.375 * INCH, Unit.CM, decimals=2) == "33.97 cm"
    assert format_length(13.375 * INCH, Unit.MM) == "339.7 mm"
    assert format_length(13.375 * INCH, Unit.CM, signed=True) == "+34.0 cm"
    assert format_length(-13.375 * INCH, Unit.INCH, signed=True) == "-13 3/8 in"


def test_areas_are_shown_in_square_centimetres_or_square_inches() -> None:
    assert format_area(3 * INCH * INCH, Unit.INCH) == "3.00 sq in"
    assert format_area(12.34 * CM * CM, Unit.CM) == "12.3 cm²"
    assert format_area(12.34 * CM * CM, Unit.MM, signed=True) == "+12.3 cm²"
    assert format_area(-1e-9, Unit.CM) == "0.0 cm²"


@given(st.floats(-720, 720))
def test_angles_are_shown_in_degrees(degrees: float) -> None:
    text = format_angle(degrees * constants.degree)
    assert text.endswith("°")
    assert float(text[:-1]) == pytest.approx(degrees, abs=0.05 + 1e-9)
    assert text != "-0.0°"


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_never_shown(bad: float) -> None:
    with pytest.raises(ValueError, match="can't be shown"):
        format_inches(bad)
    with pytest.raises(ValueError, match="can't be shown"):
        format_length(bad, Unit.CM)
    with pytest.raises(ValueError, match="can't be shown"):
        format_area(bad, Unit.CM)
    with pytest.raises(ValueError, match="can't be shown"):
        format_angle(bad)
