"""The press as an FTP client: it uploads its answers and reports into a folder that the host serves.

An upload is seen growing. The host's side is pyftpdlib, in a thread of the process that serves the scenario: a test
library, asked for only here.
"""

import contextlib
import ftplib
import importlib
import logging
import secrets
import threading
import time
import warnings
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any

from simulators.faces import FaceError

__all__ = ["FtpAddress", "FtpFolder", "FtpHost"]


@dataclass(frozen=True, slots=True)
class FtpAddress:
    """Where the host's folder is served, on the loopback address, and for whom."""

    port: int
    user: str
    password: str


class FtpHost:
    """The folder at the host, served by FTP on a free port (`address`)."""

    def __init__(self, path: Path) -> None:
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore", DeprecationWarning)  # of asynchat, which it needs before Python 3.12
                authorizers = importlib.import_module("pyftpdlib.authorizers")
                handlers = importlib.import_module("pyftpdlib.handlers")
                servers = importlib.import_module("pyftpdlib.servers")
                filesystems = importlib.import_module("pyftpdlib.filesystems")
                loops = importlib.import_module("pyftpdlib.ioloop")
        except ImportError as error:
            raise FaceError("euromap63: ftp: given no pyftpdlib, allowed: an environment that has it") from error
        user, password = "press", secrets.token_hex(8)
        users = authorizers.DummyAuthorizer()
        users.add_user(user, password, str(path), perm="elradfmw")
        kept = type("Unbuffered", (filesystems.AbstractedFS,), {"open": _unbuffered})
        handler = type("Handler", (handlers.FTPHandler,), {"authorizer": users, "abstracted_fs": kept})
        logger = logging.getLogger("pyftpdlib")
        logger.addHandler(logging.NullHandler())  # else it adds one of its own and tells of every transfer on stderr
        logger.setLevel(logging.WARNING)
        self._server = servers.FTPServer(("127.0.0.1", 0), handler, ioloop=loops.IOLoop())
        self.address = FtpAddress(self._server.address[1], user, password)
        self._end = threading.Event()
        self._thread = threading.Thread(target=self._serve, daemon=True)
        self._thread.start()

    def close(self) -> None:
        """Stop serving."""
        self._end.set()
        self._thread.join(5.0)
        self._server.close_all()

    def _serve(self) -> None:
        while not self._end.is_set():
            self._server.ioloop.loop(timeout=0.05, blocking=False)


def _unbuffered(_: object, name: str, mode: str) -> IO[Any]:
    """Open a file of the host so that what has come is seen at once, as with many servers."""
    return Path(name).open(mode, buffering=0)


class FtpFolder:
    """The folder as the press reaches it. `pause` is called between two pieces of an upload."""

    def __init__(self, address: FtpAddress, pause: Callable[[], None] = lambda: time.sleep(0.02)) -> None:
        self.address, self.pause = address, pause
        self._link: ftplib.FTP | None = None
        self._away = False

    def names(self) -> list[str]:
        if self._away:
            return []
        try:
            return sorted(self._ftp().nlst())
        except ftplib.error_perm:  # an empty folder, to some servers
            return []

    def read(self, name: str) -> bytes | None:
        got: list[bytes] = []
        try:
            self._ftp().retrbinary(f"RETR {name}", got.append)
        except ftplib.error_perm:
            return None
        return b"".join(got)

    def write(self, name: str, pieces: Sequence[bytes], append: bool = False) -> None:
        if self._away:
            return
        link = self._ftp().transfercmd(f"{'APPE' if append else 'STOR'} {name}")
        with link:
            for number, piece in enumerate(pieces):
                if number:
                    self.pause()
                link.sendall(piece)
        self._ftp().voidresp()

    def delete(self, name: str) -> None:
        with contextlib.suppress(ftplib.error_perm):
            self._ftp().delete(name)

    def put_away(self) -> None:
        """The connection to the host is gone; what would be uploaded meanwhile is lost."""
        self._away = True

    def put_back(self) -> None:
        self._away = False

    def close(self) -> None:
        if self._link is not None:
            self._link.close()
            self._link = None

    def _ftp(self) -> ftplib.FTP:
        if self._link is None:
            link = ftplib.FTP(timeout=10)  # noqa: S321 (what presses speak; loopback only)
            link.connect("127.0.0.1", self.address.port)
            link.login(self.address.user, self.address.password)
            self._link = link
        return self._link
