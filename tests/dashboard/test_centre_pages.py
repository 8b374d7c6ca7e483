"""The pages at a centre: the plant of all edges, the pages of each below its address, and who is let in to them."""

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Any, NoReturn
from urllib.parse import unquote

import flask
import pytest
from asked_for import Tab, ask, words
from flask.testing import FlaskClient
from hand_filled import Trial
from playwright.sync_api import expect
from served import Served, Viewers
from thirty import plant_config

from dashboard.centre.app import CentrePages, build_centre
from shotlog.access.accounts import Accounts
from shotlog.errors import StoreUnreachable
from shotlog.records import Link, Start
from shotlog.settings import load
from shotlog.store.centre.centre import open_centre
from shotlog.store.centre.shipping import Shipping
from tests.chromium import Chromium
from tests.page_client import PageClient
from tests.postgres import Server

ODD = "Halle S\u00fcd 2"
"""What has to be encoded in an address."""


class Within:
    """A client of the pages below an address."""

    def __init__(self, client: FlaskClient, below: str) -> None:
        self._client, self._below = client, below

    def get(self, path: str, **how: Any) -> Any:
        return self._client.get(self._below + path, **how)

    def post(self, path: str, **how: Any) -> Any:
        return self._client.post(self._below + path, **how)


def client_of(pages: CentrePages) -> PageClient:
    shim = flask.Flask("front")
    shim.wsgi_app = pages.server  # type: ignore[method-assign, assignment]
    client = shim.test_client()
    assert isinstance(client, PageClient)
    return client


def edge(folder: Path, url: str, name: str, presses: list[str]) -> Trial:
    """Make the log of an edge, with shots and a finding on its first press, and ship it."""
    folder.mkdir()
    trial = Trial(folder, plant_config(presses))
    trial.next_shot = dict.fromkeys(presses, 1)
    text = trial.file.read_text(encoding="utf-8")
    trial.log.append([Start(trial.clock.now(), "1", "b", text, "d", "{}", "pc", "1")])
    trial.log.append([Link(press, trial.clock.now(), "connected", "it answers") for press in presses])
    trial.mount("B-11", press=presses[0])
    trial.shots(6, presses[0])
    trial.note("finding", "flash at the gate", presses[0], at_shot=6)
    ship(trial, url, name)
    return trial


def ship(trial: Trial, url: str, name: str) -> None:
    with open_centre(url, "1.0") as centre:
        shipping = Shipping(trial.log, centre, name, "pc-1", "1.0")
        shipping.agree()
        list(shipping.ship())
        shipping.say_present()


@pytest.fixture(scope="module")
def shop(server: Server, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Path, dict[str, Trial]]]:
    """A centre with two edges, which have a press of the same name."""
    made, folder = server.make(), tmp_path_factory.mktemp("centre")
    url = made.render_as_string(hide_password=False)
    trials = {"hall-1": edge(folder / "1", url, "hall-1", ["P25", "P40"])}
    trials[ODD] = edge(folder / "2", url, ODD, ["P25", "hall 3/7"])
    # heard for the whole of the tests, however busy the machine is
    server.run("UPDATE centre.edges SET last_seen = now() + interval '1 day'", url=made)
    (folder / "plant.toml").write_text(f'[log]\nstore = "{url}"\n', encoding="utf-8")
    yield folder / "plant.toml", trials
    for trial in trials.values():
        trial.close()
    server.drop(made)


@pytest.fixture(scope="module")
def pages(shop: tuple[Path, dict[str, Trial]]) -> Iterator[CentrePages]:
    file, trials = shop
    made = build_centre(load(file), clock=trials["hall-1"].clock)
    yield made
    made.close()


@pytest.fixture
def client(pages: CentrePages) -> PageClient:
    return client_of(pages)


def plant(client: Any, seen: str | None = None) -> dict[str, Any]:
    """Return what a refresh sends, once every edge was read: on a busy machine not all are at the first answer."""
    for _ in range(20):
        sent = ask(client, "centre.children", centre_tick=1, centre_seen=seen)
        if "being read" not in json.dumps(sent):
            break
    return sent


def test_the_plant_shows_the_presses_of_all_edges_each_by_its_edge(client: PageClient) -> None:
    assert '"All edges"' in json.dumps(ask(client, "page.children", url="/"))
    nav = json.dumps(client.get("/_dash-layout").get_json())
    assert '"All edges"' in nav
    assert '"Plant"' not in nav, "one name, there and on the pages of an edge"
    sent = plant(client)
    said = words(sent["centre"]["children"])
    assert said.count("P25") == 2
    assert {"P40", "hall 3/7", "2 presses"} <= set(said)
    shown = json.dumps(sent)
    assert "/at/hall-1/press/P25" in shown
    assert "/at/Halle%20S%C3%BCd%202/press/hall%203%2F7" in shown
    assert "/at/Halle%20S%C3%BCd%202/parts/P25" in shown
    assert set(plant(client, sent["centre-seen"]["data"])) == {"beat"}


