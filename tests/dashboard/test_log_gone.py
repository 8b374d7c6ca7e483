"""The pages notice that their log is gone, say so, and go on in the one that the logger puts in its place."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from hand_filled import Trial

from dashboard import Source
from dashboard.press.page import look
from dashboard.press.standing import PressStanding
from dashboard.shared.held import HeldReader
from dashboard.shared.page import Context
from dashboard.shared.press_reader import PressReader
from shotlog.errors import StoreGone
from shotlog.records import Shot
from shotlog.store.log.held_log import HeldLog, held_log


@pytest.fixture
def logger(trial: Trial) -> Iterator[HeldLog]:
    """The log as a logger holds it."""
    with held_log(trial.settings.store) as log:
        log.reopen()
        yield log


@pytest.fixture
def context(source: Source) -> Context:
    return Context(source, PressReader(source), HeldReader(source), [])


def at_press(context: Context, trial: Trial) -> PressStanding:
    return look(context, trial.clock.now())["P25"][1]


def test_a_log_that_was_deleted_is_said_to_be_gone_and_followed_when_it_is_back(
    trial: Trial, logger: HeldLog, source: Source, context: Context, tmp_path: Path
) -> None:
    trial.mount("B-11")
    trial.shots(6)
    assert at_press(context, trial).headline != "The log is gone"
    reading = source.reading()
    for one in tmp_path.glob("trial.db*"):
        one.unlink()
    said = at_press(context, trial)
    assert (said.sign, said.headline, said.current) == ("cut", "The log is gone", False)
    assert "trial.db is not there any more: deleted, moved away or out of reach" in said.sentence
    assert "A logger that is running keeps its shots" in said.detail
    with pytest.raises(StoreGone):
        logger.append([Shot("P25", 7, 7, trial.clock.now(), {"cushion": 4.9})], origin="a:1")
    logger.reopen()
    logger.append([Shot("P25", 7, 7, trial.clock.now(), {"cushion": 4.9})], origin="a:1")
    fresh = look(context, trial.clock.now())["P25"][0]
    assert fresh is not None
    assert (fresh.view.shot, fresh.view.n_shots) == (7, 7)
    assert [one.serial for one in fresh.view.mounted] == ["B-11"]
    assert source.reading() is not reading


def test_an_older_copy_in_place_of_the_log_is_read_as_what_it_is(
    trial: Trial, source: Source, context: Context, tmp_path: Path
) -> None:
    """Counts were carried on from the log that lay there before."""
    trial.shots(3)
    trial.close()
    older = (tmp_path / "trial.db").read_bytes()
    trial = Trial(tmp_path)
    trial.next_shot["P25"] = 4
    trial.shots(4)
    trial.close()
    before = look(context, trial.clock.now())["P25"][0]
    assert before is not None
    assert before.view.n_shots == 7
    (tmp_path / "copy.db").write_bytes(older)
    (tmp_path / "copy.db").replace(tmp_path / "trial.db")
    after = look(context, trial.clock.now())["P25"][0]
    assert after is not None
    assert after.view.n_shots == 3
