"""The demo's own threads end with it."""

import threading

import pytest

from shotlog.cli.demo import running
from shotlog.errors import StoreUnreachable


def test_the_operator_ends_when_logging_fails() -> None:
    """It used to wait for a stop that only the end of a good run gave, so a full disk hung the demo for ever."""
    stop = threading.Event()
    operator = threading.Thread(target=stop.wait, daemon=True)
    with pytest.raises(StoreUnreachable), running(operator, stop):
        raise StoreUnreachable("disk full")
    assert not operator.is_alive()
