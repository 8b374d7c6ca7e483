"""Loopback, where nobody logs in: who is answered, with which headers, and what comes of what no page sends."""

import socket

import pytest

from tests.security.shop import Shop
from tests.security.visitor import Answer, Visitor

FOREIGN = (
    "evil.example", "evil.example:{port}", "127.0.0.1.evil.example:{port}", "localhost.evil.example", "192.0.2.7",
    "user@127.0.0.1:{port}", "127.0.0.1:{port}@evil.example", "127.0.0.1:80:{port}", "", "evil.example\t", "[::2]",
)  # fmt: skip

EVERYWHERE = (
    ("GET", "/", {}),
    ("GET", "/press/P25", {}),
    ("GET", "/parts", {}),
    ("GET", "/shift", {}),
    ("GET", "/_dash-layout", {}),
    ("GET", "/_dash-dependencies", {}),
    ("GET", "/assets/shotlog.js", {}),
    ("GET", "/assets/nothing.js", {}),
    ("GET", "/pictures/" + "0" * 64, {}),
    ("GET", "/shift/sisters.csv", {}),
    ("GET", "/healthz", {}),
    ("GET", "/no/such/page", {}),
    ("GET", "/", {"Host": "evil.example"}),
    ("POST", "/_dash-update-component", {"Content-Type": "application/json", "Content-Length": "0"}),
    ("PUT", "/press/P25", {}),
    ("TRACE", "/", {}),
)


@pytest.fixture
def visitor(alone: Shop) -> Visitor:
    return alone.visitor()


def inside_shown(answer: Answer) -> list[str]:
    """Return the words of an answer that only somebody inside should read."""
    told = ("Traceback", 'File "', ".py", "site-packages", "erkzeug", "sqlalchemy", "SELECT")
    return [word for word in told if word in answer.text]


@pytest.mark.parametrize("host", FOREIGN)
def test_a_foreign_host_is_refused(visitor: Visitor, host: str) -> None:
    host = host.format(port=visitor.port)
    for path, method in (
        ("/", "GET"),
        ("/healthz", "GET"),
        ("/assets/shotlog.js", "GET"),
        ("/_dash-update-component", "POST"),
    ):
        answer = visitor.ask(path, method, headers={"Host": host, "Content-Type": "application/json"})
        assert answer.status in (400, 403, 421), (path, host)
        assert b"P25" not in answer.body
        assert len(answer.text.strip().splitlines()) <= 1, answer.text


def test_two_hosts_or_another_in_the_address_are_refused(visitor: Visitor) -> None:
    ours = f"127.0.0.1:{visitor.port}"
    assert visitor.ask(headers={"Host": [ours, "evil.example"]}).status in (400, 403, 421)
    assert visitor.ask(headers={"Host": ["evil.example", ours]}).status in (400, 403, 421)
    assert visitor.ask(headers={"Host": None}).status in (400, 403, 421)
    assert visitor.ask("http://evil.example/", headers={"Host": "evil.example"}).status in (400, 403, 421)
    foreign = visitor.ask("http://evil.example/press/P25")
    assert "evil.example" not in foreign.text
    assert "evil.example" not in foreign.header("Location")


@pytest.mark.parametrize(
    "host", ["127.0.0.1:{port}", "localhost:{port}", "LOCALHOST:{port}", "shop-pc:{port}", "shop-pc"]
)
def test_our_own_names_are_answered(visitor: Visitor, host: str) -> None:
    answer = visitor.ask("/press/P25", headers={"Host": host.format(port=visitor.port)})
    assert answer.status == 200
    assert answer.kind == "text/html"


def test_nobody_can_forward_a_host_or_an_address(visitor: Visitor) -> None:
    for forged in ("X-Forwarded-Host", "X-Host", "X-Original-Host", "Forwarded"):
        value = "host=127.0.0.1" if forged == "Forwarded" else "127.0.0.1"
        assert visitor.ask(headers={"Host": "evil.example", forged: value}).status in (400, 403, 421)
    answer = visitor.ask(
        headers={"X-Forwarded-Host": "evil.example", "X-Forwarded-Proto": "https", "X-Forwarded-Prefix": "/x"}
    )
    assert answer.status == 200
    assert "evil.example" not in answer.text
    assert "Strict-Transport-Security" not in answer.headers


