"""A plugin of pytest for the sample: run chosen tests in a chosen order, none for ever, and note what each took.

SHOTLOG_CHOSEN names a file with the tests to run, one a line; SHOTLOG_NOTED one to write what was noted to.
"""

import faulthandler
import json
import os
import sys
from pathlib import Path

import pytest

LONGEST_S = 300.0
"""A test that takes longer hangs, on a busy machine too: the slowest takes 20 s alone."""

_noted: dict[str, dict[str, object]] = {}


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if "SHOTLOG_CHOSEN" not in os.environ:
        return
    chosen = Path(os.environ["SHOTLOG_CHOSEN"]).read_text(encoding="utf-8").splitlines()
    order = {test: place for place, test in enumerate(chosen)}
    config.hook.pytest_deselected(items=[item for item in items if item.nodeid not in order])
    items[:] = sorted((item for item in items if item.nodeid in order), key=lambda item: order[item.nodeid])


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item: pytest.Item) -> None:
    faulthandler.dump_traceback_later(LONGEST_S, exit=True, file=sys.__stderr__)
    fixtures = item._fixtureinfo.name2fixturedefs
    shared = sorted(name for name, found in fixtures.items() if found[-1].scope != "function")
    item.user_properties.append(("shared", shared))


def pytest_runtest_teardown() -> None:
    faulthandler.cancel_dump_traceback_later()


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    noted = _noted.setdefault(report.nodeid, {"seconds": 0.0, "passed": True})
    noted["seconds"] += report.duration
    noted["passed"] &= report.passed
    noted.update(report.user_properties)


def pytest_sessionfinish(session: pytest.Session) -> None:
    if "SHOTLOG_NOTED" in os.environ and not hasattr(session.config, "workerinput"):
        Path(os.environ["SHOTLOG_NOTED"]).write_text(json.dumps(_noted), encoding="utf-8")
