"""The table of the standard in docs/security.md: no number is left out, and each test it names is there."""

import re
from pathlib import Path

_ROOT = Path(__file__).parents[2]

LEVEL_1 = {
    "2.1": range(1, 13), "2.2": range(1, 4), "2.3": [1], "2.5": range(1, 7), "2.7": range(1, 5), "2.8": [1],
    "3.1": [1], "3.2": range(1, 4), "3.3": range(1, 3), "3.4": range(1, 6), "3.7": [1],
    "4.1": [1, 2, 3, 5], "4.2": range(1, 3), "4.3": range(1, 3),
    "5.1": range(1, 6), "5.2": range(1, 9), "5.3": range(1, 11), "5.5": range(1, 5),
    "6.2": [1],
    "7.1": range(1, 3), "7.4": [1],
    "8.2": range(1, 4), "8.3": range(1, 5),
    "9.1": range(1, 4),
    "10.3": range(1, 4),
    "11.1": range(1, 6),
    "12.1": [1], "12.3": range(1, 6), "12.4": range(1, 3), "12.5": range(1, 3), "12.6": [1],
    "13.1": [1, 3], "13.2": range(1, 4), "13.3": [1],
    "14.2": range(1, 4), "14.3": range(2, 4), "14.4": range(1, 8), "14.5": range(1, 4),
}  # fmt: skip
"""The requirements of level 1, by section: whatever has a mark under `level1` in the table that the standard itself is
given out as (OWASP ASVS 4.0.3, English CSV). 3.3.2 is among them: its mark there is a time, 30 days."""

_ROW = re.compile(r"^\| (\d+\.\d+\.\d+) \|(.*)\|$", re.MULTILINE)
_TEST = re.compile(r"`([a-z_0-9]+\.py)::(test_[a-z_0-9]+)`")


def _rows() -> list[tuple[str, list[str]]]:
    text = (_ROOT / "docs" / "security.md").read_text(encoding="utf-8")
    return [(number, [cell.strip() for cell in rest.split("|")]) for number, rest in _ROW.findall(text)]


def test_every_number_of_level_1_has_one_row() -> None:
    wanted = [f"{section}.{n}" for section, numbers in LEVEL_1.items() for n in numbers]
    assert len(wanted) == 128
    assert [number for number, _ in _rows()] == wanted


def test_each_row_says_whether_it_is_met_and_by_which_test() -> None:
    for number, (asked, standing, how, tests) in _rows():
        assert asked, number
        assert how, number
        assert standing in ("met", "partly", "not met", "does not apply"), number
        assert bool(_TEST.findall(tests)) == (standing in ("met", "partly")), number


def test_each_test_that_is_named_exists() -> None:
    there = {
        (file.name, found)
        for file in (_ROOT / "tests").rglob("test_*.py")
        for found in re.findall(r"^def (test_\w+)\(", file.read_text(encoding="utf-8"), re.MULTILINE)
    }
    named = {found for _, cells in _rows() for found in _TEST.findall(cells[-1])}
    assert named - there == set()


def test_what_is_not_met_is_counted_where_it_is_read_first() -> None:
    text = (_ROOT / "docs" / "security.md").read_text(encoding="utf-8")
    standing = [cells[1] for _, cells in _rows()]
    said = re.search(r"(\d+) are met, (\d+) partly, (\d+) are not met, (\d+) do not apply", text)
    assert said is not None
    assert [int(n) for n in said.groups()] == [
        standing.count(each) for each in ("met", "partly", "not met", "does not apply")
    ]


def test_the_private_data_are_named() -> None:
    """Each thing the log and the accounts keep of a person is in the section that says what is done with it."""
    text = (_ROOT / "docs" / "security.md").read_text(encoding="utf-8")
    section = text.partition("## Private data")[2].partition("\n## ")[0]
    for kept in ("initials", "account", "role", "address", "login name", "time", "notes", "pictures", "hashes"):
        assert kept in section, kept
