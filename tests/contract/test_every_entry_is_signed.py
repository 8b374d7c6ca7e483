"""Every way in which a person enters something is played, and each row that it adds has one signature.

A command, a button or a route that is new and stands in none of the tables here fails; so does a new table of the
record of which nobody has said whether people enter it.
"""

import inspect as source_of
import shutil
from collections import Counter
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from io import BytesIO
from pathlib import Path

import pytest
from flask import Flask
from PIL import Image
from sqlalchemy import select

import dashboard
import shotlog.cli
from dashboard import Source, build
from dashboard.parts.desk import PartsDesk
from dashboard.press.desk import Desk
from dashboard.shared.person import NotAllowed, Person, set_person
from shotlog.cli.main import COMMANDS, main
from shotlog.parts.part import Part
from shotlog.records import Shot, Weighing
from shotlog.settings import Bound, load
from shotlog.store.asked.told import NOTED, ToldRow, write_told
from shotlog.store.inserts import entries, queue
from shotlog.store.log import schema
from shotlog.store.log.held_log import held_log
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
[messages]
site = "hall-2"
"""
START = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
BY_THE_PROGRAM = {
    "presses", "trials", "designs", "inserts", "shots", "gaps", "faults", "links", "judgings", "baselines", "signals",
    "verdicts", "weighings", "logs", "starts", "clock_steps", "anchors", "archives", "signed", "account_changes",
    "set_points", "told",
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
    """Five shots on two halves, a series, a note, a decision, a part in a bath, a weighing: each without a name."""
    folder = tmp_path_factory.mktemp("made")
    (folder / "trial.toml").write_text(CONFIG, encoding="utf-8")
    (folder / "p.jpg").write_bytes(jpeg())
    with open_log(f"sqlite:///{(folder / 'trial.db').as_posix()}", read_only=False) as log:
        entries.mount(log, "P25", "A-07", at(0), half="fixed", at_shot=1)
        entries.mount(log, "P25", "B-11", at(0), half="moving", at_shot=1)
        queue.enqueue(log, "P25", ["C-1", "C-2", "C-3"], at(0), half="core", at_shot=40)
        log.append([Shot("P25", n, n, at(n), {"cushion": 5.0}) for n in range(1, 6)])
        log.append([Weighing("P25", "b", 7.9, at(5.5), 600.0)])
        match_new(log, "P25", at(11), lambda _: "the only one")
        entries.note(log, "P25", "finding", "flash", at(11))
        entries.note(log, "P25", "note", "vents cleaned", at(12))
        take_back(log, "events", 2, at(13), "meant otherwise")
        dispositions.enter_decision(log, [Part("P25", 2)], "held", at(14))
        baths.make_up(log, "B1", at(15))
        soaks.put_in(log, "B1", [Part("P25", 3)], at(16), {})
        write_told(
            log, [ToldRow("P25", "swap", "swap P25 5", "begins", NOTED, "P25: Swap B-11. Why.", at(17))], {}, at(17)
        )
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
    "acknowledge": [["P25", "--about", "swap"]],
    "insert": [["D-01", "--design", "cap-r2", "--dimension", "wall=1.2"]],
    "parts": [["P25", "2-4", "--release", "--reason", "seen"]],
    "place": [["P25", "4", "bag-7"]],
    "bath": [["make-up", "B2"], ["check", "B1", "--temperature", "40"], ["in", "B1", "P25", "5"], ["out", "P25", "3"]],
    "inspect": [["P25", "4", "--finding", "flash"]],
    "picture": [["P25", "4", "p.jpg"]],
    "weights": [["P25", "--match", "1=4", "--reason", "the other one"]],
    "undo": [["event", "1", "--reason", "wrong press"], ["decision", "1", "--reason", "wrong part"]],
    "import": [["parts.csv"], ["shots.csv"]],
}  # fmt: skip
"""Every command that enters something, with its words. A file that is imported is told by `FILES`."""

FILES = {
    "parts.csv": "press,shot,inspected,quantity,finding,initials\nP25,4,2026-01-05T08:00:00Z,look,flash,MR\n",
    "shots.csv": "press,shot,time,fixed,moving,core,design,event,cushion\n"
    "P15,1,2026-01-05T09:00:00Z,A-20,,,cap-r2,lot:4712,5.0\n",
}
"""The files that are imported; the inspection bears the initials of who looked."""

WRITING = {"account", "archive", "backup", "ship"}
"""Commands that open the log for writing and enter nothing of a person's: accounts, what went where, a sign of life;
and what was entered at a centre, signed by who made it there (`tests/store/centre/test_rule_of_conflict.py`)."""

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
            assert "read_only=False" not in text or name in WRITING, name
    assert entering == set(COMMANDED)
    assert Path(shotlog.cli.__file__).with_name("demo_operator.py").exists()
    others = {
        path.stem
        for path in Path(shotlog.cli.__file__).parent.glob("*.py")
        if "read_only=False" in path.read_text(encoding="utf-8")
    }
    assert others == {*WRITING, "demo_operator"}


def test_every_table_of_the_record_is_an_entry_or_said_not_to_be() -> None:
    assert set(schema.RECORD_TABLES) == BY_THE_PROGRAM | {table.name for table in schema.ENTRIES}
    assert not BY_THE_PROGRAM & {table.name for table in schema.ENTRIES}


PRESSED: dict[str, Callable[[Desk], object]] = {
    "swap": lambda desk: desk.swap("P25", "B-12", "moving", reason="worn", initials="ZZ"),
    "remove": lambda desk: desk.remove("P25", "moving", "worn", initials="ZZ"),
    "note": lambda desk: desk.note("P25", "pause", "pause", initials="ZZ"),
    "add_pieces": lambda desk: desk.add_pieces("P25", "core", "C-4 C-5", "B7", "ZZ"),
    "drop_piece": lambda desk: desk.drop_piece("P25", "C-2", "fell down", "ZZ"),
    "seen": lambda desk: desk.seen("P25", "1", "ZZ"),
    "undo": lambda desk: desk.undo("events:1", "ZZ"),
    "again": lambda desk: desk.again("events:2", "ZZ"),
}
"""Every entry of the desk at the press; the browser says that it is ZZ."""

BENCHED: dict[str, Callable[[PartsDesk], object]] = {
    "inspect": lambda desk: desk.inspect(Part("P25", 4), {"part_weight": 7.9}, {}, finding="flash", initials="ZZ"),
    "decide": lambda desk: desk.decide("P25", "2-4", "released", "seen", "ZZ"),
    "put_in": lambda desk: desk.put_in("B1", "P25", "5", "ZZ"),
    "put_at": lambda desk: desk.put_at("P25", "5", "bag-7", "24h", "ZZ"),
    "take_out": lambda desk: desk.take_out("P25", "3", cleared=True, place="bag-7", initials="ZZ"),
    "check_bath": lambda desk: desk.check_bath("B1", "", "40", "ZZ"),
    "make_up": lambda desk: desk.make_up("B2", Bound(), Bound(), "ZZ"),
    "undo": lambda desk: desk.undo("dispositions:1", "ZZ"),
}
"""Every entry of the desk of parts and baths."""

ROUTES: dict[str, tuple[str, str]] = {
    "POST": ("/pictures/?press=P25&shot=4&initials=ZZ", "image/jpeg"),
    "DELETE": ("/pictures/1?initials=ZZ", ""),
    "PUT": ("/pictures/1?initials=ZZ", ""),
}
"""Every way in which a picture is entered, or taken back, by an address."""

KB = Person("k.brand", "KB", "quality")


@pytest.fixture
def source(shop: Path) -> Iterator[Source]:
    made = Source(load(shop / "trial.toml"))
    yield made
    made.close()


_TYPED = ("press note", "press undo", "parts decide", "parts undo")
"""Entries that are played also where nobody is logged in; all go the same way, through `Source.entering`."""

_ENTERED = [*(f"press {name}" for name in PRESSED), *(f"parts {name}" for name in BENCHED)]


@pytest.mark.parametrize(("name", "person"), [*((one, KB) for one in _ENTERED), *((one, None) for one in _TYPED)])
def test_what_a_page_enters_is_signed(shop: Path, source: Source, name: str, person: Person | None) -> None:
    """By who is logged in, whatever the browser says; where nobody is, by the initials that were typed."""
    before, (room, act) = counts(shop), name.split()
    with Flask("pages").test_request_context(environ_base={"REMOTE_ADDR": "10.0.0.7"}):
        set_person(person)
        if room == "press":
            PRESSED[act](Desk(source))
        else:
            BENCHED[act](PartsDesk(source))
    found = signed_since(shop, before)
    assert {how for _, how in found} == {as_signed(person)}
    assert_initials(shop, before, "ZZ" if person is None else "KB")


@pytest.mark.parametrize("method", ROUTES)
def test_what_an_address_enters_is_signed(shop: Path, source: Source, method: str) -> None:
    app = build(source)

    @app.server.before_request
    def logged_in() -> None:
        set_person(KB)

    client = app.server.test_client()
    if method != "POST":
        client.post("/pictures/?press=P25&shot=5", data=jpeg(), content_type="image/jpeg")
    if method == "PUT":
        client.delete("/pictures/1")
    before = counts(shop)
    address, kind = ROUTES[method]
    assert client.open(address, method=method, data=jpeg() if kind else b"", content_type=kind).status_code == 200
    assert {how for _, how in signed_since(shop, before)} == {as_signed(KB)}
    assert_initials(shop, before, "KB")


def as_signed(person: Person | None) -> tuple[str, ...]:
    return ("", "", "page", "ZZ") if person is None else (person.account, person.role, "page", person.initials)


def assert_initials(shop: Path, before: dict[str, int], who: str) -> None:
    """The initials in every new row are those of who entered it."""
    with open_log(f"sqlite:///{(shop / 'trial.db').as_posix()}") as log, log.reading() as connection:
        for table in schema.ENTRIES:
            if "initials" in table.c:
                rows = connection.execute(select(table.c.initials).where(table.c.id > before[table.name]))
                assert set(rows.scalars()) <= {who}, table.name


def test_every_button_and_every_address_that_enters_something_is_tried(source: Source) -> None:
    """A page enters through `Source.entering`, and nothing else of it opens the log for writing."""
    for desk, tried in ((Desk, PRESSED), (PartsDesk, BENCHED)):
        public = {name: one for name, one in vars(desk).items() if not name.startswith("_") and callable(one)}
        assert {name for name, one in public.items() if "entering(" in source_of.getsource(one)} == set(tried)
    texts = {
        path.relative_to(Path(dashboard.__file__).parent).as_posix(): path.read_text(encoding="utf-8")
        for path in Path(dashboard.__file__).parent.rglob("*.py")
    }
    assert {name for name, text in texts.items() if ".entering(" in text} == {
        "press/desk.py", "parts/desk.py", "shared/picture_route.py",
        "shared/waiting.py",  # takes back what waits at a centre: tests/dashboard/test_entered_at_centre.py
    }  # fmt: skip
    changes_of_accounts = "access/entrance.py"
    writing = {name for name, text in texts.items() if ".writing(" in text}
    assert writing == {"shared/source.py", changes_of_accounts}
    written = {
        (rule.rule, method)
        for rule in build(source).server.url_map.iter_rules()
        for method in (rule.methods or set()) - {"GET", "HEAD", "OPTIONS"}
        if rule.rule.startswith("/pictures/")
    }
    assert {method for _, method in written} == set(ROUTES)


@pytest.mark.parametrize(("role", "refused"), [("viewer", {"enter", "decide"}), ("operator", {"decide"})])
def test_a_role_is_refused_what_it_may_not_and_nothing_is_entered(
    shop: Path, source: Source, role: str, refused: set[str]
) -> None:
    before, deciding = counts(shop), {"decide", "undo"}
    with Flask("pages").test_request_context():
        set_person(Person("v.o", "VO", role))
        for name, enter in BENCHED.items():
            if ("decide" if name in deciding else "enter") in refused:
                with pytest.raises(NotAllowed, match=f"You are logged in as {role}: "):
                    enter(PartsDesk(source))
        if "enter" in refused:
            for press in PRESSED.values():
                with pytest.raises(NotAllowed):
                    press(Desk(source))
    assert counts(shop) == before


def test_the_logger_signs_what_it_enters_by_itself_as_the_program(shop: Path) -> None:
    before = counts(shop)
    log = held_log(load(shop / "trial.toml").store)
    with log:
        log.open()
        log.append([Shot("P25", 6, 6, at(20), {"cushion": 5.0}, no_part="the press said so")])
        log.append([Weighing("P25", "b", 7.9, at(20.5), 600.0)])
        match_new(log, "P25", at(21), lambda _: "the only one")
    assert signed_since(shop, before) == [
        ("events", ("", "", "program", "")), ("matches", ("", "", "program", ""))
    ]  # fmt: skip
