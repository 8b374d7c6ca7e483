"""What the command line says of messages to people: who is told, whether they get out, and that they were seen."""

import json
from collections.abc import Iterator
from contextlib import redirect_stdout
from datetime import UTC, datetime
from io import StringIO
from pathlib import Path

import pytest

from shotlog.cli.main import main
from shotlog.records import Shot
from shotlog.store.asked.telling import ReceiverNow, Telling, note_telling
from shotlog.store.asked.told import NOTED, ToldRow, write_told
from shotlog.store.log.log import open_log
from tests.notify.receivers import by_http

NOON = datetime(2026, 1, 5, 12, 0, tzinfo=UTC)
HUSH = "geheim7"

CONFIG = f"""
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "recording"
[messages]
site = "hall-2"
about = ["swap", "hold", "lost", "back"]
[[messages.to]]
name = "tool room"
address = "json://10.0.0.7/{HUSH}"
repeat_min = 30
"""


@pytest.fixture
def told(tmp_path: Path) -> Path:
    """A log in which people are told of a swap and of held parts at the press, and of a disk."""
    (tmp_path / "shop.toml").write_text(CONFIG, encoding="utf-8")
    rows = [
        ToldRow("P25", "swap", "swap P25 152", "begins", NOTED, "P25: Swap B-12, moving. Since 152.", NOON),
        ToldRow("P25", "hold", "hold P25 152", "begins", NOTED, "P25: parts of 17 shots held. Why.", NOON),
        ToldRow(None, "disk", "disk at hall-2/the log/x", "begins", NOTED, "hall-2: a disk is low. Why.", NOON),
        ToldRow(None, "disk", "disk at hall-3/the log/x", "begins", NOTED, "hall-3: a disk is low. Why.", NOON),
        ToldRow("P25", "watch", "watch P25 20", "begins", NOTED, "P25: Watch. Why.", NOON),
        ToldRow("P25", "watch", "watch P25 20", "ends", NOTED, "P25: nothing is called any more.", NOON),
    ]
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}", read_only=False) as log:
        log.append([Shot("P25", 168, 168, NOON, {"cushion": 5.0})])
        write_told(log, rows, {}, NOON)
        note_telling(log, "hall-2", Telling(NOON, {"tool room": ReceiverNow(NOON, NOON, 3)}))
    return tmp_path


def said(*words: str, status: int = 0) -> str:
    out = StringIO()
    with redirect_stdout(out):
        assert main(list(words)) == status
    return out.getvalue()


def test_what_is_told_can_be_said_to_be_seen(told: Path, capsys: pytest.CaptureFixture[str]) -> None:
    config = str(told / "shop.toml")
    assert said("acknowledge", config, "P25", "--about", "swap", "--initials", "KB") == (
        "P25: Swap B-12, moving: seen, no more messages of it (acknowledgement 1)\n"
    )
    assert said("acknowledge", config, "--initials", "RM") == (
        "P25: parts of 17 shots held: seen, no more messages of it (acknowledgement 2)\n"
        "hall-2: a disk is low: seen, no more messages of it (acknowledgement 3)\n"
    )
    assert said("acknowledge", config, "P25") == "it was seen before: no message comes of it any more\n"
    assert main(["acknowledge", config, "--about", "lost", "--initials", "RM"]) == 2
    assert capsys.readouterr().err == "shotlog acknowledge: there is nothing that people are told of now\n"
    assert main(["acknowledge", config, "P99"]) == 2
    listed = said("entries", config)
    assert "P25, seen, of what is told: Swap B-12, moving" in listed
    said("undo", config, "acknowledgement", "1", "--reason", "the other press", "--initials", "KB")
    assert said("acknowledge", config, "P25", "--initials", "KB").startswith("P25: Swap B-12, moving: seen")


