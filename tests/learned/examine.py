"""The examination of `shotlog learn`: python -m tests.learned.examine [NAME...] [--seen 0 1 2] [--out FOLDER]

Each press is learnt without help, with three figures of one shot read off its screen, and with all figures of two
shots. What the command says is not read: the configuration it wrote is loaded, the press goes on, and what the
project's own collector brings is held against what the press showed. Only of what it did not dare to write its document
is asked: whether the place it names first is right.
"""

import argparse
import contextlib
import json
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from shotlog.channels import CHANNELS
from shotlog.clock import SystemClock
from shotlog.collectors import Options, options
from shotlog.collectors.registers import TYPES, decode
from shotlog.errors import CollectorError, ShotlogError
from shotlog.records import Fault, Gap, Shot
from shotlog.settings import load
from shotlog.units import converter
from tests.learned.lines import PRINTERS, LinePress
from tests.learned.odd_press import Moment, OddPress, Place, encoded
from tests.learned.playing import Played, c_peer, played
from tests.learned.presses import PRESSES
from tests.learned.shots import in_unit

__all__ = ["Score", "examined", "main"]

_SHOTS = 12
_FOLLOWED = 8
"""Shots for which the press is followed by the configuration that was written."""
_MINUTES = 2
_LONGEST_S = 60.0 * _MINUTES + 60.0
_PACE = 50
"""Requests a second: five times what is usual, for presses that are a hundred times as fast."""


@dataclass
class Score:
    """How one press was learnt. Of its channels: `right`, `wrong` (written, and not what the press showed), `missed`;
    of those not written, `named` has those whose first proposal is right all the same.

    `offered` shots while it was followed; `stored` of them once; `extra`: the same shot again, or none. `refused`:
    nothing was written, and nothing could be, as nothing counts its shots.
    """

    press: str
    seen: int
    status: int | None = None
    right: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)
    missed: list[str] = field(default_factory=list)
    named: list[str] = field(default_factory=list)
    offered: int = 0
    stored: int = 0
    extra: int = 0
    refused: bool = False
    count: str = ""
    faults: list[str] = field(default_factory=list)
    forbidden: list[str] = field(default_factory=list)
    learnt_s: float = 0.0
    document: Mapping[str, Any] = field(default_factory=dict)
    trouble: str = ""

    @property
    def whole(self) -> bool:
        """Whether everything was found, and nothing claimed that is not so."""
        if self.refused:
            return True
        return not (self.wrong or self.missed or self.extra or self.trouble) and self.stored == self.offered > 0


def examined(
    press: OddPress | LinePress,
    seen: int,
    folder: Path,
    followed: int = _FOLLOWED,
    shots: int = _SHOTS,
    change: Callable[[str], str] = str,
) -> Score:
    """Let the press be learnt, then follow it by what was written.

    `seen`: how many shots are read off the screen; fewer than none: nothing is learnt, the right configuration is
    followed, or what `change` makes of it. `shots`: how many are watched.
    """
    folder.mkdir(parents=True, exist_ok=True)
    score = Score(press.name, seen)
    with played(press, press.stand_s if seen >= 0 else 0.0) as playing:
        config = folder / "before.toml"
        config.write_text(_config(press, playing.where), encoding="utf-8")
        written = config.with_name("learned.toml")
        if seen < 0:
            written.write_text(config.read_text(encoding="utf-8") + change(truth(press)), encoding="utf-8")
        else:
            _learn(press, playing, config, score, shots)
        if not written.exists():
            score.trouble = "no configuration" if press.countable else ""
            score.missed = sorted(_wanted(press)) if press.countable else []
            score.refused = not press.countable
        else:
            _follow(press, playing, written, score, followed)
        score.named = sorted(name for name in score.missed if _proposed(press, name, score.document))
        score.forbidden = playing.forbidden
    return score


def _config(press: OddPress | LinePress, where: str) -> str:
    if isinstance(press, LinePress):
        keys = {"kind": "serial-line", "port": where, **press.keys}
    else:
        keys = {"kind": "modbus-tcp", "host": "127.0.0.1", "port": int(where), "timeout_s": 1.0}
    lines = (f"{key} = {value!r}".replace("'", '"') for key, value in keys.items())
    head = '[log]\nstore = "sqlite:///trial.db"\n\n[[press]]\nname = "P"\n[press.collector]\n'
    return head + "\n".join(lines) + "\n"


