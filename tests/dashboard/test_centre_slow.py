"""A centre that does not answer, or takes long to read, keeps no page waiting but the one that asks it."""

import threading
from datetime import UTC, datetime
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import pytest

from dashboard.centre import edges as module
from dashboard.centre.edges import EdgeLogs, Edges
from dashboard.centre.plant import CentrePlant
from dashboard.plant.reader import LogNow
from shotlog.clock import HandClock
from shotlog.errors import StoreUnreachable
from shotlog.settings import Settings

NOW = datetime(2026, 3, 2, 6, 0, tzinfo=UTC)


class Slow:
    """A centre that answers when it is let go on, each time anew."""

    def __init__(self) -> None:
        self.asked, self.go = threading.Event(), threading.Event()
        self.n = 0

    def edges(self) -> list[Any]:
        self.n += 1
        self.asked.set()
        assert self.go.wait(30)
        raise StoreUnreachable("centre: it does not answer")


def test_while_one_waits_for_a_silent_server_the_others_are_told_what_was_known(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    centre, clock = Slow(), HandClock()
    monkeypatch.setattr(module, "open_centre", lambda _: centre)
    edges = Edges(cast(Settings, SimpleNamespace(store="")), clock)
    centre.go.set()
    for _ in range(6):
        with pytest.raises(StoreUnreachable, match="does not answer"):
            edges.now()
    assert centre.n == 1
    clock.advance(60)
    centre.asked.clear()
    centre.go.clear()

    def ask() -> None:
        with pytest.raises(StoreUnreachable):
            edges.now()

    asking = threading.Thread(target=ask)
    asking.start()
    assert centre.asked.wait(30)
    with pytest.raises(StoreUnreachable, match="does not answer"):
        edges.now()
    assert asking.is_alive()
    centre.go.set()
    asking.join(30)
    assert centre.n == 2


def test_a_long_first_read_of_the_plant_keeps_no_page_waiting(monkeypatch: pytest.MonkeyPatch) -> None:
    reading, go = threading.Event(), threading.Event()
    found = tuple(
        SimpleNamespace(name=f"e{n}", link=1, set_aside=None, silent_s=0.0, last_seen=NOW, behind=0) for n in range(3)
    )

    def slowly(_: datetime) -> LogNow:
        reading.set()
        assert go.wait(30)
        return LogNow(())

    of_edges = SimpleNamespace(now=lambda: found, clock=HandClock())
    logs = SimpleNamespace(edges=of_edges, of=lambda name: name)
    monkeypatch.setattr("dashboard.centre.plant.PlantReader", lambda context, name: SimpleNamespace(look=slowly))
    plant = CentrePlant(cast(EdgeLogs, logs))
    first = threading.Thread(target=plant.look, args=(NOW, 60.0))
    first.start()
    assert reading.wait(30)
    assert plant.look(NOW, 0.0)[0].notices == ("3 of 3 edges are being read",)
    assert first.is_alive()
    go.set()
    first.join(30)
    assert plant.look(NOW, 0.8)[0].notices == ()