def test_without_anything_it_only_lists_and_nobody_acknowledges_without_a_name(
    told: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    config = str(told / "shop.toml")
    monkeypatch.setenv("SHOTLOG_INITIALS", "KB")
    lines = said("acknowledge", config).splitlines()
    assert lines[0] == "told since 2026-01-05 12:00:00 +00:00: P25: Swap B-12, moving; not seen yet"
    assert [line.partition(": ")[2] for line in lines[1:3]] == [
        "P25: parts of 17 shots held; not seen yet",
        "hall-2: a disk is low; not seen yet",
    ]
    assert lines[3].startswith("nothing was entered")
    assert "(acknowledgement 1)" in said("acknowledge", config, "P25", "--about", "swap")
    assert "; seen by KB at " in said("acknowledge", config).splitlines()[0]
    monkeypatch.delenv("SHOTLOG_INITIALS")
    assert main(["acknowledge", config, "P25"]) == 2
    assert "initials: given nothing, allowed: yours; messages are stopped only by" in capsys.readouterr().err
    assert main(["acknowledge", config, "--initials", ""]) == 2


def test_without_messages_there_is_nothing_to_see(told: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = told / "quiet.toml"
    file.write_text(CONFIG.partition("[messages]")[0], encoding="utf-8")
    assert main(["acknowledge", str(file)]) == 2
    assert "there is no table [messages]" in capsys.readouterr().err


def test_status_tells_whether_messages_get_out(told: Path) -> None:
    config = str(told / "shop.toml")
    said("acknowledge", config, "P25", "--about", "hold", "--initials", "KB")
    text = said("status", config)
    assert "messages to tool room: NOT TAKEN since 2026-01-05 12:00:00 +00:00, 3 messages wait" in text
    assert "told since 2026-01-05 12:00:00 +00:00: P25: Swap B-12, moving; not seen yet" in text
    assert "P25: parts of 17 shots held; seen by KB at" in text
    assert "NOBODY IS TOLD since 2026-01-05 12:00:00 +00:00: what sends messages is not at work" in text
    assert "hall-3" not in text
    document = json.loads(said("status", config, "--json"))["messages"]
    assert document["receivers"][0] | {"said": ""} == {
        "name": "tool room", "about": ["swap", "hold", "lost", "back"], "last": "2026-01-05T12:00:00.000000Z",
        "failing_since": "2026-01-05T12:00:00.000000Z", "waits": 3, "said": "",
        "why": "", "next_try": None,
    }  # fmt: skip
    assert [(one["about"], one["seen"] is None) for one in document["states"]] == [
        ("swap", True), ("hold", False), ("disk", True)
    ]  # fmt: skip


def test_check_says_who_is_told_of_what_and_no_address(told: Path) -> None:
    text = said("check", str(told / "shop.toml"))
    assert (
        "messages: tool room is told of P25: verdict: swap, parts newly held, a connection lost, a connection back, "
        "again after 30 min until it is seen\n"
    ) in text
    assert HUSH not in text


@pytest.fixture
def way(told: Path) -> Iterator[tuple[str, list[dict[str, str]]]]:
    with by_http() as (port, got):
        text = CONFIG.replace("10.0.0.7", f"127.0.0.1:{port}")
        more = f'[[messages.to]]\nname = "night shift"\naddress = "json://127.0.0.1:{port}/away"\n'
        (told / "way.toml").write_text(text + more, encoding="utf-8")
        yield str(told / "way.toml"), got


def test_check_sends_a_message_only_where_it_is_asked_to(way: tuple[str, list[dict[str, str]]]) -> None:
    pytest.importorskip("apprise")
    config, got = way
    said("check", config)
    assert got == []
    text = said("check", config, "--messages", status=1)
    assert "messages: tool room took the message\n" in text
    assert "messages: night shift did NOT take the message: it answered with error 503\n" in text
    assert [one["title"] for one in got] == ["shotlog: a message to try the way"]


def test_an_address_of_no_service_is_a_warning(told: Path) -> None:
    pytest.importorskip("apprise")
    file = told / "odd.toml"
    file.write_text(CONFIG.replace("json://", "nosuch://"), encoding="utf-8")
    text = said("check", str(file))
    assert "WARNING: messages: the address of tool room is of no service that is known" in text
    assert HUSH not in text