def truth(press: OddPress | LinePress) -> str:
    """Return the keys of the right configuration of a press in registers: what the examination itself is tried by."""
    if isinstance(press, LinePress):
        return f"poll_s = 0.02\n{press.right}"
    counts = (p for p in press.places if p.moves == "count" and _shows(p, press))
    count = next(counts)
    address, type = count.address, count.type
    if count.order and count.order != press.word_order:
        type = "uint16"  # its low word alone
    last = {65_531: "", 9_994: ", last_count = 9999"}.get(press.first, "")
    keys = f'table = "{press.table}"\nword_order = "{press.word_order}"\nbyte_order = "{press.byte_order}"\n'
    keys += f"settle_s = {max(press.values_s, 0.0) * 1.25}\npoll_s = 0.02\n"
    keys += f'shot_counter = {{ address = {address}, type = "{type}"{last} }}\n[press.collector.channels]\n'
    for name, places in press.channels().items():
        if name not in press.unreadable:
            place = places[0]
            unit = place.unit or CHANNELS[name].unit
            scale = "" if place.scale == 1.0 else f", scale = {place.scale}"
            keys += f'{name} = {{ address = {place.address}, type = "{place.type}"{scale}, unit = "{unit}" }}\n'
    return keys


def screen(press: OddPress | LinePress, n: int, whole: bool = False) -> str:
    """Return what the press's screen shows of a shot, as `--seen` takes it: three channels, or the `whole` screen."""
    values = press.shots()[n]
    count = press.first + n
    if isinstance(press, OddPress):
        stands = [place for place in press.places if place.moves == "count" and _shows(place, press)]
        count = round(stands[0].value(_moment(press, n))) if stands else count
    names = ("cushion", "peak_pressure", "fill_time")
    has = press.channels() if isinstance(press, OddPress) else press.places
    if whole:
        names = (*names, *(name for name in CHANNELS if name in has and name not in (*names, "cycle_time")))
    return ",".join((f"shot={count}", *(f"{name}={_shown(press, name, values[name])}" for name in names)))


def _shown(press: OddPress | LinePress, name: str, value: float) -> str:
    """Return a figure as the screen has it, in the unit of the press."""
    unit = press.channels()[name][0].unit if isinstance(press, OddPress) else press.units.get(name, "")
    if not unit:
        return f"{value:.{press.screen.get(name, _DECIMALS.get(name, 1))}f}"
    return f"{in_unit(value, unit):.{_DECIMALS.get(unit, 0)}f} {unit}"


_DECIMALS = {"switchover_position": 2, "part_weight": 2, "switchover_pressure": 0, "inch": 3, "MPa": 1}


def _moment(press: OddPress, n: int) -> Moment:
    return Moment(n, 0, 0.0, 0.0, press.shots()[n], press.shots()[n + 1])


def _shows(place: Place, press: OddPress) -> bool:
    """Say whether the screen's count is this one: it stands at `first` before anything was made."""
    return place.value(_moment(press, 0)) == press.first


def _learn(press: OddPress | LinePress, playing: Played, config: Path, score: Score, shots: int) -> None:
    command = [sys.executable, "-m", "shotlog", "learn", str(config), "--press", "P", "--shots", str(shots)]
    if isinstance(press, OddPress):
        command += ["--registers", press.registers, "--kind", press.table, "--pace", str(_PACE)]
    for n in press.seen[: score.seen]:
        command += ["--seen", screen(press, n, whole=score.seen > 1)]
    command += ["--minutes", str(_MINUTES)]
    command += ["--out", str(config.with_name("learned.toml")), "--yes", "--json"]
    began = time.monotonic()
    try:
        said = subprocess.run(command, capture_output=True, text=True, timeout=_LONGEST_S, check=False)
    except subprocess.TimeoutExpired:
        score.trouble = f"not done after {_LONGEST_S:g} s"
        return
    score.learnt_s = time.monotonic() - began
    score.status = said.returncode
    with contextlib.suppress(ValueError):
        score.document = json.loads(said.stdout)
    (config.parent / "said.txt").write_text(f"{' '.join(command)}\n{said.stderr}\n{said.stdout}", encoding="utf-8")


