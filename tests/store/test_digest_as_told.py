"""How a digest is formed, as the documents tell it: the example, and a small log by their words and nothing of ours."""

import hashlib
import json
import re
import sqlite3
from pathlib import Path
from typing import Any

from shotlog.store.log.log import open_log
from tests.made_shots import shots

TOLD = Path(__file__).parents[2] / "docs" / "centre.md"


def test_the_example_is_right() -> None:
    found = re.search(r"printf '%064d%s' 0 '(.*)' \| sha256sum\n    ([0-9a-f]{64})\n", TOLD.read_text(encoding="utf-8"))
    assert found is not None
    text, digest = found.groups()
    assert hashlib.sha256(f"{'0' * 64}{text}".encode()).hexdigest() == digest


def test_a_log_is_worked_out_by_what_is_told(tmp_path: Path) -> None:
    path = tmp_path / "trial.db"
    with open_log(f"sqlite:///{path}", read_only=False) as log:
        log.append(shots(1, 3))
        log.append(shots(4, 5))
    base = sqlite3.connect(path)
    base.row_factory = sqlite3.Row
    before, links = "0" * 64, base.execute("SELECT rows, digest FROM ledger ORDER BY id").fetchall()
    for names, digest in links:
        text = before
        for table, number in (name.split(":") for name in names.split()):
            row = base.execute(f"SELECT * FROM {table} WHERE id = ?", (number,)).fetchone()
            filled = {name: _plain(row[name]) for name in row.keys() if row[name] is not None}  # noqa: SIM118
            text += table + json.dumps(filled, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        before = hashlib.sha256(text.encode()).hexdigest()
        assert before == digest
    base.close()
    assert len(links) > 1


def _plain(value: Any) -> Any:
    return int(value) if isinstance(value, float) and value.is_integer() else value
