"""Units: read from any sensible way of writing, held against printed factors and against a general unit library."""

import math
import time

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.model.units import (
    Measure,
    QuantityError,
    Range,
    Unit,
    factor_to,
    read_measure,
    read_range,
    read_value,
    write_number,
    write_quantity,
    write_range,
    written_units,
)
from tests.published import published

UNITS = pint.UnitRegistry()
# How the library calls what we write; money and temperature are left to tests of their own.
PINT = {
    "in": "inch", "ft": "foot", "mi": "mile", "m²": "m**2", "m2": "m**2",
    "N·m": "N*m", "Nm": "N*m", "N.m": "N*m", "in·lbf": "inch*lbf", "in-lbf": "inch*lbf", "in*lbf": "inch*lbf",
    "lbf·in": "inch*lbf", "ft·lbf": "foot*lbf", "ft-lbf": "foot*lbf", "ft*lbf": "foot*lbf", "lbf·ft": "foot*lbf",
    "kgf·m": "kgf*m", "kgf·cm": "kgf*cm", "kg/m³": "kg/m**3", "kg/m3": "kg/m**3", "km/h": "km/hour", "mph": "mile/hour",
    "°": "deg", "arcmin": "arcminute", "rev/min": "turn/minute", "rpm": "turn/minute", "%": "percent",
    "pt": "point", "min": "minute", "h": "hour",
    '"': "inch", "inches": "inch", "lbs": "pound", "PSI": "psi", "Bar": "bar", "BAR": "bar", "N m": "N*m", "N-m": "N*m",
    **dict.fromkeys(("in-lb", "in·lb", "in lb", "in-lbs", "lb-in", "lb·in", "lbf-in"), "inch*lbf"),
    **dict.fromkeys(("ft-lb", "ft·lb", "ft lb", "ft-lbs", "lb-ft", "lb·ft", "lbf-ft"), "foot*lbf"),
}  # fmt: skip
APART = {Unit.MONEY, Unit.CELSIUS, Unit.ONE, Unit.TEETH, Unit.LINKS}
PAIRS = [
    pytest.param(written, unit, id=f"{written} in {unit.value}")
    for unit in Unit
    if unit not in APART
    for written in written_units(unit)
]
KEPT = {unit.value: unit for unit in Unit}
NUMBERS = st.floats(1e-6, 1e9).map(lambda value: float(f"{value:.9g}"))


def in_pint(written):
    return UNITS.Quantity(1.0, PINT.get(written, written))


# --- factors ---


@pytest.mark.parametrize("case", [*published("units/sp811"), *published("units/sp811-exact")])
def test_factor_meets_the_printed_guide(case):
    assert factor_to(case.inputs["written"], KEPT[case.inputs["kept"]]) == case.wanted()


@pytest.mark.parametrize("case", [*published("units/pairs-16cfr"), *published("units/pressure-mark")])
def test_a_written_quantity_reads_as_its_printed_partner(case):
    assert read_value(case.inputs["text"], KEPT[case.inputs["kept"]]) == case.wanted()


@pytest.mark.parametrize(("written", "unit"), PAIRS)
def test_factor_agrees_with_a_unit_library(written, unit):
    assert factor_to(written, unit) == pytest.approx(in_pint(written).to(PINT.get(unit.value, unit.value)).m, rel=1e-12)


@given(value=NUMBERS, pair=st.sampled_from([pair.values for pair in PAIRS]))
def test_a_value_agrees_with_a_unit_library(value, pair):
    written, unit = pair
    wanted = (value * in_pint(written)).to(PINT.get(unit.value, unit.value)).magnitude
    assert read_value(f"{value!r} {written}", unit) == pytest.approx(wanted, rel=1e-12)


@pytest.mark.parametrize("unit", [unit for unit in Unit if unit not in APART])
def test_no_unit_of_another_kind_is_taken(unit):
    """What the library can't convert, we don't take; a plain number in a unit of its own kind is no exception."""
    taken = set(written_units(unit))
    everything = {written for other in Unit for written in written_units(other)} - {"°C", "€", "T", "teeth", "links"}
    for written in everything - taken:
        with pytest.raises(QuantityError):
            factor_to(written, unit)
    for written in taken:
        assert in_pint(written).is_compatible_with(PINT.get(unit.value, unit.value))


