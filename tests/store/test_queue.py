"""Single-use pieces in the order the shots take them, and how inserts were made."""

from datetime import timedelta

import pytest

from shotlog.errors import UsageError
from shotlog.store.inserts import entries
from shotlog.store.inserts import queue as queue_module
from shotlog.store.inserts.making import describe, makings
from shotlog.store.inserts.queue import drop, enqueue, queues, serials_named, taken_pieces, used_twice
from shotlog.store.log.log import Log
from tests.made_shots import START, shots

NOW = START + timedelta(days=1)


def taken(log: Log) -> str:
    return " ".join(f"{one.shot}:{one.piece.serial}" for one in taken_pieces(log, "P15"))


def test_each_shot_takes_the_next_serial_and_a_dry_one_none(log: Log) -> None:
    enqueue(log, "P15", ["K-7", "K-2", "K-9", "K-1"], NOW, at_shot=1)
    log.append(shots(1, 4, "P15"))
    assert taken(log) == "1:K-7 2:K-2 3:K-9 4:K-1"
    entries.note(log, "P15", "dry", "purge that was counted", NOW, at_shot=2)
    assert taken(log) == "1:K-7 3:K-2 4:K-9"
    (queue,) = queues(log, "P15")
    assert (queue.taken, [piece.serial for piece in queue.waiting]) == (3, ["K-1"])


def test_a_purge_between_shots_takes_no_piece_from_the_shot_it_is_noted_at(log: Log) -> None:
    enqueue(log, "P15", ["K-7", "K-2"], NOW, at_shot=1)
    log.append(shots(1, 2, "P15"))
    entries.note(log, "P15", "purge", "after the pause", NOW, at_shot=2)
    assert taken(log) == "1:K-7 2:K-2"


def test_a_numbered_series_passes_over_dry_shots(log: Log) -> None:
    entries.mount(log, "P15", "S-09", NOW, at_shot=1, single_use=True)
    log.append(shots(1, 3, "P15"))
    entries.note(log, "P15", "dry", "x", NOW, at_shot=2)
    assert taken(log) == "1:S-09 3:S-10"


def test_a_queue_that_ran_out_is_shown_not_guessed_and_filled_in_later(log: Log) -> None:
    enqueue(log, "P15", ["S-1", "S-2"], NOW, at_shot=1, said={"design": "cap", "print_batch": "B1"})
    log.append(shots(1, 4, "P15"))
    assert taken(log) == "1:S-1 2:S-2"
    assert queues(log, "P15")[0].without == 2
    enqueue(log, "P15", ["S-3", "S-4", "S-5"], NOW, said={"print_batch": "B2"}, positions=["a1", "a2", "a3"])
    assert taken(log) == "1:S-1 2:S-2 3:S-3 4:S-4"
    last = taken_pieces(log, "P15")[-1].piece
    assert (last.design, last.print_batch) == ("cap", "B2")
    assert makings(log)["S-5"].plate_position == "a3"


def test_a_dropped_piece_lets_the_later_shots_move_up(log: Log) -> None:
    enqueue(log, "P15", ["S-1", "S-2", "S-3", "S-4"], NOW, at_shot=1)
    log.append(shots(1, 3, "P15"))
    drop(log, "P15", "S-2", NOW, "broken on the tray")
    assert taken(log) == "1:S-1 2:S-3 3:S-4"
    with pytest.raises(UsageError, match="piece S-2: it is in no queue of P15"):
        drop(log, "P15", "S-2", NOW, "again")
    log.verify()


@pytest.mark.either
def test_a_dropped_first_piece_stays_dropped_when_the_series_is_dated_anew(log: Log) -> None:
    enqueue(log, "P15", ["S-1", "S-2", "S-3"], NOW, at_shot=2)
    log.append(shots(1, 3, "P15"))
    drop(log, "P15", "S-1", NOW, "broken")
    assert taken(log) == "2:S-2 3:S-3"
    entries.mount(log, "P15", "S-1", NOW, half="moving", at_shot=1, single_use=True)
    assert taken(log) == "1:S-2 2:S-3"


