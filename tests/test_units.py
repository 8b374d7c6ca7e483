"""Conversions against known factors, and units that are none."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shotlog.channels import CHANNELS
from shotlog.errors import UsageError
from shotlog.units import converter


@pytest.mark.parametrize(
    ("unit", "to", "given", "expected"),
    [
        # Factors of NIST SP 811 appendix B (from memory): psi 6.894757 E+03 Pa, inch 2.54 E-02 m (exact),
        # kilogram-force per square centimetre 9.80665 E+04 Pa (exact), pound-force 4.448222 N,
        # ounce (avoirdupois) 2.834952 E-02 kg; t/degC = (t/degF - 32)/1.8.
        ("psi", "bar", 1000.0, 68.94757),
        ("MPa", "bar", 50.0, 500.0),
        ("kPa", "bar", 250.0, 2.5),
        ("Pa", "bar", 1.0e5, 1.0),
        ("kgf/cm^2", "bar", 100.0, 98.0665),
        ("inch", "mm", 1.0, 25.4),
        ("cm", "mm", 0.497, 4.97),
        ("ms", "s", 380.0, 0.38),
        ("min", "s", 0.5, 30.0),
        ("degF", "degC", 212.0, 100.0),
        ("degF", "degC", -40.0, -40.0),
        ("kelvin", "degC", 273.15, 0.0),
        ("lbf", "kN", 1000.0, 4.448222),
        ("kg", "g", 0.0035, 3.5),
        ("oz", "g", 1.0, 28.34952),
    ],
)
def test_a_known_factor(unit: str, to: str, given: float, expected: float) -> None:
    assert converter(unit, to)(given) == pytest.approx(expected, rel=2e-7, abs=1e-9)


@pytest.mark.parametrize("unit", sorted({channel.unit for channel in CHANNELS.values()}))
def test_the_own_unit_changes_no_bit(unit: str) -> None:
    assert converter(unit, unit)(0.1 + 0.2) == 0.1 + 0.2


@pytest.mark.parametrize(
    "unit",
    [
        "",
        " ",
        "mm",
        "degC",
        "furlongs",
        "2 psi",
        "bar; 1",
        "mm/0",
        "((",
        "'x'",
        "bar**99999",
        "delta_degC",
        "%",
        "bar\n",
    ],
)
def test_what_is_no_pressure_is_refused_in_one_line(unit: str) -> None:
    """Some of these came out of the units library as TokenError, ZeroDivisionError and the like."""
    with pytest.raises(UsageError, match="cannot be converted to bar") as caught:
        converter(unit, "bar")
    assert "\n" not in str(caught.value)


@given(st.text("psibarmMPadegCF a/*^()-+.0123,'\"[]{}:;\\@%°²", max_size=8))
def test_any_text_converts_or_is_refused(unit: str) -> None:
    try:
        convert = converter(unit, "bar")
    except UsageError:
        return
    assert isinstance(convert(1.0), float)