@pytest.mark.parametrize("unit", [unit for unit in Unit if unit is not Unit.ONE])
def test_the_kept_unit_has_the_factor_one_and_comes_first(unit):
    assert factor_to(unit.value, unit) == 1.0
    assert written_units(unit)[0] == unit.value


# --- reading ---


@given(value=NUMBERS, tolerance=NUMBERS)
def test_a_tolerance_is_read_with_its_value(value, tolerance):
    measure = read_measure(f"{value!r} ± {tolerance!r} cm", Unit.MILLIMETRE)
    assert measure.value == pytest.approx(10 * value)
    assert measure.tolerance == pytest.approx(10 * tolerance)
    assert measure.low <= measure.value <= measure.high


@given(low=NUMBERS, more=NUMBERS)
def test_a_range_is_read_with_both_ends(low, more):
    high = low + more
    for between in ("–", " – ", " to ", "-"):
        span = read_range(f"{low!r}{between}{high!r} N·m", Unit.NEWTON_METRE)
        assert (span.low, span.high) == (low, high)


@pytest.mark.parametrize("text", ["425 ± 2 mm", "425+/-2 mm", "42.5 ± 0.2 cm", " 425 ±2mm "])
def test_ways_to_write_a_tolerance(text):
    measure = read_measure(text, Unit.MILLIMETRE)
    assert measure == Measure(pytest.approx(425), pytest.approx(2))


@pytest.mark.parametrize(
    "text", ["", "mm", "many mm", "nan mm", "inf mm", "1 2 mm", "425 xyzzy", "425", "4 to 5 mm", "1e999 mm"]
)
def test_what_is_no_length_is_refused(text):
    with pytest.raises(QuantityError):
        read_value(text, Unit.MILLIMETRE)


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("1/2in", Unit.MILLIMETRE, 12.7),
        ("17 5/16 in", Unit.MILLIMETRE, 439.7375),
        ("5 1/8 in", Unit.MILLIMETRE, 130.175),
        ("34 1/2 in", Unit.MILLIMETRE, 876.3),
        ("17½ in", Unit.MILLIMETRE, 444.5),
        ('12"', Unit.MILLIMETRE, 304.8),
        ("0,125 in", Unit.MILLIMETRE, 3.175),
        ("34 1/2", Unit.ONE, 34.5),
        ("–5 °C", Unit.CELSIUS, -5),
        ("−5 °C", Unit.CELSIUS, -5),
        ("65 PSI", Unit.BAR, 4.4815922),
        ("4 Bar", Unit.BAR, 4),
        ("5 N⋅m", Unit.NEWTON_METRE, 5),
        ("5 N m", Unit.NEWTON_METRE, 5),
        ("60 in-lb", Unit.NEWTON_METRE, 6.7790897),
        ("5 ft-lb", Unit.NEWTON_METRE, 6.7790897),
        ("1.500 m", Unit.METRE, 1.5),
    ],
)
def test_ways_to_write_a_value(text, unit, value):
    assert read_value(text, unit) == pytest.approx(value, rel=1e-7)


@pytest.mark.parametrize(
    ("text", "value", "tolerance"),
    [
        ("425 mm ± 2 mm", 425, 2),
        ("44cm±1cm", 440, 10),
        ("17 5/16 in ± 1/16 in", 439.7375, 1.5875),
        ("425 mm±2", 425, 2),
    ],
)
def test_a_tolerance_may_have_a_unit_of_its_own(text, value, tolerance):
    measure = read_measure(text, Unit.MILLIMETRE)
    assert (measure.value, measure.tolerance) == pytest.approx((value, tolerance))


@pytest.mark.parametrize("text", ["1,500 m", "425 ± 1,250 mm", "1,000–2,000 mm"])
def test_a_number_that_two_readers_take_for_different_ones_is_refused(text):
    with pytest.raises(QuantityError, match=r"can be read in two ways; write 1[0-9]+ or 1"):
        read_range(text, Unit.METRE)


@pytest.mark.parametrize(
    "text", ["1,500,000 mm", "1.500,5 mm", "1,500.5 mm", "1/0 in", "5' 3\"", "2026-11-25", "3–4 ± 1 mm"]
)
def test_what_is_no_plain_number_is_refused(text):
    with pytest.raises(QuantityError):
        read_range(text, Unit.MILLIMETRE)


