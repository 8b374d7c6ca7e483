"""The errors of this package.

    ShotlogError
      SettingsError        a configuration file is wrong                    exit 2
      UsageError           a command or call is wrong                       exit 2
      CollectorError       something about one press
        PressUnreachable   cannot connect, timed out, went away             the recorder tries again, for ever
        PressRefused       the press answers, and says it has no such thing a configuration error: said, tried slowly
          RefusedForNow    as above, of what it answered before         it may be starting: tried again as above
      StoreError
        StoreUnreachable   down, locked, read-only, disk full               the recorder spools, says so, drains later
          StoreLocked      another program holds it                       as above
          StoreFull        its disk is full                               as above
          StoreMissing     there is none yet: nothing was ever logged      who reads says so; who logs makes it
          StoreGone        its file was deleted, moved, or its folder is    as above; opened again by `Log.reopen`
          StoreReplaced    another file or an older copy lies in its place  as above; opened again by `Log.reopen`
          StoreHeld        another process logs into it already             refused at the start; else as above
          CentreAway       the centre it is shipped to cannot be reached    tried again, for ever; logging goes on
        StoreDamaged       hash chain or schema does not verify             set aside by `Log.reopen`, never repaired
      RecordingError       a recording (CSV) does not read                  exit 1
      OutputError          a file for people cannot be written              exit 1; the old one stands
      AccountsUnreadable   the file of accounts does not read               exit 1; nobody is let in
      NotEnoughShots       an estimate was asked for too early              the caller shows "not yet"

A wrong value from a press is no exception: it is a record (`records.Fault`, `records.Gap`).
"""

from shotlog.withheld import without_secrets

_LONGEST = 1000
"""Characters of a sentence at most: what was given may be of any length, and what is allowed stands behind it."""


class ShotlogError(Exception):
    """Root of all errors raised on purpose; its text is one sentence fit to be shown: one line, and no secret in it."""

    def __str__(self) -> str:
        """Return the sentence; it may hold what a driver said or a person typed, and that may hold anything."""
        said = without_secrets(" ".join(super().__str__().splitlines()))
        return said if len(said) <= _LONGEST else f"{said[: _LONGEST - 300]} ... {said[-295:]}"


class SettingsError(ShotlogError):
    """A configuration file is wrong: says file, key, what was given and what is allowed."""

    def __init__(self, file: str, key: str, given: str, allowed: str) -> None:
        self.file, self.key, self.given, self.allowed = file, key, given, allowed
        super().__init__(f"{file}: {key}: given {given}, allowed: {allowed}")


class UsageError(ShotlogError):
    """A command or a call that cannot be carried out as written."""


class CollectorError(ShotlogError):
    """Something is wrong between this computer and one press."""


class PressUnreachable(CollectorError):
    """The press cannot be reached, does not answer in time, or went away."""


class PressRefused(CollectorError):
    """The press answers, and refuses: wrong address, function or unit. Asking again will not help."""


class RefusedForNow(PressRefused):
    """The press refuses what it answered before, as a gateway does that is starting: asking again may well help."""


class StoreError(ShotlogError):
    """Something is wrong with the log."""


class StoreUnreachable(StoreError):
    """The log cannot be read or written now: missing, locked, read-only, disk full, server down."""


class StoreLocked(StoreUnreachable):
    """Another program holds the log."""


class StoreFull(StoreUnreachable):
    """The disk of the log is full."""


class StoreMissing(StoreUnreachable):
    """There is no log yet: nobody has logged or entered anything."""


class StoreGone(StoreUnreachable):
    """The file of the log is not at its path any more; it may come back."""


class StoreReplaced(StoreUnreachable):
    """What lies at the path of the log is another file, or an older copy of it."""


class StoreHeld(StoreUnreachable):
    """Another process holds the configuration or the log; says which, where and since when."""


class CentreAway(StoreUnreachable):
    """The centre that a log is shipped to cannot be reached or written now; it is tried again."""


class StoreDamaged(StoreError):
    """The log does not verify, or was written by a newer release."""


class RecordingError(ShotlogError):
    """A recording does not read: says file, line, what was given and what is allowed."""


class OutputError(ShotlogError):
    """A file for people cannot be written: no room, no right, no such folder. What stood there stands."""


class AccountsUnreadable(ShotlogError):
    """The file of accounts cannot be read, is none, or is being changed by another program."""


class NotEnoughShots(ShotlogError):
    """An estimate was asked for before there were shots enough to make it."""
