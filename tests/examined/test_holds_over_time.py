"""Held parts while the day goes on: more shots, a swap, a withdrawn call, a replay; only a person lets parts go."""

import csv
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from tests.examined.shop import Row, Shop, sound_day, sound_values


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    return Shop(tmp_path, monkeypatch)


def more(first: int, last: int, **same: str) -> list[Row]:
    noise = Random(first)
    return [Row(n, sound_values(n, noise), **same) for n in range(first, last + 1)]


def test_parts_made_while_a_finding_stands_are_held_as_they_come(shop: Shop) -> None:
    shop.take(sound_day(40))
    shop.do("note", "P1", "good", "saw it", "--at-shot", 35)
    shop.do("note", "P1", "finding", "crack", "--half", "fixed", "--initials", "ab")
    assert shop.held() == set(range(36, 41))
    shop.take(more(41, 50), "later.csv")
    assert shop.held() == set(range(36, 51))
    shop.do("mount", "P1", "A-08", "--half", "fixed")
    shop.take(more(51, 60, fixed="A-08"), "after the swap.csv")
    assert shop.held() == set(range(36, 51))
    assert shop.verdict() != "swap"


def test_the_same_parts_are_held_whether_the_day_comes_at_once_or_in_pieces(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def day(name: str, cuts: tuple[int, ...]) -> tuple[set[int], str]:
        (tmp_path / name).mkdir()
        shop = Shop(tmp_path / name, monkeypatch)
        rows = [replace(row, event="finding@fixed:crack") if row.shot == 40 else row for row in sound_day(60)]
        for n, (first, end) in enumerate(zip((0, *cuts), (*cuts, 60), strict=True)):
            shop.take(rows[first:end], f"{n}.csv")
        return shop.held(), shop.verdict()

    assert day("at once", ()) == day("in pieces", (20, 40, 41, 55))
    assert day("at once again", ())[1] == "swap"


def test_a_replay_of_what_was_exported_gives_the_same_verdicts(shop: Shop) -> None:
    shop.take(sound_day(60))
    shop.do("note", "P1", "finding", "crack", "--half", "fixed", "--at-shot", 40)
    shop.do("note", "P1", "finding", "flash", "--at-shot", 50)
    shop.do("note", "P1", "sound", "R. K., looked at the fixed half with a loupe", "--at-shot", 55)
    shop.do("export", "--out", shop.folder / "out.csv")
    shop.do("replay", shop.folder / "out.csv", "--verdicts", shop.folder / "verdicts.csv")
    with (shop.folder / "verdicts.csv").open(encoding="utf-8", newline="") as file:
        replayed = {int(row["shot"]): row["verdict"] for row in csv.DictReader(file)}
    for shot in (39, 40, 41, 49, 50, 54, 56, 60):
        assert shop.asked("explain", "P1", shot)["verdict"]["verdict"] == replayed[shot], f"shot {shot}"


def assert_no_change_is_said_of_values_only(said: str) -> None:
    for line in said.lower().splitlines():
        assert "no change seen" not in line or line.strip().startswith("by the values"), line


def test_the_verdict_says_what_was_found_by_whom_and_on_which_half(shop: Shop) -> None:
    shop.take(sound_day(40))
    shop.do("note", "P1", "finding", "crack", "--half", "fixed", "--initials", "kq")
    said = shop.do("status")
    for word in ("crack", "A-07", "fixed", "kq"):
        assert word in said
    assert_no_change_is_said_of_values_only(said)
    assert all(word in said.lower() for word in ("last", "good")), "asks for the last one known to be good"
    shop.do("note", "P1", "good", "saw it", "--at-shot", 35)
    assert "36" in shop.do("status")


def test_a_bad_inspection_is_told_with_who_and_which_half(shop: Shop) -> None:
    shop.take(sound_day(40))
    shop.wait(24)
    shop.do("inspect", "P1", 33, "--finding", "flash", "--half", "moving", "--initials", "kq")
    said = shop.do("status")
    for word in ("flash", "B-11", "moving", "kq", "33"):
        assert word in said
    assert_no_change_is_said_of_values_only(said)


def test_part_shows_what_was_noted_at_its_shot(shop: Shop) -> None:
    shop.take(sound_day(40))
    shop.do("note", "P1", "note", "piece cracked on loading", "--at-shot", 19, "--initials", "kq")
    said = shop.do("part", "P1", 19)
    assert "piece cracked on loading" in said
    assert "kq" in said
    assert "held" in said.lower()
    assert "cracked on loading" not in shop.do("part", "P1", 20)


def test_held_parts_stand_in_the_status_with_their_number_and_first(shop: Shop) -> None:
    """Also with keep: after the swap nothing speaks against the new insert, and 36 to 50 are still held."""
    shop.take(sound_day(50))
    shop.do("note", "P1", "good", "saw it", "--at-shot", 35)
    shop.do("note", "P1", "finding", "crack", "--half", "fixed", "--at-shot", 40)
    shop.do("mount", "P1", "A-08", "--half", "fixed")
    shop.take(more(51, 60, fixed="A-08"), "after the swap.csv")
    said = shop.do("status")
    assert shop.verdict() != "swap"
    assert all(word in said.lower() for word in ("held", "15", "36")), said
    shop.do("parts", "P1", "36-50", "--release", "--reason", "measured", "--initials", "QA")
    assert shop.held() == set()


def test_an_earlier_log_says_the_same_of_its_past(shop: Shop) -> None:
    """Entries without half and initials, as every log had them before there were any."""
    shop.take([replace(row, event="finding:crack") if row.shot == 40 else row for row in sound_day(60)])
    assert shop.verdict() == "swap"
    assert shop.held() >= set(range(40, 61))
    assert "nothing changed later" in shop.do("verify")
