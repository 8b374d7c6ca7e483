"""The page of a plant: which press comes first, what it leads to, what a refresh sends, and when it is first itself."""

import json
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from asked_for import Tab, ask, words
from flask.testing import FlaskClient
from hand_filled import CONFIG, Trial
from plotly.utils import PlotlyJSONEncoder
from thirty import NAMES, plant_config, thirty

from dashboard import Source, build
from dashboard.plant.reader import PlantReader
from dashboard.plant.show import ordered, plant
from dashboard.shared.address import address_of
from dashboard.shared.heard import Heard
from dashboard.shared.held import HeldReader
from dashboard.shared.page import Context
from dashboard.shared.press_reader import PressReader
from shotlog.answers.whereof import NOWHERE, Whereof, whereof
from shotlog.parts.part import Part
from shotlog.records import Shot
from shotlog.store.parts.dispositions import enter_decision
from shotlog.store.parts.places import put_at, where_is


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Trial]:
    made = Trial(tmp_path_factory.mktemp("plant"), plant_config(NAMES))
    thirty(made)
    yield made
    made.close()


@pytest.fixture(scope="module")
def pages(shop: Trial) -> Iterator[FlaskClient]:
    source = Source(shop.settings, shop.clock)
    yield build(source).server.test_client()
    source.close()


def shown(client: FlaskClient, seen: str | None = None) -> dict[str, object]:
    return ask(client, "plant.children", plant_tick=1, plant_seen=seen)


def said_on(client: FlaskClient) -> list[str]:
    return words(shown(client)["plant"]["children"])  # type: ignore[index]


def hrefs(sent: object) -> list[str]:
    if isinstance(sent, dict):
        own = [sent["href"]] if isinstance(sent.get("href"), str) else []
        return own + [one for part in sent.values() for one in hrefs(part)]
    return [one for part in sent for one in hrefs(part)] if isinstance(sent, list) else []


def context(trial: Trial) -> Context:
    source = Source(trial.settings, trial.clock)
    return Context(source, PressReader(source), HeldReader(source))


def test_those_that_need_a_person_come_first_and_every_press_is_there(pages: FlaskClient) -> None:
    sent = json.dumps(shown(pages), ensure_ascii=False)
    first = ["P04", "long-named press 30", "P11", "P13", "P19", "hall 3/7", "P07", "P02", "P26", "P17", "P09", "P10"]
    places = [sent.index(f'"{name}"') for name in first]
    assert places == sorted(places)
    assert all(sent.index(f'"{name}"') > places[-1] for name in NAMES if name not in first)


def test_the_totals_count_every_press_and_say_where_held_parts_are(pages: FlaskClient) -> None:
    said = " ".join(" ".join(said_on(pages)).split())
    assert "26 of 30 run 2 to swap 5 to watch" in said
    assert "2 not heard" in said
    assert "parts held on 8 presses" in said
    assert "13 in box 3" in said
    assert "4 parts overdue" in said


def test_what_was_called_stays_first_and_counted_while_no_press_is_heard(shop: Trial) -> None:
    now = PlantReader(context(shop)).look(shop.clock.now() + timedelta(minutes=10))
    assert all(one.facts.away and not one.runs for one in now.presses)
    first = ordered(now.presses)[0]
    assert (first.press, first.headline) == ("P04", "Swap CAP-104, moving half")
    assert first.why.startswith("Logger not running since ")
    assert sum("swap" in one.needs for one in now.presses) == 2


def test_the_presses_of_an_edge_that_is_not_heard_are_one_tile_but_those_that_need_a_person(shop: Trial) -> None:
    """Each leads to its own page all the same, and the tile says since when, and how many they are."""
    clock = shop.clock
    heard = Heard("hall 2", lambda: (clock.now() - timedelta(hours=2), 7200.0), clock)
    source = Source(shop.settings, clock, heard=heard)
    now = PlantReader(Context(source, PressReader(source), HeldReader(source)), "hall 2").look(clock.now())
    source.close()
    quiet = [one for one in now.presses if one.needs == ("away",)]
    assert 15 < len(quiet) < 30
    tiles = [one for one in sent(plant(now.presses)) if one.get("className", "").startswith("tile away")]
    (lost,) = [one for one in tiles if "unheard" in one["className"]]
    assert len(tiles) == 1 + 30 - len(quiet)
    said = " ".join(words({"props": lost}))
    assert said.startswith("hall 2   not heard since ")
    assert f"{len(quiet)} presses, none of which needed a person then" in said
    assert sorted(way for way in hrefs(lost) if "/press/" in way) == sorted(
        address_of("/at/hall%202/press", one.press) for one in quiet
    )
    assert "/at/hall%202/parts" in hrefs(sent(plant(now.presses)))
    alone = sent(plant(now.presses[:1]))
    assert not [one for one in alone if "unheard" in one.get("className", "")]


def sent(parts: object) -> list[dict[str, Any]]:
    """Return the properties of every component in some, as they are sent."""
    plain = json.loads(json.dumps(parts, cls=PlotlyJSONEncoder))
    found: list[dict[str, Any]] = []

    def walk(one: object) -> None:
        for each in one if isinstance(one, list) else [one]:
            if isinstance(each, dict):
                found.append(each["props"])
                walk(each["props"].get("children"))

    walk(plain)
    return found


