"""The pages opened from another host, in a browser there: with an account and without one."""

from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.chromium import chromium
from tests.security.another_host import two_hosts
from tests.security.shop import SECRETS, Shop, filled, serving


@pytest.mark.browser
@pytest.mark.file  # a host of its own does not reach a server on the loopback of this one
def test_a_page_opened_from_another_host_with_and_without_an_account(tmp_path: Path) -> None:
    file = filled(tmp_path, with_accounts=True)
    with two_hosts() as hosts:  # noqa: SIM117  (what follows is of these hosts)
        with serving(file, "--host", hosts.address, within=hosts.shop) as shop, chromium(within=hosts.desk) as browser:
            page = browser.new_page()
            page.goto(f"http://{hosts.address}:{shop.port}/press/P25")
            expect(page.get_by_role("heading", name="Log in")).to_be_visible()
            assert "B-11" not in page.content(), "nothing of the log is shown to who has no account"
            told = "path => fetch(path).then(answer => answer.text())"
            for path in ("/shift/lives.csv", "/_dash-layout", "/healthz"):
                assert "B-11" not in page.evaluate(told, path)
            page.get_by_label("Name").fill("otto")
            page.get_by_label("Password").fill("some other words")
            page.get_by_role("button", name="Log in").click()
            expect(page.locator("main")).to_contain_text("Name or password is wrong.")
            page.get_by_label("Name").fill("otto")
            page.get_by_label("Password").fill(SECRETS["otto"])
            page.get_by_role("button", name="Log in").click()
            page.get_by_role("button", name="Purge", exact=True).click()
            expect(page.locator("#said")).to_contain_text("purge")
            page.close()
            assert entered(shop) == [("flash", None), ("purge", "OT")]


def entered(shop: Shop) -> list[tuple[object, object]]:
    return [(each["text"], each["initials"]) for each in shop.entries() if each["kind"] == "event"]
