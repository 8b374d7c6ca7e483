"""What was set aside at a centre is read by its name, and counts nowhere else: a press is there once."""

import json
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from dashboard.centre.edges import EdgeLogs, Edges
from dashboard.centre.plant import CentrePlant
from shotlog.cli.main import main
from shotlog.clock import SystemClock
from shotlog.settings import load
from shotlog.store.centre.centre import edges
from shotlog.store.log.log import open_log
from tests.made_shop import Shop
from tests.made_shots import shots


def test_a_log_set_aside_is_read_by_its_name_and_counts_nowhere(
    tmp_path: Path, centre_url: str, capsys: pytest.CaptureFixture[str]
) -> None:
    shop, clock = Shop(tmp_path / "edge", centre_url), SystemClock()
    shop.here("parts", "P25", "5-9", "--hold", "--initials", "KB")
    with closing(sqlite3.connect(tmp_path / "edge/edge.db")) as connection:
        connection.execute("VACUUM INTO ?", (str(tmp_path / "backup.db"),))
    with open_log(shop.at_edge, read_only=False) as log:
        log.append(shots(31, 33))
    shop.ship()
    config = tmp_path / "plant.toml"
    config.write_text(f'[log]\nstore = "{centre_url}"\n', encoding="utf-8")
    asked = Edges(load(config), clock)
    logs = EdgeLogs(asked)
    plant = CentrePlant(logs)
    assert [one.facts.held for one in plant.look(clock.now(), 60)[0].presses] == [5]

    for one in (tmp_path / "edge").glob("edge.db*"):
        one.unlink()
    (tmp_path / "backup.db").rename(tmp_path / "edge/edge.db")
    with open_log(shop.at_edge, read_only=False) as log:
        log.append(shots(31, 32))
    assert main(["ship", str(shop.edge), "--to", centre_url, "--as", "hall-2", "--once", "--anew"]) == 0
    aside = next(one.name for one in edges(centre_url) if one.set_aside is not None)

    asked._again_s = float("-inf")
    now, at_work = plant.look(clock.now(), 60)
    assert ([(one.edge, one.facts.held) for one in now.presses], [one.name for one in at_work]) == (
        [("hall-2", 5)],
        ["hall-2"],
    )
    assert len(logs.of("hall-2").source.reading().shots()) == 32  # the pages that were open
    assert len(logs.of(aside).source.reading().shots()) == 33
    logs.close()
    asked.close()

    capsys.readouterr()
    assert main(["parts", str(config), "--json"]) == 0
    assert list(json.loads(capsys.readouterr().out)) == ["hall-2"]
    main(["status", str(config)])
    told = capsys.readouterr().out
    assert f"== {aside} ==" not in told
    assert f": {aside}; it is read with ?edge=hall-2%20until" in told
    assert main(["verify", str(config)]) == 0
    assert f"== {aside} ==" in capsys.readouterr().out
