"""What is kept of a picture file: its image and how it is turned, nothing that says where or with what it was taken.

A phone writes place, time and its own number into every picture. Those are somebody's private affairs and no part of
the record, so they are left out before the digest is taken. The image itself is not touched: its segments or chunks
are copied byte for byte. What a file is follows from its first bytes, never from its name.

References
----------
ITU-T T.81 (JPEG), annex B: markers, segments. ITU-T T.871 (JFIF), 10.1: its segment. Exif 2.3 (JEITA CP-3451), 4.6.4:
tag 0x0112, orientation. PNG (ISO/IEC 15948), clauses 5 and 11: chunks. WebP container: RFC 9649.
"""

import struct
import zlib
from collections.abc import Iterator
from dataclasses import dataclass

from shotlog.errors import UsageError

__all__ = ["ALLOWED", "MOST_BYTES", "KeptImage", "kept_image"]

MOST_BYTES = 8 * 1024 * 1024
_MOST_SIDE, _MOST_DOTS = 16_383, 50_000_000
"""The longest side of a WebP; what a phone of today takes at most, and a tablet can still show (judgement)."""

ALLOWED = f"a JPEG, PNG or WebP picture of {MOST_BYTES // 1024 // 1024} MB at most"


@dataclass(frozen=True, slots=True)
class KeptImage:
    """The bytes that are kept of a picture; `width` and `height` in dots, as stored."""

    media: str
    data: bytes
    width: int
    height: int


def kept_image(given: bytes) -> KeptImage:
    """Return what is kept of a picture file.

    Raises
    ------
    UsageError
        It is no picture of an allowed kind, too large, or cut off.
    """
    if len(given) > MOST_BYTES:
        raise UsageError(f"picture: given {len(given) / 1024 / 1024:.1f} MB, allowed: {ALLOWED}")
    for magic, media, read in _KINDS:
        if given.startswith(magic) and (media != "image/webp" or given[8:12] == b"WEBP"):
            try:
                data, width, height = read(given)
            except (struct.error, IndexError, ValueError) as error:
                raise UsageError(
                    f"picture: given one that is cut off or damaged ({error}), allowed: {ALLOWED}"
                ) from error
            _refuse_huge(width, height)
            return KeptImage(media, data, width, height)
    shown = given[:8].hex(" ") or "nothing"
    raise UsageError(f"picture: given a file that begins with {shown}, allowed: {ALLOWED}")


def _refuse_huge(width: int, height: int) -> None:
    if not (1 <= width <= _MOST_SIDE and 1 <= height <= _MOST_SIDE) or width * height > _MOST_DOTS:
        raise UsageError(
            f"picture: given {width} x {height} dots, allowed: {_MOST_DOTS // 1_000_000} million dots at most, "
            f"no side longer than {_MOST_SIDE}"
        )


_APP0, _APP1, _SOS, _EOI, _SCAN_BYTES = 0xE0, 0xE1, 0xDA, 0xD9, {0x00, *range(0xD0, 0xD8)}
_FRAMES = {*range(0xC0, 0xD0)} - {0xC4, 0xC8, 0xCC}
"""Start of frame, which has the size; C4, C8 and CC are tables."""


def _jpeg(given: bytes) -> tuple[bytes, int, int]:
    """Keep what decodes the image: application segments only where they say colour, and the orientation."""
    kept: list[bytes] = []
    size, turned, scanned = (0, 0), b"", False
    at = 2
    while True:
        while given[at : at + 2] == b"\xff\xff":
            at += 1
        if given[at] != 0xFF:
            raise ValueError(f"no marker at byte {at}")
        marker = given[at + 1]
        if marker == _EOI:
            # A phone may put a film or further images behind the end, each with a place of its own.
            return b"".join([given[:2], turned, *kept, b"\xff\xd9"]), *_seen(size if scanned else (0, 0))
        length = struct.unpack_from(">H", given, at + 2)[0]
        end = at + 2 + length
        if length < 2 or end > len(given):
            raise ValueError(f"segment at byte {at} does not end")
        body = given[at + 4 : end]
        if marker in _FRAMES:
            height, width = struct.unpack_from(">HH", body, 1)
            size = (width, height)
        if marker == _APP1 and body.startswith(b"Exif\0\0"):
            turned = _orientation(body[6:]) or turned
        if marker == _SOS:
            end, scanned = _scan_end(given, end), True
        if marker == _APP0 and body.startswith(b"JFIF\0"):
            kept.append(_without_thumbnail(body))
        elif _says_image(marker, body):
            kept.append(given[at:end])
        at = end


def _without_thumbnail(body: bytes) -> bytes:
    """Return the segment that says version and density: its small picture may show what the picture shows no more."""
    version_and_density: bytes = struct.unpack_from("7s", body, 5)[0]
    return b"\xff\xe0" + struct.pack(">H", 16) + b"JFIF\0" + version_and_density + b"\0\0"


