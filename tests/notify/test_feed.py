"""What came into a log, as documents: in the order of the log, each row once from any place on."""

from dataclasses import replace
from datetime import timedelta

import pytest
from sqlalchemy import select

from shotlog.clock import HandClock, iso_utc
from shotlog.errors import UsageError
from shotlog.notify.feed import Feed, Item
from shotlog.parts.part import Part
from shotlog.recorder.judge import Judge
from shotlog.records import Gap, Link, SetPoint, SetPointChange, Start
from shotlog.store.asked.log_place import Place, newest_place, place_since, stands_in, start_place
from shotlog.store.asked.state import verdicts
from shotlog.store.asked.told import NOTED, ToldRow, write_told
from shotlog.store.inserts.entries import mount, note, note_within
from shotlog.store.log import schema
from shotlog.store.log.log import Log
from shotlog.store.parts.inspections import inspect
from shotlog.store.undo import take_back
from tests.made_shots import START, moulded, shot, shots
from tests.notify.schema_of_messages import check

BEGIN = Place()


def read(feed: Feed, place: Place = BEGIN, most: int = 100) -> list[Item]:
    found = []
    while True:
        items, behind = feed.after(place, most)
        found += items
        if behind == place:
            return found
        place = behind


def of(items: list[Item], kind: str) -> list[dict[str, object]]:
    return [item.document for item in items if item.document["type"] == kind]


def judged(log: Log, press: str = "P25") -> None:
    Judge(log, press, {}, HandClock()).catch_up()


def feed_of(log: Log, *presses: str) -> Feed:
    return Feed(log, presses or ("P25",), {})


def test_every_kind_comes_in_the_order_of_the_log_with_its_units(log: Log) -> None:
    mount(log, "P25", "R2-07", START, half="moving", design="cap-r2")
    log.append(
        [Link("P25", START, "connected", "127.0.0.1"), shot(1), Gap("P25", 2, 3, moulded(3), "not read"), shot(4)]
    )
    log.append([SetPointChange("P25", 5, moulded(4), "hold", "310", "325", "bar", "AB")])
    judged(log)
    items = read(feed_of(log))
    for item in items:
        check(item.document)
    kinds = [item.document["type"] for item in items]
    assert kinds == ["link", "shot", "gap", "shot", "set_point", "verdict", "verdict"]
    assert of(items, "shot")[1] == {
        "type": "shot", "id": str(items[3].place), "press": "P25", "time": "2026-01-05T06:04:00.000000Z", "shot": 4,
        "counter": 4, "values": {"cushion": 4.97}, "units": {"cushion": "mm"},
        "inserts": {"moving": {"serial": "R2-07", "design": "cap-r2", "print_batch": "", "single_use": False}},
        "trial": None,
    }  # fmt: skip
    (point,) = of(items, "set_point")
    assert (point["name"], point["old"], point["value"], point["unit"], point["by"]) == (
        "hold",
        "310",
        "325",
        "bar",
        "AB",
    )
    assert [one["insert"] for one in of(items, "verdict")] == ["R2-07", "R2-07"]
    assert len({item.document["id"] for item in items}) == len(items)


@pytest.mark.parametrize("most", [1, 7])
def test_read_in_pieces_nothing_is_left_out_and_nothing_comes_twice(log: Log, most: int) -> None:
    log.append(shots(1, 6))
    judged(log)
    log.append(shots(7, 9))
    judged(log)
    whole = [item.document for item in read(feed_of(log))]
    assert [item.document for item in read(feed_of(log), most=most)] == whole
    for n, one in enumerate(whole):  # whoever stopped anywhere goes on from there
        rest = read(feed_of(log), Place.of(str(one["id"])), most)
        assert [item.document for item in rest] == whole[n + 1 :]


