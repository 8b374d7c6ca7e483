"""Every way in which a person enters something is played, and each row that it adds has one signature.

A command, a button or a route that is new and stands in none of the tables here fails; so does a new table of the
record of which nobody has said whether people enter it.
"""

import inspect as source_of
import shutil
from collections import Counter
from datetime import UTC, datetime, timedelta
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from sqlalchemy import select

import shotlog.cli
from shotlog.cli.main import COMMANDS, main
from shotlog.parts.part import Part
from shotlog.records import Shot, Weighing
from shotlog.store.inserts import entries, queue
from shotlog.store.log import schema
from shotlog.store.log.log import open_log
from shotlog.store.log.signed import tally
from shotlog.store.parts import baths, dispositions, soaks
from shotlog.store.parts.weights import match_new
from shotlog.store.undo import take_back

CONFIG = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "recording"
[[press]]
name = "P15"
  [press.collector]
  kind = "recording"
"""
START = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
BY_THE_PROGRAM = {
    "presses", "trials", "designs", "inserts", "shots", "gaps", "faults", "links", "judgings", "baselines", "signals",
    "verdicts", "weighings", "logs", "starts", "clock_steps", "anchors", "archives", "signed", "account_changes",
}  # fmt: skip
"""Tables of the record in which no entry of a person stands; a change of an account says who made it by itself."""


def at(minutes: float) -> datetime:
    return START + timedelta(minutes=minutes)


def jpeg() -> bytes:
    kept = BytesIO()
    Image.new("RGB", (8, 8), (200, 10, 10)).save(kept, "JPEG")
    return kept.getvalue()


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Ten shots on two halves, a series, a note, a decision, a part in a bath, a weighing: each made without a name."""
    folder = tmp_path_factory.mktemp("made")
    (folder / "trial.toml").write_text(CONFIG, encoding="utf-8")
    (folder / "p.jpg").write_bytes(jpeg())
    with open_log(f"sqlite:///{(folder / 'trial.db').as_posix()}", read_only=False) as log:
        entries.mount(log, "P25", "A-07", at(0), half="fixed", at_shot=1)
        entries.mount(log, "P25", "B-11", at(0), half="moving", at_shot=1)
        queue.enqueue(log, "P25", ["C-1", "C-2", "C-3"], at(0), half="core", at_shot=40)
        log.append([Shot("P25", n, n, at(n), {"cushion": 5.0}) for n in range(1, 11)])
        log.append([Weighing("P25", "b", 7.9, at(10.5), 600.0)])
        match_new(log, "P25", at(11), lambda _: "the only one")
        entries.note(log, "P25", "finding", "flash", at(11))
        entries.note(log, "P25", "note", "vents cleaned", at(12))
        take_back(log, "events", 2, at(13), "meant otherwise")
        dispositions.enter_decision(log, [Part("P25", 2)], "held", at(14))
        baths.make_up(log, "B1", at(15))
        soaks.put_in(log, "B1", [Part("P25", 3)], at(16), {})
    return folder


@pytest.fixture
def shop(made: Path, tmp_path: Path) -> Path:
    shutil.copytree(made, tmp_path / "shop")
    return tmp_path / "shop"


def signed_since(shop: Path, before: dict[str, int]) -> list[tuple[str, tuple[str, ...]]]:
    """The entries added since, by table, each with its signature; one without, or with two, fails."""
    found = []
    with open_log(f"sqlite:///{(shop / 'trial.db').as_posix()}") as log, log.reading() as connection:
        rows = connection.execute(select(schema.signed)).mappings().all()
        of = Counter((row["entry"], row["entry_id"]) for row in rows)
        how = {(row["entry"], row["entry_id"]): tuple(row[name] for name in HOW) for row in rows}
        for table in schema.ENTRIES:
            for number in connection.execute(select(table.c.id).where(table.c.id > before[table.name])).scalars():
                assert of[table.name, number] == 1, f"entry {number} of {table.name} has {of[table.name, number]}"
                found.append((table.name, how[table.name, number]))
        assert tally(connection).wrong == ()
        log.verify()
    return found


HOW = ("account", "role", "via", "initials")


