"""Foreign pages in a real browser, which try to read, to write and to frame ours; and ours, which its policy lets work.

The name evil.test leads to this machine, as after a rebinding of it.
"""

import json
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, HTTPServer
from typing import Any

import pytest
from hand_filled import Trial
from served import Served, Viewers
from test_walls import entered, noted

from tests.chromium import Chromium

_SEND = """async ([address, how]) => {
    try {
        const answer = await fetch(address, how);
        return [answer.type, answer.status, await answer.text()];
    } catch (error) {
        return ["failed", 0, String(error)];
    }
}"""

_FRAME = """address => new Promise(done => {
    const frame = document.createElement("iframe");
    frame.id = "ours";
    frame.addEventListener("load", () => done(true));
    frame.src = address;
    document.body.appendChild(frame);
})"""


class _Evil(BaseHTTPRequestHandler):
    """A foreign page, on which nothing stands."""

    def do_GET(self) -> None:
        body = b"<!DOCTYPE html><title>evil</title><body></body>"
        self.send_response(200)
        self.send_header("Content-Type", "text/html")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: Any) -> None:
        pass


@pytest.fixture
def evil() -> Iterator[str]:
    with HTTPServer(("127.0.0.1", 0), _Evil) as server:
        serving = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.05})
        serving.start()
        yield f"http://evil.test:{server.server_port}"
        server.shutdown()
        serving.join()


def test_a_foreign_page_neither_reads_nor_writes_nor_frames_ours(
    browser: Chromium, served: Served, trial: Trial, evil: str
) -> None:
    """Each of these was answered, and what was to be written was."""
    trial.mount("B-11")
    trial.shots(3)
    body = json.dumps(noted("from a foreign page"))
    of_json = {"method": "POST", "headers": {"Content-Type": "application/json"}, "body": body}
    page = browser.new_page()
    # rebound: its own name leads to this machine, so that for the browser the server is its own
    page.goto(f"http://evil.test:{served.port}/press/P25")
    assert "do not answer to the name evil.test" in page.inner_text("body")
    for path in ("/", "/_dash-layout", "/healthz", "/assets/mark.svg"):
        kind, status, text = page.evaluate(_SEND, [path, {}])
        assert (kind, status) == ("basic", 421)
        assert "B-11" not in text
    assert page.evaluate(_SEND, ["/_dash-update-component", of_json])[1] == 421
    # not rebound: it asks the server by its own address, as anybody may
    page.goto(evil)
    plain = {"method": "POST", "mode": "no-cors", "credentials": "include", "body": body}
    for path, how in (("_dash-update-component", plain), ("_dash-update-component", of_json), ("pictures/", plain)):
        assert page.evaluate(_SEND, [f"{served.url}/{path}", how])[0] == "failed"
    assert page.evaluate(_FRAME, f"{served.url}/press/P25") is True
    framed = page.frame_locator("#ours")
    assert framed.locator(".frame").count() == 0
    assert entered(trial) == []
    page.close()


def test_what_a_policy_keeps_back_is_heard_of(viewers: Viewers, trial: Trial) -> None:
    """The viewers, by which every page is looked at, hold what is said in the console against it: there it shows."""
    trial.shots(3)
    page = viewers.open("/help")
    page.evaluate(
        """() => {
            const script = document.createElement("script");
            script.textContent = "window.ran = true";
            document.body.appendChild(script);
        }"""
    )
    assert page.evaluate("window.ran === undefined")
    assert [one for one in viewers.wrong if "Content Security Policy" in one and "script-src" in one]
    viewers.wrong.clear()
