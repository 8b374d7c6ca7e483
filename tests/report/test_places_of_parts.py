"""The report says where parts are by now: in which bath, or where somebody put them."""

import shutil
from datetime import UTC, timedelta
from pathlib import Path

import pytest

from shotlog.parts.part import Part
from shotlog.report.places import places_section
from shotlog.report.where import where_of
from shotlog.review import review
from shotlog.settings import Settings, load
from shotlog.store.log.log import open_log
from shotlog.store.parts.places import put_at
from tests.review.made_up_log import CONFIG, LATER


def copied(afternoon: Settings, folder: Path) -> Settings:
    """Return the made-up afternoon in a log of its own."""
    shutil.copy(afternoon.store.removeprefix("sqlite:///"), folder / "trial.db")
    (folder / "trial.toml").write_text(CONFIG, encoding="utf-8")
    return load(folder / "trial.toml")


@pytest.mark.file
def test_parts_that_were_put_somewhere_are_listed_with_what_is_due(afternoon: Settings, tmp_path: Path) -> None:
    settings = copied(afternoon, tmp_path)
    with open_log(settings.store, read_only=False) as log:
        parts = [Part("P1", shot) for shot in range(26, 38)]
        put_at(log, parts, "box-3", LATER, due=LATER + timedelta(hours=1), initials="ab")
        put_at(log, parts[:2], "<bag>", LATER)
        found = review(log, settings, LATER + timedelta(hours=2))
    (press,) = found.presses
    said = places_section(press, found.made_at, UTC)
    assert "box-3" in said
    assert "28 to 37" in said, "two of them were moved on"
    assert "overdue" in said
    assert "&lt;bag&gt;" in said
    assert where_of(press, 26, found.made_at, UTC) == "<bag>"
    assert where_of(press, 30, found.made_at, UTC).startswith("box-3, due")
    assert where_of(press, 30, found.made_at, UTC).endswith(", overdue")
    assert where_of(press, 9, found.made_at, UTC).startswith("bath 1, due")
    assert where_of(press, 60, found.made_at, UTC) == "not noted"


def test_without_places_there_is_no_section(afternoon: Settings) -> None:
    with open_log(afternoon.store) as log:
        (press,) = review(log, afternoon, LATER).presses
    assert places_section(press, LATER, UTC) == ""
