"""Play every fault and print who was told how often; ``python -m tests.faults.messages [WORD...]`` plays some."""

import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.faults.messages.counted import Changes, Row, counted
from tests.faults.messages.rows import ROWS, late
from tests.faults.messages.shop import Shop

_HEAD = (
    f"{'what is done':44} {'receiver':16} {'offered':>8} {'once':>6} {'missing':>8} {'twice':>6}"
    f" {'median':>8} {'worst':>8} s"
)


def played(fault: str, play: Callable[[Shop], Changes], folder: Path, settled: int = 40) -> Iterator[Row]:
    """Play one fault and count what each receiver had; `settled`: shots before it, so that a baseline stands."""
    with Shop(folder) as shop:
        if play is not late:
            shop.listen()
            shop.inbox.start()
        shop.log()
        shop.type("mount", "P1", "B-11", "--design", "cap-r2")
        shop.shots(settled)
        offered = play(shop)
        shop.shots(3)
        shop.until(lambda: set(shop.offered) <= set(shop.logged()), 30)
        shop.until(lambda: not any(row.missing for row in counted(fault, shop, offered)))
        shop.quiet(12.0)
        yield from counted(fault, shop, offered)
        stored = tuple(at - shop.offered[shot] for shot, at in shop.said.items() if shot in shop.offered)
        yield Row(fault, "(stored)", len(shop.offered), len(stored), len(shop.offered) - len(stored), 0, stored)
        for place in shop.where_the_secret_is():
            yield Row(fault, "(secret)", 0, 0, 0, 0, remark=place)
        if shop.end_logger() != 0:
            yield Row(fault, "(logger)", 0, 0, 0, 0, remark="did not end well")


def main() -> int:
    words = sys.argv[1:]
    print(_HEAD)
    wrong = 0
    for fault, play in ROWS.items():
        if words and not any(word in fault for word in words):
            continue
        begun = time.monotonic()
        with TemporaryDirectory(prefix="told-") as folder:
            for row in played(fault, play, Path(folder)):
                wrong += 0 if row.receiver == "(stored)" else row.missing + row.twice
                print(row.line, flush=True)
        print(f"  in {time.monotonic() - begun:.0f} s", flush=True)
    print(f"missing or twice: {wrong}")
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main())
