"""The log as whoever follows it holds it: opened when it is there, and anew once another file lies at its path."""

from shotlog.errors import StoreUnreachable
from shotlog.store.log.log import Log, open_log

__all__ = ["OwnLog"]


class OwnLog:
    """Hands out the log at an address; `read_only`: whether nothing is kept in it. It never makes a log."""

    def __init__(self, store: str, read_only: bool) -> None:
        self._store, self._read_only = store, read_only
        self._log: Log | None = None

    def __call__(self) -> Log:
        """Return the log, open.

        Raises
        ------
        StoreUnreachable
            It is not there, or out of reach.
        StoreDamaged
            It is no log, or a newer release wrote it.
        """
        log = self._log
        if log is not None and (log.trouble is not None or not log.is_at_its_path() or log.is_outgrown()):
            self.close()
        if self._log is None:
            open_log(self._store).close()  # for reading, which makes no file where there is none
            self._log = open_log(self._store, read_only=self._read_only)
        return self._log

    def forget(self, error: Exception) -> None:
        """Take note that asking the log failed: where it cannot be reached it is opened anew."""
        if isinstance(error, StoreUnreachable):
            self.close()

    def close(self) -> None:
        """Close it; closing twice is fine."""
        if self._log is not None:
            self._log.close()
            self._log = None
