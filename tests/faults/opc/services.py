"""What is asked for over OPC UA, read off the bytes: OPC 10000-6, OPC UA binary over a secure channel.

A message comes in chunks: three letters (HEL, OPN, MSG, CLO), one for whether it is the last chunk, its length; behind
the headers of the channel the first chunk begins with the id of what is asked for, as a NodeId. The ids are those of
the binary encodings in the OPC Foundation's list of NodeIds; a test compares them with the list that asyncua carries.
"""

import struct
from collections import Counter
from dataclasses import dataclass, field

__all__ = ["MAY_BE_ASKED", "SERVICES", "Listener"]

MAY_BE_ASKED = {
    "FindServers": 422,
    "GetEndpoints": 428,
    "OpenSecureChannel": 446,
    "CloseSecureChannel": 452,
    "CreateSession": 461,
    "ActivateSession": 467,
    "CloseSession": 473,
    "Cancel": 479,
    "Browse": 527,
    "BrowseNext": 533,
    "TranslateBrowsePathsToNodeIds": 554,
    "Read": 631,
    "CreateMonitoredItems": 751,
    "ModifyMonitoredItems": 763,
    "SetMonitoringMode": 769,
    "DeleteMonitoredItems": 781,
    "CreateSubscription": 787,
    "ModifySubscription": 793,
    "SetPublishingMode": 799,
    "Publish": 826,
    "Republish": 832,
    "DeleteSubscriptions": 847,
}
"""What a reader may ask a press for; anything else is too much."""

SERVICES = MAY_BE_ASKED | {
    "RegisterServer": 437,
    "AddNodes": 488,
    "AddReferences": 494,
    "DeleteNodes": 500,
    "DeleteReferences": 506,
    "RegisterNodes": 560,
    "UnregisterNodes": 566,
    "QueryFirst": 615,
    "QueryNext": 621,
    "HistoryRead": 664,
    "Write": 673,
    "HistoryUpdate": 700,
    "Call": 712,
    "SetTriggering": 775,
    "TransferSubscriptions": 841,
    "FindServersOnNetwork": 12208,
    "RegisterServer2": 12211,
}
"""Every service by name, that what was asked for can be said."""

_NAMES = {number: name for name, number in SERVICES.items()}
_NO_SECURITY = b"http://opcfoundation.org/UA/SecurityPolicy#None"


@dataclass
class Listener:
    """Reads one direction of a connection, bytes as they come; `asked` counts what was asked for, `unread` tells what
    could not be read (a secured channel, or no OPC UA at all), which a test must not take for silence.
    """

    asked: Counter[str] = field(default_factory=Counter)
    unread: list[str] = field(default_factory=list)
    _buffer: bytearray = field(default_factory=bytearray)
    _begun: set[int] = field(default_factory=set)
    _secured: bool = False

    def hear(self, data: bytes) -> None:
        """Take bytes."""
        self._buffer += data
        while len(self._buffer) >= 8:
            kind, size = bytes(self._buffer[:3]), int.from_bytes(self._buffer[4:8], "little")
            if kind not in (b"HEL", b"OPN", b"MSG", b"CLO", b"RHE", b"ERR") or size < 8:
                self.unread.append(f"no OPC UA: {bytes(self._buffer[:16])!r}")
                self._buffer.clear()
                return
            if len(self._buffer) < size:
                return
            chunk = bytes(self._buffer[:size])
            del self._buffer[:size]
            self._chunk(kind, chunk)

    def _chunk(self, kind: bytes, chunk: bytes) -> None:
        if kind in (b"HEL", b"RHE", b"ERR"):
            self.asked[{b"HEL": "Hello", b"RHE": "ReverseHello", b"ERR": "Error"}[kind]] += 1
            return
        at = 12
        if kind == b"OPN":
            policy, at = _byte_string(chunk, at)
            self._secured = policy != _NO_SECURITY
            at = _byte_string(chunk, _byte_string(chunk, at)[1])[1]
        else:
            at = 16
        if self._secured:
            self.unread.append(f"{kind.decode()} of a secured channel")
            return
        (request,) = struct.unpack_from("<I", chunk, at + 4)
        if request in self._begun:  # goes on with what an earlier chunk began
            if chunk[3:4] != b"C":
                self._begun.discard(request)
            return
        if chunk[3:4] == b"C":
            self._begun.add(request)
        self.asked[_asked(chunk, at + 8)] += 1


def _byte_string(chunk: bytes, at: int) -> tuple[bytes, int]:
    """Return a string of bytes and where it ends; null is empty."""
    (length,) = struct.unpack_from("<i", chunk, at)
    length = max(length, 0)
    return chunk[at + 4 : at + 4 + length], at + 4 + length


def _asked(chunk: bytes, at: int) -> str:
    """Return the name of the service whose NodeId stands there, or the NodeId, where it is none we know."""
    form = chunk[at]
    if form == 0:
        space, number = 0, chunk[at + 1]
    elif form == 1:
        space, number = chunk[at + 1], int.from_bytes(chunk[at + 2 : at + 4], "little")
    elif form == 2:
        space, number = struct.unpack_from("<HI", chunk, at + 1)
    else:
        return f"NodeId {chunk[at : at + 20]!r}"
    return _NAMES.get(number, f"i={number}") if space == 0 else f"ns={space};i={number}"
