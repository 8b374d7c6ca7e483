"""The application without a browser: what is served, and what a refresh sends."""

import json
import re
from pathlib import Path

import pytest
from asked_for import Tab, ask, words
from dash import Dash
from flask.testing import FlaskClient
from hand_filled import BALANCE, CONFIG, Trial
from sqlalchemy import insert

from dashboard import Source, build
from dashboard.app import SAFETY
from dashboard.pages import PAGES
from shotlog.clock import iso_utc
from shotlog.records import Weighing
from shotlog.store.log import schema


@pytest.fixture
def client(app: Dash) -> FlaskClient:
    return app.server.test_client()


def test_the_first_refresh_sends_everything_and_an_idle_one_nothing(trial: Trial, client: FlaskClient) -> None:
    trial.mount("B-11")
    trial.shots(5)
    tab = Tab(client)
    assert set(tab.refresh()) == {
        "standing", "strips", "strips-words", "chart-rate", "mounted", "recent", "health", "switch", "seen", "beat",
    }  # fmt: skip
    assert set(tab.refresh()) == {"beat"}
    trial.clock.advance(20)
    trial.alive()
    assert set(tab.refresh()) == {"beat"}


def test_data_going_stale_send_words_and_no_figure(trial: Trial, client: FlaskClient) -> None:
    trial.mount("B-11")
    trial.shots(5)
    tab = Tab(client)
    tab.refresh()
    trial.clock.advance(600)
    trial.alive()
    sent = tab.refresh()
    assert "Last shot 10 min ago" in json.dumps(sent["standing"])
    assert "strips" not in sent


def test_a_new_shot_sends_the_figure(trial: Trial, client: FlaskClient) -> None:
    trial.mount("B-11")
    trial.shots(5)
    tab = Tab(client)
    tab.refresh()
    trial.shots(1)
    figure = tab.refresh()["strips"]["figure"]
    assert 6 in figure["data"][0]["x"]


def test_another_mode_sends_the_figure_in_other_inks(trial: Trial, client: FlaskClient) -> None:
    trial.mount("B-11")
    trial.shots(5)
    tab = Tab(client)
    day = tab.refresh()["strips"]["figure"]
    dark = tab.refresh("dark")["strips"]["figure"]
    assert day["layout"]["paper_bgcolor"] != dark["layout"]["paper_bgcolor"]


def test_a_log_that_is_no_log_is_said_and_not_an_error(trial: Trial, client: FlaskClient) -> None:
    (trial.file.parent / "trial.db").write_bytes(b"something else entirely, and long enough to be looked at" * 40)
    said = json.dumps(Tab(client).refresh()["standing"])
    assert "The log is damaged" in said
    assert "not-current" in said


READ = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "modbus-tcp"
  host = "127.0.0.1"
  port = 1
  unit = 1
  shot_counter = { address = 0, type = "uint16" }
    [press.collector.channels]
    cushion = { address = 2, type = "uint16", scale = 0.01, unit = "mm" }
    fill_time = { address = 4, type = "float32", unit = "s" }
"""


def presses_page(trial: Trial) -> str:
    """Return what the page of the presses is sent at its first refresh."""
    source = Source(trial.settings, trial.clock)
    client = build(source).server.test_client()
    dependencies = client.get("/_dash-dependencies").get_json()
    output = next(d["output"] for d in dependencies if "presses.children" in d["output"])
    names = [name.rsplit(".", 1) for name in output.strip(".").split("...")]
    answer = client.post(
        "/_dash-update-component",
        json={
            "output": output,
            "outputs": [{"id": name, "property": prop.partition("@")[0]} for name, prop in names],
            "inputs": [{"id": "presses-tick", "property": "n_intervals", "value": 1}],
            "changedPropIds": ["presses-tick.n_intervals"],
            "state": [{"id": "presses-seen", "property": "data", "value": None}],
        },
    )
    source.close()
    return json.dumps(answer.get_json()["response"]["presses"])


def test_a_value_stands_beside_where_it_is_read_from(tmp_path: Path) -> None:
    trial = Trial(tmp_path, READ)
    trial.shots(1, values={"cushion": 4.9})
    sent = presses_page(trial)
    for text in ("register 2, uint16, x 0.01", "4.90", "register 4, float32", "no value", "reads 1"):
        assert f'"{text}"' in sent
    trial.close()


def test_a_field_of_an_event_stands_beside_its_value(tmp_path: Path) -> None:
    events = (
        READ[: READ.index("  kind")]
        + """  kind = "opcua-40077"
  url = "opc.tcp://127.0.0.1:1"
  shot_counter = { name = "JobCycleCounter" }
    [press.collector.channels]
    cushion = { name = "CushionVolume", unit = "cm3" }