@pytest.mark.parametrize("origin", [
    "http://evil.example", "null", "http://127.0.0.1", "https://127.0.0.1:{port}", "file://",
    "http://127.0.0.1:{port}.evil.example", "http://localhost.evil.example:{port}",
])  # fmt: skip
def test_a_foreign_or_null_origin_is_refused(visitor: Visitor, origin: str) -> None:
    origin = origin.format(port=visitor.port)
    answer = visitor.call(visitor.page_asked("/"), Origin=origin)
    assert answer.status in (400, 403), origin
    assert len(answer.text.strip().splitlines()) <= 1
    assert visitor.ask(
        "/pictures/?finding=1", "POST", b"x", {"Origin": origin, "Content-Type": "image/png"}
    ).status in (400, 403)


def test_what_another_site_makes_a_browser_send_is_refused(visitor: Visitor) -> None:
    for sent in (
        {"Sec-Fetch-Site": "cross-site"},
        {"Origin": None, "Referer": "http://evil.example/"},
        {"Content-Type": "text/plain"},
    ):
        assert visitor.call(visitor.page_asked("/"), **sent).status in (400, 403, 415), sent  # type: ignore[arg-type]


def test_a_request_without_the_token_is_refused(visitor: Visitor) -> None:
    visitor.arrive()
    asked = visitor.page_asked("/")
    assert visitor.call(asked).status == 200
    visitor.token = ""
    assert visitor.call(asked).status in (400, 403)
    visitor.token = "0" * 43
    assert visitor.call(asked).status in (400, 403)


def test_no_other_origin_is_welcome(visitor: Visitor) -> None:
    asking = {
        "Origin": "http://evil.example",
        "Access-Control-Request-Method": "POST",
        "Access-Control-Request-Headers": "content-type",
    }
    for path in ("/", "/_dash-update-component", "/pictures/", "/assets/shotlog.js"):
        for method in ("OPTIONS", "GET"):
            answer = visitor.ask(path, method, headers=asking)
            assert not [name for name in answer.headers if name.lower().startswith("access-control")], (path, method)


@pytest.mark.parametrize(
    "method", ["TRACE", "TRACK", "CONNECT", "PROPFIND", "PUT", "DELETE", "PATCH", "POST", "get", "X" * 40]
)
def test_no_other_methods(visitor: Visitor, method: str) -> None:
    for path in ("/", "/press/P25", "/assets/shotlog.js"):
        answer = visitor.ask(path, method, headers={"X-Echo": "does it come back"})
        assert answer.status in (400, 403, 404, 405, 501), path
        assert "does it come back" not in answer.text
        assert inside_shown(answer) == []


@pytest.mark.parametrize(("method", "path", "sent"), EVERYWHERE)
def test_each_answer_has_its_headers(visitor: Visitor, method: str, path: str, sent: dict[str, str]) -> None:
    answer = visitor.ask(path, method, headers=sent)
    policy = {
        words.split()[0]: words.split()[1:]
        for words in answer.header("Content-Security-Policy").split(";")
        if words.strip()
    }
    assert policy["default-src"] in (["'self'"], ["'none'"])
    if "sandbox" not in policy:
        assert policy["frame-ancestors"] == ["'none'"]
        assert policy.get("object-src", policy["default-src"]) in (["'none'"], ["'self'"])
        assert policy["base-uri"] in (["'self'"], ["'none'"])
        assert policy["form-action"] in (["'self'"], ["'none'"])
        assert not {"*", "http:", "https:", "data:"} & set(policy.get("script-src", []))
        assert "'unsafe-inline'" not in policy.get("script-src", policy["default-src"])
    assert answer.header("X-Frame-Options") in ("DENY", "SAMEORIGIN")
    assert answer.header("X-Content-Type-Options") == "nosniff"
    assert answer.header("Referrer-Policy") in ("no-referrer", "same-origin")