def _says_image(marker: int, body: bytes) -> bool:
    """Say whether a segment is needed to show the image as it is."""
    if 0xE0 <= marker <= 0xEF:
        named = {0xE2: b"ICC_PROFILE\0", 0xEE: b"Adobe"}.get(marker)
        return named is not None and body.startswith(named)
    return marker != 0xFE


def _scan_end(given: bytes, at: int) -> int:
    """Return where the coded image that starts at `at` ends: at the next marker that is no part of it."""
    while True:
        at = given.index(b"\xff", at)
        if given[at + 1] not in _SCAN_BYTES and given[at + 1] != 0xFF:
            return at
        at += 1 if given[at + 1] == 0xFF else 2


def _seen(size: tuple[int, int]) -> tuple[int, int]:
    if size == (0, 0):
        raise ValueError("it has no image")
    return size


def _orientation(tiff: bytes) -> bytes:
    """Return a segment that says how the image is to be turned and nothing else; empty where that is not said."""
    order = {b"II": "<", b"MM": ">"}.get(tiff[:2])
    if order is None:
        return b""
    try:
        (first,) = struct.unpack_from(order + "I", tiff, 4)
        (n,) = struct.unpack_from(order + "H", tiff, first)
        for at in range(first + 2, first + 2 + 12 * n, 12):
            tag, _kind, _count, turn = struct.unpack_from(order + "HHIH", tiff, at)
            if tag == 0x0112 and 1 <= turn <= 8:
                only = struct.pack(">2sHIHHHIHHI", b"MM", 42, 8, 1, 0x0112, 3, 1, turn, 0, 0)
                return b"\xff\xe1" + struct.pack(">H", 2 + 6 + len(only)) + b"Exif\0\0" + only
    except struct.error:
        return b""
    return b""


_PNG_KEPT = (b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP", b"sBIT", b"bKGD", b"pHYs")


def _png(given: bytes) -> tuple[bytes, int, int]:
    """Keep the image and its colours; no text, no time, no camera."""
    kept, size = [given[:8]], (0, 0)
    at, kind = 8, b""
    while kind != b"IEND":
        length, kind = struct.unpack_from(">I4s", given, at)
        end = at + 12 + length
        (crc,) = struct.unpack_from(">I", given, end - 4)
        if crc != zlib.crc32(given[at + 4 : end - 4]):
            raise ValueError(f"chunk {kind!r} at byte {at} does not add up")
        if kind == b"IHDR":
            size = struct.unpack_from(">II", given, at + 8)
        if kind in _PNG_KEPT:
            kept.append(given[at:end])
        at = end
    return b"".join(kept), *_seen(size)


_WEBP_KEPT = (b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ICCP")
_SAYS_WHERE = 0x08 | 0x04 | 0x02
"""Of the flags of a VP8X chunk: Exif, XMP, moving."""


def _webp(given: bytes) -> tuple[bytes, int, int]:
    """Keep the image, its colours and its transparency."""
    kept, size = [], (0, 0)
    for kind, body in _riff(given):
        if kind == b"VP8X":
            size = (1 + int.from_bytes(body[4:7], "little"), 1 + int.from_bytes(body[7:10], "little"))
            body = bytes([body[0] & ~_SAYS_WHERE]) + body[1:10]
        elif kind == b"VP8 ":
            if body[3:6] != b"\x9d\x01\x2a":
                raise ValueError("no key frame")
            width, height = struct.unpack_from("<HH", body, 6)
            size = (width & 0x3FFF, height & 0x3FFF)
        elif kind == b"VP8L":
            (bits,) = struct.unpack_from("<I", body, 1)
            size = (1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF))
        if kind in _WEBP_KEPT:
            kept.append(kind + struct.pack("<I", len(body)) + body + b"\0" * (len(body) % 2))
    if not any(chunk.startswith((b"VP8 ", b"VP8L")) for chunk in kept):
        raise ValueError("it has no still image")
    whole = b"WEBP" + b"".join(kept)
    return b"RIFF" + struct.pack("<I", len(whole)) + whole, *_seen(size)


def _riff(given: bytes) -> Iterator[tuple[bytes, bytes]]:
    end = 8 + struct.unpack_from("<I", given, 4)[0]
    if end > len(given):
        raise ValueError("it does not end")
    at = 12
    while at + 8 <= end:
        kind, length = struct.unpack_from("<4sI", given, at)
        body = given[at + 8 : at + 8 + length]
        if len(body) < length:
            raise ValueError(f"chunk {kind!r} does not end")
        yield kind, body
        at += 8 + length + length % 2


_KINDS = (
    (b"\xff\xd8\xff", "image/jpeg", _jpeg),
    (b"\x89PNG\r\n\x1a\n", "image/png", _png),
    (b"RIFF", "image/webp", _webp),
)
