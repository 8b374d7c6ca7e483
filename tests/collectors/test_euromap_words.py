"""Nothing but the words of one table can be written to a press over EUROMAP 63."""

import ast
from pathlib import Path

import pytest

import shotlog
from shotlog.collectors import euromap_words as words
from shotlog.collectors.euromap_folder import FolderToOrder
from shotlog.collectors.euromap_words import Order
from shotlog.errors import UsageError

COLLECTORS = Path(shotlog.__file__).parent / "collectors"
FORBIDDEN = ("SET", "DOWNLOAD", "UPLOAD", "ABORT ALL", "ABORT", "DELETE", "CYCLIC", "SETUP")


def test_the_tables_hold_what_is_allowed_and_nothing_else() -> None:
    assert set(words.SESSION) == {"CONNECT", "EXECUTE"}
    assert set(words.COMMANDS) == {"GETINFO", "GETID", "REPORT", "EVENT", "ABORT"}


@pytest.mark.parametrize(
    "order",
    [
        words.connect(1),
        words.take_job(1, 7, "S01R0001"),
        words.list_job("S01INFO", "GETINFO"),
        words.list_job("S01IDS", "GETID"),
        words.report_job("S01R0001", ["DATE", "ActTmpBrlZn[1,2]"]),
        words.report_job("S01R0001", ["COUNT"], rewrite=True),
        words.event_job("S01E0001"),
        words.abort_job("S01STOP", "S01R0001"),
    ],
    ids=lambda order: order.word,
)
def test_what_is_asked_can_be_made_and_is_plain_text_with_ends_of_lines(order: Order) -> None:
    assert order.word in {**words.SESSION, **words.COMMANDS}
    assert order.bytes.endswith(b";\r\n")
    assert b"\n" not in order.bytes.replace(b"\r\n", b"")


@pytest.mark.parametrize("word", FORBIDDEN)
@pytest.mark.parametrize("name", ["SESS0001.REQ", "S01R0001.JOB"])
def test_no_other_word_can_be_made_an_order(word: str, name: str) -> None:
    head = 'JOB S01R0001 RESPONSE "S01R0001.LOG";\n' if name.endswith("JOB") else "00000001 "
    for text in (f"{word};", f'{word} "S01R0001.JOB";', f"{word} ActStrCsh[1] 5.0;", f"{word} JOB SHOTS01;"):
        with pytest.raises(UsageError, match="not written to a press"):
            Order(name, head + text)


def test_nothing_can_be_put_behind_a_word_that_is_allowed() -> None:
    good = words.report_job("S01R0001", ["DATE"])
    for more in ("SET ActStrCsh[1] 5;", "\nABORT ALL;", 'UPLOAD "X";'):
        with pytest.raises(UsageError):
            Order(good.name, good.text + more)
        with pytest.raises(UsageError):
            Order("SESS0001.REQ", f"00000000 CONNECT;{more}")
    for token in ("X; SET Y 1", "A,B\nSET", "A B", "", "A[1", '"A"'):
        with pytest.raises(UsageError):
            words.report_job("S01R0001", [token])


def test_a_job_of_somebody_else_is_neither_ended_nor_written_over() -> None:
    for job in ("SHOTS01", "ALL", "S1R0001", "S01R1", "S01R0001X"):
        with pytest.raises(UsageError):
            words.abort_job("S01STOP", job)
        with pytest.raises(UsageError):
            words.report_job(job, ["DATE"])


def test_only_files_of_the_own_session_are_written_or_deleted(tmp_path: Path) -> None:
    folder = FolderToOrder(tmp_path, 1)
    for name in ("SHOTS.DAT", "S02R0001.DAT", "SESS0002.REQ", "SESS0001.DAT", "S01R0001", "S01X0001.DAT"):
        (tmp_path / name).write_text("not ours")
        with pytest.raises(ValueError, match="no file of session 1"):
            folder.drop(name)
        assert (tmp_path / name).read_text() == "not ours"
    with pytest.raises(ValueError, match="no file of session 1"):
        folder.put(words.connect(2))
    (tmp_path / "s01r0001.dat").write_text("ours, in other letters")
    folder.files()
    folder.drop("S01R0001.DAT")
    assert not (tmp_path / "s01r0001.dat").exists()


def test_a_request_is_renamed_into_place_and_leaves_nothing_else(tmp_path: Path) -> None:
    FolderToOrder(tmp_path, 1).put(words.connect(1))
    assert [one.name for one in tmp_path.iterdir()] == ["SESS0001.REQ"]
    assert (tmp_path / "SESS0001.REQ").read_bytes() == b"00000000 CONNECT;\r\n"


def test_one_place_of_the_source_writes_and_it_writes_orders() -> None:
    """Whatever opens, writes, renames or deletes stands in `euromap_folder`; its `put` takes an `Order`."""
    changes = {"write", "write_text", "write_bytes", "replace", "rename", "unlink", "remove", "mkdir", "rmdir", "touch"}
    users: dict[str, set[str]] = {}
    for path in sorted(COLLECTORS.glob("euromap*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        calls = [node.func for node in ast.walk(tree) if isinstance(node, ast.Call)]
        made = {call.attr for call in calls if isinstance(call, ast.Attribute)} & changes
        made |= {call.id for call in calls if isinstance(call, ast.Name) and call.id == "open"}
        users |= {path.name: made} if made else {}
    # of a moment and of a text something is replaced as well
    assert {name: made for name, made in users.items() if made - {"replace"}} == {
        "euromap_folder.py": {"write_bytes", "replace", "unlink"}
    }