@pytest.mark.parametrize(("method", "path", "sent"), EVERYWHERE)
def test_each_answer_says_what_it_is(visitor: Visitor, method: str, path: str, sent: dict[str, str]) -> None:
    answer = visitor.ask(path, method, headers=sent)
    assert answer.kind
    if answer.kind.startswith("text/") or answer.kind.endswith(("javascript", "json")):
        assert "charset=utf-8" in answer.header("Content-Type").lower() or answer.kind == "application/json"


@pytest.mark.parametrize(("method", "path", "sent"), EVERYWHERE)
def test_no_header_tells_a_version(visitor: Visitor, method: str, path: str, sent: dict[str, str]) -> None:
    answer = visitor.ask(path, method, headers=sent)
    assert "X-Powered-By" not in answer.headers
    assert not [char for char in answer.header("Server") if char.isdigit()]


@pytest.mark.parametrize(
    "path", ["/", "/press/P25", "/parts", "/_dash-layout", "/shift/lives.csv", "/shift", "/healthz"]
)
def test_nothing_of_the_log_is_cached(visitor: Visitor, path: str) -> None:
    assert "no-store" in visitor.ask(path).header("Cache-Control")


def test_nor_what_a_page_is_told_later(visitor: Visitor) -> None:
    visitor.arrive()
    answer = visitor.call(visitor.page_asked("/press/P25"))
    assert answer.status == 200
    assert "no-store" in answer.header("Cache-Control")


@pytest.mark.parametrize("path", [
    "/assets/", "/assets", "/static/", "/pictures/", "/assets/../server.py", "/assets/..%2fserver.py",
    "/assets/%2e%2e/server.py",
    "/assets/..%5cserver.py", "/assets/....//server.py", "/../../etc/passwd", "/assets/%00", "/assets//etc/passwd",
    "/_dash-component-suites/dashboard/server.py", "/_dash-component-suites/dash/../../../etc/passwd",
    "/_dash-component-suites/os/path.py", "/pictures/../trial.db", "/pictures/..%2ftrial.db",
    "/shift/..%2f..%2ftrial.csv",
    "/trial.db", "/.git/config", "/assets/.DS_Store", "/trial.accounts", "/accounts",
])  # fmt: skip
def test_no_folder_is_listed_and_no_file_reached(visitor: Visitor, path: str) -> None:
    answer = visitor.ask(path)
    assert answer.status in (200, 301, 302, 303, 308, 400, 403, 404, 405), path
    assert inside_shown(answer) == [] or answer.status == 200
    for inside in (b"SQLite format", b"root:x:", b"import flask", b"def serve", b"[core]", b"Index of", b"scrypt:"):
        assert inside not in answer.body


@pytest.mark.parametrize("body", [
    "", "null", "[]", "{}", "7", '"x"', "{", "\x00", "[" * 20_000, '{"output": 5}', '{"output": "page.children"}',
    '{"output": "nothing.children", "outputs": {}, "inputs": []}', '{"output": "page.children", "inputs": "x"}',
    '{"output": "page.children", "outputs": {"id": "page", "property": "children"}, "inputs": [{"id": "url"}]}',
    '{"output": "page.children", "outputs": null, "inputs": [null]}', '{"output": {"$ne": 1}, "inputs": [{}]}',
    '{"output": "__import__(\'os\').system(\'true\')", "inputs": []}', '{"a": 1e999999}', '{"output": "\\ud800"}',
])  # fmt: skip
def test_what_no_page_sends_gets_one_line(visitor: Visitor, body: str) -> None:
    visitor.arrive()
    answer = visitor.call(body)
    assert answer.status == 400
    assert len(answer.text.strip().splitlines()) == 1, answer.text
    assert inside_shown(answer) == []


def test_values_of_another_kind_get_one_line(visitor: Visitor) -> None:
    visitor.arrive()
    for pathname in (None, 5, ["/"], {"a": 1}, "x" * 100_000, "/press/\x00", "//evil.example", True):
        answer = visitor.call(visitor.page_asked(pathname))
        assert answer.status in (200, 204, 400), pathname
        assert inside_shown(answer) == []


