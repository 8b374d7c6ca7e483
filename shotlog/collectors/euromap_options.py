"""The checked keys of a ``euromap63`` collector, and what is said of them."""

import time
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from shotlog.collectors.euromap_report import SetToken
from shotlog.collectors.euromap_rows import counts_by_report
from shotlog.collectors.euromap_session import Pause
from shotlog.collectors.euromap_units import TokenChannel
from shotlog.collectors.euromap_words import COMMANDS, SESSION, session_stem

__all__ = ["EuromapOptions"]


@dataclass(frozen=True, slots=True)
class EuromapOptions:
    """Times are in seconds: `timeout_s` how long an answer is waited for, `silence_s` after how long without a line the
    press is asked whether it is there, `probe_s` how long a probe waits for a shot. `report` is the name or pattern
    that is followed in the passive way, empty in the active one. `changes`: whether the press is to tell of set-points
    that are changed. `encoding`: None where the press says it. `header`: the names of the columns of a report that has
    none, in the passive way.
    """

    folder: Path
    session: int
    report: str
    rewritten: bool
    counter: str
    last_count: int
    channels: Mapping[str, TokenChannel]
    set_points: tuple[SetToken, ...]
    changes: bool
    encoding: str | None
    poll_s: float
    timeout_s: float
    silence_s: float
    probe_s: float
    pause: Pause = time.sleep
    header: str = ""

    @property
    def is_passive(self) -> bool:
        """Whether a report of somebody else is followed and nothing is written."""
        return bool(self.report)

    def describe(self) -> list[str]:
        """Say, a line each, what is read from where, and what is written."""
        mode = "rewritten at each shot" if self.rewritten else "with a line a shot"
        if self.is_passive:
            lines = [
                f"EUROMAP 63 in folder {self.folder}: follows the report {self.report}, {mode}, which somebody else "
                "ordered; writes nothing"
            ]
        else:
            stem, own = session_stem(self.session), f"S{self.session:02d}"
            words = ", ".join([*SESSION, *COMMANDS])
            lines = [
                f"EUROMAP 63 in folder {self.folder}, session {self.session}: orders a report of its own, {mode}, and "
                "reads it",
                f"writes {stem}.REQ and {own}*.JOB there ({words}; ABORT of its own jobs only), and deletes no other "
                f"files than {stem}.* and {own}*.*; sets nothing",
            ]
        if not self.folder.is_dir():
            lines.append(f"folder {self.folder} is not there now")
        lines.append(f"shot_counter: token {self.counter}, up to {self.last_count}")
        if counts_by_report(self.counter):
            lines.append("COUNT may begin anew with each report: a token that counts on, such as ActCntCyc, is better")
        lines += [f"{name}: token {one.token}, {one}" for name, one in self.channels.items()]
        lines += [one.described(f"token {one.place}") for one in self.set_points]
        if self.changes:
            lines.append("changes of set-points are told by the press itself (EVENT), where it does that")
        return lines
