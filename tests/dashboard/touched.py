"""What is looked at and touched on the page at the press."""

from playwright.sync_api import Locator, Page

__all__ = ["headline", "picked", "shots_drawn", "touch"]


def headline(page: Page) -> Locator:
    return page.locator("#standing h1")


def shots_drawn(page: Page) -> list[int | None]:
    drawn: list[int | None] = page.evaluate("document.querySelector('#strips .js-plotly-plot')?.data[0].x")
    return drawn


def touch(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).first.click()


def picked(page: Page, name: str) -> Locator:
    return page.locator(".panel .pick", has_text=name)
