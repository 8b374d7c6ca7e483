"""Saying what was done to put a log right: loudly, once, in one place for the start and for all the time after."""

import logging

from shotlog.store.log.recovery import PutRight
from shotlog.wording.putting_right import put_right_said

__all__ = ["say_put_right"]

logger = logging.getLogger(__name__)


def say_put_right(done: PutRight | None) -> None:
    """Say what was done; nothing where nothing had to be."""
    if done is None:
        return
    lost, shots = ({}, {}) if done.found is None else (done.found.lost, done.found.shots)
    logger.error(
        "%s", put_right_said(done.how, str(done.path), done.aside, done.damage, done.whole, lost=lost, shots=shots)
    )
