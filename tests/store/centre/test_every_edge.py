"""Commands on a centre: on one edge as on any log, by a file of a few lines; on the whole of it, edge by edge."""

import csv
import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from shotlog.cli.main import main
from shotlog.settings import load
from shotlog.store.centre.configured import configured
from tests.made_shop import Shop
from tests.postgres import Server


@pytest.fixture(scope="module")
def halls(tmp_path_factory: pytest.TempPathFactory, server: Server, made_centre: str) -> Iterator[tuple[Shop, Shop]]:
    """Two edges that have a press of the same name; at the second a person holds parts."""
    database, folder = server.make(template=made_centre), tmp_path_factory.mktemp("halls")
    centre_url = database.render_as_string(hide_password=False)
    made = Shop(folder / "one", centre_url, "hall-1"), Shop(folder / "two", centre_url, "hall-2")
    assert made[1].here("parts", "P25", "3-4", "--hold", "--initials", "KB") == 0
    for one in made:
        one.ship()
    yield made
    server.drop(database)


@pytest.fixture
def plant(halls: tuple[Shop, Shop], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """The configuration of the whole centre, in the folder where commands are given."""
    (tmp_path / "plant.toml").write_text(f'[log]\nstore = "{halls[0].centre}"\n', encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return "plant.toml"


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


@pytest.mark.long
def test_the_review_of_a_whole_centre_is_one_of_each_edge(plant: str, capsys: pytest.CaptureFixture[str]) -> None:
    main(["review", plant, "--json"])
    assert list(json.loads(capsys.readouterr().out)) == ["hall-1", "hall-2"]


def test_a_whole_centre_is_gone_over_edge_by_edge(plant: str, capsys: pytest.CaptureFixture[str]) -> None:
    for words in (["parts"], ["verify"]):
        main([words[0], plant])
        told = capsys.readouterr().out
        assert told.index("== hall-1 ==") < told.index("== hall-2 =="), words
    for words in (["inserts", "--json"], ["status", "--json"]):
        main([words[0], plant, *words[1:]])
        assert list(json.loads(capsys.readouterr().out)) == ["hall-1", "hall-2"], words
    assert main(["parts", plant, "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {
        "hall-1": [{"press": "P25", "held": 0, "entered_at_centre": []}],
        "hall-2": [{"press": "P25", "held": 2, "entered_at_centre": []}],
    }  # fmt: skip
    assert main(["export", plant, "--out", "all.csv"]) == 0
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
    halls: tuple[Shop, Shop], plant: str, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    for words in OF_ONE:
        assert main([words[0], plant, *words[1:]]) == 2
        assert "hall-1, hall-2" in capsys.readouterr().err, words
    for words in (["run"], ["probe"], ["ship", "--to", halls[0].centre]):
        for file in (str(halls[0].plant), plant):
            assert main([words[0], file, *words[1:]]) == 2
            assert "beside them" in capsys.readouterr().err, words
