"""A picture taken where the finding is: at the press, in a browser, with a glove on; seen wherever it is asked for."""

from collections.abc import Callable
from pathlib import Path

import pytest
from hand_filled import Trial
from made_pictures import PLACE, picture
from playwright.sync_api import Locator, Page, expect
from served import Viewers, too_small_for_a_glove

from shotlog.cli.main import main
from shotlog.store.parts.pictures import pictures
from tests.chromium import until


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    (tmp_path / "phone.jpg").write_bytes(picture())
    return tmp_path / "phone.jpg"


def take(page: Page, button: Locator, file: Path) -> None:
    with page.expect_file_chooser() as chooser:
        button.click()
    chooser.value.set_files(file)


def seen_whole(page: Page, image: Locator) -> bool:
    """Say whether the browser could draw a picture."""
    expect(image).to_be_visible()
    handle = image.element_handle()
    return bool(until(page, "one => one.complete && one.naturalWidth === 30", arg=handle))


def test_a_finding_is_pictured_at_the_press_and_seen_everywhere(trial: Trial, viewers: Viewers, photo: Path) -> None:
    trial.mount("B-11")
    trial.shots(9)
    page = viewers.open(width=820, height=1180)
    page.get_by_role("button", name="Finding", exact=True).click()
    page.get_by_role("button", name="flash", exact=True).click()
    said = page.locator("#said")
    expect(said).to_contain_text("flash")
    take(page, said.get_by_role("button", name="Picture"), photo)
    expect(said).to_contain_text("picture 1 kept, of P25 shot 9")
    assert seen_whole(page, said.locator("img"))
    (kept,) = pictures(trial.log, "P25")
    assert kept.event_id == 1
    data = (trial.file.parent / "trial.pictures" / kept.file_name).read_bytes()
    assert PLACE not in data
    assert seen_whole(page, page.locator(".recent img").first), "beside the finding in the newest entries"
    assert too_small_for_a_glove(page) == []
    page.goto(viewers.home + "/part/P25/9")
    assert seen_whole(page, page.locator(".picture img"))
    page.goto(viewers.home + "/inserts/B-11")
    assert seen_whole(page, page.locator(".picture img"))
    expect(page.locator(".picture")).to_contain_text("shot 9")
    page.get_by_role("button", name="Take back picture 1").click()
    assert len(pictures(trial.log, "P25")) == 1, "it asks first"
    page.get_by_role("button", name="Yes, take back picture 1").click()
    expect(page.locator(".picture")).to_contain_text("picture 1: taken back")
    assert pictures(trial.log, "P25") == []
    page.get_by_role("button", name="Enter again picture 1").click()
    expect(page.locator(".picture")).to_contain_text("picture 2: entered again")
    assert [one.digest for one in pictures(trial.log, "P25")] == [kept.digest]
    assert main(["verify", str(trial.file)]) == 0


def test_what_is_no_picture_is_refused_in_words(trial: Trial, viewers: Viewers, tmp_path: Path) -> None:
    trial.mount("B-11")
    trial.shots(9)
    (tmp_path / "drawn.jpg").write_bytes(b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>")
    page = viewers.open("/inserts/B-11")
    place = page.locator("#story-pictures")
    take(page, place.get_by_role("button", name="Picture of B-11"), tmp_path / "drawn.jpg")
    expect(place).to_contain_text("allowed: a JPEG, PNG or WebP picture of 8 MB at most")
    assert pictures(trial.log, "P25") == []
    assert len(viewers.wrong) == 2, "the refusal itself, once answered and once told by the browser"
    viewers.wrong.clear()


def test_a_picture_that_is_too_large_is_made_smaller_before_it_goes(
    trial: Trial, viewers: Viewers, tmp_path: Path, large: Callable[[], bytes]
) -> None:
    trial.mount("B-11")
    trial.shots(9)
    (tmp_path / "large.png").write_bytes(large())
    page = viewers.open("/inserts/B-11")
    place = page.locator("#story-pictures")
    take(page, place.get_by_role("button", name="Picture of B-11"), tmp_path / "large.png")
    expect(place).to_contain_text("picture 1 kept", timeout=60_000)
    (kept,) = pictures(trial.log, "P25")
    assert kept.media == "image/jpeg"
    assert (kept.shot, kept.insert) == (9, "B-11")


@pytest.fixture
def large() -> Callable[[], bytes]:
    """Return what makes a picture of more than 8 MB: noise, which nothing makes smaller."""
    import io
    from random import Random

    from PIL import Image

    def made() -> bytes:
        dots = Random(3).randbytes(3 * 2000 * 1500)
        file = io.BytesIO()
        Image.frombytes("RGB", (2000, 1500), dots).save(file, "PNG", compress_level=0)
        assert len(file.getvalue()) > 8 * 1024 * 1024
        return file.getvalue()

    return made
