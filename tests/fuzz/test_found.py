"""What odd inputs brought to light, each by itself: so that it stays mended whatever the next seed makes."""

import time
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from dashboard.parts.desk import number
from dashboard.plan.page import asked_of
from dashboard.shift.query import Query
from shotlog.cli.given import amount
from shotlog.clock import iso_utc, parse_utc
from shotlog.collectors.balance_lines import Refused, read_line
from shotlog.errors import RecordingError, ShotlogError, UsageError
from shotlog.settings import load
from shotlog.store import importing
from shotlog.store.inserts.queue import serials_named
from shotlog.store.log.log import Log
from tests.collectors.test_modbus_client import Block, framed, rtu
from tests.fuzz.of_entries import Entries
from tests.fuzz.of_requests import Requests


@pytest.mark.parametrize("answer", ["03 01 03", "03 03 03 D6 00", "03 05 03 D6 00 00 00", "03 03 FF FE 03 03 02 FF FE"])
def test_an_answer_that_says_another_length_is_not_taken(answer: str) -> None:
    client, _ = rtu(framed(answer), "holding")
    with pytest.raises(ShotlogError):
        client.read(Block(0x6B, 1))


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ("press,shot,finding\nP25,2,flash", "needed: inspected, press, shot"),
        ("press,shot,inspected,quantity,value,value\nP25,1,2026-01-06,wall,1,2", "appears twice"),
        ("press,shot,inspected,quantity,value\nP25,1,2026-01-06,wall,1,2", "more cells than the header"),
        ("press,shot,inspected,quantity,value\nP25,x,2026-01-06,wall,1", "shot: given 'x', allowed: a whole number"),
        ("press,shot,inspected,quantity,value\nP25,1,2026-01-06,wall,inf", "value: given 'inf', allowed: a number"),
        ("press,shot,inspected,quantity,value\nP25,1,2026-01-06,wall,1_0", "value: given '1_0', allowed: a number"),
    ],
)
def test_inspections_that_do_not_read_are_refused_in_a_line(log: Log, tmp_path: Path, table: str, said: str) -> None:
    (tmp_path / "i.csv").write_text(table, encoding="utf-8")
    with pytest.raises(RecordingError, match=said):
        importing.read_inspected(log, tmp_path / "i.csv")


@pytest.mark.parametrize("text", ["1e309", "nan", "inf", "1_000", "\u0665"])
def test_what_is_no_plain_number_is_none(text: str) -> None:
    with pytest.raises(UsageError, match="allowed: a number"):
        number(text, "wall")
    with pytest.raises(UsageError, match="allowed: a number"):
        amount(text)
    with pytest.raises(UsageError):
        asked_of({"other": "cap", "parts": "5", "planned": text}, {})
    assert isinstance(read_line("\u0665 g", "g"), Refused)


def test_a_long_run_of_serials_is_counted_once() -> None:
    with pytest.raises(UsageError, match="S-009: given twice"):
        serials_named(["S-001..S-9003", "S-009"])
    begun = time.thread_time()
    assert len(serials_named(["S-001..S-9003"])) == 9003
    assert time.thread_time() - begun < 0.5


def test_a_view_holds_only_what_its_address_can() -> None:
    view = Query.parse("press=P\udcff&trial=\ud800")
    assert Query.parse(view.search) == view


def test_a_time_of_long_ago_reads_back() -> None:
    for year in (1, 26, 999, 1970, 9999):
        moment = datetime(year, 1, 5, 6, 1, tzinfo=UTC)
        assert iso_utc(moment) == f"{year:04d}-01-05T06:01:00.000000Z"
        assert parse_utc(iso_utc(moment)) == moment


@pytest.fixture(scope="module")
def entries(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Entries]:
    made = Entries(tmp_path_factory.mktemp("entries"))
    yield made
    made.close()


@pytest.mark.parametrize(
    ("page", "what", "arg"),
    [("press", "nonsense", ""), ("press", "undo", "events:x"), ("press", "undone", "shots:1"), ("press", "again", ""),
     ("press", "say", "k"), ("press", "unchanged", "note"), ("press", "sure", "sure:sure:enter:swap"),
     ("press", "swapped", "roof"), ("press", "open", "roof"), ("press", "enter", "roof"), ("parts", "roof", "P25 1")],
)  # fmt: skip
def test_a_touch_of_no_button_is_refused(entries: Entries, page: str, what: str, arg: str) -> None:
    assert entries.judge((page, what, arg, {})) == "refused"


@pytest.mark.parametrize(
    ("what", "about", "fields"),
    [("scrap", "P25 3", {"parts": "3", "reason": "a\0b"}), ("scrap", "P25 3", {"parts": "3", "reason": "a\ud800"}),
     ("check", "B1", {"concentration": "1", "temperature": "40", "initials": "A\0"}), ("fill", "", {"bath": "B\0"})],
)  # fmt: skip
def test_a_text_that_no_database_takes_is_refused(
    entries: Entries, what: str, about: str, fields: dict[str, str]
) -> None:
    assert entries.judge(("parts", what, about, fields)) == "refused"


def test_a_request_that_no_page_makes_is_refused_in_a_line(tmp_path: Path) -> None:
    requests = Requests(tmp_path)
    try:
        assert requests.judge(("POST", "/_dash-update-component", b'{"output":"","outputs":[{"id":{"":1}}]}')) == "400"
    finally:
        requests.close()


def test_a_pattern_that_python_wonders_at_is_taken_without_a_word(tmp_path: Path) -> None:
    from shotlog.collectors import options

    (tmp_path / "c.toml").write_text(
        '[log]\nstore = "sqlite:///t.db"\n[[press]]\nname = "P"\n[press.collector]\nkind = "serial-line"\nport = "x"\n'
        'skip = "[[a]"\nshot_counter = { field = 1 }\n'
        '[press.collector.channels]\ncushion = { field = 2, unit = "mm" }\n',
        encoding="utf-8",
    )
    assert options(load(tmp_path / "c.toml").presses[0]).describe()
