"""Telling whoever supervises this process that it is ready, at work, and ending: sd_notify(3), a datagram a word.

The protocol is that of systemd, and other supervisors speak it too: lines ``NAME=VALUE`` to the socket that stands in
NOTIFY_SOCKET. Nothing comes back. Where nobody supervises, nothing is sent.
"""

import os
import socket
from collections.abc import MutableMapping

__all__ = ["Supervisor"]


class Supervisor:
    """Who supervises this process; `every_s`: how often it wants to hear that it is at work, None where it does not."""

    def __init__(self, address: str = "", every_s: float | None = None) -> None:
        # a name that begins with @ is of no file: its first byte is 0
        self._address = f"\0{address[1:]}" if address.startswith("@") else address
        self.every_s = every_s if address else None

    @classmethod
    def of(cls, environment: MutableMapping[str, str] = os.environ) -> "Supervisor":
        """Return who supervises by the environment, and take it from there: processes that we start have none."""
        address = environment.pop("NOTIFY_SOCKET", "")
        microseconds, process = environment.pop("WATCHDOG_USEC", ""), environment.pop("WATCHDOG_PID", "")
        meant = process in ("", str(os.getpid())) and microseconds.isdigit()
        return cls(address if hasattr(socket, "AF_UNIX") else "", int(microseconds) / 1e6 if meant else None)

    @property
    def is_there(self) -> bool:
        """Whether anybody listens."""
        return bool(self._address)

    def ready(self, said: str) -> None:
        """Say that it is ready, and in a sentence what it does."""
        self._tell("READY=1", f"STATUS={said}")

    def alive(self, said: str) -> None:
        """Say that everything goes on."""
        self._tell("WATCHDOG=1", f"STATUS={said}")

    def says(self, said: str) -> None:
        """Say how it stands; it does not count as a sign of life."""
        self._tell(f"STATUS={said}")

    def stopping(self) -> None:
        """Say that it ends."""
        self._tell("STOPPING=1", "STATUS=ending: what was read goes into the log or the journal")

    def _tell(self, *lines: str) -> None:
        if not self._address:
            return
        try:
            with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as out:
                out.setblocking(False)  # one that reads nothing must not hold up the watching
                out.sendto("\n".join(line.replace("\n", " ") for line in lines).encode(), self._address)
        except OSError:  # gone, or full: the next word is soon
            pass
