"""What a browser sends, or something that is none: addresses, and the bodies of callbacks, damaged.

Each answer is whole, and one that refuses holds no program text.

A tuple: the method, the path with its query, and the body.
"""

import json
import logging
from pathlib import Path
from random import Random
from typing import Any

from dashboard import Source, build
from shotlog.clock import HandClock
from shotlog.settings import load
from shotlog.store.log.log import open_log
from tests.fuzz.damage import NUMBERS, TEXTS, damaged, damaged_text
from tests.fuzz.kind import Kind
from tests.fuzz.of_entries import CONFIG, NOW, fill
from tests.page_client import PageClient

__all__ = ["Requests"]

_PATHS = (
    "/", "/shift", "/inserts", "/parts", "/plan", "/part/P25/3", "/part/P25/3/2", "/presses", "/help", "/_dash-layout",
    "/_dash-dependencies", "/shift/csv/lives.csv?press=P25", "/picture/abc.png", "/assets/shotlog.css", "/healthz",
    "/favicon.ico",
)  # fmt: skip
_WORDS = [
    *(one.encode("utf-8", "replace") for one in (*NUMBERS, *TEXTS)), b"null", b"{}", b"[]", b'"', b"\\ud800",
    b"[" * 500, b'"what"', b'"undo"', b'"arg"', b"true", b"..", b"\xff",
]  # fmt: skip
_ANSWERS = (200, 204, 301, 302, 304, 308, 400, 403, 404, 405, 408, 411, 413, 414, 415, 421, 500, 503)


class Requests(Kind):
    """See above."""

    name = "requests"
    most_s = 5.0

    def __init__(self, folder: Path) -> None:
        super().__init__(folder)
        file = folder / "trial.toml"
        file.write_text(CONFIG, encoding="utf-8")
        settings = load(file)
        with open_log(settings.store, read_only=False) as log:
            fill(log)
        self._said: list[str] = []
        self._handler = logging.Handler()
        self._handler.emit = self._heard  # type: ignore[method-assign]
        logging.getLogger("dashboard").addHandler(self._handler)
        logging.getLogger("dashboard").propagate = False
        self._source = Source(settings, HandClock(NOW))
        self._client = PageClient(build(self._source).server)
        self._callbacks = self._client.get("/_dash-dependencies").get_json()

    def _heard(self, record: logging.LogRecord) -> None:
        self._said.append(logging.Formatter().format(record))

    def make(self, random: Random) -> tuple[str, str, bytes]:
        if random.random() < 0.25:
            return random.choice(("GET", "GET", "POST", "PUT")), damaged_text(random, random.choice(_PATHS)), b""
        called = self._call(random, random.choice([one for one in self._callbacks if not one["clientside_function"]]))
        body = json.dumps(called).encode()
        return "POST", "/_dash-update-component", damaged(random, body, _WORDS) if random.random() < 0.6 else body

    def close(self) -> None:
        self._source.close()
        logging.getLogger("dashboard").removeHandler(self._handler)
        logging.getLogger("dashboard").propagate = True

    def _call(self, random: Random, one: dict[str, Any]) -> dict[str, Any]:
        def value() -> Any:
            touched = {"what": damaged_text(random, "enter"), "arg": damaged_text(random, "swap")}
            done = {"do": damaged_text(random, "look"), "arg": "3", "at": 1}
            text = damaged_text(random, "2026-01-05")
            return random.choice((None, 0, -1, 1e308, True, "", [], {}, [["x"]], "P25", touched, done, text))

        def given(part: dict[str, Any]) -> Any:
            if not part["id"].startswith("{"):
                return {**part, "value": value()}
            names = ("initials", "lot.text", "swap.serial", "parts", "reason")
            return [
                {"id": {**json.loads(part["id"].replace('["ALL"]', '""')), "name": name}, "property": part["property"],
                 "value": value()}
                for name in random.sample(names, random.randrange(3))
            ]  # fmt: skip

        several = one["output"].startswith("..")
        names = [name.rsplit(".", 1) for name in one["output"].strip(".").split("...")]
        outputs = [{"id": name, "property": what} for name, what in names]
        return {
            "output": one["output"],
            "outputs": outputs if several else outputs[0],
            "changedPropIds": [f"{part['id']}.{part['property']}" for part in one["inputs"][:1]],
            "inputs": [given(part) for part in one["inputs"]],
            "state": [given(part) for part in one["state"]],
        }

    def judge(self, request: tuple[str, str, bytes]) -> str:
        method, path, body = request
        self._said.clear()
        path = "/" + path.lstrip("/").encode("utf-8", "replace").decode()
        answer = self._client.open(path, method=method, data=body, content_type="application/json")
        assert answer.status_code in _ANSWERS, answer.status
        if answer.status_code >= 400:
            text = answer.get_data(as_text=True)
            assert "Traceback" not in text
            assert len(text) < 20_000
        if answer.status_code == 500:
            assert len(self._said) == 1, self._said
            assert "in _prepare_grouping" not in self._said[0], self._said[0]
        elif self._said:
            assert "\n" not in self._said[0], self._said[0]
        answer.close()
        return str(answer.status_code)