@pytest.mark.parametrize("below", ["/at/hall-1", "/at/Halle%20S%C3%BCd%202"])
def test_the_pages_of_an_edge_lead_to_its_own_pages_and_no_others(client: PageClient, below: str) -> None:
    within = Within(client, below)
    first = within.get("/press/P25")
    assert first.status_code == 200
    assert f'data-at="{below}"' in first.get_data(as_text=True)
    assert f"{below}/_dash-component-suites/" in first.get_data(as_text=True)
    page = ask(within, "page.children", url=f"{below}/press/P25")  # type: ignore[arg-type]
    assert '"data": "P25"' in json.dumps(page)
    title = f"P25 · At the press · {unquote(below[4:])} · shotlog"
    assert page["page"]["children"]["props"]["data-title"] == title
    sent = Tab(within, "P25").refresh()  # type: ignore[arg-type]
    assert "flash" in json.dumps(sent["standing"]).lower()
    frame = json.dumps(within.get("/_dash-layout").get_json())
    assert f'"href": "{below}/parts"' in frame
    assert '"href": "/parts"' not in frame
    presses = json.dumps(ask(within, "presses.children", presses_tick=1))  # type: ignore[arg-type]
    assert f'"href": "{below}/press/P25"' in presses
    for path in ("/shift", "/inserts", "/parts", "/plan", "/presses", "/help", "/part/P25/3", "/assets/plant.css"):
        answer = within.get(path)
        assert answer.status_code == 200, path
        answer.close()
    assert within.get("/nowhere").status_code == 404
    assert "up to date" in json.dumps(ask(within, "as-of.children", as_of_tick=1))  # type: ignore[arg-type]


def test_every_page_of_an_edge_fills_itself(client: PageClient) -> None:
    within: Any = Within(client, "/at/hall-1")
    assert "cap-r2" in json.dumps(ask(within, "story-made.children", story_serial="B-11"))
    assert "part" in json.dumps(ask(within, "parts-held.children", parts_tick=1))
    assert ask(within, "shift-lead.children", shift_url="")
    assert within.get("/shift/lives.csv").status_code == 200


def test_an_edge_that_is_not_there_is_no_address(client: PageClient) -> None:
    for path in ("/at/nowhere/press/P25", "/at/nowhere", "/at/", "/at/%ff/press"):
        assert client.get(path).status_code == 404, path


def test_what_comes_to_the_centre_is_shown_and_reads_one_edge_alone(
    shop: tuple[Path, dict[str, Trial]], client: PageClient
) -> None:
    file, trials = shop
    seen = plant(client)["centre-seen"]["data"]
    trials["hall-1"].shots(2, "P40")
    ship(trials["hall-1"], load(file).store, "hall-1")
    trials["hall-1"].clock.advance(2)
    sent = plant(client, seen)
    assert "2 shot" in json.dumps(ask(Within(client, "/at/hall-1"), "presses.children", presses_tick=1)) or sent  # type: ignore[arg-type]
    assert set(sent) > {"beat"}


def test_health_names_the_edges(client: PageClient) -> None:
    told = client.get("/healthz").get_json()
    assert told["ok"]
    assert set(told["edges"]) == {"hall-1", ODD}


def test_one_log_in_opens_the_centre_and_every_edge_and_no_page_of_one_without(
    shop: tuple[Path, dict[str, Trial]], tmp_path: Path
) -> None:
    plain, trials = shop
    file = tmp_path / "plant.toml"
    file.write_text(plain.read_text(encoding="utf-8") + "[dashboard]\nlogin = true\n", encoding="utf-8")
    settings = load(file)
    accounts = Accounts(settings.accounts, trials["hall-1"].clock)
    accounts.add("ann", "AN", "admin", "long enough 0", "")
    accounts.add("kim", "KB", "viewer", "long enough 1", "ann")
    pages = build_centre(settings, clock=trials["hall-1"].clock)
    client = client_of(pages)
    for path in ("/", "/at/hall-1/", "/at/hall-1/press/P25", "/at/Halle%20S%C3%BCd%202/parts"):
        answer = client.get(path)
        assert answer.status_code == 302, path
        assert answer.headers["Location"].startswith("/log-in?next=/"), path
    assert "next=/at/hall-1/press/P25" in client.get("/at/hall-1/press/P25").headers["Location"]
    for path in ("/_dash-layout", "/_dash-dependencies"):
        assert client.get(f"/at/hall-1{path}").status_code == 401, path
    assert client.post("/at/hall-1/_dash-update-component", json={}).status_code == 401
    page = client.get("/log-in?next=/at/hall-1/press/P25")
    assert page.status_code == 200
    form = {"name": "kim", "password": "long enough 1", "next": "/at/hall-1/press/P25"}
    answer = client.post("/log-in", data=form)
    assert answer.headers["Location"] == "/at/hall-1/press/P25"
    within: Any = Within(client, "/at/hall-1")
    assert within.get("/press/P25").status_code == 200
    assert "kim" in json.dumps(within.get("/_dash-layout").get_json())
    assert Tab(within, "P25").refresh()["standing"]
    assert plant(client)["centre"]
    assert ask(within, "as-of.children", as_of_tick=1)
    assert client.get("/at/Halle%20S%C3%BCd%202/parts").status_code == 200
    refused = client.post("/at/hall-1/pictures/", data=b"x", headers={"Content-Type": "image/png"})
    assert refused.status_code == 403
    assert client.post("/log-out").status_code == 303
    assert within.get("/press/P25").status_code == 302
    assert within.get("/_dash-layout").status_code == 401
    pages.close()


