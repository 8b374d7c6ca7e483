"""States of the logger and the shop, seen by looking now."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from shotlog.notify.shop_facts import Gone, ShopState, baths_overdue, logger_states, named_here
from shotlog.parts.part import Part
from shotlog.settings import Settings, load
from shotlog.store.asked.kept import KeptNow
from shotlog.store.log.journal_note import Disk
from shotlog.store.parts.soaks import Soak
from shotlog.wording.messages import lost_message
from tests.notify.told_shop import CONFIG

NOW = datetime(2026, 1, 5, 12, 0, tzinfo=UTC)


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    (tmp_path / "shop.toml").write_text(CONFIG, encoding="utf-8")
    return load(tmp_path / "shop.toml")


def kept(free_mb: float = 50_000.0, **more: object) -> KeptNow:
    disk = Disk("the log", "/data", int(free_mb * 1e6), low=(free_mb < 1000) + (free_mb < 100))
    return KeptNow(Path("day.journal"), disks=(disk,), alive=True, **more)  # type: ignore[arg-type]


def test_all_is_well(settings: Settings) -> None:
    assert logger_states(settings, "hall-2", kept(), None, [], NOW) == []


def test_a_disk_is_told_when_low_and_again_when_nearly_full_and_not_as_often_as_it_goes_up_and_down(
    settings: Settings,
) -> None:
    lasting: list[str] = []
    told: list[str] = []
    for free_mb in (1100, 990, 1010, 980, 99, 105, 98, 500, 1300):
        states = logger_states(settings, "hall-2", kept(free_mb), None, lasting, NOW)
        names = list(named_here("hall-2", states, lasting))
        told += [one.said for name, one in zip(names, states, strict=True) if name not in lasting]
        lasting = names
    assert [one.partition(" MB")[0] for one in told] == [
        "hall-2: a disk is low. Low: disk of the log (/data): 990",
        "hall-2: a disk is low. NEARLY FULL: disk of the log (/data): 99",
    ]
    assert lasting == []


def test_a_log_that_cannot_be_written_says_where_the_shots_are(settings: Settings) -> None:
    away = kept(since=NOW - timedelta(seconds=14), why="the disk is full", shots=3)
    assert logger_states(settings, "hall-2", away, None, [], NOW) == []  # it may go on by itself
    (state,) = logger_states(settings, "hall-2", away, None, [], NOW + timedelta(seconds=2))
    assert state.said.startswith(
        "hall-2: the log cannot be written. Since 2026-01-05 11:59:46 +00:00: the disk is full."
    )
    assert "3 shots wait in the journal day.journal" in state.said


def test_a_dead_logger_and_one_that_does_not_read_a_press_are_told_apart(settings: Settings) -> None:
    for gone, short in ((Gone(NOW, "killed"), "the logger is dead"), (Gone(NOW, "it hangs", ("P15",)), "P15 not read")):
        (state,) = logger_states(settings, "hall-2", kept(), gone, [], NOW)
        assert state.said.startswith(
            f"hall-2: {short}. Since 2026-01-05 12:00:00 +00:00: {gone.why}. Nothing is logged of "
        )


def test_baths_are_told_of_parts_of_own_presses() -> None:
    def soak(press: str, shot: int, bath: str, due_h: float) -> Soak:
        due = NOW + timedelta(hours=due_h)
        return Soak(shot, None, Part(press, shot), bath, len(bath), NOW, due, None, False, "")

    soaking = [soak("P25", 1, "B1", -2), soak("P25", 2, "B1", -1), soak("P99", 3, "B22", -5), soak("P25", 4, "B333", 1)]
    (state,) = baths_overdue(soaking, ["P25"], NOW)
    assert (state.of, state.began) == ("2", NOW - timedelta(hours=2))
    assert state.said.startswith("Bath B1: 2 parts overdue. Due since 2026-01-05 10:00:00 +00:00, of P25.")


def test_a_state_that_lasts_keeps_its_name_and_is_of_its_site() -> None:
    late = ShopState("backup", "", NOW, "")
    (name,) = named_here("hall-2", [late], [])
    assert list(named_here("hall-2", [ShopState("backup", "", NOW + timedelta(1), "")], [name])) == [name]
    assert list(named_here("hall-3", [late], [name])) != [name]


def test_what_is_told_is_closed_by_one_mark() -> None:
    said = lost_message("P25", datetime(2026, 1, 5, tzinfo=UTC), "may this computer read and write it?", 7)
    assert "may this computer read and write it? What it makes" in said
