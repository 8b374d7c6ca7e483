"""Who was told what, when, and who saw it: in the report, as data and as a frame, long after it is over."""

from dataclasses import replace
from datetime import UTC, timedelta
from pathlib import Path

import pytest

import shotlog
from shotlog.report.page import render
from shotlog.report.told import told_section
from shotlog.review import Review, as_json, review
from shotlog.settings import Settings
from shotlog.store.asked.told import NOTED, ToldRow, acknowledge, spells_now, write_told
from shotlog.store.log.log import open_log
from tests.made_shots import START, shots
from tests.review.made_up_log import LATER

LOST, DISK = "lost P25 1", "disk at hall-2/x"


@pytest.fixture
def log_file(tmp_path: Path) -> Path:
    file = tmp_path / "told.db"
    lost = ToldRow("P25", "lost", LOST, "begins", NOTED, "P25: connection <lost>. Since 07:00.", START)
    over = replace(lost, phase="ends", said="P25: connection back.", time=START + timedelta(minutes=9))
    disk = ToldRow(None, "disk", DISK, "begins", NOTED, "The disk is low.", START)
    with open_log(f"sqlite:///{file.as_posix()}", read_only=False) as log:
        log.append(shots(1, 3))
        write_told(log, [lost, replace(lost, receiver="chat"), replace(lost, receiver="tool room"), disk], {}, START)
        (seen,) = [one for one in spells_now(log, ["P25"], "hall-2") if one.press]
        acknowledge(log, [seen], START + timedelta(minutes=4), "KB")
        write_told(log, [over, replace(over, receiver="tool room")], {}, over.time)
    return file


@pytest.fixture
def whole(log_file: Path, afternoon: Settings) -> Review:
    with open_log(f"sqlite:///{log_file.as_posix()}") as log:
        return review(log, afternoon, LATER)


def test_the_report_lists_each_message_with_its_receiver_and_who_saw_it(whole: Review) -> None:
    told = told_section(whole, UTC).replace("\u00a0", " ")
    rows = [row.partition("</tr>")[0] for row in told.split("<tr>")[2:]]
    assert len(rows) == 3
    assert "<td>chat, 2026‑01‑05 06:00:00 +00:00; tool room, 2026‑01‑05 06:00:00 +00:00</td>" in rows[0]
    assert "<td>P25: connection &lt;lost&gt;. Since 07:00.</td>" in rows[0]
    assert "KB" in rows[0]
    assert "<td>nobody took it, 2026‑01‑05 06:00:00 +00:00</td><td>The disk is low.</td><td></td>" in rows[1]
    assert "connection back" in rows[2]
    page = render(whole, UTC)
    assert '<section id="told">' in page
    assert '<a href="#told">' in page
    assert 'id="told"' not in render(replace(whole, told=()), UTC)


@pytest.mark.either
def test_a_report_of_a_period_has_what_was_told_in_it(log_file: Path, afternoon: Settings) -> None:
    with open_log(f"sqlite:///{log_file.as_posix()}") as log:
        later = review(log, afternoon, LATER, START + timedelta(minutes=5))
    assert [one.phase for one in later.told] == ["ends", "ends"]


def test_the_data_of_the_review_have_it(whole: Review) -> None:
    found = as_json(whole)["told"]
    assert [(one["receiver"], one["phase"]) for one in found] == [
        ("", "begins"), ("chat", "begins"), ("tool room", "begins"), ("", "begins"),
        ("", "ends"), ("tool room", "ends"),
    ]  # fmt: skip
    assert found[1]["seen"]["who"]["initials"] == "KB"
    assert found[3]["seen"] is None


def test_a_notebook_has_it_as_a_frame(log_file: Path) -> None:
    with shotlog.open_log(log_file) as log:
        frame, of_press = log.told(), log.told("P25")
    assert frame["press"].tolist() == ["P25", "P25", "P25", "", "P25", "P25"]
    assert len(of_press) == 5
    taken = of_press[of_press["receiver"] == "tool room"]
    assert taken["text"].tolist() == ["P25: connection <lost>. Since 07:00.", "P25: connection back."]
    assert taken["seen_by"].tolist() == ["KB", "KB"]
    assert taken["seen"].iloc[0].to_pydatetime() == START + timedelta(minutes=4)
    assert frame["seen"].isna().tolist() == [False, False, False, True, False, False]
    assert frame.attrs["units"] == {}
