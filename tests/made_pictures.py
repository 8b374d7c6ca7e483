"""A picture as a phone makes it: with an image, a place, a camera, and held upright."""

import io
from typing import Any

from PIL import Image

__all__ = ["CAMERA", "PLACE", "picture"]

PLACE, CAMERA = b"48.137", b"a camera"


def picture(kind: str = "JPEG", turn: int = 6, seed: int = 7, **options: Any) -> bytes:
    """Return a picture file of 40 by 30 dots."""
    exif = Image.Exif()
    exif[0x0112] = turn
    exif[0x010F] = CAMERA.decode()
    where = exif.get_ifd(0x8825)
    where[1] = PLACE.decode()
    exif[0x8825] = where
    dots = bytes((seed * n * n + 3 * n) % 256 for n in range(3 * 40 * 30))
    file = io.BytesIO()
    Image.frombytes("RGB", (40, 30), dots).save(file, kind, **{"exif": exif, **options})
    return file.getvalue()
