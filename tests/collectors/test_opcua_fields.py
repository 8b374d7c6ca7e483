"""Which field of an event a channel is read from, in which unit it comes, and what is taken of it."""

import math
from decimal import Decimal

import pytest

from shotlog.channels import CHANNELS
from shotlog.collectors.opcua_fields import ChannelField, FieldDoubt, Parts, Reader, count_in, find, readers_of
from shotlog.collectors.opcua_said import FieldOffered, Given, Offer
from shotlog.collectors.opcua_units import Geometry, of_eu
from tests.collectors.opcua_played import STANDARD, UNIT, offered

TWO = offered(
    ("JobCycleCounter", "UInt64", ""),
    (f"{UNIT}CushionStroke", "Double", "mm"),
    ("InjectionUnitCycleParameters_2/CushionStroke", "Double", "mm"),
    ("MouldCycleParameters_1/MouldTemperature", "Double", "degC"),
)


def reader(name, field, unit=None, fields=STANDARD, geometry=None) -> Reader:
    chosen = ChannelField(CHANNELS[name], field, unit)
    (found,) = readers_of([chosen], Offer((), fields), Parts(), geometry or Geometry())
    return found


def test_a_name_alone_is_looked_for_in_the_unit_that_is_chosen():
    assert find("CushionStroke", TWO, Parts(unit=2)) == ("InjectionUnitCycleParameters_2/CushionStroke", "")
    path, remark = find("CushionStroke", TWO, Parts())
    assert path == f"{UNIT}CushionStroke"
    assert remark == "of injection unit 1: the press has it of 1 and 2 (injection_unit = 1 or 2 settles it)"
    assert find("CushionStroke", TWO, Parts(unit=3)) == (
        "",
        "injection unit 3 has no CushionStroke; the press has it of 1 and 2",
    )


def test_the_whole_path_and_the_mould_are_found_too():
    second = "InjectionUnitCycleParameters_2/CushionStroke"
    assert find(second, TWO, Parts(unit=1)) == (second, "")
    assert find("MouldTemperature", TWO, Parts()) == ("MouldCycleParameters_1/MouldTemperature", "")


def test_a_single_unit_with_another_number_is_taken_and_said():
    only = offered(("InjectionUnitCycleParameters_3/CushionStroke", "Double", "mm"))
    assert find("CushionStroke", only, Parts()) == (*only, "of injection unit 3, the only one that has it")


def test_a_name_that_no_type_has_is_told_with_the_nearest():
    path, remark = find("CushionStrok", STANDARD, Parts())
    assert not path
    assert remark.startswith("no event type of this press has a field CushionStrok; it has CushionStroke")


@pytest.mark.parametrize("unit", [None, "ms", "s"])
def test_a_duration_is_milliseconds_whatever_the_configuration_calls_it(unit):
    found = reader("cycle_time", "CycleTime", unit)
    assert found.value(Given(30_250.0)) == 30.25
    assert bool(found.remark) == (unit == "s")


def test_a_time_of_the_standard_that_is_no_duration_by_type_is_milliseconds_unless_somebody_says_other():
    plain = offered((f"{UNIT}InjectionTime", "Double", ""))
    assert reader("fill_time", "InjectionTime", None, plain).value(Given(721.0)) == 0.721
    assert reader("fill_time", "InjectionTime", "s", plain).value(Given(0.721)) == 0.721
    told = offered((f"{UNIT}InjectionTime", "Double", "s"))
    assert reader("fill_time", "InjectionTime", None, told).value(Given(0.721)) == 0.721


def test_the_unit_of_the_press_is_taken_and_that_of_the_configuration_wins():
    told = offered((f"{UNIT}SpecificPressureMaximum", "Double", "MPa"))
    assert reader("peak_pressure", "SpecificPressureMaximum", None, told).value(Given(54.0)) == pytest.approx(540.0)
    wins = reader("peak_pressure", "SpecificPressureMaximum", "bar", told)
    assert wins.value(Given(540.0)) == 540.0
    assert wins.remark == "the press calls it MPa; bar, as configured, is taken"