@pytest.mark.parametrize("at_shot", [None, 9])
def test_pieces_are_queued_all_or_none(log: Log, monkeypatch: pytest.MonkeyPatch, at_shot: int | None) -> None:
    enqueue(log, "P15", ["S-1"], NOW, at_shot=1)
    log.append(shots(1, 3, "P15"))
    before = (log.verify(), makings(log), queues(log, "P15"))

    def pulled_plug(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(queue_module, "judge_again", pulled_plug)  # what comes last, when every row is written
    with pytest.raises(KeyboardInterrupt):
        enqueue(log, "P15", ["S-2", "S-3"], NOW, at_shot=at_shot, said={"plate": "PL-7"})
    assert (log.verify(), makings(log), queues(log, "P15")) == before
    monkeypatch.undo()
    enqueue(log, "P15", ["S-2", "S-3"], NOW, at_shot=at_shot)
    assert [piece.serial for piece in queues(log, "P15")[-1].waiting] == (["S-2", "S-3"] if at_shot else [])


@pytest.mark.parametrize("serial", ["S-2", "B-1", "N-02"])
def test_a_serial_used_before_is_refused_in_words(log: Log, serial: str) -> None:
    enqueue(log, "P15", ["S-1", "S-2"], NOW, at_shot=1)
    entries.mount(log, "P25", "B-1", NOW, at_shot=1)
    entries.mount(log, "P35", "N-01", NOW, at_shot=1, single_use=True)
    log.append(shots(1, 3, "P35"))
    with pytest.raises(UsageError, match=f"serial {serial}: .* allowed: each piece once"):
        enqueue(log, "P15", ["S-3", serial], NOW)
    assert "S-3" not in makings(log)


def test_a_number_beyond_what_a_series_used_is_free(log: Log) -> None:
    entries.mount(log, "P35", "N-01", NOW, at_shot=1, single_use=True)
    log.append(shots(1, 3, "P35"))
    assert enqueue(log, "P15", ["N-04"], NOW, at_shot=1) is not None


def test_pieces_used_twice_are_found(log: Log) -> None:
    entries.mount(log, "P15", "S-1", NOW, at_shot=1, single_use=True)
    log.append(shots(1, 2, "P15"))
    entries.mount(log, "P25", "S-2", NOW, at_shot=1, single_use=True)
    log.append(shots(1, 2, "P25"))
    assert {serial: [(one.press, one.shot) for one in used] for serial, used in used_twice(log).items()} == {
        "S-2": [("P15", 2), ("P25", 1)]
    }


def test_a_reused_insert_is_not_pushed_out_by_a_queue(log: Log) -> None:
    entries.mount(log, "P15", "B-1", NOW, at_shot=1)
    with pytest.raises(UsageError, match="holds the reused insert B-1"):
        enqueue(log, "P15", ["S-1"], NOW)
    assert log.timeline("P15").halves(1)["moving"].serial == "B-1"


def test_positions_come_one_a_serial(log: Log) -> None:
    with pytest.raises(UsageError, match="positions: given 1, allowed: 2"):
        enqueue(log, "P15", ["S-1", "S-2"], NOW, at_shot=1, positions=["a"])


@pytest.mark.parametrize(("words", "said"), [(["S-3..S-1"], "counting up"), (["S-1", "S-1"], "given twice")])
def test_serials_that_make_no_sense_are_refused(words: list[str], said: str) -> None:
    with pytest.raises(UsageError, match=said):
        serials_named(words)


def test_making_is_said_bit_by_bit_and_a_later_statement_wins(log: Log) -> None:
    describe(log, ["B-1"], NOW, said={"design": "cap", "resin": "acrylate", "cost": 18.0}, cured=START)
    describe(log, ["B-1"], NOW, said={"resin": "ceramic-filled"}, dimensions={"gate": (0.05, "inch")})
    made = makings(log)["B-1"]
    assert (made.design, made.resin, made.cost) == ("cap", "ceramic-filled", 18.0)
    assert made.dimensions["gate"] == pytest.approx(1.27)
    assert made.age_days(NOW) == pytest.approx(1.0)
    log.verify()


@pytest.mark.either
def test_a_design_said_later_reaches_the_shots_made_before(log: Log) -> None:
    entries.mount(log, "P15", "B-1", NOW, at_shot=1)
    log.append(shots(1, 2, "P15"))
    describe(log, ["B-1"], NOW, said={"design": "cap", "print_batch": "B7"})
    assert [(s.halves["moving"].design, s.halves["moving"].print_batch) for s in log.logged("P15")] == [
        ("cap", "B7")
    ] * 2


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"mass_g": -1.0}, "mass_g: given -1.0"),
        ({"colour": "red"}, "given 'colour'"),
        ({"print_batch": "a;b"}, "without ;"),
    ],
)
def test_a_making_that_cannot_be_is_refused(log: Log, said: dict[str, str | float], words: str) -> None:
    with pytest.raises(UsageError, match=words):
        describe(log, ["B-1"], NOW, said=said)
    assert makings(log) == {}


def test_a_cure_in_the_future_is_refused(log: Log) -> None:
    with pytest.raises(UsageError, match=r"cured: given .* allowed: not after now"):
        describe(log, ["B-1"], NOW, said={}, cured=NOW + timedelta(hours=1))
