"""Pictures of parts and inserts, as the log knows them."""

from dataclasses import dataclass
from datetime import datetime

__all__ = ["ENDINGS", "Picture", "Pictured"]

ENDINGS = {"image/jpeg": "jpg", "image/png": "png", "image/webp": "webp"}
"""The media that are kept, each with the ending of its file."""


@dataclass(frozen=True, slots=True)
class Pictured:
    """What a picture shows: a shot of a press, and of it one cavity, an insert (serial) or a finding where named."""

    press: str
    shot: int
    cavity: int | None = None
    insert: str = ""
    event_id: int | None = None


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture on record: of shot `shot` of `press`, and of one `cavity`, `insert` (serial) or finding where named.

    `digest`: SHA-256 of the file, in hex. `event_id`: number of the finding it was taken with. `taken`: when, as far as
    anybody said; `entered`: when it came into the log.
    """

    entry_id: int
    press: str
    shot: int | None
    cavity: int | None
    insert: str
    event_id: int | None
    digest: str
    media: str
    n_bytes: int
    remark: str
    initials: str
    taken: datetime
    entered: datetime

    @property
    def file_name(self) -> str:
        """The name of its file."""
        return f"{self.digest}.{ENDINGS[self.media]}"
