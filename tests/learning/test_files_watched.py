"""Learning a press that writes its shots into files: what is asked for, what is proposed, and that it ends in a map."""

import random
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from shotlog.clock import HandClock
from shotlog.collectors import options
from shotlog.errors import UsageError
from shotlog.learning.by_files import learn_files, worth_asking
from shotlog.learning.config_text import with_map
from shotlog.learning.learnt import Wishes
from shotlog.learning.screen import seen_in
from shotlog.settings import PressSettings, Section, load
from tests.collectors.folder_press import FolderPress, shared_folder

LISTED = """ActCntCyc,N,8,0,0,"","Shots made";
ActCntPrt,N,8,0,0,"","Parts";
ActTimCyc,N,8,2,0,"s","Actual cycle time";
ActStrCsh[1],N,8,2,0,"mm","Cushion";
ActPrsMachSpecMax,N,8,0,0,"bar","Highest pressure";
ActTimFill[1],N,8,3,0,"s","Injection time";
ActTmpMld[1],N,8,1,0,"C","Mould";
SetPrsHldSpec[1],N,8,0,1,"bar","Hold pressure";
SetDescMat,A,20,0,1,"","Resin";
""".replace("\n", "\r\n")


@pytest.fixture
def press() -> Iterator[FolderPress]:
    with shared_folder() as made:
        made.lists["GETID"] = LISTED
        yield made
        assert made.forbidden == []


def shooting(press: FolderPress, clock: HandClock, made: list[int]) -> Callable[[float], None]:
    """Return a wait in which the press answers, and makes a shot in between."""
    chance = random.Random(7)

    def wait(seconds: float) -> None:
        clock.advance(seconds)
        press.look(seconds)
        if press.jobs and seconds >= 0.5:
            made.append(1042 + len(made))
            values = {
                "ActCntPrt": f"{4 * made[-1]}",
                "ActTimCyc": f"{30 + chance.gauss(0, 0.1):.2f}",
                "ActStrCsh[1]": f"{5 + chance.gauss(0, 0.05):.2f}",
                "ActPrsMachSpecMax": f"{700 + chance.gauss(0, 4):.0f}",
                "ActTimFill[1]": f"{0.8 + chance.gauss(0, 0.004):.3f}",
                "ActTmpMld[1]": "60.0",
            }
            press.show(made[-1], {}, **values)

    return wait


def settings(press: FolderPress, **keys: Any) -> PressSettings:
    table = {"folder": str(press.folder), **keys}
    return PressSettings("P3", "euromap63", Section("c.toml", "press[1].collector", table))


def wishes(said: list[str], *seen: str, registers: str = "") -> Wishes:
    return Wishes(12, 600.0, registers, None, 10.0, [seen_in(one) for one in seen], said.append)


def test_what_moved_with_the_shots_is_proposed_with_the_units_of_the_press(press: FolderPress) -> None:
    clock, said, made = HandClock(), [], []
    learnt = learn_files(settings(press), wishes(said), clock, shooting(press, clock, made))
    assert learnt.map is not None
    assert learnt.map.keys == {"shot_counter": {"token": "ActCntCyc"}}
    assert learnt.map.channels == {
        "cushion": {"token": "ActStrCsh[1]"},
        "peak_pressure": {"token": "ActPrsMachSpecMax"},
        "fill_time": {"token": "ActTimFill[1]"},
        "cycle_time": {"token": "ActTimCyc"},
    }
    assert [one.partition(" = ")[0] for one in learnt.map.remarks] == ["insert_temperature"], "it never moved"
    assert press.jobs == {}, "the report was ended"
    assert not list(press.folder.glob("S01P*"))
    assert said[-1] == "shot 12 of 12"


def test_the_map_goes_into_the_configuration_and_checks(press: FolderPress, tmp_path: Path) -> None:
    text = (
        '[log]\nstore = "sqlite:///trial.db"\n\n[[press]]\nname = "P3"\n\n  [press.collector]\n  kind = "euromap63"\n'
        f"  folder = '{press.folder}'\n"
    )
    clock = HandClock()
    learnt = learn_files(settings(press), wishes([]), clock, shooting(press, clock, []))
    assert learnt.map is not None
    file = tmp_path / "trial.toml"
    file.write_text(with_map(text, "P3", learnt.map))
    collector = tomllib.loads(file.read_text())["press"][0]["collector"]
    assert collector["channels"]["fill_time"] == {"token": "ActTimFill[1]"}
    assert options(load(file).press("P3")).describe()


def test_a_report_of_somebody_else_proposes_nothing_without_a_screen(press: FolderPress) -> None:
    """Nobody says a unit there, and none is guessed."""
    clock = HandClock()
    press.jobs["SHOTS"] = ["DATE", "TIME", "ActCntCyc", "ActStrCsh[1]", "ActTimCyc"]
    press.write("SHOTS.DAT", ",".join(press.jobs["SHOTS"]))
    wait = shooting(press, clock, [])
    for _ in range(12):
        wait(1.0)
    told = settings(press, passive=True, report="SHOTS.DAT")
    learnt = learn_files(told, wishes([]), clock, wait)
    assert learnt.map is None
    assert "nothing is sure enough to be written" in learnt.notes[-1]
    assert press.asked == []


def test_figures_off_the_screen_settle_a_report_of_somebody_else_and_its_units(press: FolderPress) -> None:
    clock = HandClock()
    press.jobs["SHOTS"] = ["DATE", "TIME", "ActCntCyc", "ActStrCsh[1]", "ActTimCyc"]
    press.write("SHOTS.DAT", ",".join(press.jobs["SHOTS"]))
    wait = shooting(press, clock, [])
    for _ in range(12):
        wait(1.0)
    rows = [line.split(",") for line in (press.folder / "SHOTS.DAT").read_text().split()[1:]]
    seen = [f"shot={row[2]},cushion={row[3]} mm" for row in rows[4:9:2]]
    told = settings(press, passive=True, report="SHOTS.DAT")
    learnt = learn_files(told, wishes([], *seen), clock, wait)
    assert learnt.map is not None
    assert learnt.map.channels == {"cushion": {"token": "ActStrCsh[1]", "unit": "mm"}}


def test_the_usual_tokens_are_asked_for_first_and_what_is_set_is_not() -> None:
    from shotlog.collectors.euromap_lists import tokens_in

    assert worth_asking(tokens_in(LISTED)) == [
        "ActCntCyc", "ActStrCsh[1]", "ActPrsMachSpecMax", "ActTimFill[1]", "ActTimCyc", "ActCntPrt", "ActTmpMld[1]",
    ]  # fmt: skip
    assert worth_asking({})[0] == "ActCntCyc"


def test_registers_are_of_other_presses(press: FolderPress) -> None:
    with pytest.raises(UsageError, match="writes files"):
        learn_files(settings(press), wishes([], registers="0-9"), HandClock())
