"""From a shot in the log to its message at a subscriber, and what sending costs whoever stores: with real processes.

Each line is one broker: mosquitto as it is; none at all; one that accepts and never answers; one that takes a second
over every answer. Shots are stored one by one as the logger stores them, and timed; `python -m shotlog.notify` sends
them; `mosquitto_sub` hears them. Nothing is asserted. Run by `make bench-messages`.
"""

import argparse
import os
import socket
import statistics
import subprocess
import tempfile
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

from shotlog.own_python import own_environment, own_python
from shotlog.records import Shot, Start
from shotlog.store.log.log import Log, open_log
from tests.notify.brokers import Broker, Subscriber

CONFIG = """[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
[press.collector]
kind = "recording"
"""


@contextmanager
def mute(answer_after_s: float | None = None, to: int = 0) -> Iterator[int]:
    """Yield a port that accepts and never answers; with `to` passes on to that port, each answer so much later."""
    server = socket.create_server(("127.0.0.1", 0))
    held: list[socket.socket] = []

    def accept() -> None:
        while True:
            try:
                one, _ = server.accept()
            except OSError:
                return
            held.append(one)
            if answer_after_s is not None:
                far = socket.create_connection(("127.0.0.1", to))
                held.append(far)
                for source, sink, pause_s in ((one, far, 0.0), (far, one, answer_after_s)):
                    threading.Thread(target=pump, args=(source, sink, pause_s), daemon=True).start()

    threading.Thread(target=accept, daemon=True).start()
    try:
        yield server.getsockname()[1]
    finally:
        server.close()
        for one in held:
            one.close()


def pump(source: socket.socket, sink: socket.socket, pause_s: float) -> None:
    try:
        while data := source.recv(4096):
            time.sleep(pause_s)
            sink.sendall(data)
    except OSError:
        pass


def store(log: Log, n: int, first: int, pause_s: float) -> tuple[list[float], dict[int, float]]:
    """Store shots one by one; return what each took, and when each was in the log."""
    took, stored = [], {}
    for number in range(first, first + n):
        values = {"cushion": 4.9 + number % 10 / 100, "peak_pressure": 540.0, "fill_time": 0.72}
        began = time.perf_counter()
        log.append([Shot("P25", number, number, datetime.now(UTC), values)])
        took.append(time.perf_counter() - began)
        stored[number] = time.time()
        time.sleep(pause_s)
    return took, stored


def told(name: str, seconds: Sequence[float], n: int) -> str:
    if not seconds:
        return f"{name} none"
    ms = sorted(1e3 * one for one in seconds)
    figures = (statistics.median(ms), ms[int(0.99 * (len(ms) - 1))], ms[-1])
    said = "  ".join(f"{word} {one:7.1f}" for word, one in zip(("median", "99 %", "worst"), figures, strict=True))
    return f"{name} {said} ms" + ("" if len(ms) == n else f"  ({len(ms)} of {n})")


def one_run(folder: Path, title: str, port: int | None, hears: int | None, n: int, pause_s: float) -> None:
    (folder / "trial.toml").write_text(
        CONFIG + ("" if port is None else f'[messages]\nsite = "hall"\nmqtt = "mqtt://127.0.0.1:{port}"\n'), "utf-8"
    )
    with ExitStack() as stack:
        log = stack.enter_context(open_log(f"sqlite:///{(folder / 'trial.db').as_posix()}", read_only=False))
        log.append([Start(datetime.now(UTC), "bench", "", "", "", "{}", "host", str(os.getpid()))])
        heard = None if hears is None else stack.enter_context(Subscriber(hears))
        cpu: Callable[[], float] = float
        if port is not None:
            command = own_python("-m", "shotlog.notify", str(folder / "trial.toml"), "--logger", str(os.getpid()))
            process = subprocess.Popen(command, stdin=subprocess.PIPE, stderr=subprocess.DEVNULL, env=own_environment())
            stack.callback(process.wait)
            stack.callback(process.kill)
            cpu = partial(cpu_of, process.pid)
            if heard is not None:
                heard.wait_for("hall/online")
            time.sleep(2.0)
        before, began = cpu(), time.monotonic()
        took, stored = store(log, n, 1, pause_s)
        if heard is not None:
            heard.wait_for("P25/shot", shot=n)
        share = (cpu() - before) / (time.monotonic() - began)
        print(
            f"{title:<34} {told('stored', took, n)}" + (f"   messenger {100 * share:.1f} % of a core" if port else "")
        )
        if heard is not None:
            came = {one["shot"]: at for (topic, one, _), at in zip(heard.heard, heard.times, strict=True)
                    if topic.endswith("/shot")}  # fmt: skip
            print(f"{'':<34} {told('heard ', [came[number] - stored[number] for number in sorted(came)], n)}")
            n_came = sum(topic.endswith("/shot") for topic, _, _ in heard.heard)
            print(f"{'':<34} messages {n_came}, shots {len(came)}, of {n}", flush=True)


def cpu_of(process: int) -> float:
    """Return the seconds of processor a process has used, on Linux."""
    fields = Path(f"/proc/{process}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--shots", type=int, default=300)
    parser.add_argument("--pause-s", type=float, default=0.2)
    given = parser.parse_args()
    with ExitStack() as stack:
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory()))

        def fresh(name: str) -> Path:
            made = folder / name
            made.mkdir()
            return made

        broker = stack.enter_context(Broker(folder))
        silent = stack.enter_context(mute())
        slow = stack.enter_context(mute(1.0, broker.port))
        with socket.socket() as asked:
            asked.bind(("127.0.0.1", 0))
            nobody = asked.getsockname()[1]
        runs = (
            ("no messages", None, None), ("mosquitto", broker.port, broker.port), ("no broker there", nobody, None),
            ("accepts and never answers", silent, None), ("every answer 1 s late", slow, broker.port),
        )  # fmt: skip
        for title, port, hears in runs:
            one_run(fresh(title.replace(" ", "_")), title, port, hears, given.shots, given.pause_s)


if __name__ == "__main__":
    main()
