"""What is stored of the same records is the same to the last bit as the release before stored it."""

from pathlib import Path
from uuid import UUID

import pytest

from shotlog.clock import HandClock
from shotlog.records import Event, Fault, Gap, Insert, Link, Mounting, Removal, SetPoint, Shot, Signature
from shotlog.store.log import transaction
from shotlog.store.log.log import open_log
from tests.made_shots import START

OF_THE_RELEASE_BEFORE = "5e33c6121688847155e4b051fb616bb5e615c675c79cb7765c13c4409793c752"
"""The digest that commit 8038d13 gave, the last before statements were made into text once."""


def records() -> list[Shot | Gap | Fault | Link | Event | Mounting | Removal]:
    """Return a little of everything that a press brings and people enter."""
    made: list[Shot | Gap | Fault | Link | Event | Mounting | Removal] = [Link("P25", START, "connected", "it answers")]
    made.append(Mounting("P25", "moving", Insert("B-001", "cap-r2", "PB-7"), 1, START, single_use=True))
    for n in range(1, 21):
        values = {"cushion": 5.0 if n % 3 else -0.0, "peak_pressure": 540.1 + n, "fill_time": 0.1 * n}
        if n % 4 == 0:
            values["melt_temperature"] = 233.0
        set_points = {"hold pressure": SetPoint(420.0 if n < 12 else 433.5, "bar")}
        made.append(Shot("P25" if n % 2 else "P15", n, n % 16, START, values, set_points=set_points))
    made.append(Gap("P25", 30, 32, START, "the counter jumped"))
    made.append(Fault("P25", START, "range", "beyond", raw=b"\x00\xff", shot=30))
    made.append(Shot("P25", 3, 3, START, {"cushion": 1.0}))
    made.append(Event("P25", 9, "finding", "flash Grün", START, initials="AB"))
    made.append(Removal("P25", "B-001", 33, START, "flash"))
    return made


def test_the_same_records_give_the_digest_of_before(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(transaction.uuid, "uuid4", lambda: UUID(int=7))
    monkeypatch.setattr(transaction, "SystemClock", HandClock)
    with open_log(f"sqlite:///{tmp_path}/log.db", read_only=False) as log:
        log.use_trial("T-1", "cap", "PP", "2026-11-01T08:00:00Z")
        log.signature = Signature("", "", "command", "ab@bench", "AB")
        for n, record in enumerate(records()):
            log.append([record], origin=f"a:{n}")
        log.append(records(), origin="again")
        n_links, digest = log.verify()
    assert n_links == 29
    assert digest == OF_THE_RELEASE_BEFORE
