"""The plan of a trial on its page: the same figures as the command, asked for by hand, at every size."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from dash import Dash
from playwright.sync_api import expect
from served import Served, Viewers, at_sizes, too_small_for_a_glove

from dashboard import Source, build
from dashboard.plan.page import asked_of
from shotlog.cli.main import main
from shotlog.errors import UsageError
from shotlog.review.plan_asked import PlanAsked
from tests.chromium import Chromium
from tests.review.made_up_log import fill, settings_in


def test_fields_and_buttons_become_what_is_asked() -> None:
    given = {
        "parts": "48",
        "planned": "40",
        "scrap": "5 %",
        "breakage": "2,5",
        "late": "12",
        "cycle_s": "90,5",
        "life": "",
    }
    assert asked_of(given, {"plan.design": "cap-r2", "plan.once": "once"}) == PlanAsked(
        "cap-r2", 48, planned=40, scrap=0.05, breakage=0.025, late=12, cycle_s=90.5, single_use=True
    )
    assert asked_of({"parts": "9", "other": "new"}, {"plan.design": "cap-r2", "plan.once": ""}) == PlanAsked("new", 9)


@pytest.mark.parametrize(
    ("given", "picked", "said"),
    [({"parts": "9"}, {}, "design: given nothing"),
     ({}, {"plan.design": "cap-r2"}, "accepted parts wanted: given nothing"),
     ({"parts": "many"}, {"plan.design": "cap-r2"}, "given 'many'")],
)  # fmt: skip
def test_what_is_missing_or_no_number_is_said(given: dict[str, str], picked: dict[str, str], said: str) -> None:
    with pytest.raises(UsageError, match=said):
        asked_of(given, picked)


@pytest.fixture
def made(tmp_path: Path) -> Path:
    fill(settings_in(tmp_path))
    return tmp_path / "trial.toml"


@pytest.fixture
def planning(made: Path, serve: Callable[[Dash], Served], browser: Chromium) -> Iterator[Viewers]:
    source = Source(settings_in(made.parent))
    opened = Viewers(browser, serve(build(source)).url)
    yield opened
    opened.close()
    source.close()
    assert opened.wrong == []


def test_it_is_reached_asked_and_read_with_gloves_on(
    planning: Viewers, made: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What the page says of a design is what the command says; a number that is none is refused in words."""
    page = planning.open()
    page.get_by_role("link", name="Plan", exact=True).click()
    expect(page.get_by_role("heading", name="Plan a trial")).to_be_visible()
    page.get_by_role("button", name="cap-r2").click()
    page.get_by_role("button", name="Work it out").click()
    expect(page.locator("#plan-refused")).to_have_text("accepted parts wanted: given nothing, allowed: a number")
    page.get_by_label("Accepted parts wanted").fill("100")
    page.get_by_label("Accepted parts wanted").press("Enter")
    expect(page.locator(".plan-headline")).to_contain_text("For 100 accepted parts of cap-r2, print ", timeout=120_000)
    assert main(["plan", str(made), "--design", "cap-r2", "--parts", "100"]) == 0
    said = capsys.readouterr().out
    assert page.locator(".plan-headline").inner_text() in said
    for line in page.locator(".plan-figures li").all_inner_texts():
        assert line in said
    assert page.get_by_text("cheapest").count() == 1
    assert page.locator("#plan-refused").inner_text() == ""
    for _ in at_sizes(page):
        assert too_small_for_a_glove(page) == []
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    page.get_by_text("Figures given by hand").click()
    assert too_small_for_a_glove(page) == []
