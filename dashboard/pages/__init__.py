"""The screens, in the order of the navigation. To add one, write its file here and add its line to `PAGES`."""

from dashboard.pages import after_the_shift, at_the_press, help, inserts, parts_and_baths, presses
from dashboard.pages.base import Context, Page

__all__ = ["PAGES", "Context", "Page"]

PAGES: tuple[Page, ...] = (
    at_the_press.PAGE,
    after_the_shift.PAGE,
    inserts.PAGE,
    parts_and_baths.PAGE,
    presses.PAGE,
    help.PAGE,
)
"""Every screen; the first is shown where the address names none."""