def test_links_say_odd_names_so_that_the_pages_behind_them_open(pages: FlaskClient) -> None:
    ways = hrefs(shown(pages))
    for press, address in (("M\u00fchle 2", "/press/M%C3%BChle%202"), ("hall 3/7", "/press/hall%203%2F7")):
        assert address in ways
        layout = ask(pages, "page.children", url=address)
        assert f'"data": "{press}"' in json.dumps(layout, ensure_ascii=False)
        assert pages.get(address).status_code == 200
    assert "/parts/hall%203%2F7" in ways
    assert "hall 3/7" in json.dumps(ask(pages, "page.children", url="/parts/hall%203%2F7"))


def test_an_idle_refresh_sends_nothing_and_asks_the_log_no_more_for_many_presses(
    shop: Trial, pages: FlaskClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = shown(pages)
    seen = first["plant-seen"]["data"]  # type: ignore[index]
    asked = []
    reading = type(shop.log).reading

    def counted(log: object) -> object:
        asked.append(1)
        return reading(log)  # type: ignore[arg-type]

    monkeypatch.setattr("shotlog.store.log.log.Log.reading", counted)
    assert set(shown(pages, seen)) == {"beat"}
    assert len(asked) <= 6


def test_many_presses_begin_with_the_plant_and_few_with_the_press(pages: FlaskClient, tmp_path: Path) -> None:
    assert '"Plant"' in json.dumps(ask(pages, "page.children", url="/"))
    assert "/plant" in hrefs(pages.get("/_dash-layout").get_json())
    for names, listed in ((["P25"], False), (["P25", "P15", "P40", "P60"], True)):
        (tmp_path / names[-1]).mkdir()
        trial = Trial(tmp_path / names[-1], plant_config(names))
        source = Source(trial.settings, trial.clock)
        client = build(source).server.test_client()
        assert '"data": "P25"' in json.dumps(ask(client, "page.children", url="/"))
        assert ("/plant" in hrefs(client.get("/_dash-layout").get_json())) is listed
        source.close()
        trial.close()


def test_at_one_of_many_presses_the_loudest_others_stand_on_top(pages: FlaskClient) -> None:
    top = words(Tab(pages, "P01").refresh()["switch"]["children"])
    assert "P01" in top
    assert {"P04", "long-named press 30"} <= set(top)
    assert "P03" not in top


@pytest.mark.file
def test_without_a_log_every_press_waits(tmp_path: Path) -> None:
    trial = Trial(tmp_path, plant_config(NAMES))
    source = Source(trial.settings, trial.clock)
    sent = said_on(build(source).server.test_client())
    assert "Nothing is logged" in sent
    assert "0 of 30" in sent
    source.close()
    trial.close()


def test_a_press_that_is_configured_no_more_is_named_and_its_address_still_opens(tmp_path: Path) -> None:
    trial = Trial(tmp_path, CONFIG)
    trial.log.append([Shot("old 1", n, n, trial.clock.now(), {"cushion": 4.9}) for n in range(1, 8)])
    enter_decision(trial.log, [Part("old 1", 3)], "held", trial.clock.now(), reason="flash", initials="KB")
    source = Source(trial.settings, trial.clock)
    client = build(source).server.test_client()
    assert "old 1, 1 part held" in said_on(client)
    assert "/press/old%201" in hrefs(shown(client))
    page = json.dumps(ask(client, "page.children", url="/press/old%201"))
    assert "does not name it any more" in page
    assert "Last shot 7" in page
    assert "/shift?press=old+1" in page
    assert "No such press" in json.dumps(ask(client, "page.children", url="/press/never"))
    source.close()
    trial.close()


def test_where_held_parts_are_follows_what_people_enter(trial: Trial) -> None:
    trial.mount("B-11")
    trial.shots(8)
    now = trial.clock.now()
    enter_decision(trial.log, [Part("P25", 2), Part("P25", 3)], "held", now, reason="flash", initials="KB")
    reader = HeldReader(Source(trial.settings, trial.clock))
    held = reader.every()["P25"]
    assert whereof("P25", held.parts, where_is(trial.log), now) == Whereof({NOWHERE: 2}, 0, 0)
    put_at(trial.log, [Part("P25", 2)], "box 3", now, initials="KB")
    assert whereof("P25", held.parts, where_is(trial.log), now) == Whereof({"box 3": 1, NOWHERE: 1}, 0, 0)
    trial.note("finding", "flash at the gate", at_shot=8)
    reader.entered()
    assert whereof("P25", reader.every()["P25"].parts, where_is(trial.log), now).loose == 1


def test_what_is_shown_follows_a_decision_at_once(trial: Trial) -> None:
    trial.mount("B-11")
    trial.shots(8)
    now = trial.clock.now()
    trial.note("finding", "flash at the gate", at_shot=8)
    reader = PlantReader(context(trial))
    before = next(one for one in reader.look(now).presses if one.press == "P25")
    assert before.needs == ("held", "watch", "asked")
    assert (before.facts.held, before.facts.loose) == (1, 1)
    put_at(trial.log, [Part("P25", 8)], "box 3", now, initials="KB")
    assert next(one for one in reader.look(now).presses if one.press == "P25").needs == ("watch", "asked")
    enter_decision(trial.log, [Part("P25", 8)], "scrapped", now, reason="flash", initials="KB")
    after = next(one for one in reader.look(now).presses if one.press == "P25")
    assert (after.facts.held, after.facts.verdict) == (0, "watch")
