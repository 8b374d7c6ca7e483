"""What is sent to callbacks, and is none of what pages send: refused in one line each, never with program text."""

import json
import logging
from collections.abc import Iterator
from copy import deepcopy
from typing import Any, get_type_hints

import pytest
from dash import Dash
from flask.testing import FlaskClient
from hand_filled import Trial

from dashboard.shared.sent import Clicked, PressName, Touch
from dashboard.walls.payloads import fits
from tests.page_client import PageClient

_PATH = "/_dash-update-component"
_ODD: tuple[Any, ...] = (
    None, True, -1, 2**70, 1.5, "", "FOREIGN", "\0", [], ["x"], [None], {}, {"what": 1},
    {"what": "undo", "arg": "x", "at": 1}, {"do": "open", "arg": "nothing", "at": 1},
    {"do": "look", "arg": "", "at": 2**70}, {"points": []}, {"points": [{"customdata": []}]}, ["FOREIGN", -1, 2**70],
    ["measure", ""], [{"value": "x", "label": "y"}],
)  # fmt: skip
"""Values of every type that JSON has, and some that are right somewhere."""


@pytest.fixture
def client(trial: Trial, app: Dash) -> PageClient:
    trial.mount("B-11")
    trial.shots(3)
    made: PageClient = app.server.test_client()
    return made


@pytest.fixture
def told() -> Iterator[list[str]]:
    """What the pages say to the log, a line each."""
    said: list[str] = []
    handler = logging.Handler()
    handler.emit = lambda record: said.append(logging.Formatter().format(record))  # type: ignore[method-assign]
    logging.getLogger("dashboard").addHandler(handler)
    yield said
    logging.getLogger("dashboard").removeHandler(handler)


def asked(callback: dict[str, Any]) -> dict[str, Any]:
    """Return what a page would send to a callback, without any value in it."""
    several = callback["output"].startswith("..")
    outputs = [
        {"id": name, "property": of}
        for name, of in (one.rsplit(".", 1) for one in callback["output"].strip(".").split("..."))
    ]

    def part(one: dict[str, Any]) -> Any:
        if '["ALL"]' in one["id"]:
            return [{"id": {**json.loads(one["id"]), "name": "initials"}, "property": one["property"], "value": None}]
        named = json.loads(one["id"]) if one["id"].startswith("{") else one["id"]
        return {"id": named, "property": one["property"], "value": None}

    return {
        "output": callback["output"],
        "outputs": outputs if several else outputs[0],
        "changedPropIds": [],
        "inputs": [part(one) for one in callback["inputs"]],
        "state": [part(one) for one in callback["state"]],
    }


def of_server(client: FlaskClient) -> list[dict[str, Any]]:
    return [one for one in client.get("/_dash-dependencies").get_json() if not one["clientside_function"]]


def test_no_value_of_any_type_makes_a_callback_fail(client: PageClient, told: list[str]) -> None:
    """Each value of each callback mistyped in turn, the others as a page has them. A traceback was the answer once."""
    touch = {"what": "enter", "arg": "note", "at": 1}
    right = {
        "touch": touch, "press": "P25", "seen": {}, "people-seen": {}, "parts-touch": {"do": "x", "arg": "", "at": 1},
        "story-serial": "B-11", "curve-factor": "design", "no-entries": "no-entries",
    }  # fmt: skip
    callbacks = of_server(client)
    assert len(callbacks) > 20
    refused = 0
    for callback in callbacks:
        body = asked(callback)
        parts = [
            one for part in (*body["inputs"], *body["state"]) for one in (part if isinstance(part, list) else [part])
        ]
        for one in parts:
            one["value"] = right.get(str(one["id"]))
        for one in parts:
            before = one["value"]
            for value in _ODD:
                one["value"] = value
                answer = client.post(_PATH, json=body)
                assert answer.status_code in (200, 204, 400), (body["output"], one["id"], value, told)
                if answer.status_code == 400:
                    refused += 1
                    assert answer.get_data(as_text=True).count("\n") == 1
                answer.close()
            one["value"] = before
    assert refused > 100
    assert not [line for line in told if "\n" in line]


