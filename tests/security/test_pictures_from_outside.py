"""Pictures that are sent: only pictures are kept, under names of ours, and shown as pictures and nothing else."""

import re
import struct
import zlib
from urllib.parse import quote

import pytest

from tests.made_pictures import picture
from tests.security.shop import Shop
from tests.security.visitor import Answer, Visitor

SCRIPT = b"<script>window.ran=1</script>"


@pytest.fixture
def visitor(alone: Shop) -> Visitor:
    made = alone.visitor()
    made.arrive("/press/P25")
    return made


def send(visitor: Visitor, data: bytes, query: str = "press=P25&shot=9&cavity=1", **headers: str) -> Answer:
    sent = {"Content-Type": "image/png", "Origin": visitor.origin, **visitor.tokens(), **headers}
    return visitor.ask(f"/pictures/?{query}", "POST", data, sent)


def png(width: int, height: int) -> bytes:
    """Return a picture that says it is so large, and is not."""

    def part(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + part(b"IHDR", head) + part(b"IDAT", zlib.compress(b"\0" * 64)) + part(b"IEND", b"")


@pytest.mark.parametrize(
    "data",
    [
        b'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg">' + SCRIPT + b"</svg>",
        b"<!doctype html>" + SCRIPT,
        b"GIF89a" + SCRIPT,
        b"%PDF-1.7",
        b"PK\x03\x04" + b"\0" * 60,
        b"\x89PNG\r\n\x1a\n" + SCRIPT,
        b"\xff\xd8\xff" + SCRIPT,
        b"",
    ],
)
@pytest.mark.parametrize("kind", ["image/png", "image/svg+xml"])
def test_only_pictures_are_kept(visitor: Visitor, alone: Shop, data: bytes, kind: str) -> None:
    before = alone.pictures()
    answer = send(visitor, data, **{"Content-Type": kind})
    assert answer.status in (400, 413, 415, 422)
    assert len(answer.text.strip().splitlines()) <= 1
    assert alone.pictures() == before


def test_one_that_would_be_huge_when_drawn_is_not_kept(visitor: Visitor, alone: Shop) -> None:
    before = alone.pictures()
    assert send(visitor, png(60_000, 60_000)).status in (400, 413, 422)
    assert alone.pictures() == before


@pytest.mark.parametrize(
    "name", ["../../evil.py", "/etc/cron.d/evil", "C:\\evil.exe", "a;touch evil", "$(touch evil)", "x.html"]
)
def test_a_file_name_is_never_used(visitor: Visitor, alone: Shop, name: str) -> None:
    named = {"Content-Disposition": f'attachment; filename="{name}"', "X-File-Name": name}
    answer = send(visitor, picture(seed=len(name)), f"press=P25&shot=9&cavity=1&name={quote(name)}", **named)
    assert answer.status == 200
    assert all(re.fullmatch(r"[0-9a-f]{64}\.(jpg|png|webp)", one) for one in alone.pictures()), alone.pictures()
    assert not list(alone.file.parent.rglob("*evil*"))


def test_a_picture_is_shown_as_nothing_else(visitor: Visitor, alone: Shop) -> None:
    """A picture that is a page as well, for who wants to see a page in it."""
    both = picture() + b"<html>" + SCRIPT
    answer = send(visitor, both)
    if answer.status == 200:
        shown = visitor.ask(re.findall(r'"(/pictures/[^"]+)"', answer.text)[0])
        assert shown.kind == "image/jpeg"
        assert shown.header("X-Content-Type-Options") == "nosniff"
        assert "sandbox" in shown.header("Content-Security-Policy")
        assert "default-src 'none'" in shown.header("Content-Security-Policy")
    else:
        assert answer.status == 400
    for file in (alone.file.parent / "trial.pictures").iterdir():
        assert visitor.ask(f"/trial.pictures/{file.name}").kind == "text/html", "the page that is none, not the file"
        assert visitor.ask(f"/assets/../trial.pictures/{file.name}").body != file.read_bytes()
        assert not file.stat().st_mode & 0o111, "not to be run"
