"""Which press needs a person first is told alike by the page of the plant and by `status`, which asks the log alone."""

from collections.abc import Iterator
from dataclasses import replace

import pytest
from hand_filled import Trial
from thirty import NAMES, SHOTS, plant_config, thirty

from dashboard import Source
from dashboard.plant.reader import PlantReader
from dashboard.shared.held import HeldReader
from dashboard.shared.page import Context
from dashboard.shared.press_reader import PressReader
from shotlog.answers.needs import needs, needy_first
from shotlog.answers.press_needs import facts_of
from shotlog.records import Shot
from shotlog.review.still_held import held_with_parts
from shotlog.store.asked.heartbeat import Beat, beat, this_host
from shotlog.store.asked.logger_state import LoggerState
from shotlog.store.asked.state import press_state
from shotlog.store.parts.found import found_on
from shotlog.store.parts.places import where_is


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Trial]:
    made = Trial(tmp_path_factory.mktemp("plant"), plant_config(NAMES))
    thirty(made)
    calm = press_state(made.log, "P05").verdict
    assert calm is not None
    assert calm.facts is not None
    made.say(replace(calm, facts=replace(calm.facts, asked_shot=33)))
    made.say(replace(calm, press="P06", insert="CAP-106", facts=replace(calm.facts, asked_shot=33)))
    made.note("unchanged", "asked", "P06", at_shot=33)
    made.mount("CAP-207", press="P07", at_shot=SHOTS + 2)
    for n, press in enumerate(("P12", "P12", "P08")):
        made.clock.advance(40)
        made.log.append([Shot(press, SHOTS + 2 + n, SHOTS + 2 + n, made.clock.now(), {"cushion": 4.9})])
    made.alive()
    yield made
    made.close()


def test_page_and_command_put_the_presses_in_one_order_for_the_same_needs(shop: Trial) -> None:
    log, designs, where, now = shop.log, shop.settings.designs, where_is(shop.log), shop.clock.now()
    facts = []
    for press in NAMES:
        timeline = log.timeline(press)
        found = found_on(log, press, timeline, designs)
        _, parts = held_with_parts(log, press, designs, timeline, found)
        state = press_state(log, press, timeline=timeline)
        facts.append(facts_of(log, state, timeline, found, parts, where, LoggerState("running", now), now))
    source = Source(shop.settings, shop.clock)
    reader = PlantReader(Context(source, PressReader(source), HeldReader(source)))
    on_page = reader.look(now)
    starts = Beat(1, now, now, shop.clock.monotonic(), this_host(), 4711, gets_ready_s=100.0)
    beat(log, starts)
    prepares = {one.press: one for one in reader.look(now).presses}["P12"]
    source.close()
    assert (prepares.needs, prepares.headline, prepares.sign) == ((), "Not judged yet", "waiting")
    said = {one.facts.press: one.facts for one in on_page.presses}
    assert facts == [said[press] for press in NAMES]
    assert [one.press for one in needy_first(facts)] == [one.press for one in needy_first(said.values())]
    assert [one.press for one in needy_first(facts)][:3] == ["P04", "long-named press 30", "P11"]
    asked = {press: needs(facts[NAMES.index(press)]) for press in ("P05", "P06", "P07")}
    assert asked == {"P05": ("asked",), "P06": (), "P07": ("held",)}, "asked, answered, its insert out"
    late = {press: facts[NAMES.index(press)] for press in ("P12", "P08")}
    assert {press: needs(one) for press, one in late.items()} == {"P12": ("unjudged",), "P08": ()}, "80 s, and none"
    assert (late["P12"].unjudged, late["P12"].verdict) == (2, ""), "a verdict of before says nothing of them"
    tile = next(one for one in on_page.presses if one.press == "P12")
    assert tile.headline == "Not judged"
    assert tile.why.startswith("2 shots have waited for a verdict since ")
