"""What the pages cost the server over a log of a million shots: each answer in ms, and an idle refresh in ms of CPU.

The server's first looks are taken, as it takes them when it starts. Then every callback that a browser would call when
it opens a page is called, in one run, twice: the first answer reads the log, the second one finds what was kept. What a
page says to be worked out is asked for until it is there. An idle refresh goes through the production server, asked by
another process; then as many more as a day has, to see that the server does not grow. Nothing is asserted. Run by
`make bench`.
"""

import argparse
import json
import os
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from waitress.server import create_server

from dashboard import Source, build
from dashboard.pages import PAGES
from dashboard.server import first_looks
from shotlog.records import Link
from shotlog.settings import load
from shotlog.store.asked.presence import touch
from shotlog.store.log.log import open_log
from tests.benchmark.bench import Bench
from tests.benchmark.log_of_years import PRESSES, config, write
from tests.benchmark.row import Row
from tests.page_client import PageClient

Took = tuple[float, float]
"""Milliseconds by the clock, and of CPU: on a machine with other work only the second one says what the page costs."""

IDLE_ALLOWED_MS = 5.0
WANTED_S = 1.0
_AGAIN = 5
_WAITED_FOR: dict[str, Callable[[Any], bool]] = {
    "ledger-shown.data": lambda name: name is not None,
    "parts-held.children": lambda held: held is not None and "is being worked out" not in json.dumps(held),
}
"""What is worked out apart, and how it is seen to be there."""
_ASK = """
import http.client, sys
host, port, n, body = sys.argv[1], int(sys.argv[2]), int(sys.argv[3]), sys.stdin.buffer.read()
asking = http.client.HTTPConnection(host, port)
asking.request("GET", "/help")
page = asking.getresponse()
cookie = page.getheader("Set-Cookie").partition(";")[0]
token = cookie.partition("=")[2]
page.read()
for _ in range(n):
    headers = {"Content-Type": "application/json", "Accept-Encoding": "gzip", "Cookie": cookie, "X-CSRFToken": token}
    asking.request("POST", "/_dash-update-component", body, headers)
    assert asking.getresponse().read()
"""


class Tab:
    """What a browser does with a page: its layout, then every callback whose inputs are all there.

    `client` gets and posts as the client of a test does.
    """

    def __init__(self, client: Any) -> None:
        self._client = client
        self._callbacks = self._client.get("/_dash-dependencies").get_json()
        self.held: dict[tuple[str, str], Any] = {}

    def open(self, path: str) -> dict[str, Took]:
        """Open a page; return what each answer took, by the outputs it fills."""
        self.held = {("url", "pathname"): path, ("inks", "data"): None, ("narrow", "data"): None}
        took = {}
        for callback in self._callbacks:
            if callback["output"] == "page.children":
                took["layout"] = self._call(callback)
        self._keep(self.held[("page", "children")])
        for callback in self._callbacks:
            inputs = [(one["id"], one["property"]) for one in callback["inputs"]]
            first = callback["prevent_initial_call"] is not True
            there = all(ask[0] in self._ids for ask in inputs)
            if first and there and not callback["clientside_function"] and callback["output"] != "page.children":
                took[_short(callback["output"])] = self._until_there(callback)
        return took

    def _until_there(self, callback: dict[str, Any]) -> Took:
        began, took = time.perf_counter(), self._call(callback)
        waited = [name for name in _WAITED_FOR if name in callback["output"]]
        for name in waited:
            while not _WAITED_FOR[name](self.held.get((*name.split("."),))):
                time.sleep(0.02)
                took = took[0], took[1] + self._call(callback)[1]
        return (time.perf_counter() - began) * 1e3 if waited else took[0], took[1]

    def body(self, part: str) -> bytes:
        """Return what the browser would post for the callback that fills `part`."""
        callback = next(one for one in self._callbacks if part in one["output"])
        return json.dumps(self._asked(callback)).encode()

    def _asked(self, callback: dict[str, Any]) -> dict[str, Any]:
        def given(parts: list[dict[str, str]]) -> list[dict[str, Any]]:
            return [{**_named(part), "value": self.held.get((part["id"], part["property"]))} for part in parts]

        names = [name.rsplit(".", 1) for name in callback["output"].strip(".").split("...")]
        outputs = [{"id": name, "property": prop.split("@")[0]} for name, prop in names]
        return {
            "output": callback["output"],
            "outputs": outputs if callback["output"].startswith("..") else outputs[0],
            "inputs": given(callback["inputs"]),
            "changedPropIds": [f"{one['id']}.{one['property']}" for one in callback["inputs"]],
            "state": given(callback["state"]),
        }

    def _call(self, callback: dict[str, Any]) -> Took:
        asked = self._asked(callback)
        began = time.perf_counter(), _cpu_s()
        answer = self._client.post("/_dash-update-component", json=asked)
        took = (time.perf_counter() - began[0]) * 1e3, (_cpu_s() - began[1]) * 1e3
        if answer.status_code == 200:
            for name, props in answer.get_json()["response"].items():
                self.held.update({(name, prop): value for prop, value in props.items()})
        elif answer.status_code != 204:
            raise SystemExit(f"{callback['output']}: answered {answer.status_code}")
        return took

    def _keep(self, part: Any) -> None:
        self._ids = {"url", "mode", "narrow"}
        parts = [part]
        while parts:
            one = parts.pop()
            if isinstance(one, list):
                parts.extend(one)
            elif isinstance(one, dict) and "props" in one:
                name = one["props"].get("id")
                if name is not None:
                    name = name if isinstance(name, str) else json.dumps(name, separators=(",", ":"), sort_keys=True)
                    self._ids.add(name)
                    self.held.update({(name, prop): value for prop, value in one["props"].items()})
                parts.append(one["props"].get("children"))


