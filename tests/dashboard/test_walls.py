"""What every request passes before a page is asked, and what every answer says."""

import json
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import flask
import pytest
from dash import Dash
from hand_filled import Trial

from dashboard import Source, build
from dashboard.parts.desk import PartsDesk
from dashboard.press.desk import Desk
from dashboard.shared.who import INITIALS
from dashboard.walls.headers import EXCEPTIONS
from dashboard.walls.hosts import Hosts
from dashboard.walls.origins import foreign
from dashboard.walls.plain import why_plain
from dashboard.walls.refusing import Refusing
from dashboard.walls.tokens import HEADER, Tokens
from shotlog.errors import UsageError
from shotlog.parts.part import Part
from shotlog.records import Shot
from shotlog.settings import WallSettings
from shotlog.store.asked import state
from shotlog.store.asked.entries_made import newest_entries
from shotlog.store.inserts.entries import note
from shotlog.store.keeping.head import head_of
from tests.made_pictures import picture
from tests.page_client import PageClient

NOWHERE, ANOTHER = "a page that does not say of where it is", "a page of another site"


@pytest.fixture
def client(trial: Trial, app: Dash) -> PageClient:
    trial.mount("B-11")
    trial.shots(3)
    made: PageClient = app.server.test_client()
    return made


def noted(text: str, press: str = "P25") -> dict[str, object]:
    """Return what the page sends where a note is entered."""
    names = ("panel", "said", "refused")
    texts = {"note.text": text, "initials": "MK"}
    return {
        "output": "..panel.children...said.children...refused.children..",
        "outputs": [{"id": name, "property": "children"} for name in names],
        "changedPropIds": ["touch.data"],
        "inputs": [{"id": "touch", "property": "data", "value": {"what": "enter", "arg": "note", "at": 1}}],
        "state": [
            [{"id": {"type": "field", "name": n}, "property": "value", "value": v} for n, v in texts.items()],
            [],
            {"id": "press", "property": "data", "value": press},
            {"id": INITIALS, "property": "data", "value": "MK"},
        ],
    }


def entered(trial: Trial) -> list[str]:
    return [row.event.text for row in state.entries(trial.log, "P25", 0, 99) if row.event.kind == "note"]


def send(client: PageClient, text: str, origin: str | None = "http://localhost", **headers: str) -> int:
    said = {} if origin is None else {"Origin": origin}
    said |= {name.replace("_", "-"): value for name, value in headers.items()}
    answer = client.post("/_dash-update-component", json=noted(text), headers=said)
    answer.close()
    return int(answer.status_code)


@pytest.mark.parametrize(
    ("bound", "given", "answered"),
    [
        ("127.0.0.1", "127.0.0.1:8050", True),
        ("127.0.0.1", "localhost", True),
        ("127.0.0.1", "LOCALHOST:1", True),
        ("127.0.0.1", "localhost.", True),
        ("127.0.0.1", "[::1]:8050", True),
        ("127.0.0.1", "further.example:443", True),
        ("127.0.0.1", "evil.test", False),
        ("127.0.0.1", "evil.test:8050", False),
        ("127.0.0.1", "localhost.evil.test", False),
        ("127.0.0.1", "127.0.0.1.evil.test", False),
        ("127.0.0.1", "evil.test, 127.0.0.1", False),
        ("127.0.0.1", "evil.test@127.0.0.1", False),
        ("127.0.0.1", "127.0.0.1:8050:1", False),
        ("127.0.0.1", "press-pc", False),
        ("127.0.0.1", "", False),
        ("127.0.0.1", "::1", False),
        ("192.0.2.7", "192.0.2.7:8050", True),
        ("192.0.2.7", "press-pc", True),
        ("192.0.2.7", "localhost", False),
        ("192.0.2.7", "192.0.2.8", False),
        ("0.0.0.0", "press-pc:8050", True),
        ("0.0.0.0", "127.0.0.1", True),
        ("0.0.0.0", "127.0.0.2:8050", True),
        ("0.0.0.0", "0.0.0.0", False),
        ("0.0.0.0", "198.51.100.9", False),
        ("0.0.0.0", "evil.test", False),
        ("::", "[::1]", True),
    ],
)
def test_only_names_of_this_machine_are_answered(bound: str, given: str, answered: bool) -> None:
    assert Hosts(bound, ["further.example"], ["press-pc", "press-pc.local"]).answer_to(given) is answered


