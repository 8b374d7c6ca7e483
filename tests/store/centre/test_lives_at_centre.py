"""How inserts lived at one edge comes to the presses of another by way of the centre, once, and goes with its chain."""

import shutil
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import NoReturn

import pytest

from shotlog.entries import LIFE
from shotlog.errors import CentreAway
from shotlog.life_text import LifeTold, life_told
from shotlog.records import Shot
from shotlog.store.centre.centre import Centre, open_centre
from shotlog.store.centre.lives import EVERY_S, LivesElsewhere
from shotlog.store.centre.shipping import Shipping
from shotlog.store.inserts.entries import mount
from shotlog.store.inserts.lives_told import LivesTold
from shotlog.store.log.log import Log, open_log
from shotlog.store.undo import take_back

NOW = datetime(2026, 3, 2, 6, 0, tzinfo=UTC)
ROUND = timedelta(seconds=EVERY_S)


@pytest.fixture
def centre(centre_url: str) -> Iterator[Centre]:
    with open_centre(centre_url, "1.0") as opened:
        yield opened


def edge(folder: Path, name: str, design: str = "cap") -> Log:
    log = open_log(f"sqlite:///{folder}/{name}.db", read_only=False)
    mount(log, f"P-{name}", f"A-{name}", NOW, design=design)
    log.append([Shot(f"P-{name}", 1, 1, NOW, {"cushion": 5.0})])
    return log


def ship(log: Log, centre: Centre, name: str, anew: bool = False) -> Shipping:
    shipping = Shipping(log, centre, name, "pc", "1.0")
    shipping.agree(anew)
    list(shipping.ship())
    return shipping


def heard(log: Log) -> list[LifeTold | None]:
    (press,) = log.presses()
    return [life_told(one.text) for one in log.timeline(press).events if one.kind == LIFE]


def test_a_life_is_told_though_the_centre_went_away_while_it_was_read(
    centre: Centre, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with edge(tmp_path, "one") as one, edge(tmp_path, "two") as two:
        LivesTold().tell(one, NOW, {"P-one": [LifeTold("Z", "cap", 90, 80, True)]})
        ship(one, centre, "one")
        at_two, told = ship(two, centre, "two"), LivesElsewhere()

        def away(*_: object) -> NoReturn:
            raise CentreAway("away in the middle")

        with monkeypatch.context() as broken:
            broken.setattr(LivesElsewhere, "_taken_back", away)
            with pytest.raises(CentreAway):
                told.turn(at_two, NOW)
        assert told.turn(at_two, NOW + ROUND) == 1
        assert [one.serial for one in heard(two) if one is not None] == ["Z"]


def test_a_life_at_one_edge_is_told_at_another_of_the_design(centre: Centre, tmp_path: Path) -> None:
    with edge(tmp_path, "one") as one, edge(tmp_path, "two") as two, edge(tmp_path, "three", "lid") as three:
        own, told = LivesTold(), {"two": LivesElsewhere(), "three": LivesElsewhere()}
        own.tell(one, NOW, {"P-one": [LifeTold("Z", "cap", 90, 80, True, course=(0.25, 0.75))]})
        ship(one, centre, "one")
        at_two = ship(two, centre, "two")
        assert told["two"].turn(at_two, NOW) == 1
        assert heard(two) == [LifeTold("Z", "cap", 90, 80, True, press="P-one", site="one", course=(0.25, 0.75))]
        assert told["three"].turn(ship(three, centre, "three"), NOW) == 0
        assert told["two"].turn(at_two, NOW + ROUND) == 0
        assert LivesElsewhere().turn(ship(two, centre, "two"), NOW) == 0  # another process, or the next start
        # it is known better, and then taken back
        own.tell(one, NOW, {"P-one": [LifeTold("Z", "cap", 90, 90)]})
        ship(one, centre, "one")
        assert told["two"].turn(at_two, NOW + 2 * ROUND) == 1
        take_back(one, "events", own.own["P-one", "", "Z"][0], NOW, "no life")
        ship(one, centre, "one")
        assert told["two"].turn(at_two, NOW + 3 * ROUND) == 1
        assert heard(two)[1:] == [
            LifeTold("Z", "cap", 90, 90, press="P-one", site="one"),
            LifeTold("Z", "cap", 0, 0, press="P-one", site="one"),
        ]
        # what came is of the edge's chain, and goes with it
        ship(two, centre, "two")
        with centre.log("two") as there:
            assert there.verify() == two.verify()
            assert heard(there) == heard(two)
        # the edge where it was is told nothing of its own
        assert LivesElsewhere().turn(ship(one, centre, "one"), NOW) == 0


def test_a_log_put_back_from_a_backup_is_not_told_of_its_own_lives(centre: Centre, tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path}/one.db"
    with edge(tmp_path, "one") as log:
        LivesTold().tell(log, NOW, {"P-one": [LifeTold("Z", "cap", 90, 80, True)]})
    shutil.copy(tmp_path / "one.db", tmp_path / "backup.db")
    with open_log(url, read_only=False) as log:
        log.append([Shot("P-one", 2, 2, NOW, {"cushion": 5.0})])
        ship(log, centre, "one")
    shutil.copy(tmp_path / "backup.db", tmp_path / "one.db")
    with open_log(url, read_only=False) as log:
        with log.transaction() as work:
            work.name("restored", follows="the one before", digest="")
        assert LivesElsewhere().turn(ship(log, centre, "one", anew=True), NOW) == 0
    assert len(centre.edges()) == 2
