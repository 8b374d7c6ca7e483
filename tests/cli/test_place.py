"""`shotlog place`: where parts were put, typed in one word, shown wherever parts are shown, and taken back."""

import json
from pathlib import Path

import pytest

from tests.cli.test_parts_commands import Run, moulded, run

__all__ = ["moulded", "run"]


def test_a_place_is_shown_wherever_parts_are(moulded: Run, tmp_path: Path) -> None:
    said = moulded("place", "P25", "3-5/1", "box-4", "--due", "24h", "--initials", "ab")[1]
    assert said.startswith("P25, shots 3 to 5, 3 parts: box-4 since ")
    assert said.rstrip().endswith(" by ab (place 1)")
    moulded("place", "P25", "4/1", "bag-7")
    listed = moulded("place", "P25")[1].splitlines()
    assert [line.split(":")[0] for line in listed] == [
        "P25, shot 3, 1 part", "P25, shot 5, 1 part", "P25, shot 4, 1 part",
    ]  # fmt: skip
    rows = json.loads(moulded("parts", "P25", "3-6/1", "--json")[1])["parts"]
    assert [row["where"].split(",")[0] for row in rows] == ["box-4", "bag-7", "box-4", ""]
    assert [row["due"] is None for row in rows] == [False, True, False, True]
    (chain,) = json.loads(moulded("part", "P25", "4/1", "--json")[1])
    assert [one["place"] for one in chain["places"]] == ["box-4", "bag-7"]
    assert "where it is  bag-7, since" in moulded("part", "P25", "4/1")[1]
    moulded("export", "--out", tmp_path / "out")
    (folder,) = (tmp_path / "out").iterdir()
    kept = (folder / "places.csv").read_text(encoding="utf-8").splitlines()
    assert [line.split(",")[:5] for line in kept[1:]] == [
        ["P25", "3", "5", "1", "box-4"],
        ["P25", "4", "4", "1", "bag-7"],
    ]
    assert moulded("undo", "place", 2, "--reason", "other bag")[0] == 0
    assert json.loads(moulded("part", "P25", "4/1", "--json")[1])[0]["where"].startswith("box-4")


def test_a_place_that_is_past_due_is_overdue(moulded: Run) -> None:
    moulded("place", "P25", "3/1", "fridge", "--at", "2026-01-05T08:00Z", "--due", "2026-01-06T08:00Z")
    assert ", OVERDUE (place 1)" in moulded("place", "P25")[1]
    assert ", OVERDUE by " in moulded("parts", "P25", "3/1")[1]
    assert json.loads(moulded("parts", "P25", "3/1", "--json")[1])["parts"][0]["overdue_h"] > 1


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("P25", "3"), "place: given nothing"),
        (("P25", "99", "bag"), "99"),
        (("P25", "3", "bag", "--due", "soon"), "allowed: 24h, 2d, 14:30"),
        (("P99",), "P99"),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(moulded: Run, words: tuple[str, ...], said: str) -> None:
    status, _, err = moulded("place", *words)
    assert status == 2
    assert said in err
    assert err.count("\n") == 1
    assert "nobody has said" in moulded("place", "P25")[1]
