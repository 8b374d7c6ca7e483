"""Pictures of findings in the report: embedded, bounded, and told plainly where their file is not what was kept."""

from base64 import b64encode
from dataclasses import replace
from datetime import UTC
from pathlib import Path

import pytest
from made_pictures import picture

from shotlog.cli.main import main
from shotlog.errors import StoreDamaged
from shotlog.parts.picture import Picture
from shotlog.report import render
from shotlog.review import Review, review
from shotlog.settings import Settings
from shotlog.store.log.log import open_log
from tests.review.made_up_log import LATER, fill, settings_in
from tests.review.made_up_press import at


@pytest.fixture(scope="module")
def whole(afternoon: Settings) -> Review:
    with open_log(afternoon.store) as log:
        return review(log, afternoon, LATER)


def pictured(whole: Review, *taken: Picture) -> Review:
    (press,) = whole.presses
    return replace(whole, presses=(replace(press, pictures=taken),))


def taken(number: int, n_bytes: int = 9, remark: str = "flash") -> Picture:
    return Picture(
        number, "P1", 40, None, "", None, f"{number:02x}", "image/png", n_bytes, remark, "ab", at(41), at(41)
    )


def kept(one: Picture) -> bytes:
    return f"file {one.digest}".encode()


def test_a_picture_stands_in_the_report_and_loads_nothing(whole: Review) -> None:
    page = render(pictured(whole, taken(1, remark="flash <at the gate>")), UTC, kept)
    data = b64encode(b"file 01").decode("ascii")
    assert f'<img src="data:image/png;base64,{data}" alt="shot 40: flash &lt;at the gate&gt;' in page
    assert "not shown here" not in page
    assert "<img" not in render(whole, UTC, kept)


def test_the_newest_are_shown_and_the_rest_is_listed(whole: Review) -> None:
    many = pictured(whole, *(taken(number, remark=f"no. {number}") for number in range(1, 31)))
    page = render(many, UTC, kept)
    assert page.count("<img ") == 24
    assert "6 pictures not shown here" in page
    assert "<li>shot 40: no. 6, taken" in page
    large = render(pictured(whole, *(taken(number, 7_000_000) for number in range(1, 5))), UTC, kept)
    assert (large.count("<img "), "2 pictures not shown here" in large) == (2, True)
    assert "<img" not in render(many, UTC)
    assert "30 pictures not shown here" in render(many, UTC)


def test_a_file_that_is_not_what_was_kept_is_said(whole: Review) -> None:
    def gone(one: Picture) -> bytes:
        raise StoreDamaged("picture: was changed after it was kept")

    page = render(pictured(whole, taken(1)), UTC, gone)
    assert "<strong>Missing or changed:</strong> shot 40: flash" in page
    assert "<img" not in page


def test_what_was_kept_at_the_press_stands_in_the_file(tmp_path: Path) -> None:
    settings = settings_in(tmp_path)
    fill(settings)
    (tmp_path / "photo.png").write_bytes(picture("png"))
    config, out = str(tmp_path / "trial.toml"), tmp_path / "report.html"
    assert main(["picture", config, "P1", "100", str(tmp_path / "photo.png"), "--remark", "window missing"]) == 0
    assert main(["review", config, "--out", str(out)]) == 0
    page = out.read_text("utf-8")
    assert 'alt="shot 100: window missing' in page
    assert "data:image/png;base64," in page
