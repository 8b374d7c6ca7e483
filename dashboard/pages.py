"""The screens, in the order of the navigation. To add one, make its room here and add its line to `PAGES`."""

from dashboard.help.page import PAGE as HELP
from dashboard.inserts.page import PAGE as INSERTS
from dashboard.part.page import PAGE as PART
from dashboard.parts.page import PAGE as PARTS
from dashboard.plan.page import PAGE as PLAN
from dashboard.press.page import PAGE as PRESS
from dashboard.presses.page import PAGE as PRESSES
from dashboard.shared.page import Page
from dashboard.shift.page import PAGE as SHIFT

__all__ = ["PAGES"]

PAGES: tuple[Page, ...] = (PRESS, SHIFT, INSERTS, PARTS, PART, PLAN, PRESSES, HELP)
"""Every screen; the first is shown where the address names none."""