def test_a_verdict_made_anew_comes_again_and_the_newest_is_marked(log: Log) -> None:
    log.append(shots(1, 8))
    judged(log)
    feed = feed_of(log)
    first = read(feed)
    assert [(one["shot"], one["again"], one["newest"]) for one in of(first, "verdict")] == [
        (n, False, True) for n in range(1, 9)
    ]
    mount(log, "P25", "R2-08", START, half="moving", at_shot=6)
    judged(log)
    again = of(read(feed, first[-1].place), "verdict")
    assert [(one["shot"], one["again"], one["newest"]) for one in again][-3:] == [
        (6, True, False), (7, True, False), (8, True, True),
    ]  # fmt: skip
    assert again[-1]["insert"] == "R2-08"
    assert int(again[-1]["judging"]) > int(of(first, "verdict")[-1]["judging"])  # type: ignore[call-overload]
    assert of(read(feed_of(log), first[-1].place), "verdict")[-3:] == again[-3:], "a fresh reader is told the same"


def test_a_finding_brings_the_newest_verdict_once_more_with_what_stands(log: Log) -> None:
    mount(log, "P25", "R2-07", START, half="moving", design="cap-r2")
    log.append(shots(1, 8))
    judged(log)
    feed = feed_of(log)
    before = read(feed)
    assert of(before, "verdict")[-1]["stands"] == "keep"
    inspect(log, Part("P25", 7), moulded(9), finding="cracked rib", half="moving", initials="AB")
    (now,) = of(read(feed, before[-1].place), "verdict")
    check(now)
    assert (now["shot"], now["stands"], now["again"], now["newest"]) == (8, "swap", True, True)
    (found,) = now["found"]  # type: ignore[misc]
    assert found["text"] == "cracked rib"  # type: ignore[index]
    assert of(read(feed_of(log), before[-1].place), "verdict") == [now], "a fresh reader is told the same"
    log.append([shot(9)])
    judged(log)
    mount(log, "P25", "R2-08", START, half="moving")
    last = of(read(feed, Place.of(str(now["id"]))), "verdict")
    assert [(one["shot"], one["stands"]) for one in last] == [(9, "keep")] * 2, "it came out before it was read"


SHOP = ("P25", "P15", "P53")


@pytest.fixture
def shop(log: Log) -> Log:
    """Three presses: findings, one taken back, swaps, set-ups, lost connections, some of it in one transaction."""
    for n, press in enumerate(SHOP):
        mount(log, press, f"R{n}-01", START, half="moving", design="cap-r2")
        log.append([Link(press, START, "connected", "here"), *shots(1, 3, press=press)])
        judged(log, press)
    with log.transaction() as work:
        for press in SHOP:
            note_within(work, press, "finding", "cracked rib", moulded(7), half="moving", initials="AB")
    for press in SHOP:
        judged(log, press)
    with log.transaction() as work:
        when = iso_utc(moulded(7))
        said = {"cavity": None, "decision": "released", "reason": "seen", "initials": "AB", "time": when}
        for press in (*SHOP, "P15"):
            work.add(schema.dispositions, press_id=work.press_id(press, when), first=1, last=2, **said)
    log.append([Link(press, moulded(7), "lost", "no answer") for press in SHOP])
    wrong = inspect(log, Part("P15", 2), moulded(8), finding="cracked rib", half="moving", initials="AB")
    log.append([SetPointChange("P53", 4, moulded(8), "cooling", "45", "55", "s", "AB")])
    note(log, "P53", "lot", "L-2", moulded(8))
    mount(log, "P25", "R0-02", moulded(8), half="moving", reason="cracked", initials="AB")
    take_back(log, "inspections", wrong.entry_id, moulded(9), "wrong part", "AB")
    return log


@pytest.mark.parametrize(("presses", "most"), [(SHOP, 1), (SHOP, 7), (SHOP[1:2], 100)])
def test_no_two_documents_bear_one_id_and_after_each_comes_the_rest(
    shop: Log, presses: tuple[str, ...], most: int
) -> None:
    whole = [item.document for item in read(feed_of(shop, *presses), most=most)]
    assert len({one["id"] for one in whole}) == len(whole)
    for n, one in enumerate(whole[:-1]):  # what comes next is enough: from there on it is another one's turn
        feed, items, place = feed_of(shop, *presses), [], Place.of(str(one["id"]))
        while not items:
            items, place = feed.after(place, most)
        found = [item.document for item in items]
        assert found == whole[n + 1 : n + 1 + len(found)], f"after {one['id']}"
    assert read(feed_of(shop, *presses), Place.of(str(whole[-1]["id"]))) == []


