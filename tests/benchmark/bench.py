"""What every benchmark is given: a folder on the disk that is measured, a long log, and a server where there is one."""

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from shotlog.settings import load
from shotlog.store.log.log import open_log
from tests.benchmark.log_of_years import config, write

__all__ = ["END", "Bench"]

END = datetime(2026, 11, 25, tzinfo=UTC)
"""When the last shot of a log of years was made."""


@dataclass(frozen=True)
class Bench:
    """`folder`: to write into, gone after the run.

    `postgres`: URL of an empty database, for this benchmark alone, on a server that synchronises as it does by default;
    or "", and in `no_postgres` why there is none. `shots`: how many the long log has. `logs`: where `years` keeps what
    it made, for this run and the next; by default in `folder`.
    """

    folder: Path
    postgres: str = ""
    no_postgres: str = ""
    shots: int = 1_000_000
    logs: Path | None = None

    def years(self, n_shots: int | None = None) -> Path:
        """Return the configuration of a log of years, by default the long one; written where it is not there yet."""
        n = n_shots or self.shots
        folder = (self.logs or self.folder) / f"years-{n}"
        settings = folder / "years.toml"
        if not settings.exists():
            folder.mkdir(exist_ok=True)
            unfinished = folder / "unfinished.toml"
            unfinished.write_text(config(), encoding="utf-8")
            with open_log(load(unfinished).store, read_only=False) as log:
                write(log, n, END)
            unfinished.rename(settings)
        return settings