def test_a_body_that_no_page_sends_is_refused_in_a_line(client: PageClient, told: list[str]) -> None:
    bodies = (
        b"", b"{", b"null", b"[]", b"7", b'"text"', b"\xff\xfe", b"[" * 30_000, b'{"output": []}', b'{"output": {}}',
        b'{"output": "page.children"}', b'{"output": "x.y", "outputs": {}, "inputs": [], "state": []}',
        b'{"output": "mode.data", "outputs": {"id": "mode", "property": "data"}, "inputs": [], "changedPropIds": []}',
        json.dumps({"a": list(range(6000))}).encode(), b'{"a": 1e999}', b'{"a": NaN}', b'{"a": ' + b"9" * 5000 + b"}",
        b'{"a": "\\ud800"}', b'{"a": "\\u0000"}', b'{"\\udfff": 1}',
        json.dumps({"a": [[[["x"] * 9] * 9] * 9] * 9}).encode(),
    )  # fmt: skip
    for body in bodies:
        answer = client.post(_PATH, data=body, content_type="application/json")
        assert answer.status_code == 400, body
        assert answer.get_data(as_text=True) == "No page of this release asks for that. Load the page anew.\n"
    assert told
    assert not [line for line in told if "\n" in line]


def test_a_part_that_is_of_another_callback_is_refused(client: PageClient, told: list[str]) -> None:
    callback = next(one for one in of_server(client) if "panel.children" in one["output"])
    body = asked(callback)
    body["inputs"][0]["value"] = {"what": "open", "arg": "note", "at": 1}
    next(one for one in body["state"] if isinstance(one, dict) and one["id"] == "press")["value"] = "P25"
    assert client.post(_PATH, json=body).status_code == 200
    for what in ("outputs", "inputs", "state", "changedPropIds"):
        for instead in (None, 0, "x", {}, [None], [{}], [[]], [{"id": 1, "property": []}], [7] * 9):
            assert client.post(_PATH, json={**deepcopy(body), what: instead}).status_code == 400, (what, instead)
    assert not [line for line in told if "\n" in line]


def test_it_is_refused_as_well_where_it_is_no_json_by_name(client: PageClient) -> None:
    assert client.post(_PATH, data=b"{}", content_type="text/plain").status_code == 400


def test_a_refusal_is_told_now_and_then_and_not_each_time(client: PageClient, told: list[str]) -> None:
    for _ in range(50):
        client.post(_PATH, data=b"{", content_type="application/json")
    assert told == ["the pages refused what no page asks (no JSON): POST /_dash-update-component from 127.0.0.1"]


@pytest.mark.parametrize(
    ("value", "hint", "expected"),
    [
        ({"what": "a", "arg": "b", "at": 1}, Touch, True),
        ({"what": "a", "arg": "b", "at": 1, "more": []}, Touch, True),
        ({"what": "a"}, Touch, False),
        ({"what": "a", "arg": ["b"], "at": 1}, Touch, False),
        ({"points": [{"x": 1}]}, Clicked, True),
        ({"points": [{"customdata": {}}]}, Clicked, False),
        ({"points": None}, Clicked, False),
        (["P25", 3, 1], tuple[str, int, int], True),
        (["P25", 3], tuple[str, int, int], False),
        (["P25", True, 1], tuple[str, int, int], False),
        (1, float, True),
        (True, float, False),
        ("P25", PressName, True),
        (7, PressName, False),
    ],
)
def test_a_value_fits_the_type_it_is_of(value: Any, hint: Any, expected: bool) -> None:
    assert fits(value, hint) is expected


def test_every_callback_says_what_it_takes(app: Dash) -> None:
    """One that takes anything would let everything through."""
    app.server.test_client().get("/_dash-layout")
    for output, one in app.callback_map.items():
        function = getattr(one.get("callback"), "__wrapped__", None)
        if function is not None:
            taken = {name: hint for name, hint in get_type_hints(function).items() if name != "return"}
            assert "Any" not in str(taken), output