def _wanted(press: OddPress | LinePress) -> set[str]:
    has = set(press.channels()) if isinstance(press, OddPress) else set(press.places)
    return has - set(press.unreadable) - set(press.free)


def _follow(press: OddPress | LinePress, playing: Played, written: Path, score: Score, followed: int) -> None:
    try:
        chosen = options(load(written).press("P"))
    except ShotlogError as error:
        score.trouble = f"the configuration does not read: {error}"
        score.missed = sorted(_wanted(press))
        return
    records, first, last = _records(chosen, playing, followed)
    score.faults = sorted({record.kind for record in records if isinstance(record, Fault)})
    if score.trouble == "" and not any(isinstance(record, Shot) for record in records):
        score.trouble = next(
            (record.detail for record in reversed(records) if isinstance(record, Fault)), "no shot came"
        )
    shots = [record for record in records if isinstance(record, Shot) and not record.no_part]
    which = [_which(press, playing, shot) for shot in shots]
    within = [(n, shot) for n, shot in zip(which, shots, strict=True) if first < n <= last]
    score.offered = last - first
    score.stored = len({n for n, _ in within})
    score.extra = len(within) - score.stored
    if not press.countable:
        # whatever is followed, it is not the shots
        score.extra += score.stored + sum(isinstance(record, Gap) for record in records)
    wrong: dict[str, int] = {}
    found: set[str] = set()
    for n, shot in within:
        for name, value in shot.values.items():
            found.add(name)
            wrong[name] = wrong.get(name, 0) + (not _same(press, name, value, playing.values[n]))
    wanted = _wanted(press)
    score.wrong = sorted(name for name in found if wrong[name])
    score.right = sorted(found - set(score.wrong))
    score.missed = sorted(wanted - found)
    if score.seen and isinstance(press, OddPress) and press.countable and within:
        shown = {int(screen(press, n).partition(",")[0].removeprefix("shot=")) for n, _ in within}
        counted = {shot.counter for _, shot in within}
        low = {number % 65_536 for number in shown}  # of two words, the low one alone counts as well
        score.count = "" if counted <= shown or counted <= low else "not the count on the screen"


def _which(press: OddPress | LinePress, playing: Played, shot: Shot) -> int:
    """Return which shot of the press a record is of, by its time; of a line also by the count it was printed with, for
    a poll dates it before it waits for bytes.
    """
    n = playing.shot_at(shot.time.timestamp())
    printed = shot.counter - press.first
    return printed if isinstance(press, LinePress) and printed in (n, n + 1) else n


def _records(chosen: Options, playing: Played, followed: int) -> tuple[list[Shot | Gap | Fault], int, int]:
    """Follow the press; return what came, and the shots between whose counts it was followed."""
    collector = chosen.build("P", SystemClock(), None)
    records: list[Shot | Gap | Fault] = []
    is_open, first, end = False, -1, time.monotonic() + 60.0
    while time.monotonic() < end:
        try:
            if not is_open:
                collector.open()
                is_open = True
            records += collector.poll()
        except CollectorError as error:
            records.append(Fault("P", SystemClock().now(), "lost", str(error)))
            with contextlib.suppress(CollectorError):
                collector.close()
            is_open = False
            time.sleep(0.1)
        if first < 0 and is_open:
            first = len(playing.made) + 1  # whatever is under way when it is opened is not counted
        if len(playing.made) > first + followed:
            break
        time.sleep(min(chosen.poll_s, 0.05))
    with contextlib.suppress(CollectorError):
        collector.close()
    return records, first, len(playing.made) - 1


