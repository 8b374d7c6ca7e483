"""Commands on a centre: on one edge as on any log, by a file of a few lines; on the whole of it, edge by edge."""

import csv
import json
from pathlib import Path

import pytest

from shotlog.cli.main import main
from shotlog.settings import load
from shotlog.store.centre.configured import configured
from tests.made_shop import Shop


@pytest.fixture
def halls(tmp_path: Path, centre_url: str) -> tuple[Shop, Shop]:
    """Two edges that have a press of the same name, and the configuration of the whole centre beside them."""
    made = Shop(tmp_path / "one", centre_url, "hall-1"), Shop(tmp_path / "two", centre_url, "hall-2")
    for one in made:
        one.ship()
    (tmp_path / "plant.toml").write_text(f'[log]\nstore = "{centre_url}"\n', encoding="utf-8")
    return made


READING = [
    ["status"], ["status", "--json"], ["verify"], ["parts"], ["parts", "P25"], ["parts", "P25", "--json"],
    ["part", "P25", "4"], ["explain", "P25", "4"], ["entries"], ["entries", "P25", "--json"], ["entries", "--starts"],
    ["inserts"], ["inserts", "--json"], ["review", "--json"], ["review", "--ask", "lives"],
    ["plan", "--design", "cap-r2", "--parts", "20"], ["export", "--out", "OUT/all.csv"], ["export", "--out", "OUT/all"],
    ["labels", "P25/4", "--out", "OUT/labels.html"],
]  # fmt: skip


@pytest.mark.long
def test_every_command_that_reads_says_of_an_edge_there_what_it_says_here(
    halls: tuple[Shop, Shop], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shop = halls[0]
    for words in READING:
        told = []
        for end, run in (("here", shop.here), ("there", shop.there)):
            (tmp_path / end).mkdir(exist_ok=True)
            capsys.readouterr()
            status = run(*(word.replace("OUT", (tmp_path / end).as_posix()) for word in words))
            found = capsys.readouterr()
            told.append((status, found.out.replace((tmp_path / end).as_posix(), "OUT")))
        if words[0] in ("status", "verify", "review"):  # which name the log by its address
            assert told[0][0] == told[1][0], (words, told)
        else:
            assert told[0] == told[1], words
    assert (tmp_path / "here/all.csv").read_text() == (tmp_path / "there/all.csv").read_text()


def test_the_presses_and_designs_of_an_edge_come_from_its_log(halls: tuple[Shop, Shop]) -> None:
    here, there = load(halls[0].edge), configured(load(halls[0].plant))
    assert [one.name for one in there.presses] == [one.name for one in here.presses]
    assert there.designs == here.designs
    assert there.hints == ()


def test_a_whole_centre_is_gone_over_edge_by_edge(
    halls: tuple[Shop, Shop], tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert halls[1].here("parts", "P25", "3-4", "--hold", "--initials", "KB") == 0
    halls[1].ship()
    capsys.readouterr()
    for words in (["parts"], ["verify"]):
        main([words[0], "plant.toml"])
        told = capsys.readouterr().out
        assert told.index("== hall-1 ==") < told.index("== hall-2 =="), words
    for words in (["parts", "--json"], ["inserts", "--json"], ["status", "--json"], ["review", "--json"]):
        main([words[0], "plant.toml", *words[1:]])
        assert list(json.loads(capsys.readouterr().out)) == ["hall-1", "hall-2"], words
    assert main(["parts", "plant.toml", "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {
        "hall-1": [{"press": "P25", "held": 0}], "hall-2": [{"press": "P25", "held": 2}]
    }  # fmt: skip
    assert main(["export", "plant.toml", "--out", "all.csv"]) == 0
    with Path("all.csv").open(newline="") as file:
        rows = list(csv.DictReader(file))
    assert [(rows[n]["press"], rows[n]["shot"]) for n in (0, 29, 30, 59)] == [
        ("hall-1/P25", "1"), ("hall-1/P25", "30"), ("hall-2/P25", "1"), ("hall-2/P25", "30")
    ]  # fmt: skip
    capsys.readouterr()


OF_ONE = [
    ["explain", "P25", "4"], ["entries"], ["plan", "--design", "cap-r2", "--parts", "20"], ["parts", "P25"],
    ["status", "--press", "P25"], ["mount", "P25", "B-2"], ["export", "--out", "all.parquet"], ["export", "--follow"],
]  # fmt: skip


def test_what_is_about_one_edge_or_done_beside_presses_says_so(
    halls: tuple[Shop, Shop], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    for words in OF_ONE:
        assert main([words[0], str(tmp_path / "plant.toml"), *words[1:]]) == 2
        assert "hall-1, hall-2" in capsys.readouterr().err, words
    for words in (["run"], ["probe"], ["ship", "--to", halls[0].centre]):
        for file in (halls[0].plant, tmp_path / "plant.toml"):
            assert main([words[0], str(file), *words[1:]]) == 2
            assert "beside them" in capsys.readouterr().err, words
