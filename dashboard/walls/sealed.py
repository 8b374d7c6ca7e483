"""TLS in front of the server of the pages: the standard library's, on each connection, in the server's own loop.

A connection is not waited for: what its library has not got yet is asked for again when the socket has more. Reading
and writing go on in two threads, which one connection of that library does not bear: one at a time.
"""

import socket
import ssl
import threading
from pathlib import Path
from time import time
from typing import Any

from shotlog.errors import UsageError

__all__ = ["SealedChannel", "end_of", "sealing", "term"]

_CIPHERS = "ECDHE+AESGCM:ECDHE+CHACHA20"
"""What is taken of TLS 1.2; 1.3 has nothing else."""
_SOON_DAYS = 14
_WHENEVER = 0x200000
"""That a certificate has ended is for us to say, X509_V_FLAG_NO_CHECK_TIME: the library would not let it be read."""

_NOT_SEALED = b"These pages are served over TLS: the address begins with https://\n"
_PLAIN = (
    b"HTTP/1.1 400 Bad Request\r\nContent-Type: text/plain\r\nContent-Length: %d\r\nConnection: close\r\n\r\n%b"
    % (
        len(_NOT_SEALED),
        _NOT_SEALED,
    )
)


class SealedChannel:
    """What a connection over TLS does otherwise; to be put before the class of a plain one."""

    socket: ssl.SSLSocket

    def __init__(self, *how: Any, **more: Any) -> None:
        self._wire = threading.RLock()
        self._has_to_write = False
        super().__init__(*how, **more)

    def writable(self) -> Any:
        return self._has_to_write or super().writable()  # type: ignore[misc]

    def handle_write(self) -> None:
        if self._has_to_write:
            self._has_to_write = False
            self.handle_read()
        super().handle_write()  # type: ignore[misc]

    def handle_read(self) -> None:
        """Take all there is: what is unsealed already shows at no socket."""
        more = True
        while more and self.connected:  # type: ignore[attr-defined]
            try:
                with self._wire:
                    data = self.socket.recv(self.adj.recv_bytes)  # type: ignore[attr-defined]
                    more = self.socket.pending() > 0
            except ssl.SSLWantReadError:
                return
            except ssl.SSLWantWriteError:
                self._has_to_write = True
                return
            except (OSError, ValueError) as error:
                if getattr(error, "reason", "") == "HTTP_REQUEST":
                    _say_plainly(self.socket)
                data = b""
            if not data:
                self.handle_close()  # type: ignore[attr-defined]
                return
            self.last_activity = time()
            self.received(data)  # type: ignore[attr-defined]

    def send(self, data: bytes, do_close: bool = True) -> int:
        try:
            with self._wire:
                return int(super().send(data, do_close))  # type: ignore[misc]
        except (ssl.SSLWantReadError, ssl.SSLWantWriteError):
            return 0


def _say_plainly(sealed: ssl.SSLSocket) -> None:
    """Tell whoever asked without TLS, where it can be told at once."""
    try:
        socket.socket.send(sealed, _PLAIN)
    except OSError:
        return


def sealing(certificate: Path, key: Path) -> ssl.SSLContext:
    """Return what seals connections by two files in PEM.

    Raises
    ------
    UsageError
        One cannot be read, is none, or they do not belong together.
    """
    for file, what in ((certificate, "certificate"), (key, "key")):
        try:
            file.read_bytes()
        except OSError as error:
            raise UsageError(f"dashboard.{what}: {file} cannot be read: {error.strerror or error}") from error
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    context.options |= ssl.OP_NO_RENEGOTIATION
    context.set_ciphers(_CIPHERS)
    try:
        context.load_cert_chain(certificate, key, password="")
    except (ssl.SSLError, ValueError) as error:
        if getattr(error, "reason", "") == "KEY_VALUES_MISMATCH":
            raise UsageError(f"dashboard.key: {key} is not the key of the certificate {certificate}") from error
        raise UsageError(
            f"dashboard.certificate, .key: {certificate} and {key} are no certificate and key in PEM without a password"
        ) from error
    return context


def end_of(certificate: Path, context: ssl.SSLContext) -> str:
    """Return until when a certificate holds that was just read, as it says so.

    The library reads a certificate only from whoever shows it: it is shown here to one that trusts it and no other.
    """
    asking = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    asking.check_hostname = False
    asking.load_verify_locations(certificate)
    asking.verify_flags |= ssl.VERIFY_X509_PARTIAL_CHAIN | _WHENEVER
    to, fro = ssl.MemoryBIO(), ssl.MemoryBIO()
    asked = context.wrap_bio(to, fro, server_side=True)
    asks = asking.wrap_bio(fro, to)
    for one in (asks, asked, asks):
        try:
            one.do_handshake()
        except ssl.SSLWantReadError:
            continue
    return str((asks.getpeercert() or {})["notAfter"])


def term(certificate: Path, until: str, now: float) -> str:
    """Return what is to be said of how long it holds, empty where nothing is; `now` in seconds since 1970."""
    left_s = ssl.cert_time_to_seconds(until) - now
    another = "put another in its place and start anew"
    if left_s < 0:
        return f"the certificate {certificate} ended on {until}: browsers warn of these pages; {another}"
    if left_s < _SOON_DAYS * 86_400:
        return f"the certificate {certificate} ends on {until}; {another} before"
    return ""