def _same(press: OddPress | LinePress, name: str, value: float, shown: Mapping[str, float]) -> bool:
    """Say whether a value is the one the press showed, to the last digit it gives."""
    truth = shown[name]
    if isinstance(press, LinePress):
        return name in press.places and abs(value - truth) <= 0.51 * press.places[name] + 1e-9
    places = press.channels().get(name, ())
    if not places:
        return False
    digit = 1e-6 * abs(truth)
    for place in places:
        per = in_unit(1.0, place.unit) - in_unit(0.0, place.unit)
        digit = max(digit, 0.0 if place.type.startswith("float") else 0.51 * place.scale / per)
    return abs(value - truth) <= digit + 1e-9


def _proposed(press: OddPress | LinePress, name: str, document: Mapping[str, Any]) -> bool:
    """Say whether the place that was named first for a channel shows its values; only asked of registers."""
    said = document.get("channels", {}).get(name)
    if said is None or isinstance(press, LinePress):
        return False
    kind, at = TYPES[said["type"]], range(said["address"], said["address"] + TYPES[said["type"]].words)
    orders = (said.get("word_order", document["word_order"]), said.get("byte_order", document["byte_order"]))
    convert, scale = converter(said["unit"], CHANNELS[name].unit), said.get("scale", 1.0)
    for n in range(20, 25):
        words = {
            address: word
            for place in press.places
            for address, word in enumerate(encoded(place, place.value(_moment(press, n)), press), place.address)
        }
        raw = decode([words.get(address, 0) for address in at], kind, *orders)
        if not _same(press, name, convert(raw * scale), press.shots()[n]):
            return False
    return True


def _row(score: Score) -> str:
    n = len(score.right) + len(score.missed) + len(score.wrong)
    said = f"{score.press[:44]:44} {score.seen} {len(score.right):2}/{n:2} {len(score.wrong):2}"
    said += f"  {score.stored:2}/{score.offered:2} {score.extra:2} {score.learnt_s:5.1f}  "
    parts = [f"WRONG {' '.join(score.wrong)}" if score.wrong else ""]
    parts += [f"missed {' '.join(score.missed)}" if score.missed else "", score.count, score.trouble]
    parts += ["rightly nothing written" if score.refused else ""]
    parts += [f"named all the same {' '.join(score.named)}" if score.named else ""]
    parts += [f"asked {' '.join(score.forbidden)}" if score.forbidden else ""]
    parts += [f"faults {', '.join(score.faults)}" if score.faults else ""]
    return said + "; ".join(part for part in parts if part)


def table(scores: Iterable[Score]) -> str:
    """Return the scores as a table."""
    head = f"{'press':44} s right wr  shots  + learnt  what"
    return "\n".join((head, *(_row(score) for score in scores)))


def main(presses: Sequence[OddPress | LinePress] = (*PRESSES, *PRINTERS)) -> None:
    """Examine the presses that are named, or all, and print the table."""
    parser = argparse.ArgumentParser(description="examine shotlog learn on odd presses")
    parser.add_argument("name", nargs="*", help="presses whose name holds this")
    parser.add_argument("--seen", type=int, nargs="+", default=[0, 1, 2])
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--out", type=Path, help="keep what was written and said here")
    given = parser.parse_args()
    if c_peer() is None:
        print("left out: presses by libmodbus (Debian: apt install gcc libmodbus-dev)")
    named = [p for p in presses if not given.name or any(word in p.name for word in given.name)]
    here = [p for p in named if isinstance(p, LinePress) or p.peer != "libmodbus" or c_peer() is not None]
    out = given.out or Path(tempfile.mkdtemp(prefix="learned-"))
    tasks = [(press, seen) for press in here for seen in given.seen]
    with ThreadPoolExecutor(given.jobs) as pool:
        scores = list(pool.map(lambda t: examined(t[0], t[1], out / f"{t[0].name[:24]}-{t[1]}"), tasks))
    print(table(scores))
    for seen in given.seen:
        of = [score for score in scores if score.seen == seen]
        right, wrong = sum(len(score.right) for score in of), sum(len(score.wrong) for score in of)
        missed = sum(len(score.missed) for score in of)
        whole = sum(score.whole for score in of)
        named = sum(len(score.named) for score in of)
        channels = f"{right} of {right + wrong + missed} channels right, {wrong} wrong, {named} more named first"
        print(f"{seen} seen: {channels}; {whole} of {len(of)} presses whole")


if __name__ == "__main__":
    main()
