"""Pictures over the network: taken with a finding, shown as what they are and nothing else, found by digest alone."""

import threading
from contextlib import closing
from http.client import HTTPConnection
from pathlib import Path

import pytest
from dash import Dash
from flask.testing import FlaskClient
from hand_filled import Trial
from made_pictures import PLACE, picture

from dashboard.server import listening
from shotlog.settings import WallSettings
from shotlog.store.parts.picture_bytes import MOST_BYTES
from shotlog.store.parts.pictures import pictures, pictures_of_insert
from tests.dashboard.stopping import stop_serving


@pytest.fixture
def client(trial: Trial, app: Dash) -> FlaskClient:
    """A press with nine shots on B-11, flash seen at the last."""
    trial.mount("B-11")
    trial.shots(9)
    trial.note("finding", "flash")
    return app.server.test_client()


def kept(trial: Trial) -> list[str]:
    folder = trial.file.parent / "trial.pictures"
    return sorted(one.name for one in folder.iterdir()) if folder.exists() else []


def test_a_picture_of_a_finding_is_kept_and_shown(trial: Trial, client: FlaskClient) -> None:
    answer = client.post("/pictures/?finding=1&remark=at+the+gate", data=picture(), content_type="image/jpeg")
    assert answer.status_code == 200
    (one,) = pictures(trial.log, "P25")
    assert (one.shot, one.event_id, one.remark) == (9, 1, "at the gate")
    assert answer.json["said"].startswith("picture 1 kept, of P25 shot 9: at the gate")
    shown = client.get(answer.json["address"])
    assert shown.status_code == 200
    assert shown.data == (trial.file.parent / "trial.pictures" / one.file_name).read_bytes()
    assert PLACE not in shown.data
    assert shown.headers["Content-Type"] == "image/jpeg"
    assert shown.headers["X-Content-Type-Options"] == "nosniff"
    assert shown.headers["Content-Security-Policy"] == "default-src 'none'; sandbox"


def test_what_it_is_follows_from_its_bytes(trial: Trial, client: FlaskClient) -> None:
    answer = client.post("/pictures/?press=P25&shot=9&cavity=1", data=picture("PNG"), content_type="image/jpeg")
    assert client.get(answer.json["address"]).headers["Content-Type"] == "image/png"


def test_a_picture_of_an_insert_is_of_its_last_shot(trial: Trial, client: FlaskClient) -> None:
    assert client.post("/pictures/?insert=B-11", data=picture(), content_type="image/jpeg").status_code == 200
    (one,) = pictures_of_insert(trial.log, "B-11")
    assert (one.shot, one.insert) == (9, "B-11")


@pytest.mark.parametrize(
    ("query", "data", "kind", "status", "words"),
    [
        ("press=P25&shot=9", b"<svg onload='alert(1)'/>", "image/svg+xml", 422, "allowed: a JPEG, PNG or WebP"),
        ("press=P25&shot=9", b"<script>alert(1)</script>", "image/jpeg", 422, "allowed: a JPEG, PNG or WebP"),
        ("press=P25&shot=9", picture(), "text/plain", 415, "given text/plain"),
        ("press=P25&shot=9", picture(), "multipart/form-data; boundary=x", 415, "allowed: a JPEG, PNG or WebP"),
        ("press=P25&shot=9", bytes(MOST_BYTES + 1), "image/jpeg", 413, "too large"),
        ("press=P25&shot=99", picture(), "image/jpeg", 422, "no such shot"),
        ("press=P25&shot=-9", picture(), "image/jpeg", 422, "allowed: a number"),
        ("press=../../etc&shot=9", picture(), "image/jpeg", 422, "no such shot"),
        ("finding=77", picture(), "image/jpeg", 422, "there is none"),
        ("insert=../B-11", picture(), "image/jpeg", 422, "no shot was made on it"),
        ("", picture(), "image/jpeg", 422, "allowed: a number"),
    ],
)
def test_what_is_refused_is_said_and_leaves_nothing(
    trial: Trial, client: FlaskClient, query: str, data: bytes, kind: str, status: int, words: str
) -> None:
    answer = client.post(f"/pictures/?{query}", data=data, content_type=kind)
    assert answer.status_code == status
    assert words in answer.json["said"]
    assert kept(trial) == []
    assert pictures(trial.log, "P25") == []


@pytest.mark.parametrize(
    "path", ["trial.db", "..%2Ftrial.db", "../trial.db", "%2e%2e%2ftrial.toml", "0" * 64, "a" * 64 + ".jpg", "a/b", ""]
)
def test_nothing_but_a_picture_on_record_is_shown(trial: Trial, client: FlaskClient, path: str) -> None:
    client.post("/pictures/?finding=1", data=picture(), content_type="image/jpeg")
    assert client.get(f"/pictures/{path}").status_code == 404
    digest = kept(trial)[0].partition(".")[0]
    assert client.get(f"/pictures/{digest.upper()}").status_code == 404


def test_a_damaged_file_is_not_shown(trial: Trial, client: FlaskClient) -> None:
    address = client.post("/pictures/?finding=1", data=picture(), content_type="image/jpeg").json["address"]
    file = trial.file.parent / "trial.pictures" / kept(trial)[0]
    file.write_bytes(b"<script>alert(1)</script>")
    answer = client.get(address)
    assert answer.status_code == 404
    assert "was changed after it was kept" in answer.json["said"]


def test_taken_back_it_is_gone_from_the_pages_and_its_file_stays(trial: Trial, client: FlaskClient) -> None:
    taken = client.post("/pictures/?finding=1", data=picture(), content_type="image/jpeg").json
    assert client.delete(f"/pictures/{taken['number']}").json["said"] == "picture 1: taken back"
    assert client.get(taken["address"]).status_code == 404
    assert Path(kept(trial)[0]).stem == taken["address"].rpartition("/")[2]
    assert client.delete(f"/pictures/{taken['number']}").status_code == 422
    assert client.put(f"/pictures/{taken['number']}").json == {"said": "picture 2: entered again", "number": 2}
    assert client.get(taken["address"]).status_code == 200
    assert client.put("/pictures/2").status_code == 422


@pytest.mark.parametrize("number", [2**63, 10**30])
def test_a_number_that_no_entry_can_have_is_not_found(client: FlaskClient, number: int) -> None:
    assert client.delete(f"/pictures/{number}").status_code == 404
    assert client.put(f"/pictures/{number}").status_code == 404
    assert client.delete(f"/pictures/{2**63 - 1}").status_code == 422


def test_a_body_larger_than_any_picture_is_refused_before_it_is_read(client: FlaskClient) -> None:
    """By the server itself, which would keep a gigabyte on disk first."""
    server = listening(client.application, "127.0.0.1", 0, 0, WallSettings())
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    with closing(HTTPConnection("127.0.0.1", server.effective_port, timeout=10)) as asked:
        asked.putrequest("POST", "/pictures/?finding=1")
        asked.putheader("Content-Type", "image/jpeg")
        asked.putheader("Content-Length", str(3 * MOST_BYTES))
        asked.endheaders()
        assert asked.getresponse().status == 413
    stop_serving(server, thread)
