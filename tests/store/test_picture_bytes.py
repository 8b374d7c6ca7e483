"""What is kept of a picture: every dot of it, how it is turned, and nothing that says where it was taken."""

import io
import struct

import pytest
from made_pictures import CAMERA, PLACE, picture
from PIL import Image

from shotlog.errors import UsageError
from shotlog.store.parts.picture_bytes import MOST_BYTES, kept_image

JPEG = picture(comment=b"taken at 48.137", progressive=True)
PNG = picture("PNG")
WEBP = picture("WEBP", lossless=True)
LOSSY_WEBP = picture("WEBP", xmp=b"<x>48.137</x>")


@pytest.mark.parametrize(
    ("given", "media"),
    [(JPEG, "image/jpeg"), (PNG, "image/png"), (WEBP, "image/webp"), (LOSSY_WEBP, "image/webp")],
)
def test_every_dot_is_kept_and_nothing_says_where(given: bytes, media: str) -> None:
    """Read by another library, which agrees with the size as well."""
    assert PLACE in given
    kept = kept_image(given)
    assert kept.media == media
    assert PLACE not in kept.data
    assert CAMERA not in kept.data
    before, after = Image.open(io.BytesIO(given)), Image.open(io.BytesIO(kept.data))
    assert after.tobytes() == before.tobytes()
    assert (kept.width, kept.height) == after.size == (40, 30)
    assert 0x8825 not in after.getexif()
    assert kept_image(kept.data) == kept


@pytest.mark.parametrize("turn", [1, 3, 6, 8])
def test_a_jpeg_stays_turned_as_it_was(turn: int) -> None:
    """A phone held upright stores the picture lying on its side and says so in the very segment that says where."""
    kept = Image.open(io.BytesIO(kept_image(picture(turn=turn)).data))
    assert dict(kept.getexif()) == {0x0112: turn}


def test_what_follows_a_jpeg_is_left_out() -> None:
    """Phones put a film, or more pictures with places of their own, behind the end of the picture."""
    assert kept_image(JPEG + b"film of " + PLACE) == kept_image(JPEG)
    extra = b"\xff\xe2" + struct.pack(">H", 2 + 4 + len(PLACE)) + b"MPF\0" + PLACE
    assert kept_image(JPEG[:2] + extra + JPEG[2:]) == kept_image(JPEG)


def test_the_small_picture_in_a_jpeg_is_left_out() -> None:
    """It may still show what was cut away from the picture itself; version and density stay."""
    plain = kept_image(picture(dpi=(300, 300))).data
    start = plain.index(b"\xff\xe0")
    end = start + 2 + struct.unpack_from(">H", plain, start + 2)[0]
    small = PLACE * 2
    body = plain[start + 4 : start + 16] + bytes([2, 2]) + small
    given = plain[:start] + b"\xff\xe0" + struct.pack(">H", 2 + len(body)) + body + plain[end:]
    assert kept_image(given).data == plain
    assert Image.open(io.BytesIO(plain)).info["dpi"] == (300, 300)


def test_colour_is_kept() -> None:
    profile = b"a profile" * 9
    for kind in ("JPEG", "WEBP", "PNG"):
        kept = Image.open(io.BytesIO(kept_image(picture(kind, icc_profile=profile)).data))
        assert kept.info["icc_profile"] == profile


@pytest.mark.parametrize(
    "given",
    [
        b"",
        b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
        b"<!doctype html><script>alert(1)</script>",
        b"GIF89a" + bytes(40),
        b"\0\0\0\x18ftypheic" + bytes(40),
        b"RIFF\x24\0\0\0WAVEfmt ",
        b"%PDF-1.7",
        b"\n" + PNG,
    ],
)
def test_what_is_no_picture_is_refused_whatever_its_name(given: bytes) -> None:
    with pytest.raises(UsageError, match="allowed: a JPEG, PNG or WebP picture of 8 MB at most"):
        kept_image(given)


@pytest.mark.parametrize("given", [JPEG, PNG, WEBP, LOSSY_WEBP])
def test_a_picture_that_is_cut_off_is_refused(given: bytes) -> None:
    for n in range(12, len(kept_image(given).data) - 2, 7):
        with pytest.raises(UsageError, match="picture: given"):
            kept_image(kept_image(given).data[:n])


@pytest.mark.parametrize("given", [JPEG, PNG, WEBP, LOSSY_WEBP])
def test_damaged_bytes_give_a_picture_or_a_refusal(given: bytes) -> None:
    for at in range(0, len(given), 5):
        try:
            kept = kept_image(given[:at] + bytes([given[at] ^ 0xFF]) + given[at + 1 :])
        except UsageError:
            continue
        assert len(kept.data) <= len(given) + 40


def test_a_head_without_an_image_is_refused() -> None:
    with pytest.raises(UsageError, match="no image"):
        kept_image(b"\xff\xd8\xff\xd9")


def test_size_is_bounded() -> None:
    with pytest.raises(UsageError, match=r"given 8\.0 MB"):
        kept_image(JPEG + bytes(MOST_BYTES))
    blank = io.BytesIO()
    Image.new("1", (8000, 7000)).save(blank, "PNG")
    with pytest.raises(UsageError, match="given 8000 x 7000 dots, allowed: 50 million"):
        kept_image(blank.getvalue())
