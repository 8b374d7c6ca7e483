"""Presses that let a reader in under conditions, or not at all: what `shotlog probe` says, from outside.

Each door says what the logger has to be told to pass it, and what it has to say where it cannot: one sentence on
stderr that names what to do, without a traceback and without a password.
"""

import re
import socket
import subprocess
import sys
import threading
import time
from dataclasses import dataclass
from pathlib import Path

from tests.faults.opc.cases import PLAIN
from tests.faults.opc.played import Played, cycle
from tests.faults.soak.truth import Made

__all__ = ["DOORS", "Door", "try_doors"]

PASSWORD = "let-me-see"


@dataclass(frozen=True)
class Door:
    """One press and how it is asked: `keys` go into the collector's table; `opens` whether it lets the logger in;
    `says` has to stand on stderr. `behind`: what answers on the port, a press with `switches`, or no OPC UA.
    """

    name: str
    keys: str
    opens: bool
    says: str = ""
    switches: str = ""
    behind: str = "press"
    channels: str = PLAIN


USER = '  user = "operator"\n  password_file = "right.txt"\n'
OPEN = "  unprotected_login = true\n"
ENCRYPTED = '  security_policy = "Basic256Sha256"\n  certificate = "own.der"\n  private_key = "own.pem"\n'
DOORS = (
    Door("plain", "", True),
    Door("encrypted", ENCRYPTED, True, switches="encrypt"),
    Door("encrypted with user", ENCRYPTED + USER, True, switches="encrypt+user"),
    Door("user", USER + OPEN, True, switches="user"),
    Door("user in the open", USER, False, "(?i)password would go", switches="user"),
    Door("wrong password", USER.replace("right", "wrong") + OPEN, False, "(?i)password|user", "user"),
    Door("no user given", "", False, "(?i)user", "user"),
    Door("no security given", "", False, "(?i)security_policy|secur", "encrypt"),
    Door("certificate not trusted", ENCRYPTED, False, "(?i)certificate.*trust|trust.*certificate", "encrypt+untrusted"),
    Door("sessions used up", "", False, "(?i)session|connection", "sessions=-1"),
    Door("nobody there", "", False, "cannot be reached", behind="nobody"),
    Door("no OPC UA", "", False, "(?i)opc|answer", behind="noise"),
    Door("silence", "", False, "(?i)answer", behind="silence"),
    Door("field that is not there", "", True, "cushion has no value: no event type.*CushionLength",
         channels=PLAIN.replace("Stroke", "Length")),
    Door("no unit anywhere", "", True, "gives no unit for .*CushionStroke; give it", "no-units"),
    Door("volume without a screw", "", True, "the screw's diameter is not known: give", "volume-only+no-screw",
         channels=PLAIN.replace("Stroke", "Volume")),
)  # fmt: skip


def try_doors(folder: Path, only: str = "") -> list[tuple[Door, int, str, list[str]]]:
    """Return of each door the exit status, what was said, and what is wrong with it."""
    doors = [door for door in DOORS if only in door.name]
    (folder / "right.txt").write_text(PASSWORD + "\n", encoding="utf-8")
    (folder / "wrong.txt").write_text("open-sesame\n", encoding="utf-8")
    _own_certificate(folder)
    played = Played({door.name: door.switches for door in doors if door.behind == "press"})
    out = []
    try:
        for door in doors:
            with socket.create_server(("127.0.0.1", 0)) as other:
                port = played.ports.get(door.name, other.getsockname()[1])
                if door.behind == "nobody":
                    other.close()
                elif door.behind == "noise":
                    threading.Thread(target=_noise, args=(other,), daemon=True).start()
                press = played if door.behind == "press" else None
                out.append((door, *_probe(folder, door, port, press)))
    finally:
        played.close()
    return out


def _noise(server: socket.socket) -> None:
    try:
        while True:
            client, _ = server.accept()
            client.recv(100)
            client.sendall(b"HTTP/1.1 400 Bad Request\r\n\r\n")
            client.close()
    except OSError:
        return


def _probe(folder: Path, door: Door, port: int, press: Played | None) -> tuple[int, str, list[str]]:
    config = folder / "door.toml"
    config.write_text(
        f"""
[log]
store = "sqlite:///door.db"
[[press]]
name = "P"
  [press.collector]
  kind = "opcua-40077"
  url = "opc.tcp://127.0.0.1:{port}"
  shot_counter = {{ name = "MachineCycleCounter" }}
  timeout_s = 2.0
{door.keys}
    [press.collector.channels]
{door.channels}
""",
        encoding="utf-8",
    )
    command = [sys.executable, "-m", "shotlog", "probe", str(config)]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=folder)
    until, number = time.monotonic() + 60.0, 0
    while process.poll() is None and time.monotonic() < until:
        number += 1
        if press is not None:  # it goes on making shots meanwhile
            press.send(door.name, cycle(Made(number, number, 0.0), job=number))
        time.sleep(0.2)
    if process.poll() is None:
        process.kill()
    stdout, stderr = process.communicate()
    wrong = []
    if door.opens != (process.returncode == 0):
        wrong.append(f"exit status {process.returncode}")
    if not re.search(door.says, stderr + ("" if not door.opens else stdout)):
        wrong.append(f"does not say {door.says!r}")
    if not door.opens and len(stderr.strip().splitlines()) != 1:
        wrong.append(f"{len(stderr.strip().splitlines())} lines on stderr")
    if time.monotonic() > until:
        wrong.append("no end within 60 s")
    for secret in (PASSWORD, "open-sesame", "Traceback"):
        if secret in stderr + stdout:
            wrong.append(f"{secret} is shown")
    return process.returncode, stderr.strip() or stdout.strip(), wrong


def _own_certificate(folder: Path) -> None:
    """Make a certificate and its key with a program that is not ours."""
    subject = ["-subj", "/CN=shotlog", "-addext", "subjectAltName=URI:urn:shotlog,DNS:localhost"]
    make = ["openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "30", "-keyout", "own.pem"]
    subprocess.run([*make, "-out", "own.crt", *subject], cwd=folder, check=True, capture_output=True)
    subprocess.run(["openssl", "x509", "-in", "own.crt", "-outform", "DER", "-out", "own.der"], cwd=folder, check=True)
