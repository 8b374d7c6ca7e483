"""Invalid records cannot exist."""

import dataclasses
import math
from collections.abc import Callable
from datetime import UTC, datetime, timedelta, timezone
from typing import Any

import pytest

from shotlog.entries import KINDS
from shotlog.errors import UsageError
from shotlog.records import (
    HALVES,
    Event,
    Fault,
    Gap,
    Insert,
    Link,
    LoggedShot,
    Mounting,
    OtherChange,
    Removal,
    Shot,
    Signal,
    Verdict,
    Weighing,
)

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
NAIVE = datetime(2026, 1, 5, 6, 0)

GOOD: dict[str, Callable[..., Any]] = {
    "shot": lambda **k: Shot(**{"press": "P25", "shot": 7, "counter": 7, "time": NOW, "values": {"cushion": 4.97}} | k),
    "gap": lambda **k: Gap(**{"press": "P25", "first": 3, "last": 5, "time": NOW, "reason": "counter went on"} | k),
    "fault": lambda **k: Fault(**{"press": "P25", "time": NOW, "kind": "torn", "detail": "twice"} | k),
    "link": lambda **k: Link(**{"press": "P25", "time": NOW, "state": "lost", "detail": "refused"} | k),
    "insert": lambda **k: Insert(**{"serial": "M-014", "design": "cap-r2", "print_batch": "B7"} | k),
    "mounting": lambda **k: Mounting(
        **{"press": "P25", "half": "moving", "insert": Insert("M-014"), "at_shot": 1, "time": NOW} | k
    ),
    "removal": lambda **k: Removal(
        **{"press": "P25", "serial": "M-014", "at_shot": 9, "time": NOW, "reason": "flash"} | k
    ),
    "event": lambda **k: Event(**{"press": "P25", "at_shot": 9, "kind": "lot", "text": "L2", "time": NOW} | k),
    "logged": lambda **k: LoggedShot(**{"press": "P25", "shot": 7, "time": NOW, "values": {}} | k),
    "other": lambda **k: OtherChange(**{"group": "material", "cause": "lot change", "onset": 4} | k),
    "verdict": lambda **k: Verdict(
        **{
            "press": "P25",
            "shot": 7,
            "insert": "M-014",
            "shots_on_insert": 7,
            "settling": False,
            "verdict": "keep",
            "sentence": "No change seen.",
        }
        | k
    ),
}

WRONG = [
    ("shot", {"press": ""}, "press"),
    ("shot", {"shot": -1}, "shot: given -1"),
    ("shot", {"shot": 2**63}, "allowed: 0 to"),
    ("shot", {"counter": -1}, "counter"),
    ("shot", {"time": NAIVE}, "offset from UTC"),
    ("shot", {"values": {"cushon": 4.97}}, "given 'cushon', allowed: cushion, "),
    ("shot", {"values": {"cushion": math.nan}}, "cushion of shot 7: given nan"),
    ("shot", {"values": {"cushion": -math.inf}}, "given -inf"),
    ("gap", {"last": 2}, "given shots 3 to 2, allowed: at least one shot"),
    ("gap", {"first": -3}, "first shot of a gap"),
    ("gap", {"time": NAIVE}, "offset"),
    ("fault", {"time": NAIVE}, "offset"),
    ("fault", {"press": ""}, "press"),
    ("fault", {"shot": -1}, "shot: given -1"),
    ("link", {"state": "gone"}, "given 'gone', allowed: connected, lost, stopped"),
    ("insert", {"serial": ""}, "serial: given nothing"),
    *(("insert", {"serial": serial}, "serial") for serial in (" M", "M ", "M,1", "M;1", "M:1", "M\n1", "M\t1", "M\0")),
    ("insert", {"design": "a;b"}, "design: given 'a;b'"),
    ("insert", {"print_batch": "a\nb"}, "print batch"),
    ("mounting", {"half": "left"}, f"given 'left', allowed: {', '.join(HALVES)}"),
    ("mounting", {"at_shot": -5}, "at shot: given -5"),
    ("mounting", {"time": NAIVE}, "offset"),
    ("mounting", {"insert": Insert("pawl"), "single_use": True}, "ends in a number"),
    ("mounting", {"insert": Insert("S-²"), "single_use": True}, "ends in a number"),
    ("removal", {"at_shot": -1}, "at shot"),
    ("removal", {"reason": "\ud800"}, "reason"),
    ("event", {"kind": "lunch"}, f"given 'lunch', allowed: {', '.join(KINDS)}"),
    ("event", {"at_shot": 2**64}, "at shot"),
    ("event", {"text": "a\0b"}, "text"),
    ("event", {"text": "\udcff"}, "text"),
    ("event", {"kind": "sound", "text": "looks fine"}, "given 'looks fine', allowed: who looked, a comma, and what"),
    ("event", {"kind": "sound", "text": ", "}, "text of sound: given nothing"),
    *((name, {"time": NAIVE}, "offset") for name in ("link", "removal", "event", "logged")),
    ("other", {"cause": "a:b"}, "cause: given 'a:b'"),
    ("other", {"group": "a;b"}, "group: given 'a;b'"),
    ("other", {"onset": -1}, "onset: given -1"),
    ("verdict", {"verdict": "perhaps"}, "allowed: keep, watch, swap"),
]


