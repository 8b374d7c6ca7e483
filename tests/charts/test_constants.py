import pytest
from reference_data import decimals, rows

from shotlog.charts.constants import D2_PAIR, D3_PAIR, constants
from shotlog.errors import UsageError

NAMES = ("d2", "d3", "c4", "A2", "A3", "B3", "B4", "D3", "D4", "E2")
TABLE = rows("chart_constants.csv")


@pytest.mark.parametrize("row", TABLE, ids=[row["n"] for row in TABLE])
def test_constants_agree_with_quadrature_to_eight_digits(row: dict[str, str]) -> None:
    found = constants(int(row["n"]))
    for name in NAMES:
        assert getattr(found, name) == pytest.approx(float(row[name]), abs=5.1e-9), name


@pytest.mark.parametrize("row", TABLE, ids=[row["n"] for row in TABLE])
def test_constants_agree_with_the_printed_tables_to_their_last_digit(row: dict[str, str]) -> None:
    """But for the nine entries the old tables computed from constants already rounded (last_place_note)."""
    found = constants(int(row["n"]))
    for name in NAMES:
        printed = row[f"{name}_published"]
        if printed and f"{name}:" not in row["last_place_note"]:
            places = {"c4": 4, "E2": 3 if row["n"] != "2" else 2}.get(name, 3)
            assert abs(getattr(found, name) - float(printed)) <= decimals("0." + "0" * places), (name, printed)


def test_constants_of_two_are_closed_forms() -> None:
    extra = {row["name"]: float(row["value"]) for row in rows("chart_constants_extra.csv")}
    assert pytest.approx(extra["D4_n2"], abs=1e-14) == constants(2).D4
    assert pytest.approx(extra["E2_n2"], abs=1e-14) == constants(2).E2
    assert constants(2).d2 == D2_PAIR
    assert constants(2).d3 == D3_PAIR


@pytest.mark.parametrize("n", [0, 1, 1001])
def test_constants_outside_the_range_are_refused(n: int) -> None:
    with pytest.raises(UsageError, match=f"given a subgroup of {n}, allowed: 2 to 1000"):
        constants(n)
