"""What people enter at a centre, by the commands: refused at once where that is plain, taken in by the edge once."""

import json
import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from flask import Flask
from sqlalchemy import create_engine, func, make_url, select, text, update
from sqlalchemy.exc import IntegrityError

from dashboard import Source, build
from dashboard.parts.desk import PartsDesk
from dashboard.press.desk import Desk
from dashboard.shared.person import NotAllowed, Person, set_person
from shotlog.cli.main import main
from shotlog.errors import UsageError
from shotlog.parts.part import Part
from shotlog.settings import Bound, load
from shotlog.store.centre import taking
from shotlog.store.centre.centre import edges, open_centre
from shotlog.store.centre.configured import configured
from shotlog.store.centre.entered import entered_at_centre
from shotlog.store.centre.tables import about, entered
from shotlog.store.log import schema
from shotlog.store.log.engine import is_number_taken
from shotlog.store.log.log import open_log
from shotlog.store.log.signed import tally
from shotlog.wording.numbers import some
from shotlog.wording.waiting import newer_said
from tests.logs_on_server import LogsOnServer
from tests.made_shop import Shop
from tests.postgres import Server


@pytest.fixture(scope="module")
def shipped(server: Server, made_centre: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """A shop whose centre has all of it."""
    database = server.make(template=made_centre)
    made = Shop(tmp_path_factory.mktemp("shipped"), database.render_as_string(hide_password=False))
    made.ship()
    yield made
    server.drop(database)


@pytest.fixture
def shop(
    shipped: Shop, server: Server, made_centre: str, tmp_path: Path, logs_on_server: LogsOnServer | None
) -> Iterator[Shop]:
    """That shop, of this test alone; where logs lie on the server there is no file of it to copy."""
    database = server.make(template=made_centre if logs_on_server is not None else make_url(shipped.centre).database)
    centre = database.render_as_string(hide_password=False)
    if logs_on_server is not None:
        made = Shop(tmp_path, centre)
        made.ship()
    else:
        made = shipped.copy(tmp_path, centre)
    yield made
    server.drop(database)


Said = Callable[[], str]


@pytest.fixture
def said(capsys: pytest.CaptureFixture[str]) -> Said:
    def told() -> str:
        found = capsys.readouterr()
        return found.out + found.err

    return told


def test_a_hold_made_there_waits_goes_in_and_comes_back(shop: Shop, said: Said) -> None:
    said()
    assert shop.there("parts", "P25", "10-12", "--hold", "--reason", "flash on one", "--initials", "MR") == 0
    told = said()
    assert "held (waits for hall-2)" in told
    assert "entered at the centre, waiting 1: P25, shots 10 to 12/1, held: flash on one" in told
    for words in (("parts", "P25", "12"), ("parts",), ("status",)):
        assert shop.there(*words) == 0, words
        assert "MR, typed): waits for hall-2" in said(), words
    for words, waits in ((("parts", "P25", "12"), 1), (("parts", "P25", "13"), 0), (("status",), 1)):
        assert shop.there(*words, "--json") == 0, words
        listed = json.loads(said())["entered_at_centre"]
        assert [(one["number"], one["state"], one["said"]) for one in listed] == [
            (1, "waiting", "P25, shots 10 to 12/1, held: flash on one")
        ] * waits, words
    assert shop.there("parts", "--json") == 0
    assert [(one["press"], len(one["entered_at_centre"])) for one in json.loads(said())][:1] == [("P25", 1)]
    assert shop.there("parts", "P25", "13") == 0
    assert "waits for" not in said()
    assert "waits for hall-2 as number 1" in told
    assert shop.there("entries") == 0
    assert "P25, shots 10 to 12/1, held: flash on one" in (told := said())
    assert "MR, typed): waits for hall-2" in told
    (before,) = edges(shop.centre)
    shop.ship()
    told = said()
    assert "from the centre: P25, shots 10 to 12/1, held: flash on one" in told
    assert "taken in by hall-2 as decision 1" in told
    assert shop.here("verify") == 0
    digest = said().split("last digest ")[1].split()[0]
    (after,) = edges(shop.centre)
    went = some(after.links - before.links, "transaction")
    assert f": {went} went there; it has all up to transaction {after.link}," in told
    assert f"last digest {digest}" in told
    assert shop.here("parts", "P25", "10-12") == 0
    assert "HELD (held: flash on one)" in said()
    assert shop.there("parts", "P25", "10-12") == 0
    assert "HELD (held: flash on one)" in said()
    assert shop.there("entries", "P25", "--json") == 0
    documents = json.loads(said())
    waiting = [one for one in documents if one["kind"] == "waiting"]
    assert [(one["state"], one["became"]) for one in waiting] == [("taken", ["decision 1"])]
    decision = next(one for one in documents if one["kind"] == "decision")
    assert decision["signature"]["via"] == "centre"
    assert decision["who"] == "MR, typed, at the centre"
    with open_log(shop.at_edge) as log, log.reading() as connection:
        assert tally(connection).wrong == ()
        log.verify()
    with open_centre(shop.centre) as centre, centre.transaction() as connection:
        connection.execute(text("UPDATE centre.edges SET last_seen = now() - interval '2 minutes'"))
    shop.there("status")
    told = said()
    assert "; whether it logs meanwhile is not known here" in told
    for known_there in ("STALE", "start shotlog run", "journal", "shotlog mount", "shotlog note"):
        assert known_there not in told
    shop.there("status", "--json")
    document = json.loads(said().partition("\nshotlog status:")[0])
    assert document["not_heard_since"] is not None
    assert document["logging"]["shots_waiting"] is None


@pytest.mark.either
def test_all_that_is_entered_there_goes_in_in_order(shop: Shop, said: Said) -> None:
    """A hold, an inspection with the tolerance of the edge's design, a finding, a note, and one of them taken back."""
    assert shop.there("parts", "P25", "10-12", "--hold", "--initials", "MR") == 0
    assert shop.there("inspect", "P25", "11", "--dimension", "wall=1.4", "--initials", "MR") == 0
    assert shop.there("note", "P25", "finding", "crack", "--at-shot", "20", "--initials", "MR") == 0
    assert shop.there("note", "P25", "note", "seen by the customer", "--initials", "MR") == 0
    shop.ship()
    assert shop.states() == ["taken"] * 4
    said()
    assert shop.there("undo", "event", "1", "--reason", "not a crack", "--initials", "MR") == 0
    assert "waits for hall-2" in said()
    shop.ship()
    said()
    assert shop.here("entries", "P25") == 0
    told = said()
    assert "P25, shot 20, seen: crack" in told
    assert "TAKEN BACK" in told
    assert "inspected, wall: 1.4 mm" in told
    assert shop.states() == ["taken"] * 5


REFUSED = [
    (("parts", "P25", "99", "--hold", "--initials", "MR"), "allowed: 1 to 30"),
    (("parts", "P9", "9", "--hold", "--initials", "MR"), "P25"),
    (("parts", "P25", "9", "--release", "--reason", "seen"), "initials"),
    (("parts", "P25", "9", "--release", "--initials", "MR"), "reason"),
    (("inspect", "P25", "9", "--finding", "flash", "--half", "core", "--initials", "MR"), "core"),
    (("inspect", "P25", "9", "--dimension", "wal=1.2", "--initials", "MR"), "wall"),
    (("note", "P25", "lot", "4711", "--initials", "MR"), "enter it at the press"),
    (("mount", "P25", "B-2", "--initials", "MR"), "enter it at the press"),
    (("remove", "P25", "B-1", "--reason", "worn", "--initials", "MR"), "enter it at the press"),
    (("place", "P25", "4", "bag-7", "--initials", "MR"), "enter it at the press"),
    (("undo", "mounting", "1", "--reason", "wrong", "--initials", "MR"), "enter it at the press"),
    (("undo", "waiting", "7", "--reason", "wrong", "--initials", "MR"), "there is none"),
]  # fmt: skip


def test_what_is_plainly_wrong_is_refused_at_once(shop: Shop, said: Said) -> None:
    for words, why in REFUSED:
        said()
        assert shop.there(*words) == 2, words
        assert why in said(), words
    assert shop.states() == []


def test_what_was_entered_at_the_edge_is_not_taken_back_there(shop: Shop, said: Said) -> None:
    assert shop.here("parts", "P25", "3", "--hold", "--initials", "MR") == 0
    assert shop.there("parts", "P25", "4", "--hold", "--initials", "MR") == 0
    shop.ship()
    said()
    assert shop.there("undo", "decision", "1", "--reason", "wrong", "--initials", "MR") == 2
    assert "it was not entered at a centre" in said()
    assert shop.there("undo", "decision", "2", "--reason", "wrong", "--initials", "XY") == 2
    assert "it was entered by MR" in said()


def test_what_waits_is_taken_back_by_who_made_it(shop: Shop, said: Said) -> None:
    assert shop.there("parts", "P25", "4", "--hold", "--initials", "MR") == 0
    said()
    assert shop.there("undo", "waiting", "1", "--reason", "wrong part", "--initials", "XY") == 2
    assert "it was entered by MR" in said()
    assert shop.there("undo", "waiting", "1", "--reason", "wrong part", "--initials", "MR") == 0
    shop.ship()
    assert shop.states() == ["withdrawn"]
    said()
    assert shop.there("undo", "waiting", "1", "--reason", "wrong part", "--initials", "MR") == 2
    assert "it was taken back before" in said()
    assert shop.here("entries", "P25") == 0
    assert "held" not in said()


@pytest.mark.either
def test_a_release_that_did_not_know_of_a_hold_is_refused_and_said_there(shop: Shop, said: Said) -> None:
    assert shop.here("parts", "P25", "10-12", "--hold", "--reason", "flash", "--initials", "KB") == 0
    assert shop.there("parts", "P25", "8-11", "--release", "--reason", "fine", "--initials", "MR") == 0
    shop.ship()
    said()
    assert shop.there("entries") == 0
    assert "REFUSED by hall-2: parts 10 to 11 of P25 were held there since, by KB (decision 1)" in said()
    assert shop.there("status") == 0
    assert "P25, shots 8 to 11/1, released: fine" in (told := said())
    assert "REFUSED by hall-2" in told
    assert shop.there("undo", "waiting", "1", "--reason", "slip", "--initials", "MR") == 2
    assert "it was refused, so that there is nothing to take back: parts 10 to 11" in said()
    assert shop.there("parts", "P25", "8-11", "--release", "--reason", "fine", "--initials", "MR") == 0
    shop.ship()
    assert shop.states() == ["refused", "taken"]


def test_a_refusal_names_the_part_that_was_found_bad_and_who_found_it(shop: Shop, said: Said) -> None:
    assert shop.here("inspect", "P25", "10", "--finding", "flash", "--initials", "ED") == 0
    assert shop.there("parts", "P25", "20", "--release", "--reason", "fine", "--initials", "MR") == 0
    said()
    shop.ship()
    why = "part 10 of P25 was found bad there since, by ED (inspection 1), and that speaks against part 20 as well"
    assert "P25, shot 20/1, released: fine" in (told := said())
    assert f"REFUSED by hall-2: {why}" in told


def test_cut_off_between_the_edge_and_the_centre_it_goes_in_once(
    shop: Shop, said: Said, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert shop.there("parts", "P25", "4", "--hold", "--initials", "MR") == 0

    def killed(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(taking, "settle", killed)
        assert main(["ship", str(shop.edge), "--to", shop.centre, "--as", "hall-2", "--once"]) == 130
    assert shop.states() == ["taking"]
    said()
    assert shop.there("undo", "waiting", "1", "--reason", "wrong part", "--initials", "MR") == 2
    assert "does not wait any more" in said()
    shop.ship()
    assert shop.states() == ["taken"]
    with open_log(f"{shop.centre}?edge=hall-2") as log:
        assert entered_at_centre(log)[0].became == ["decision 1"]
    said()
    assert shop.here("entries", "P25", "--json") == 0
    assert len([one for one in json.loads(said()) if one["kind"] == "decision"]) == 1


def test_a_release_by_who_could_not_see_a_hold_under_way_is_refused_and_the_next_goes_in(
    shop: Shop, said: Said
) -> None:
    """The edge took the hold, and its row is not back yet: there it neither waits nor stands. Then a row comes that
    nothing can be made of, which keeps nothing behind it.
    """
    shop.there("parts", "P25", "10-20", "--hold", "--reason", "flash", "--initials", "KB")
    with open_centre(shop.centre) as centre, open_log(shop.at_edge, read_only=False) as log:
        number = centre.edge("hall-2").number
        assert [one.why for one in taking.take_entered(centre, number, log, {}, newer_said)] == [""]
        shop.there("parts", "P25", "10-20", "--release", "--reason", "fine", "--initials", "XY")
        shop.there("parts", "P25", "5", "--hold", "--initials", "KB")
        with centre.transaction() as connection:
            last = select(entered.c.id).order_by(entered.c.id.desc()).limit(1).scalar_subquery()
            connection.execute(
                update(entered).where(entered.c.id == last).values(content='[{"table": "events", "kind": "note"}]')
            )
        shop.there("parts", "P25", "6", "--hold", "--initials", "KB")
        release, unread, hold = taking.take_entered(centre, number, log, {}, newer_said)
    assert "were held there since, by KB" in release.why
    assert "cannot be read by this release" in unread.why
    assert hold.entries
    said()
    assert shop.there("entries") == 0
    assert "an entry that this release cannot read" in said()


HOLD = {"table": "dispositions", "press": "P25", "first": 1, "last": 3, "cavity": 1, "decision": "held", "reason": "",
        "time": "2026-01-05T06:00:00Z", "initials": "MR"}  # fmt: skip
UNREADABLE = [
    "", "no JSON", "7", "[]", "[7]", '"held"', "{}", "[{}]", "[" * 9000, '[{"table": ["events"]}]',
    *(json.dumps([HOLD | wrong]) for wrong in (
        {"initials": None}, {"reason": {"a": 1}}, {"first": "1"}, {"last": 2**70}, {"cavity": True}, {"time": 7},
        {"decision": "eaten\ud800\0"}, {"reason": "\ud800"}, {"reason": "x\0"}, {"press": None}, {"press": "P9"},
    )),
    json.dumps([HOLD | {"table": "inspections", "value": float("nan")}]),
]  # fmt: skip


def test_what_cannot_be_read_is_refused_by_itself_and_keeps_nothing_behind_it(shop: Shop, said: Said) -> None:
    shop.there("parts", "P25", "4", "--hold", "--initials", "MR")
    row = "INSERT INTO centre.entered (edge, uid, content) VALUES (1, :uid, :content)"
    with open_centre(shop.centre) as centre, centre.transaction() as connection:
        connection.execute(text(row), [{"uid": f"odd {n}", "content": one} for n, one in enumerate(UNREADABLE)])
    shop.there("parts", "P25", "5", "--hold", "--initials", "MR")
    said()
    shop.ship()
    assert shop.states() == ["taken", *["refused"] * len(UNREADABLE), "taken"]
    told = said()
    assert told.count("REFUSED by hall-2: ") == len(UNREADABLE), told
    assert shop.there("entries") == 0
    assert "it cannot be read by this release (content: given no JSON" in said()
    with open_log(shop.at_edge) as log, log.reading() as connection:
        assert connection.execute(select(func.count()).select_from(schema.dispositions)).scalar() == 2


def test_what_the_log_does_not_hold_is_refused_and_no_damage_of_it(shop: Shop, said: Said) -> None:
    """A row that its tables turn down, whatever for; one whose number is taken is damage, for the log gives those."""
    if shop.at_edge.startswith("postgresql"):
        pytest.skip("turned down by a means of SQLite")
    for reason in ("none", "fine"):
        shop.there("parts", "P25", "4", "--hold", "--reason", reason, "--initials", "MR")
    engine = create_engine(shop.at_edge)
    refuses = "CREATE TRIGGER t BEFORE INSERT ON dispositions WHEN NEW.reason = 'none' BEGIN SELECT {}; END"
    with engine.begin() as connection:
        connection.execute(text(refuses.format("RAISE(ABORT, 'no such part')")))
    shop.ship()
    assert shop.states() == ["refused", "taken"]
    assert "REFUSED by hall-2: the log there does not hold such a thing (no such part)" in said()
    engine.dispose()


def test_a_number_that_is_taken_is_damage() -> None:
    taken = sqlite3.IntegrityError("UNIQUE constraint failed: dispositions.id")
    for code, damage in (
        (sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY, True),
        (sqlite3.SQLITE_CONSTRAINT_ROWID, True),
        (sqlite3.SQLITE_CONSTRAINT_FOREIGNKEY, False),
        (sqlite3.SQLITE_CONSTRAINT_NOTNULL, False),
    ):
        taken.sqlite_errorcode = code
        assert is_number_taken(IntegrityError("INSERT", None, taken)) == damage


@pytest.mark.long
def test_two_centres_are_two_who_enter(shop: Shop, server: Server, made_centre: str, said: Said) -> None:
    """A log shipped to two centres takes from both: what the one holds, the other must have seen to let it go."""
    other = Shop.__new__(Shop)
    other.__dict__ |= shop.__dict__
    database = server.make(template=made_centre)
    other.centre = database.render_as_string(hide_password=False)
    with open_centre(other.centre) as one, one.transaction() as connection:
        connection.execute(update(about).values(uid="another"))  # made from one template
    other.plant = shop.folder / "other.toml"
    other.plant.write_text(f'[log]\nstore = "{other.centre}?edge=hall-2"\n', encoding="utf-8")
    other.ship()
    assert shop.there("parts", "P25", "4", "--hold", "--initials", "MR") == 0
    assert other.there("parts", "P25", "4", "--release", "--reason", "fine", "--initials", "XY") == 0
    shop.ship()
    other.ship()
    assert (shop.states(), other.states()) == (["taken"], ["refused"])
    server.drop(database)


def test_who_only_reads_is_told_the_right_that_entering_takes(shop: Shop, said: Said) -> None:
    """By the rights that are documented for who reads, and who enters; the right to ship was named."""
    engine = create_engine(shop.centre, isolation_level="AUTOCOMMIT")
    role = f"reader_{make_url(shop.centre).database}"
    with engine.connect() as connection:
        for statement in (
            f"CREATE ROLE {role} LOGIN PASSWORD 'seven brass kettles'",
            f"GRANT USAGE ON SCHEMA centre, edge TO {role}",
            f"GRANT SELECT ON ALL TABLES IN SCHEMA centre, edge TO {role}",
        ):
            connection.execute(text(statement))
        reads = make_url(shop.centre).set(username=role, password="seven brass kettles")
        store = reads.update_query_dict({"edge": shop.name}).render_as_string(hide_password=False)
        shop.plant.write_text(f'[log]\nstore = "{store}"\n', encoding="utf-8")
        hold = ("parts", "P25", "4", "--hold", "--initials", "MR")
        try:
            assert shop.there("parts", "P25", "4") == 0
            assert shop.there(*hold) == 2
            assert "who enters there, the right to INSERT and UPDATE centre.entered" in said()
            connection.execute(text(f"GRANT INSERT, UPDATE ON centre.entered TO {role}"))
            assert shop.there(*hold) == 0
            assert shop.there("undo", "waiting", "1", "--reason", "slip", "--initials", "MR") == 0
        finally:
            connection.execute(text(f"DROP OWNED BY {role}"))
            connection.execute(text(f"DROP ROLE {role}"))
    engine.dispose()


def test_the_pages_of_an_edge_there_enter_what_may_be_and_say_what_waits(shop: Shop, said: Said) -> None:
    source = Source(configured(load(shop.plant)))
    parts, press = PartsDesk(source), Desk(source)
    with Flask("pages").test_request_context(environ_base={"REMOTE_ADDR": "10.0.0.7"}):
        set_person(Person("k.brand", "KB", "quality"))
        assert parts.decide("P25", "10-12", "released", "seen").words.endswith("waits for hall-2")
        assert parts.inspect(Part("P25", 11), {"wall": 1.4}, {"wall": Bound(1.1, 1.3)}).entry == ""
        note = press.note("P25", "finding", "crack", "20")
        assert (note.entry, note.finding) == ("", None)
        assert press.note("P25", "finding", "crack", "20") == note, "touched twice"
        for refused in (
            lambda: press.swap("P25", "B-2", "moving"),
            lambda: press.note("P25", "lot", "4711"),
            lambda: parts.put_at("P25", "5", "bag-7", ""),
        ):
            with pytest.raises(UsageError, match="enter it at the press"):
                refused()
        set_person(Person("o.p", "OP", "operator"))
        with pytest.raises(NotAllowed):
            parts.decide("P25", "10-12", "released", "seen")
    source.close()
    shop.ship()
    assert shop.states() == ["taken"] * 3
    with open_log(shop.at_edge) as log, log.reading() as connection:
        rows = connection.execute(select(schema.signed).where(schema.signed.c.via == "centre")).all()
        assert {(one.account, one.role, one.address, one.initials) for one in rows} == {
            ("k.brand", "quality", "10.0.0.7", "KB")
        }
        assert len(rows) == 3


def test_the_page_lists_what_was_entered_there(shop: Shop, said: Said) -> None:
    assert shop.there("parts", "P25", "4", "--hold", "--initials", "MR") == 0
    source = Source(configured(load(shop.plant)))
    app = build(source)
    told = app.callback_map["waiting.children"]["callback"].__wrapped__
    listed = str(told(0))
    assert "Entered here for hall-2" in listed
    assert "P25, shot 4/1, held" in listed
    assert "MR, typed): waits for hall-2" in listed
    source.close()