def test_another_name_is_told_which_key_to_set_and_nothing_of_the_log(client: PageClient) -> None:
    for path in ("/", "/_dash-layout", "/healthz", "/assets/shotlog.css", "/pictures/x"):
        answer = client.get(path, headers={"Host": "evil.test:8050"})
        assert answer.status_code == 421
        assert answer.get_data(as_text=True) == (
            "These pages do not answer to the name evil.test:8050. If it is a name of this machine, put it into the "
            "configuration: hosts under [dashboard].\n"
        )
        answer.close()


@pytest.mark.parametrize(
    ("method", "headers", "refused"),
    [
        ("POST", {"Origin": "http://127.0.0.1:8050"}, ""),
        ("POST", {}, ""),
        ("POST", {"Sec-Fetch-Site": "same-origin"}, ""),
        ("POST", {"Origin": "http://evil.test"}, "http://evil.test"),
        ("POST", {"Origin": "http://127.0.0.1:8051"}, "http://127.0.0.1:8051"),
        ("POST", {"Origin": "https://127.0.0.1:8050"}, "https://127.0.0.1:8050"),
        ("DELETE", {"Origin": "null"}, NOWHERE),
        ("PUT", {"Origin": ""}, NOWHERE),
        ("POST", {"Sec-Fetch-Site": "cross-site"}, ANOTHER),
        ("POST", {"Sec-Fetch-Site": "same-site"}, ANOTHER),
        ("GET", {"Sec-Fetch-Site": "none", "Sec-Fetch-Mode": "navigate"}, ""),
        ("GET", {"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "document"}, ""),
        (
            "GET",
            {"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "iframe"},
            ANOTHER,
        ),
        ("GET", {"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors", "Sec-Fetch-Dest": "image"}, ANOTHER),
        ("GET", {}, ""),
    ],
)
def test_a_foreign_page_may_link_here_and_nothing_else(method: str, headers: dict[str, str], refused: str) -> None:
    assert foreign(method, headers, "http://127.0.0.1:8050") == refused


def test_what_a_foreign_page_sends_writes_nothing(trial: Trial, client: PageClient) -> None:
    assert send(client, "ours") == 200
    assert send(client, "from elsewhere", "http://evil.test") == 403
    assert send(client, "from a frame in a box", "null") == 403
    assert send(client, "by its site", None, Sec_Fetch_Site="cross-site") == 403
    assert send(client, "by its name", "http://evil.test:8050", Host="evil.test:8050") == 421
    assert entered(trial) == ["ours"]


def test_what_writes_says_the_token_of_the_page_again(trial: Trial, client: PageClient) -> None:
    assert send(client, "with it") == 200
    token = next(one for one in client._cookies.values() if "shotlog-token-" in one.key)
    assert token.same_site == "Strict"
    client.bare = True
    assert send(client, "without") == 403
    assert send(client, "another", X_CSRFToken="x" * len(token.value)) == 403
    assert send(client, "the very one", X_CSRFToken=token.value) == 200
    client.set_cookie(token.key, "planted")
    assert send(client, "planted", X_CSRFToken="planted") == 403
    assert entered(trial) == ["with it", "the very one"]


@pytest.mark.parametrize("how", ["post", "put", "delete", "patch"])
def test_every_way_to_write_needs_the_token(client: PageClient, how: str) -> None:
    client.bare = True
    for path in ("/pictures/", "/pictures/1", "/_dash-update-component", "/nothing"):
        answer = getattr(client, how)(path, data=b"x", content_type="image/jpeg")
        assert answer.status_code == 403
        assert answer.get_data(as_text=True) == "The token of this page is out of date: load it anew.\n"


def test_a_token_is_of_one_log_in_and_of_one_process() -> None:
    tokens, server = Tokens("token", "session"), flask.Flask("x")
    with server.test_request_context(headers={"Cookie": "session=one"}):
        made = tokens.token()
    for held, session, taken in (
        (tokens, "one", True),
        (tokens, "two", False),
        (Tokens("token", "session"), "one", False),
    ):
        cookies = f"session={session}; token={made}"
        with server.test_request_context(headers={"Cookie": cookies, HEADER: made}, method="POST"):
            assert held.said_again() is taken


def test_a_page_whose_token_is_of_before_a_restart_is_given_a_new_one(trial: Trial, client: PageClient) -> None:
    assert send(client, "before") == 200
    source = Source(trial.settings, trial.clock)
    after: PageClient = build(source).server.test_client()
    after.bare = True
    after._cookies = client._cookies
    answer = after.post("/_dash-update-component", json=noted("after"))
    assert (answer.status_code, answer.headers["X-Token"]) == (403, "new")
    after.bare = False
    assert send(after, "after") == 200
    assert entered(trial) == ["before", "after"]
    source.close()


def test_every_answer_says_what_keeps_foreign_pages_out(client: PageClient) -> None:
    paths = (
        "/",
        "/healthz",
        "/_dash-layout",
        "/nothing",
        "/assets/shotlog.css",
        "/shift/csv/x.csv",
        "/pictures/nothing",
    )
    for path in paths:
        answer = client.get(path)
        said = answer.headers
        answer.close()
        assert "frame-ancestors 'none'" in said["Content-Security-Policy"], path
        assert said["X-Frame-Options"] == "DENY"
        assert said["X-Content-Type-Options"] == "nosniff"
        assert said["Referrer-Policy"] == "same-origin"
        assert said["Cross-Origin-Opener-Policy"] == said["Cross-Origin-Resource-Policy"] == "same-origin"
        assert "geolocation=()" in said["Permissions-Policy"]
        assert "Strict-Transport-Security" not in said
        assert (said["Cache-Control"] == "no-store") is not path.startswith("/assets/")


def test_no_page_tells_of_which_versions_it_is_made(client: PageClient) -> None:
    """Nor where to ask for newer ones. What is left is in the addresses of the library's own files."""
    config = re.search('<script id="_dash-config"[^>]*>(.*?)</script>', client.get("/help").get_data(as_text=True))
    assert config is not None
    told = {name: value for name, value in json.loads(config[1]).items() if "version" in name}
    assert told.keys() > {"dash_version", "python_version"}
    assert not [name for name, value in told.items() if value not in ("", None, True, False)]


def test_what_scripts_ask_for_is_no_page(client: PageClient) -> None:
    answers = [client.get("/_dash-layout"), client.get("/_dash-dependencies"),
               client.post("/_dash-update-component", json=noted("x"))]  # fmt: skip
    for answer in answers:
        assert answer.status_code == 200
        assert answer.headers["Content-Disposition"] == 'attachment; filename="api.json"'
    assert "Content-Disposition" not in client.get("/help").headers


@pytest.mark.parametrize(
    ("method", "path", "status", "said"),
    [
        ("GET", "/assets/none.css", 404, "There is nothing at this address.\n"),
        ("TRACE", "/", 405, "This cannot be done at this address.\n"),
        ("PUT", "/parts", 405, "This cannot be done at this address.\n"),
    ],
)
def test_what_is_not_there_is_said_in_a_line(
    client: PageClient, method: str, path: str, status: int, said: str
) -> None:
    answer = client.open(path, method=method)
    assert (answer.status_code, answer.mimetype) == (status, "text/plain")
    assert answer.get_data(as_text=True) == said
    assert ("Allow" in answer.headers) == (status == 405)


def test_scripts_are_files_of_ours_or_named_by_their_digest(client: PageClient) -> None:
    policy = client.get("/").headers["Content-Security-Policy"]
    scripts = next(one for one in policy.split("; ") if one.startswith("script-src"))
    assert "unsafe" not in scripts
    assert "'sha256-" in scripts
    assert set(EXCEPTIONS) == {"style-src", "img-src"}


def test_over_tls_browsers_are_told_to_stay_with_it(client: PageClient) -> None:
    answer = client.get("/help", base_url="https://127.0.0.1:8050")
    assert answer.headers["Strict-Transport-Security"] == "max-age=86400"
    assert "Secure" in answer.headers["Set-Cookie"]


@pytest.fixture
def served_to_all(trial: Trial) -> Iterator[PageClient]:
    walls = WallSettings(hosts=("press.example",))
    source = Source(replace(trial.settings, dashboard_host="0.0.0.0", walls=walls), trial.clock)
    made: PageClient = build(source).server.test_client()
    yield made
    source.close()


def test_pages_served_to_the_network_answer_to_their_configured_name(served_to_all: PageClient) -> None:
    for host, status in (("press.example:8050", 302), ("evil.test", 421)):
        assert served_to_all.get("/help", headers={"Host": host}).status_code == status


def test_the_log_in_page_says_that_others_can_read_what_is_typed(served_to_all: PageClient, client: PageClient) -> None:
    page = served_to_all.get("/log-in", headers={"Host": "press.example"}).get_data(as_text=True)
    assert "Careful: passwords and entries cross the network so that others on it can read and change them" in page
    assert "Careful" not in client.get("/log-in").get_data(as_text=True)


@pytest.mark.parametrize(
    ("host", "walls", "said"),
    [
        ("127.0.0.1", WallSettings(), False),
        ("0.0.0.0", WallSettings(), True),
        ("192.0.2.7", WallSettings(hosts=("a",)), True),
        ("0.0.0.0", WallSettings(proxy="192.0.2.1"), False),
        ("0.0.0.0", WallSettings(proxy="127.0.0.1"), True),
        ("127.0.0.1", WallSettings(proxy="127.0.0.1"), False),
        ("0.0.0.0", WallSettings(certificate=Path("a"), key=Path("b")), False),
    ],
)
def test_pages_that_others_reach_without_tls_say_so(trial: Trial, host: str, walls: WallSettings, said: bool) -> None:
    line = why_plain(replace(trial.settings, dashboard_host=host, walls=walls))
    assert bool(line) is said
    assert "\n" not in line


def test_a_page_enters_nothing_for_a_press_that_is_not_configured(
    trial: Trial, source: Source, client: PageClient
) -> None:
    """By any callback that takes entries, and by the address that takes pictures; what is there is read on."""
    trial.log.append([Shot("P9", n, n, trial.clock.now(), {"cushion": 5.0}) for n in (1, 2)])
    note(trial.log, "P9", "finding", "flash", trial.clock.now(), at_shot=2)
    head = head_of(trial.log)
    assert client.post("/_dash-update-component", json=noted("x", press="P9")).status_code == 400
    assert client.post("/_dash-update-component", json=noted("x", press="NEW")).status_code == 400
    finding = newest_entries(trial.log, "P9", ("event",), 1)[0].number
    for where in ("press=P9&shot=1", f"finding={finding}", "press=NEW&shot=1"):
        assert client.post(f"/pictures/?{where}", data=picture(), content_type="image/jpeg").status_code == 422
    desk, parts = Desk(source), PartsDesk(source)
    tried: list[Callable[[], object]] = [
        lambda: desk.note("P9", "note", "x"),
        lambda: desk.swap("P9", "B-1", "moving", initials="MK"),
        lambda: desk.undo(f"events:{finding}", "MK"),
        lambda: parts.decide("P9", "1", "scrapped", "x", "MK"),
        lambda: parts.inspect(Part("P9", 1, 1), {}, {}, finding="flash", initials="MK"),
        lambda: parts.put_at("P9", "1", "box", "", "MK"),
    ]
    for one in tried:
        with pytest.raises(UsageError, match="press P9: it is not in this configuration"):
            one()
    assert head_of(trial.log) == head
    assert client.get("/part/P9/1").status_code == 200


def test_the_log_is_told_the_first_and_then_once_in_a_while_how_many() -> None:
    times, told = iter((0.0, 1.0, 59.0, 61.0, 62.0, 63.0)), list[str]()
    refusing = Refusing(lambda: next(times), told.append)
    for _ in range(5):
        refusing.note("a kind", "GET /")
    refusing.note("another kind", "GET /")
    assert told == [
        "the pages refused a kind: GET /",
        "the pages refused a kind: GET /, and 2 more since it was told last",
        "the pages refused another kind: GET /",
    ]