def _named(part: dict[str, str]) -> dict[str, Any]:
    return {**part, "id": json.loads(part["id"])} if part["id"].startswith("{") else {**part}


def _cpu_s() -> float:
    """Return CPU seconds of this process and of those that worked for it and ended."""
    return sum(os.times()[:4])


def _short(output: str) -> str:
    names = [name.partition("@")[0] for name in output.strip(".").split("...")]
    return names[0] + (f" and {len(names) - 1} more" if len(names) > 1 else "")


def pages(app: Any) -> None:
    """Print what each page's answers take."""
    print(f"{'page':<18}{'answer':<46}{'first':>9}{'CPU':>9}{'again':>9}{'CPU':>9}   (ms)")
    for page in PAGES:
        tab = Tab(PageClient(app.server))
        first = tab.open(page.path)
        again = tab.open(page.path)
        for name in [*first, "all of it"]:
            figures = [_sum(one) if name == "all of it" else one.get(name, (0.0, 0.0)) for one in (first, again)]
            print(f"{page.label:<18}{name:<46}" + "".join(f"{ms:>9.1f}" for one in figures for ms in one))


def _sum(took: dict[str, Took]) -> Took:
    return sum(wall for wall, _ in took.values()), sum(cpu for _, cpu in took.values())


def after_a_shot(app: Any, log: Any) -> None:
    """Print what *At the press* takes when something new came."""
    tab = Tab(PageClient(app.server))
    tab.open("/press")
    took = []
    for _ in range(10):
        log.append([Link(PRESSES[0], datetime.now(UTC), "connected", "the press answers")])
        tab.held[("seen", "data")] = {}
        took.append(_sum(tab.open("/press")))
    wall, cpu = (statistics.median(one[n] for one in took) for n in (0, 1))
    print(f"At the press, something new in the log: {wall:.1f} ms, {cpu:.1f} ms of CPU (medians of {len(took)})")


def idle(app: Any, n: int) -> float:
    """Return the CPU of an idle refresh through the production server, in ms."""
    tab = Tab(PageClient(app.server))
    tab.open("/press")
    tab.open("/press")
    body = tab.body("standing.children")
    server = create_server(app.server, host="127.0.0.1", port=0, threads=8)
    threading.Thread(target=server.run, daemon=True).start()

    def ask(times: int) -> float:
        before = time.process_time()
        subprocess.run(
            [sys.executable, "-c", _ASK, "127.0.0.1", str(server.effective_port), str(times)], input=body, check=True
        )
        return time.process_time() - before

    ask(20)
    spent = ask(n) * 1e3 / n
    server.close()
    return spent


def rows(bench: Bench) -> Iterator[Row]:
    """Yield what each page of the long log takes by the clock, to its first visitor and again, beside a second."""
    settings = load(bench.years())
    with open_log(settings.store, read_only=False) as log:
        touch(log, "run", f"{len(settings.presses)} presses", datetime.now(UTC))
    source = Source(settings)
    looks: list[Callable[[], object]] = []
    app = build(source, looks)
    first_looks(looks)
    many = f"{bench.shots:,} shots of {len(settings.presses)} presses"
    why = f"over {many}; the server took its first look before, as it does when it starts"
    for page in PAGES:
        tab = Tab(PageClient(app.server))
        took = [_sum(tab.open(page.path))[0] / 1e3 for _ in range(1 + _AGAIN)]
        yield Row(f"{page.label}: first answer", "s", took[:1], [WANTED_S], "a second, which is wanted", why, 1.0)
        yield Row(f"{page.label}: again", "s", took[1:], [WANTED_S], "a second", "", 1.0)
    spent = [idle(app, 100) / 1e3 for _ in range(_AGAIN)]
    allowed = [IDLE_ALLOWED_MS / 1e3]
    yield Row("an idle refresh, processor", "s a viewer", spent, allowed, "what is allowed", f"over {many}", 1.0)
    source.close()


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--shots", type=int, default=1_000_000)
    parser.add_argument("--folder", help="keep the log here, and use the one that is there")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(options.folder or scratch)
        new = not (folder / "years.db").exists()
        (folder / "years.toml").write_text(config(), encoding="utf-8")
        settings = load(folder / "years.toml")
        with open_log(settings.store, read_only=False) as log:
            if new:
                began = time.perf_counter()
                write(log, options.shots, datetime.now(UTC))
                print(f"wrote a log of {options.shots} shots in {time.perf_counter() - began:.0f} s")
            touch(log, "run", "4 presses", datetime.now(UTC))
            source = Source(settings)
            looks: list[Callable[[], object]] = []
            app = build(source, looks)
            began, cpu = time.perf_counter(), time.process_time()
            first_looks(looks)
            took = [(time.perf_counter() - began) * 1e3, (time.process_time() - cpu) * 1e3]
            print(f"before anybody asks: {took[0]:.0f} ms, {took[1]:.0f} ms of CPU")
            pages(app)
            after_a_shot(app, log)
            spent = idle(app, 400)
            print(f"idle refresh of At the press: {spent:.2f} ms of CPU a viewer (allowed {IDLE_ALLOWED_MS:g} ms)")
            source.close()
