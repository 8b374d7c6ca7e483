"""What axe-core holds against a page: what keeps people out, of the two gravest kinds."""

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

__all__ = ["barriers"]

_RULES = {
    "runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    "resultTypes": ["violations"],
}
"""Only violations are asked for: to name every place that passes takes as long as the check itself."""

_KEEPS_PEOPLE_OUT = ("serious", "critical")


def barriers(page: Page) -> list[str]:
    """Return rule and place of each."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(Axe().axe_script)
    told = page.evaluate("rules => axe.run(rules)", _RULES)["violations"]
    grave = [one for one in told if one["impact"] in _KEEPS_PEOPLE_OUT]
    return [f"{one['id']}: {node['html'][:150]}" for one in grave for node in one["nodes"]]