@pytest.mark.parametrize("name", GOOD)
def test_a_record_is_frozen(name: str) -> None:
    record = GOOD[name]()
    field = dataclasses.fields(record)[0].name
    with pytest.raises(dataclasses.FrozenInstanceError):
        setattr(record, field, "other")


@pytest.mark.parametrize(("name", "changed", "said"), WRONG)
def test_a_wrong_record_is_refused_in_one_line(name: str, changed: dict[str, Any], said: str) -> None:
    with pytest.raises(UsageError) as caught:
        GOOD[name](**changed)
    assert said in str(caught.value)
    assert "\n" not in str(caught.value)


def test_the_values_of_a_shot_cannot_be_changed_from_outside() -> None:
    values = {"cushion": 4.97}
    shot = GOOD["shot"](values=values)
    values["cushion"] = 0.0
    assert shot.values == {"cushion": 4.97}
    with pytest.raises(TypeError):
        shot.values["cushion"] = 0.0


def test_minus_zero_and_whole_numbers_become_what_a_database_gives_back() -> None:
    """A printed -0,00 was stored as 0.0 and the hash chain, taken over -0.0, then called the log tampered with."""
    shot = GOOD["shot"](values={"cushion": -0.0, "cycle_time": 30})
    assert math.copysign(1.0, shot.values["cushion"]) == 1.0
    assert isinstance(shot.values["cycle_time"], float)


def test_a_time_elsewhere_is_as_good_as_utc() -> None:
    there = datetime(2026, 1, 5, 8, 0, tzinfo=timezone(timedelta(hours=2)))
    assert GOOD["shot"](time=there).time == NOW


def test_a_gap_counts_both_its_ends() -> None:
    assert GOOD["gap"]().n_shots == 3
    assert GOOD["gap"](first=3, last=3).n_shots == 1


def test_the_name_of_a_signal_is_the_one_of_the_verdict_file() -> None:
    assert Signal("P25", 7, "individuals", "cushion", "below", 4.2, 5.0, 4.5, 5.5).name == "individuals:cushion:below"


def test_nothing_that_a_peer_sent_is_kept_longer_than_it_needs_to_be() -> None:
    fault = Fault("P25", NOW, "bad answer", "d" * 5000, b"\xa5" * 10_000)
    assert (len(fault.raw), len(fault.detail)) == (4096, 1000)
    assert Fault("P25", NOW, "torn", "twice", b"\xa5" * 4096).detail == "twice"
    assert len(Link("P25", NOW, "lost", "e" * 5000).detail) == 1000
    assert len(Shot("P25", 1, 1, NOW, came="9;" * 5000).came) == 1000
    assert len(Weighing("P25", "B1", 10.2, NOW, 120.0, b"+" * 5000).raw) == 4096


def test_words_that_no_database_takes_are_shown_by_their_escapes() -> None:
    assert Fault("P25", NOW, "internal", "a\0b\ud800c").detail == "a\\x00b\\ud800c"
    assert Link("P25", NOW, "lost", "\0").detail == "\\x00"
