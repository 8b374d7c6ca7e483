"""A log that has a name, whoever gives it: the release that opened it, or this test."""

from shotlog.store.keeping.head import uid_of
from shotlog.store.log import schema
from shotlog.store.log.log import Log

__all__ = ["named"]


def named(log: Log) -> str:
    """Return the name of a log, given one if it has none."""
    if uid_of(log) is None:
        with log.transaction() as work:
            work.add(schema.logs, uid="made-up-log", reason="a test", time="2026-01-05T06:00:00.000000Z")
    uid = uid_of(log)
    assert uid is not None
    return uid