@pytest.mark.parametrize("below", ["", "/at/hall-1"])
def test_the_walls_stand_around_the_pages_of_every_edge(client: PageClient, below: str) -> None:
    assert client.get(f"{below}/press/P25", headers={"Host": "evil.test"}).status_code == 421
    foreign = {"Sec-Fetch-Site": "cross-site"}
    assert client.get(f"{below}/_dash-layout", headers=foreign).status_code == 403
    client.bare = True
    assert client.post(f"{below}/_dash-update-component", json={"output": "x"}).status_code == 403
    client.bare = False
    assert client.post(f"{below}/_dash-update-component", json={"output": "x"}).status_code == 400
    answer = client.get(f"{below}/help")
    assert "default-src 'none'" in answer.headers["Content-Security-Policy"]
    assert answer.headers["X-Frame-Options"] == "DENY"


def test_a_server_that_is_away_is_said_and_what_was_known_stays(
    shop: tuple[Path, dict[str, Trial]], monkeypatch: pytest.MonkeyPatch
) -> None:
    file, trials = shop
    pages = build_centre(load(file), clock=trials["hall-1"].clock)
    client = client_of(pages)
    plant(client)
    other = Within(client, "/at/Halle%20S%C3%BCd%202")
    assert other.get("/press/P25").status_code == 200  # its pages are made then

    def away(_: object) -> NoReturn:
        raise StoreUnreachable("centre: no connection")

    monkeypatch.setattr("dashboard.centre.edges.Edges.now", away)
    said = words(plant(client)["centre"]["children"])
    assert any(one.startswith("The server of the plant cannot be reached; this is how it was at ") for one in said)
    assert not any("no connection" in one for one in said)
    assert said.count("P25") == 2
    assert "0 of 4" in said
    assert "cannot be reached" in json.dumps(ask(other, "as-of.children", as_of_tick=1))  # type: ignore[arg-type]
    assert not any(one.startswith("Last shot") for one in said)
    assert client.get("/healthz").status_code == 503
    assert client.get("/at/hall-1/press/P25").status_code == 404
    pages.close()


def test_the_presses_of_an_edge_are_those_of_its_newest_configuration(server: Server, tmp_path: Path) -> None:
    made = server.make()
    url = made.render_as_string(hide_password=False)
    trial = edge(tmp_path / "1", url, "hall-1", ["P25", "old 1"])
    trial.shots(3, "old 1")
    (tmp_path / "plant.toml").write_text(f'[log]\nstore = "{url}"\n', encoding="utf-8")
    pages = build_centre(load(tmp_path / "plant.toml"), clock=trial.clock)
    client = client_of(pages)
    assert "old 1" in words(plant(client)["centre"]["children"])
    trial.log.append([Start(trial.clock.now(), "1", "b", plant_config(["P25", "new 1"]), "e", "{}", "pc", "2")])
    ship(trial, url, "hall-1")
    trial.clock.advance(2)
    said = words(plant(client)["centre"]["children"])
    assert "new 1" in said
    assert "hall-1, old 1" in said
    within: Any = Within(client, "/at/hall-1")
    assert "does not name it any more" in json.dumps(ask(within, "page.children", url="/at/hall-1/press/old%201"))
    assert Tab(within, "new 1").refresh()["standing"]
    pages.close()
    trial.close()
    server.drop(made)


@pytest.mark.browser
def test_in_a_browser_every_way_leads_within_the_edge_and_back(
    shop: tuple[Path, dict[str, Trial]], browser: Chromium, serve: Callable[..., Served]
) -> None:
    file, trials = shop
    pages = build_centre(load(file), clock=trials["hall-1"].clock)
    opened = Viewers(browser, serve(SimpleNamespace(server=pages.server)).url)
    page = opened.open("/")
    page.locator(".tile", has_text="hall 3/7").locator("a.to-press").click()
    expect(page.locator("#standing h1")).to_be_visible()
    below = f"{opened.home}/at/Halle%20S%C3%BCd%202"
    assert page.url == f"{below}/press/hall%203%2F7"
    expect(page.locator("#as-of")).to_contain_text(f"{ODD}, up to date")
    page.get_by_role("link", name="Parts and baths").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Parts and baths")
    expect(page.locator("#parts-held")).to_contain_text("P25, shot 6")
    page.get_by_role("link", name="P25, shot 6").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("P25")
    assert page.url == f"{below}/part/P25/6"
    page.get_by_role("link", name="All edges").click()
    expect(page.locator(".tile").first).to_be_visible()
    assert page.url == f"{opened.home}/"
    opened.close()
    pages.close()
    assert opened.wrong == []