"""
    )
    trial = Trial(tmp_path, events)
    trial.shots(1, values={"cushion": 4.9})
    sent = presses_page(trial)
    assert '"CushionVolume"' in sent
    assert '"4.90"' in sent
    trial.close()


def test_backups_that_nobody_makes_are_told_among_the_presses(tmp_path: Path) -> None:
    trial = Trial(tmp_path, READ.replace("[[press]]", 'backup = "share"\n[[press]]'))
    trial.shots(1)
    assert "NO BACKUP yet, and one is wanted every 24 h: shotlog backup CONFIG makes one now" in presses_page(trial)
    trial.close()


def test_a_balance_stands_among_the_balances_and_is_no_press(tmp_path: Path) -> None:
    trial = Trial(tmp_path, CONFIG + BALANCE)
    trial.shots(1)
    trial.link("lost", "no answer", press="balance")
    trial.log.append([Weighing("P25", "balance", 4.123, trial.clock.now(), 60.0, b"4.123 g")])
    sent = presses_page(trial)
    assert "4.123 g at" in sent
    assert "/press/balance" not in sent
    source = Source(trial.settings, trial.clock)
    switch = json.dumps(Tab(build(source).server.test_client()).refresh()["switch"])
    assert "P15" in switch
    assert "balance" not in switch
    source.close()
    trial.close()


def test_a_configuration_without_a_press_says_so(tmp_path: Path) -> None:
    trial = Trial(tmp_path, '[log]\nstore = "sqlite:///trial.db"\n' + BALANCE)
    source = Source(trial.settings, trial.clock)
    client = build(source).server.test_client()
    answer = client.post(
        "/_dash-update-component",
        json={
            "output": "page.children",
            "outputs": {"id": "page", "property": "children"},
            "inputs": [{"id": "url", "property": "pathname", "value": "/"}],
            "changedPropIds": ["url.pathname"],
            "state": [],
        },
    )
    assert "names balances and no press" in json.dumps(answer.get_json())
    source.close()
    trial.close()


@pytest.mark.parametrize("asked_for", [False, True])
def test_no_protocol_for_programs_is_served(source: Source, monkeypatch: pytest.MonkeyPatch, asked_for: bool) -> None:
    """The library can offer its callbacks to programs; nothing in the environment may turn that on."""
    if asked_for:
        monkeypatch.setenv("DASH_MCP_ENABLED", "true")
    client = build(source).server.test_client()
    assert client.get("/_mcp").status_code == 404
    assert client.post("/_mcp", json={}).status_code in (404, 405)


def test_an_address_without_a_page_is_not_found(client: FlaskClient) -> None:
    assert client.get("/nowhere").status_code == 404
    for page in PAGES:
        assert client.get(page.path).status_code == 200


TITLES = {
    "/": "P25 · At the press · shotlog",
    "/press/hall%203%2F7": "hall 3/7 · At the press · shotlog",
    "/parts": "Parts and baths · shotlog",
    "/inserts/B-11": "B-11 · Inserts · shotlog",
    "/nowhere": "No such page · shotlog",
}


def test_the_tab_of_a_browser_says_which_page_it_is(client: FlaskClient) -> None:
    for address, title in TITLES.items():
        assert ask(client, "page.children", url=address)["page"]["children"]["props"]["data-title"] == title


@pytest.mark.parametrize("page", ["/press/P25", "/plant", "/presses", "/shift", "/parts", "/inserts/A-07"])
def test_a_page_that_is_not_filled_yet_says_so(client: FlaskClient, page: str) -> None:
    assert "Waiting for the log." in " ".join(words(ask(client, "page.children", url=page)["page"]["children"]))


def test_every_asset_comes_from_this_machine(client: FlaskClient) -> None:
    page = client.get("/").get_data(as_text=True)
    for asked in re.findall(r'(?:src|href)="([^"]*)"', page):
        assert not asked.startswith(("http:", "https:", "//"))
    assert "default-src 'none'" in client.get("/").headers["Content-Security-Policy"]


def test_developer_tools_are_off(client: FlaskClient) -> None:
    page = client.get("/").get_data(as_text=True)
    (text,) = re.findall(r'id="_dash-config"[^>]*>([^<]*)<', page)
    config = json.loads(text)
    assert not config.get("ui")
    assert not config.get("hot_reload")


def test_answers_are_compressed(client: FlaskClient) -> None:
    answer = client.get("/_dash-dependencies", headers={"Accept-Encoding": "gzip"})
    assert answer.headers.get("Content-Encoding") == "gzip"


def test_the_caution_is_on_the_frame_of_every_page(app: Dash) -> None:
    assert SAFETY in json.dumps(app.layout().to_plotly_json(), default=lambda part: part.to_plotly_json())
    assert "Not a safety device" in SAFETY


def test_every_page_has_its_own_address_and_a_label() -> None:
    assert len({page.path for page in PAGES}) == len(PAGES)
    assert all(page.label and page.path.startswith("/") for page in PAGES)


def test_pages_stay_short_however_much_a_press_sent(tmp_path: Path) -> None:
    """Faults of an earlier release hold all that came: eight of 11 MB were sent again at every refresh."""
    trial = Trial(tmp_path, READ)
    trial.shots(1, values={"cushion": 4.9})
    time = iso_utc(trial.clock.now())
    with trial.log.transaction() as work:
        press_id = work.press_id("P25", time)
        row = {"press_id": press_id, "kind": "bad answer", "detail": "no answer in them", "time": time}
        for n in range(8):
            work.connection.execute(insert(schema.faults).values(raw=bytes([n]) * 11_534_336, **row))
        work.connection.execute(
            insert(schema.links).values(press_id=press_id, state="lost", detail="reset by peer " * 5000, time=time)
        )
    source = Source(trial.settings, trial.clock)
    assert len(presses_page(trial)) < 30_000
    assert len(json.dumps(Tab(build(source).server.test_client()).refresh()["health"])) < 5_000
    assert "11,534,336 bytes came" in presses_page(trial)
    source.close()
    trial.close()
