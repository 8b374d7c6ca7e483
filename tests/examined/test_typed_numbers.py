"""What is typed is checked against the press: shot numbers, dimensions, serials; and what comes in that is no part."""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.end_to_end.running import Run, ServedPress, write_config
from tests.examined.shop import Shop, command, sound_day


@pytest.fixture(scope="module")
def day(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("day")
    with pytest.MonkeyPatch.context() as patch:
        Shop(folder, patch).take(sound_day(60))
    return folder


@pytest.fixture
def shop(day: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    return Shop.after(day, tmp_path, monkeypatch)


def entries(shop: Shop) -> list[dict[str, Any]]:
    return list(shop.asked("entries", "P1"))


BEYOND = [
    "mount P1 B-12 --at-shot 70000",
    "mount P1 B-12 --at-shot 90",
    "mount P1 B-12 --at-shot -3",
    "remove P1 B-11 --reason flash --at-shot 70000",
    "remove P1 B-11 --reason flash --at-shot 75",
    "note P1 finding crack --at-shot 70000",
    "note P1 finding crack --at-shot 75",
    "note P1 lot L2 --at-shot 70000",
    "note P1 good saw --at-shot 75",
    "note P1 dry x --at-shot 300",
    "note P1 pause x --at-shot 300",
    "queue P1 C-01 C-02 --half core --at-shot 70000",
    "inspect P1 75 --finding flash",
    "inspect P1 70-75 --finding flash",
    "parts P1 75 --hold --reason dropped",
    "parts P1 55-75 --hold --reason dropped",
    "place P1 75 bag-3",
    "part P1 75",
]


@pytest.mark.parametrize(
    "typed", [pytest.param(each, marks=pytest.mark.long if n % 2 else ()) for n, each in enumerate(BEYOND)]
)
def test_a_shot_the_press_has_not_made_is_refused_with_what_it_has(shop: Shop, typed: str) -> None:
    before = entries(shop)
    held = shop.held()
    said = shop.refused(*typed.split())
    assert "-3" in typed or "60" in said or "61" in said, f"says what there is: {said}"
    assert len(said.strip().splitlines()) == 1, said
    assert entries(shop) == before
    assert shop.held() == held


@pytest.mark.parametrize(
    "typed",
    ["mount P1 B-12 --at-shot 61", "mount P1 B-12 --at-shot 40", "mount P1 B-12", "note P1 finding crack --at-shot 60",
     "note P1 lot L2 --at-shot 61", "note P1 good saw --at-shot 1", "queue P1 C-01 --half core --at-shot 61"],
)  # fmt: skip
def test_a_shot_of_the_press_and_the_next_one_are_taken(shop: Shop, typed: str) -> None:
    shop.do(*typed.split())


def test_before_the_first_shot_of_a_press_its_first_mounting_may_be_entered(shop: Shop) -> None:
    shop.do("mount", "P2", "A-30", "--half", "fixed", "--at-shot", 1)


def test_a_dimension_without_a_tolerance_of_its_name_is_refused_or_said(shop: Shop) -> None:
    said = shop.ask("inspect", "P1", 40, "--dimension", "wal=1.2")
    assert "wall" in said.all, said
    shop.do("inspect", "P1", 40, "--dimension", "wal=1.2", "--tolerance", "1.1..1.3")
    assert "within" in shop.do("inspect", "P1", 41, "--dimension", "wall=1.2")


@pytest.mark.parametrize("command", ["mount P1 B-lot1 --half core --single-use", "queue P1 B-lot1 --half core"])
def test_a_lot_is_not_turned_into_a_series_of_invented_serials(shop: Shop, command: str) -> None:
    said = shop.ask(*command.split())
    if said.status == 0:
        later = json.dumps(shop.asked("queue", "P1")) + shop.do("status")
        for invented in ("B-lot2", "B-lot3", "B-lot4"):
            assert invented not in later + said.all, said
    else:
        assert "B-lot1" in said.err


def test_a_lot_over_parts_that_were_checked_asks_first(shop: Shop) -> None:
    shop.do("inspect", "P1", 30, "--dimension", "wall=1.2")
    before = entries(shop)
    said = shop.refused("note", "P1", "lot", "L2", "--at-shot", 20)
    assert "30" in said or "1 " in said, said
    assert entries(shop) == before
    shop.do("note", "P1", "lot", "L2", "--at-shot", 40)


def test_what_mount_and_note_print_is_what_undo_takes(shop: Shop) -> None:
    for typed, word in ((("note", "P1", "finding", "crack", "--half", "fixed", "--initials", "ab"), "event"),
                        (("mount", "P1", "B-12", "--at-shot", 55, "--initials", "cd"), "mounting"),
                        (("remove", "P1", "A-07", "--reason", "flash", "--initials", "ef"), "removal")):  # fmt: skip
        printed = shop.do(*typed)
        (new,) = [one for one in entries(shop) if one["initials"] == typed[-1]]
        assert new["kind"] == word
        assert str(new["number"]) in printed, f"{typed}: {printed}"


def test_entries_lists_what_was_entered_by_whom_and_what_is_taken_back(shop: Shop) -> None:
    shop.do("note", "P1", "finding", "crack", "--half", "fixed", "--at-shot", 40, "--initials", "ab")
    said = shop.do("entries", "P1")
    for word in ("crack", "fixed", "40", "ab"):
        assert word in said
    (one,) = [one for one in entries(shop) if one["kind"] == "event"]
    undone = shop.do("undo", "event", one["number"], "--reason", "shadow", "--initials", "cd")
    assert all(word in undone for word in ("crack", "40")), "says what it takes back"
    said = shop.do("entries", "P1")
    assert all(word in said for word in ("shadow", "cd"))
    assert shop.verdict() != "swap"


def test_what_was_taken_back_can_be_brought_back(shop: Shop) -> None:
    shop.do("note", "P1", "finding", "crack", "--half", "fixed", "--at-shot", 40)
    (one,) = [one for one in entries(shop) if one["kind"] == "event"]
    shop.do("undo", "event", one["number"], "--reason", "shadow")
    assert shop.verdict() != "swap"
    shop.do("undo", "event", one["number"], "--again", "--reason", "it was a crack")
    assert shop.verdict() == "swap"


def test_undo_of_what_is_not_there_is_refused(shop: Shop) -> None:
    assert "99" in shop.refused("undo", "event", 99, "--reason", "x")
    shop.do("note", "P1", "finding", "crack", "--at-shot", 40)
    (one,) = [one for one in entries(shop) if one["kind"] == "event"]
    shop.do("undo", "event", one["number"], "--reason", "shadow")
    shop.refused("undo", "event", one["number"], "--reason", "again")


def test_settling_of_a_design_is_as_long_as_the_design_says_or_said_why(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop = Shop(tmp_path, monkeypatch)
    told = "[design.cap-r2]\nsettling_shots = 10\n[design.cap-r2.tolerance]"
    config = shop.config.read_text(encoding="utf-8").replace("[design.cap-r2.tolerance]", told)
    shop.config.write_text(config, encoding="utf-8")
    shop.take(sound_day(30))
    said = shop.do("explain", "P1", 20)
    settling = shop.asked("explain", "P1", 20)["verdict"]["settling"]
    assert not settling or ("25" in said or "learn" in said.lower() or "baseline" in said.lower()), said


# On a wire.


def parts_of(config: Path, press: str = "P1") -> list[int]:
    return [row["shot"] for row in json.loads(command("parts", config, press, "--json").out)["parts"]]


def test_the_number_on_the_display_after_a_rollover_is_understood(tmp_path: Path) -> None:
    with ServedPress() as press:
        config = write_config(tmp_path, press.config("P1"))
        press.offer(65_530)
        with Run(config) as run:
            run.wait_for("P1: shot 65530 ")
            for n in range(65_531, 65_546):
                press.offer(n)
                run.wait_for(f"P1: shot {n} ")
            assert run.stop() == 0
    shown = 65_545 - 65_536
    assert command("mount", config, "P1", "B-11", "--half", "moving", "--at-shot", "65530").status == 0
    taken = command("mount", config, "P1", "B-12", "--half", "moving", "--at-shot", "3")
    assert taken.status == 0, taken.err
    assert "65539" in taken.out
    found = json.loads(command("part", config, "P1", str(65_539), "--json").out)
    assert found[0]["halves"]["moving"]["serial"] == "B-12"
    found = json.loads(command("part", config, "P1", str(65_538), "--json").out)
    assert found[0]["halves"]["moving"]["serial"] == "B-11"
    assert command("note", config, "P1", "finding", "flash", "--at-shot", str(shown)).status == 0
    assert "65545" in command("entries", config, "P1").out
    for wrong in ("70000", "12"):
        refused = command("mount", config, "P1", "B-13", "--half", "moving", "--at-shot", wrong)
        assert refused.status != 0, f"{wrong}: {refused.out}"


def test_registers_that_stand_at_zero_from_before_are_no_part(tmp_path: Path) -> None:
    with ServedPress() as press:
        press.bank.set_input_registers(0, [118, 0, 0, 0, 0, 0])
        config = write_config(tmp_path, press.config("P1"))
        with Run(config) as run:
            run.wait_for("P1: connected")
            press.offer(119)
            run.wait_for("P1: shot 119 ")
            press.offer(120)
            run.wait_for("P1: shot 120 ")
            assert run.stop() == 0
    assert parts_of(config) == [119, 120]


def test_registers_that_stand_when_the_logger_starts_again_are_no_new_part(tmp_path: Path) -> None:
    with ServedPress() as press:
        press.offer(40)
        config = write_config(tmp_path, press.config("P1"))
        with Run(config) as run:
            run.wait_for("P1: connected")
            press.offer(41)
            run.wait_for("P1: shot 41 ")
            assert run.stop() == 0
        with Run(config) as run:
            run.wait_for("P1: connected")
            press.offer(42)
            run.wait_for("P1: shot 42 ")
            assert run.stop() == 0
    assert [shot for shot in parts_of(config) if shot > 40] == [41, 42]
