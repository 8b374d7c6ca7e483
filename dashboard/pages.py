"""The screens, in the order of the navigation. To add one, make its room here and add its line to `PAGES`."""

from dashboard.help.page import PAGE as HELP
from dashboard.inserts.page import PAGE as INSERTS
from dashboard.part.page import PAGE as PART
from dashboard.parts.page import PAGE as PARTS
from dashboard.plan.page import PAGE as PLAN
from dashboard.plant.page import MANY
from dashboard.plant.page import PAGE as PLANT
from dashboard.press.page import PAGE as PRESS
from dashboard.presses.page import PAGE as PRESSES
from dashboard.shared.page import Page
from dashboard.shift.page import PAGE as SHIFT

__all__ = ["PAGES", "first_page"]

PAGES: tuple[Page, ...] = (PLANT, PRESS, SHIFT, INSERTS, PARTS, PART, PLAN, PRESSES, HELP)
"""Every screen."""


def first_page(n_presses: int) -> Page:
    """Return the screen that is shown where the address names none, by how many presses there are."""
    return PLANT if n_presses >= MANY else PRESS
