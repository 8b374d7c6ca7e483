"""``python -m tests.faults.table [NAME...]``: play the table and print it."""

import sys
import tempfile
import traceback
from pathlib import Path

from tests.faults.table.bed import Play
from tests.faults.table.rows import ROWS
from tests.faults.table.typed import TYPED

print("| row | done | tried | lost | doubled | said | recovery s | not as wanted |\n|---|---|---|---|---|---|---|---|")
failed = 0
for row in (*ROWS, *TYPED):
    if sys.argv[1:] and row.__name__ not in sys.argv[1:]:
        continue
    with tempfile.TemporaryDirectory(prefix="table-", ignore_cleanup_errors=True) as folder:
        try:
            play = row(Path(folder))
        except Exception as error:  # noqa: BLE001 (one row must not hide the others)
            play = Play(0, wrong=[f"{error!r} {traceback.extract_tb(error.__traceback__)[-1]}"])
    failed += bool(play.wrong)
    took = "" if play.recovery_s is None else f"{play.recovery_s:.1f}"
    cells = [
        play.row,
        row.__name__,
        play.tried,
        play.lost,
        play.doubled,
        " / ".join(play.said),
        took,
        " / ".join(play.wrong),
    ]
    print("| " + " | ".join(str(cell).replace("|", "¦").replace("\n", " ") for cell in cells) + " |", flush=True)
sys.exit(1 if failed else 0)