def counts(shop: Path) -> dict[str, int]:
    with open_log(f"sqlite:///{(shop / 'trial.db').as_posix()}") as log, log.reading() as connection:
        newest = {table: connection.execute(select(table.c.id)).scalars() for table in schema.ENTRIES}
        return {table.name: max(numbers, default=0) for table, numbers in newest.items()}


COMMANDED: dict[str, list[list[str]]] = {
    "mount": [["P25", "B-12", "--half", "moving"]],
    "remove": [["P25", "B-11", "--reason", "worn"]],
    "queue": [["P25", "C-4", "--half", "core"], ["P25", "--drop", "C-2", "--reason", "fell down"]],
    "note": [["P25", "lot", "4711"]],
    "insert": [["D-01", "--design", "cap-r2", "--dimension", "wall=1.2"]],
    "parts": [["P25", "2-4", "--release", "--reason", "seen"], ["P25", "5", "--hold"]],
    "place": [["P25", "4", "bag-7"]],
    "bath": [["make-up", "B2"], ["check", "B1", "--temperature", "40"], ["in", "B1", "P25", "5"], ["out", "P25", "3"]],
    "inspect": [["P25", "4", "--finding", "flash"]],
    "picture": [["P25", "4", "p.jpg"]],
    "weights": [["P25", "--match", "1=9", "--reason", "the other one"]],
    "undo": [["event", "1", "--reason", "wrong press"], ["event", "2", "--again"],
             ["decision", "1", "--reason", "wrong part"]],
    "import": [["parts.csv"], ["shots.csv"]],
}  # fmt: skip
"""Every command that enters something, with its words. A file that is imported is told by `FILES`."""

FILES = {
    "parts.csv": "press,shot,inspected,quantity,finding,initials\nP25,4,2026-01-05T08:00:00Z,look,flash,MR\n",
    "shots.csv": "press,shot,time,fixed,moving,core,design,event,cushion\n"
    "P15,1,2026-01-05T09:00:00Z,A-20,,,cap-r2,lot:4712,5.0\n",
}
"""The files that are imported; the inspection bears the initials of who looked."""

_CALLED = [(command, words) for command, calls in COMMANDED.items() for words in calls]


def typed(shop: Path, monkeypatch: pytest.MonkeyPatch, command: str, words: list[str], *more: str) -> int:
    monkeypatch.chdir(shop)
    for name, text in FILES.items():
        (shop / name).write_text(text, encoding="utf-8")
    return main([command, "trial.toml", *words, *more])


@pytest.mark.parametrize(("command", "words"), _CALLED, ids=lambda one: one if isinstance(one, str) else " ".join(one))
def test_what_a_command_enters_is_signed(
    shop: Path, monkeypatch: pytest.MonkeyPatch, command: str, words: list[str]
) -> None:
    before = counts(shop)
    assert typed(shop, monkeypatch, command, words, "--initials", "KB") == 0
    found = {how for _, how in signed_since(shop, before)}
    assert found == {("", "", "import" if command == "import" else "command", "KB")}


def test_every_command_that_enters_something_is_tried() -> None:
    """A command enters by opening the log with `entering`; what only opens it for writing enters nothing."""
    entering = set()
    for module in COMMANDS:
        text = source_of.getsource(module)
        name = module.__name__.rpartition(".")[2].rstrip("_")
        if "entering(" in text:
            entering.add(name)
        else:
            assert "read_only=False" not in text or name in ("account", "archive"), name
    assert entering == set(COMMANDED)
    assert Path(shotlog.cli.__file__).with_name("demo_operator.py").exists()
    others = {
        path.stem
        for path in Path(shotlog.cli.__file__).parent.glob("*.py")
        if "read_only=False" in path.read_text(encoding="utf-8")
    }
    assert others == {"account", "archive", "demo_operator", "opening"}


def test_every_table_of_the_record_is_an_entry_or_said_not_to_be() -> None:
    assert set(schema.RECORD_TABLES) == BY_THE_PROGRAM | {table.name for table in schema.ENTRIES}
    assert not BY_THE_PROGRAM & {table.name for table in schema.ENTRIES}