def test_no_unit_from_anybody_is_no_value_and_is_said():
    silent = offered((f"{UNIT}CushionStroke", "Double", ""))
    found = reader("cushion", "CushionStroke", None, silent)
    doubt = found.value(Given(5.0))
    assert isinstance(doubt, FieldDoubt)
    assert doubt.kind == "cushion not read"
    assert doubt.detail.endswith(f"the press gives no unit for {UNIT}CushionStroke; give it as unit")
    assert doubt.raw == f"{UNIT}CushionStroke=5.0".encode()


def test_a_volume_becomes_a_length_by_the_area_of_the_screw():
    area = math.pi / 4 * 18.0**2
    found = reader("cushion", "CushionVolume", geometry=Geometry(18.0))
    assert found.value(Given(5.0 * area / 1000.0)) == pytest.approx(5.0, rel=1e-12)
    in_mm3 = reader("cushion", "CushionVolume", "mm3", geometry=Geometry(18.0))
    assert in_mm3.value(Given(5.0 * area)) == pytest.approx(5.0, rel=1e-12)
    unknown = reader("cushion", "CushionVolume")
    assert unknown.remark.endswith("the screw's diameter is not known: give screw_diameter_mm")


def test_the_pressure_of_the_oil_wants_its_ratio():
    assert (
        reader("peak_pressure", "HydraulicPressureMaximum", geometry=Geometry(None, 10.5)).value(Given(52.0)) == 546.0
    )
    assert "intensification_ratio is not given" in reader("peak_pressure", "HydraulicPressureMaximum").remark


@pytest.mark.parametrize(
    ("came", "kind", "says"),
    [
        (None, "cushion not given", "has no value under"),
        (Given(None), "cushion not given", "has no value under"),
        (Given(None, "StatusCode", "BadSensorFailure"), "cushion BadSensorFailure", "BadSensorFailure"),
        (Given(5.0, "Double", "UncertainLastUsableValue"), "cushion UncertainLastUsableValue", "gives"),
        (Given(math.nan), "cushion not finite", "reads nan"),
        (Given(math.inf), "cushion not finite", "reads inf"),
        (Given("----"), "cushion no number, text", "'----'"),
        (Given([1.0, 2.0], "Double"), "cushion no number, a list of Double", "'[1.0, 2.0]'"),
        (Given(True, "Boolean"), "cushion no number, Boolean", "True"),
        (Given(9.9e8), "cushion range", "allowed: -5 to 500 mm"),
    ],
)
def test_what_is_no_measurement_is_absent_with_its_text_and_never_zero(came, kind, says):
    doubt = reader("cushion", "CushionStroke").value(came)
    assert isinstance(doubt, FieldDoubt)
    assert doubt.kind == kind
    assert says in doubt.detail
    assert doubt.raw == f"{UNIT}CushionStroke={'null' if came is None else came.text}".encode()


def test_scale_and_offset_come_before_the_unit():
    chosen = ChannelField(CHANNELS["cushion"], "CushionStroke", "mm", Decimal("0.01"), Decimal("-0.5"))
    (found,) = readers_of([chosen], Offer((), STANDARD), Parts(), Geometry())
    assert found.value(Given(557, "Int32")) == 5.07


@pytest.mark.parametrize(
    "came", [None, Given(None), Given("118"), Given(True), Given(-1), Given(1.5), Given(7, "", "Bad"), Given(2**63)]
)
def test_a_counter_is_a_whole_number_or_none(came):
    assert count_in(came) is None
    assert count_in(Given(118.0)) == count_in(Given(118)) == 118


def test_units_by_their_code_or_as_they_are_shown():
    assert of_eu(0x424152, "whatever") == "bar"
    assert of_eu(4408652, "") == "degC"
    assert of_eu(-1, "N/mm²") == "MPa"
    assert FieldOffered("A/B", "Double").name == "B"
