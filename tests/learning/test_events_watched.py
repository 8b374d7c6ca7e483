"""Learning a press that sends its cycles as events: what is proposed, and that it ends in a map that is read."""

import random
import tomllib
from pathlib import Path

import pytest

from shotlog.clock import HandClock
from shotlog.collectors import options
from shotlog.errors import UsageError
from shotlog.learning.by_events import learn_events
from shotlog.learning.config_text import with_map
from shotlog.learning.learnt import Learnt, Wishes
from shotlog.learning.screen import seen_in
from shotlog.settings import PressSettings, Section, load
from tests.collectors.opcua_played import STANDARD, UNIT, PlayedPress, offered

SECOND = "InjectionUnitCycleParameters_2/"
CONFIG = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "opcua-40077"
  url = "opc.tcp://press:4840"  # hall 2
"""


class Shooting(PlayedPress):
    """A press that makes a cycle each time it is looked at; a second injection unit fills less."""

    def __init__(self, *, both: bool = False, last: int = 10_000) -> None:
        twice = {path.replace(UNIT, SECOND): one for path, one in STANDARD.items() if path.startswith(UNIT)}
        second = offered(*((path, one.kind, one.unit) for path, one in twice.items()))
        super().__init__(STANDARD | (second if both else {}))
        self.chance, self.both, self.last = random.Random(7), both, last
        self.shown: list[float] = []

    def turn(self):
        if self.n_made < self.last:
            cushion = round(5.0 + self.chance.gauss(0, 0.2), 2)
            self.shown.append(cushion)
            values = {
                "JobCycleCounter": 41 + self.n_made,
                "MachineCycleCounter": 1041 + self.n_made,
                "CycleTime": 30_000.0,
            }
            for unit, share in ((UNIT, 1.0), (SECOND, 0.6))[: 2 if self.both else 1]:
                own = {"CushionStroke": cushion, "SpecificPressureMaximum": 540 + self.chance.gauss(0, 4)}
                own["InjectionTime"] = 750 + self.chance.gauss(0, 4)
                values |= {f"{unit}{name}": share * value for name, value in own.items()}
            self.make(values)
        return super().turn()


def learnt(press: PlayedPress, *seen: str, **more: object) -> Learnt:
    told: list[str] = []
    wishes = Wishes(12, 60.0, "", None, 10.0, [seen_in(one) for one in seen], told.append)
    section = Section("t.toml", "press[1].collector", {"kind": "opcua-40077", "url": "opc.tcp://press:4840"} | more)
    found = learn_events(PressSettings("P25", "opcua-40077", section), wishes, HandClock(), lambda server: press)
    assert not press.is_open
    assert "sends nothing but requests to read" in told[0]
    return found


def test_what_the_standard_names_is_proposed_in_the_units_of_the_press():
    found = learnt(Shooting())
    assert found.map is not None
    assert found.map.keys == {"shot_counter": {"name": "MachineCycleCounter"}}
    assert found.map.channels == {
        "cushion": {"name": "CushionStroke"},
        "peak_pressure": {"name": "SpecificPressureMaximum"},
        "fill_time": {"name": "InjectionTime"},
    }
    assert [(row.channel, row.sure) for row in found.rows] == [
        ("shot_counter", "likely"), ("cushion", "likely"), ("peak_pressure", "likely"), ("fill_time", "likely"),
        ("cycle_time", "possible"),
    ]  # fmt: skip
    assert found.map.remarks == ['cycle_time = { name = "CycleTime" }  # only possible: compare with the screen']


def test_the_map_goes_into_the_configuration_and_is_read(tmp_path: Path):
    found = learnt(Shooting())
    assert found.map is not None
    text = with_map(CONFIG, "P25", found.map)
    assert "# hall 2" in text
    assert tomllib.loads(text)["press"][0]["collector"]["channels"]["cushion"] == {"name": "CushionStroke"}
    (tmp_path / "trial.toml").write_text(text, encoding="utf-8")
    assert options(load(tmp_path / "trial.toml").press("P25")).describe()


def test_a_figure_off_the_screen_settles_a_channel_and_the_counter():
    press = Shooting()
    cushion = 5.0 + random.Random(7).gauss(0, 0.2)
    found = learnt(press, f"shot=41,cushion={cushion:.2f}")
    sure = {row.channel: row.sure for row in found.rows}
    assert sure["shot_counter"] == sure["cushion"] == "settled"
    assert found.map is not None
    assert found.map.keys["shot_counter"] == {"name": "JobCycleCounter"}


def test_a_figure_that_is_not_there_leaves_a_channel_open_and_says_what_came():
    found = learnt(Shooting(), "shot=1041,cushion=9.99")
    assert {row.channel: row.sure for row in found.rows}["cushion"] == "possible"
    assert any(note.startswith(f"cushion: {UNIT}CushionStroke showed ") for note in found.notes)


def test_figures_tell_of_which_injection_unit_they_are():
    cushion = 0.6 * round(5.0 + random.Random(7).gauss(0, 0.2), 2)
    found = learnt(Shooting(both=True), f"shot=1041,cushion={cushion:.3f}")
    assert found.map is not None
    assert found.map.keys["injection_unit"] == 2
    assert learnt(Shooting(both=True)).map.keys["injection_unit"] == 1


def test_a_press_that_makes_nothing_is_no_map():
    found = learnt(Shooting(last=0))
    assert found.map is None
    assert found.notes == ["0 cycle events came: too few"]


def test_registers_are_of_other_presses():
    section = Section("t.toml", "press[1].collector", {"kind": "opcua-40077", "url": "opc.tcp://press:4840"})
    with pytest.raises(UsageError, match="P25 sends events"):
        learn_events(
            PressSettings("P25", "opcua-40077", section), Wishes(12, 60.0, "0-9", None, 10.0, [], print), HandClock()
        )