def test_an_entry_brings_the_verdict_of_its_own_press_alone_once_a_transaction(shop: Log) -> None:
    again = [
        item for item in read(feed_of(shop, *SHOP)) if item.document["type"] == "verdict" and item.document["again"]
    ]
    came = [[item.press for item in again if item.place.link == link] for link in links_of(again)]
    assert came[:3] == [["P25"], ["P15"], ["P53"]], "what was found has each judged anew, which tells of it"
    released, *later = came[3:]
    assert released == ["P25", "P53", "P15"], "each once, at the last of its entries"
    assert later == [["P15"], ["P25"], ["P15"]], "inspected, swapped, taken back"


def test_a_set_up_brings_no_verdict_of_any_press(log: Log) -> None:
    for press in SHOP:
        log.append([*shots(1, 6, press=press), Link(press, moulded(7), "lost", "no answer")])
        judged(log, press)
    with log.reading() as connection:
        here = newest_place(connection)
    for n, cooling in ((7, 45.0), (8, 55.0)):
        log.append([replace(shot(n, press="P53"), set_points={"cooling": SetPoint(cooling, "s")})])
    note(log, "P15", "lot", "L-2", moulded(8))
    note(log, "P15", "note", "lamp is out", moulded(8))
    with log.reading() as connection:
        assert connection.execute(select(schema.events.c.kind)).scalars().all() == ["setup", "lot", "note"]
    kinds = [item.document["type"] for item in read(feed_of(log, *SHOP), here)]
    assert sorted(kinds) == ["set_point", "set_point", "shot", "shot"]


def links_of(items: list[Item]) -> list[int]:
    return list(dict.fromkeys(item.place.link for item in items))


@pytest.mark.either
def test_where_one_begins(log: Log) -> None:
    log.append(shots(1, 3))
    with log.reading() as connection:
        behind = newest_place(connection)
        assert start_place(connection, 77) == behind, "no start is on record: from now on"
    log.append([Start(moulded(3), "0.2.0", "", "", "", "{}", "host", "77"), shot(4)])
    log.append([shot(5)])
    feed = feed_of(log)
    with log.reading() as connection:
        assert [one["shot"] for one in of(read(feed, start_place(connection, 77)), "shot")] == [4, 5]
        assert read(feed, start_place(connection, 78)) == [], "the newest start is of another process"
        assert [one["shot"] for one in of(read(feed, place_since(connection, moulded(3))), "shot")] == [3, 4, 5]
        assert read(feed, place_since(connection, moulded(5) + timedelta(seconds=1))) == []
        assert stands_in(connection, behind)
        assert not stands_in(connection, Place(behind.link, behind.row, "0" * 8))
        assert not stands_in(connection, Place(999, 1, behind.digest))


def test_what_is_no_place_is_refused() -> None:
    for text in ("", "1", "1.2", "1.2.xyz", "1.2.9f3a2c1b4"):
        with pytest.raises(UsageError, match="allowed: one that was handed out"):
            Place.of(text)


def test_only_the_presses_that_are_asked_for(log: Log) -> None:
    log.append([*shots(1, 2), *shots(1, 2, press="P26")])
    assert [item.press for item in read(feed_of(log, "P26"))] == ["P26", "P26"]
    with log.reading() as connection:
        assert len(connection.execute(select(schema.shots)).all()) == 4
    assert verdicts(log, "P26") == []


def test_a_change_of_state_comes_once_whoever_is_told_of_it_and_of_its_own_site_alone(log: Log) -> None:
    def told(press: str | None, spell: str, receiver: str) -> ToldRow:
        return ToldRow(press, "swap", spell, "begins", receiver, "P25: swap", START)

    rows = [told("P25", "a", NOTED), told("P25", "a", "tool room"), told("P26", "b", NOTED)]
    here, elsewhere = told(None, "disk at hall-2/x", NOTED), told(None, "disk at hall-3/x", NOTED)
    write_told(log, [*rows, here, elsewhere], {}, START)
    items = read(Feed(log, ("P25",), {}, "hall-2"))
    for item in items:
        check(item.document)
    assert [(one["press"], one["spell"]) for one in of(items, "message")] == [("P25", "a"), (None, "disk at hall-2/x")]
    assert read(feed_of(log)) == [], "nothing is told where no messages are configured"