@pytest.mark.parametrize(
    "text",
    [
        "432" + " " * 500_000 + "1",
        "9" * 500_000,
        "1 " * 500_000,
        "±" * 500_000,
        "1-" * 500_000,
        " " * 5_000_000 + "4 mm",
    ],
    ids=lambda text: text[:2],
)
def test_no_text_however_long_takes_more_than_a_moment(text):
    began = time.process_time()
    with pytest.raises(QuantityError) as refused:
        read_measure(text, Unit.MILLIMETRE)
    assert time.process_time() - began < 1
    assert len(str(refused.value)) < 200


@given(text=st.text(alphabet="0123456789 .,/+-–−±toe\"'inmN·½°", max_size=130), unit=st.sampled_from(list(Unit)))
def test_any_text_of_the_signs_of_quantities_is_read_or_refused(text, unit):
    try:
        span = read_range(text, unit)
    except QuantityError:
        return
    assert math.isfinite(span.low)
    assert math.isfinite(span.high)


def test_an_unknown_unit_is_answered_with_the_known_ones():
    with pytest.raises(QuantityError, match=r"unknown unit 'furlong'; write one of: mm, cm, in"):
        read_value("3 furlong", Unit.MILLIMETRE)


def test_a_unit_of_another_kind_is_answered_with_those_of_the_right_kind():
    with pytest.raises(QuantityError, match=r"'kg' is not a unit for this; write one of: N·m"):
        read_value("3 kg", Unit.NEWTON_METRE)


def test_counts_need_no_unit():
    assert read_value("32", Unit.TEETH) == read_value("32 teeth", Unit.TEETH) == read_value("32T", Unit.TEETH) == 32


def test_a_share_may_be_written_in_per_cent():
    assert read_value("97.7 %", Unit.ONE) == pytest.approx(0.977)


def test_a_decimal_comma_is_read():
    assert read_value("42,5 cm", Unit.MILLIMETRE) == 425


def test_a_range_that_runs_backwards_is_refused():
    with pytest.raises(QuantityError, match="backwards"):
        read_range("45–35 N·m", Unit.NEWTON_METRE)


def test_a_tolerance_is_not_a_plain_value():
    with pytest.raises(QuantityError, match="tolerance"):
        read_value("425 ± 2 mm", Unit.MILLIMETRE)


@given(text=st.text(max_size=40), unit=st.sampled_from(list(Unit)))
def test_any_text_is_read_or_refused_and_never_breaks(text, unit):
    try:
        measure = read_measure(text, unit)
    except QuantityError:
        return
    assert math.isfinite(measure.value)


# --- writing ---


@pytest.mark.parametrize(
    ("value", "unit", "decimals", "written"),
    [
        (425.0, Unit.MILLIMETRE, 1, "425\u00a0mm"),
        (-0.04, Unit.MILLIMETRE, 2, "−0.04\u00a0mm"),
        (-0.001, Unit.MILLIMETRE, 1, "0\u00a0mm"),
        (5.5, Unit.NEWTON_METRE, 1, "5.5\u00a0N·m"),
        (0.8, Unit.ONE, 1, "0.8"),
        (90.0, Unit.DEGREE, 0, "90°"),
    ],
)
def test_a_quantity_is_written_for_the_reader(value, unit, decimals, written):
    assert write_quantity(value, unit, decimals) == written


@given(value=st.floats(-1e6, 1e6), decimals=st.integers(0, 6))
def test_a_written_number_reads_back_within_its_rounding(value, decimals):
    back = float(write_number(value, decimals).replace("−", "-"))
    half_a_digit = 0.5 * 10**-decimals
    assert abs(back - value) <= half_a_digit + math.ulp(value) + math.ulp(half_a_digit)


@given(value=st.floats(0.01, 1e5))
def test_a_written_quantity_reads_back(value):
    written = write_quantity(value, Unit.NEWTON_METRE, 4)
    assert read_value(written, Unit.NEWTON_METRE) == pytest.approx(value, abs=0.0001)


def test_a_range_is_written_once_where_both_ends_read_the_same():
    assert write_range(Range(35, 45), Unit.NEWTON_METRE) == "35 to 45\u00a0N·m"
    assert write_range(Range(5, 5), Unit.NEWTON_METRE) == "5\u00a0N·m"


def test_a_range_holds_its_ends_and_knows_its_middle():
    span = Range(35, 45)
    assert span.holds(35)
    assert span.holds(45)
    assert not span.holds(45.1)
    assert span.middle == 40
