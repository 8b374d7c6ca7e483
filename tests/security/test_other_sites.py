"""Another web site, open in the browser of somebody in the shop: it can neither enter, nor read, nor frame a page."""

import json
import threading
from base64 import b64encode
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, HTTPServer

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.chromium import chromium
from tests.made_pictures import picture
from tests.security.shop import SECRETS, Shop


class Site(HTTPServer):
    """A web site of somebody else, on a port of its own; it has whatever page it is given."""

    def __init__(self) -> None:
        super().__init__(("127.0.0.1", 0), _Handler)
        self.page = ""
        threading.Thread(target=self.serve_forever, daemon=True).start()


class _Handler(BaseHTTPRequestHandler):
    server: Site

    def do_GET(self) -> None:
        body = self.server.page.encode()
        self.send_response(200)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *_: object) -> None:
        pass


@pytest.fixture(scope="module")
def site() -> Iterator[Site]:
    made = Site()
    yield made
    made.shutdown()
    made.server_close()


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """A browser for which a foreign name leads to this machine, as a rebound one does."""
    with chromium("--host-resolver-rules=MAP *.example 127.0.0.1") as opened:
        yield opened


_ATTACK = """<!doctype html><title>harmless</title>
<form id=plain method=post enctype=text/plain action="{there}/_dash-update-component" target=sink>
  <textarea name='{name}'>{rest}</textarea></form>
<form id=coded method=post action="{there}/_dash-update-component" target=sink><input name=output value=x></form>
<iframe name=sink></iframe>
<script>
window.tried = (async () => {{
  const told = {{read: []}};
  document.getElementById("plain").submit();
  const sent = {payload};
  for (const mode of ["cors", "no-cors", "same-origin"]) {{
    for (const kind of ["text/plain", "application/json"]) {{
      try {{
        const answer = await fetch("{there}/_dash-update-component",
          {{method: "POST", mode, credentials: "include", headers: {{"Content-Type": kind}}, body: sent}});
        told.read.push(await answer.text());
      }} catch (_refused) {{}}
    }}
  }}
  for (const path of ["/", "/shift/lives.csv", "/_dash-layout", "/healthz"]) {{
    try {{
      const answer = await fetch("{there}" + path, {{credentials: "include"}});
      told.read.push(await answer.text());
    }} catch (_refused) {{}}
  }}
  navigator.sendBeacon("{there}/_dash-update-component", sent);
  const picture = Uint8Array.from(atob("{picture}"), one => one.charCodeAt(0));
  await fetch("{there}/pictures/?press=P25&shot=9&cavity=1",
    {{method: "POST", mode: "no-cors", credentials: "include", body: picture}}).catch(() => null);
  return told;
}})();
</script>"""


def attack(page: Page, site: Site, host: str, there: str, payload: object) -> list[str]:
    """Open the other site, which tries to enter and to read; returns whatever it could read."""
    sent = json.dumps(payload)
    name, _, rest = sent.replace("'", "").partition("=")
    site.page = _ATTACK.format(
        there=there,
        name=name + ' ,"x":"',
        rest=rest + '"}',
        payload=json.dumps(sent),
        picture=b64encode(picture()).decode(),
    )
    with page.expect_event("request", lambda one: one.method == "POST"):
        page.goto(f"http://{host}:{site.server_port}/")
    told: dict[str, list[str]] = page.evaluate("window.tried")
    page.wait_for_load_state("networkidle")
    return [text for text in told["read"] if text]


def test_a_page_of_another_origin_can_neither_enter_nor_read(alone: Shop, site: Site, browser: Browser) -> None:
    """From another host and from another port of this one; nobody has to log in here, so no cookie is missing."""
    visitor = alone.visitor()
    entry = visitor.touched("say", "purge:purge")
    before = alone.entries(), alone.pictures()
    page = browser.new_page()
    for host in ("evil.example", "127.0.0.1"):
        assert attack(page, site, host, alone.url, entry) == []
    page.close()
    assert (alone.entries(), alone.pictures()) == before


def test_a_name_that_comes_to_lead_here_shows_nothing(alone: Shop, browser: Browser) -> None:
    """Rebinding: the browser takes our pages for those of the other site, and lets that read them."""
    page = browser.new_page()
    answer = page.goto(f"http://evil.example:{alone.port}/press/P25")
    assert answer is not None
    assert answer.status in (400, 403, 421)
    assert "P25" not in page.content()
    told = page.evaluate(
        """async () => (await Promise.all(["/_dash-layout", "/shift/lives.csv", "/healthz"].map(
            path => fetch(path).then(answer => answer.text())))).join("\\n")"""
    )
    assert "P25" not in told
    assert "B-11" not in told
    page.close()


def test_no_other_site_can_frame_it(alone: Shop, site: Site, browser: Browser) -> None:
    page = browser.new_page()
    site.page = (
        f'<!doctype html><iframe src="{alone.url}/press/P25"></iframe><object data="{alone.url}/parts"></object>'
    )
    page.goto(f"http://127.0.0.1:{site.server_port}/")
    page.wait_for_load_state("networkidle")
    framed = [frame for frame in page.frames if frame != page.main_frame]
    assert framed
    for frame in framed:
        assert "P25" not in frame.content()
        assert frame.locator("main").count() == 0
    page.close()


def test_the_browser_keeps_nothing_that_lets_anybody_in(alone: Shop, browser: Browser) -> None:
    page = browser.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(alone.url + "/press/P25")
    page.wait_for_selector("main h1")
    page.wait_for_load_state("networkidle")
    stored = page.evaluate("JSON.stringify([{...localStorage}, {...sessionStorage}])")
    visitor = alone.visitor()
    visitor.arrive()
    for cookie in page.context.cookies():
        assert cookie["value"] not in stored
        assert cookie["sameSite"] == "Strict"
    assert not [url for url in asked if not url.startswith((alone.url + "/", "data:", "blob:"))], "another machine"
    page.close()


def test_back_after_log_out_shows_nothing(guarded: Shop, browser: Browser) -> None:
    page = browser.new_page()
    page.goto(guarded.url + "/press/P25")
    page.get_by_label("Name").fill("quinn")
    page.get_by_label("Password").fill(SECRETS["quinn"])
    page.get_by_role("button", name="Log in").click()
    expect(page.locator("main")).to_contain_text("B-11")
    assert "shotlog-session" not in page.evaluate("document.cookie"), "out of reach of a script"
    page.get_by_role("button", name="Log out").click()
    expect(page.get_by_role("heading", name="Log in")).to_be_visible()
    page.go_back()
    expect(page.get_by_role("heading", name="Log in")).to_be_visible()
    assert "B-11" not in page.content()
    page.close()
