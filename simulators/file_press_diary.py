"""What a press with a shared folder was asked and what it did, as one JSON object a line, for whoever examines a
logger: kept outside of the folder, so that nobody reads it by mistake.
"""

import json
from pathlib import Path

__all__ = ["Diary"]


class Diary:
    """The entries, in order, and in a file if there is one.

    ``asked`` a request as it came and ``job`` a job file; ``answered``; ``refused`` what was not of the reading kind;
    ``shot`` what the counter showed and what every token was, and ``written`` the files its line went to whole;
    ``change`` of a set-point; ``fault``.
    """

    def __init__(self, file: Path | None = None) -> None:
        self.entries: list[dict[str, object]] = []
        self._out = file.open("a", encoding="utf-8") if file else None

    def note(self, **entry: object) -> None:
        """Add an entry."""
        if self._out is None:
            self.entries.append(entry)
            return
        self._out.write(json.dumps(entry) + "\n")
        self._out.flush()

    def close(self) -> None:
        """Close the file."""
        if self._out is not None:
            self._out.close()
            self._out = None