@pytest.mark.parametrize("path", [
    "/part/P25/x", "/part/P25/999999999999999999999", "/press/%00", "/press/%ff", "/inserts/'", "/shift?since=x",
    "/shift/sisters.csv?since=%00", "/shift/no-such.csv", "/pictures/x", "/" + "a" * 5000, "/?" + "a" * 5000,
])  # fmt: skip
def test_errors_show_nothing_of_the_inside(visitor: Visitor, path: str) -> None:
    answer = visitor.ask(path)
    assert answer.status < 500
    assert not {"Traceback", 'File "', "site-packages", "sqlalchemy"} & set(answer.text.split())
    assert "__debugger__" not in answer.text
    assert '"ui":true' not in answer.text.replace(" ", ""), "Dash's tools for developers"


@pytest.mark.parametrize(("path", "kind", "size"), [
    ("/_dash-update-component", "application/json", 3_000_000),
    ("/pictures/?finding=1", "image/png", 150_000_000),
    ("/log-in", "application/x-www-form-urlencoded", 3_000_000),
])  # fmt: skip
def test_a_body_has_a_limit(visitor: Visitor, path: str, kind: str, size: int) -> None:
    """It is refused by what it says of its size, before it is sent."""
    visitor.arrive()
    said = {"Content-Type": kind, "Content-Length": str(size), "Origin": visitor.origin, **visitor.tokens()}
    assert visitor.ask(path, "POST", None, said).status in (400, 413)


def test_a_text_has_a_limit(visitor: Visitor, alone: Shop) -> None:
    visitor.arrive()
    before = alone.entries()
    answer = visitor.call(visitor.touched("say", "purge:" + "n" * 100_000))
    assert answer.status in (200, 400, 422)
    assert alone.entries() == before


def test_a_download_is_called_what_we_call_it(visitor: Visitor) -> None:
    answer = visitor.ask("/shift/lives.csv?trial=%22x.bat;%0d%0aSet-Cookie:%20a=b")
    assert ".bat" not in answer.header("Content-Disposition")
    assert "Set-Cookie" not in answer.headers
    assert visitor.ask("/shift/evil.bat;lives.csv").status in (200, 400, 404)


def test_a_header_cannot_be_slipped_in(visitor: Visitor) -> None:
    for path in (
        "/%0d%0aX-Slipped:%201",
        "/press/P25%0aX-Slipped:1",
        "/?next=%0d%0aX-Slipped:1",
        "//evil.example/%2e%2e",
        "/%5cevil.example",
    ):
        answer = visitor.ask(path)
        assert "X-Slipped" not in answer.headers
        assert not answer.header("Location").startswith(("//", "/\\", "http://evil"))


def test_it_fetches_nothing_for_anybody(visitor: Visitor) -> None:
    """Somebody listens; no page can be made to ask them for anything."""
    visitor.arrive()
    with socket.create_server(("127.0.0.1", 0)) as listening:
        listening.settimeout(0.2)
        there = f"http://127.0.0.1:{listening.getsockname()[1]}/x"
        for path in (f"/pictures/{there}", f"/?url={there}", f"/assets/{there}", f"/shift/lives.csv?since={there}"):
            visitor.ask(path)
        visitor.call(visitor.page_asked(there))
        with pytest.raises(TimeoutError):
            listening.accept()


def test_half_open_connections_leave_room_for_others(visitor: Visitor) -> None:
    held = []
    try:
        for _ in range(110):
            one = socket.create_connection(("127.0.0.1", visitor.port), timeout=10)
            one.sendall(b"POST / HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Le")
            held.append(one)
        assert visitor.ask("/press/P25").status == 200
    finally:
        for one in held:
            one.close()


def test_a_press_that_is_not_there_is_not_written_to(visitor: Visitor, alone: Shop) -> None:
    visitor.arrive()
    before = alone.entries()
    assert visitor.call(visitor.touched("say", "purge:purge", "P25")).status == 200
    assert len(alone.entries()) == len(before) + 1, "where there is one it is an entry"
    before = alone.entries()
    answer = visitor.call(visitor.touched("say", "purge:purge", "P99"))
    assert answer.status in (200, 400, 403, 404)
    assert alone.entries() == before
