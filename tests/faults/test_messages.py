"""A broker and people's inbox that are killed and come back have each shot and each change of state once."""

import os
import shutil
from pathlib import Path

import pytest

from shotlog.cli.main import main
from tests.faults.messages.counted import Row, counted
from tests.faults.messages.receivers import Listener
from tests.faults.messages.rows import odd_shot
from tests.faults.messages.shop import Shop

pytestmark = pytest.mark.file  # what was logged is counted in the file, by nothing of ours


@pytest.fixture(autouse=True)
def _others_are_here() -> None:
    if all(map(shutil.which, ("mosquitto_sub", "mosquitto_passwd"))):
        return
    why = "no mosquitto, so no message was heard by another's client (install: apt install mosquitto mosquitto-clients)"
    if os.environ.get("CI") == "true":
        pytest.fail(why)
    pytest.skip(why)


def test_receivers_that_were_killed_have_all_of_it_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with Shop(tmp_path, every_s=0.1) as shop:
        shop.listen()
        shop.inbox.start()
        shop.log()
        assert main(["mount", str(shop.config), "P1", "B-11", "--design", "cap-r2"]) == 0
        shop.shots(40)  # so that shots are judged: those of a level that is being learnt end nothing
        shop.broker.kill()
        shop.inbox.kill()
        offered = odd_shot(shop)
        shop.broker.start()
        shop.inbox.start()
        shop.shots(3)

        def rows() -> list[Row]:
            return counted("", shop, offered)

        def all_of_it() -> bool:
            return set(shop.offered) <= set(shop.logged()) and not any(one.missing for one in rows())

        assert shop.until(all_of_it), "\n".join(one.line for one in rows())
        late = Listener(shop.broker.port, tmp_path / "late")
        assert shop.until(
            lambda: {one.topic.rsplit("/", 1)[1] for one in late.heard() if one.kept} == {"online", "link", "verdict"}
        )
        late.stop()
        assert shop.end_logger() == 0
        assert [(one.missing, one.twice) for one in rows()] == [(0, 0)] * 3, "\n".join(one.line for one in rows())
        assert shop.where_the_secret_is() == []
