"""Learning a press that prints its shots: listen, count, propose. Nothing is sent."""

from collections.abc import Mapping, Sequence

from shotlog.clock import Clock
from shotlog.collectors.lines import LineSplitter
from shotlog.collectors.serial_port import PORT_ERRORS, Opener, open_port, read_port, read_waiting
from shotlog.errors import PressUnreachable, UsageError
from shotlog.learning.asking import Questions
from shotlog.learning.config_text import MapText
from shotlog.learning.figures_said import figures_said, odd_said, unsettled_said
from shotlog.learning.layout import layout_of, spread_over
from shotlog.learning.learnt import Learnt, Row, Wishes
from shotlog.learning.line_guesses import LineProposal, propose_lines
from shotlog.learning.line_keys import channel_keys, column_said, layout_said, map_of, needs_pattern, taken, why
from shotlog.learning.screen import ScreenShot
from shotlog.learning.session import shot_said
from shotlog.settings import PressSettings

__all__ = ["learn_lines"]

_WAIT_S = 0.2
_TELL_S = 20.0
_MOST_LINES = 20_000


class Listener:
    """Collects the lines of a port; the first may have begun before, and is left out."""

    def __init__(self) -> None:
        self._splitter = LineSplitter()
        self._cut = True
        self.raws: list[bytes] = []
        self.n_bytes = self.n_lines = 0

    def feed(self, chunk: bytes) -> None:
        """Take bytes."""
        self.n_bytes += len(chunk)
        whole = [piece.raw for piece in self._splitter.feed(chunk) if piece.whole]
        if whole and self._cut:
            self._cut = False
            whole = whole[1:]
        self.raws += whole
        self.n_lines += len(whole)
        del self.raws[:-_MOST_LINES]


def learn_lines(press: PressSettings, wishes: Wishes, clock: Clock, opener: Opener = open_port) -> Learnt:
    """Listen to a press while it shoots and propose its layout.

    Raises
    ------
    SettingsError
        The configuration does not say where the press is.
    PressUnreachable
        The port cannot be opened, or was lost.
    """
    if wishes.registers or wishes.table:
        raise UsageError(f"press {press.name} prints lines: --registers and --kind are of presses with registers")
    settings = read_port(press.collector, 9600, "N")
    wishes.tell(
        f"{press.name}: listens at {settings} and sends nothing, until {wishes.n_shots} shots were printed, "
        f"{wishes.most_s / 60:g} minutes at most. Ctrl-C ends it sooner and keeps what was found."
    )
    listener = Listener()
    port = opener(settings, _WAIT_S)
    seen = list(wishes.seen)
    began = told = clock.monotonic()
    n_counted = n_lines = 0
    questions = Questions(wishes.ask)

    def listen() -> None:
        chunk = bytearray()
        try:
            read_waiting(port, chunk)
        except PORT_ERRORS as error:
            raise PressUnreachable(f"serial port {settings} was lost: {error}") from error
        listener.feed(bytes(chunk))

    def watched() -> list[Sequence[int]]:
        listen()  # what was printed while a person was asked
        now = layout_of(listener.raws)
        return [propose_lines(now, seen).counts] if now is not None else []

    try:
        while clock.monotonic() - began < wishes.most_s:
            listen()
            now = clock.monotonic()
            if listener.n_lines == n_lines:
                if now - told >= _TELL_S and not n_counted:
                    told = now
                    wishes.tell(_waiting_said(listener))
                continue
            n_lines = listener.n_lines
            layout = layout_of(listener.raws)
            if layout is None or len(layout.lines) == n_counted:
                continue
            n_counted = len(layout.lines)
            found = propose_lines(layout, seen)
            wishes.tell(
                f"{shot_said(n_counted, wishes.n_shots)}: {column_said(found.counter)} shows {found.counts[-1]}"
            )
            if questions.are_due(n_counted - 1):
                answer = questions.put(watched)
                if answer is not None:
                    seen.append(answer)
            waits = any(one.shot is not None and found.counts[-1] < one.shot <= found.counts[-1] + 50 for one in seen)
            if n_counted >= wishes.n_shots and not waits and not questions.keep_on:
                break
    except KeyboardInterrupt:
        wishes.tell("stopped: this is what was found until then")
    finally:
        port.close()
    return learnt_from(listener, press, wishes, seen)


def _waiting_said(listener: Listener) -> str:
    if not listener.n_bytes:
        return "nothing was printed yet: is the press in automatic mode, and does it print each shot?"
    if not listener.raws:
        return "bytes came and no end of a line: check baudrate, parity and bytesize"
    return f"{len(listener.raws)} lines came, and none of their columns counts shots yet"


def learnt_from(listener: Listener, press: PressSettings, wishes: Wishes, seen: Sequence[ScreenShot]) -> Learnt:
    """Return what the lines are taken for, as rows, notes, keys and plain data."""
    layout = layout_of(listener.raws)
    if layout is None:
        notes = ["no column of the lines counts shots", _waiting_said(listener)]
        n_lines = spread_over(listener.raws)
        if n_lines > 1:
            notes = [
                f"this press prints a shot over {n_lines} lines, of which one counts; one line a shot can be read: "
                "set its printer to one line a shot, if it can"
            ]
        lines = [raw.decode("latin-1", errors="replace")[:100] for raw in listener.raws[-3:]]
        return Learnt([], [*notes, *lines], None, {"shot_counter": None, "channels": {}, "lines": len(listener.raws)})
    proposal = propose_lines(layout, seen)
    channels = press.collector.peek("channels")
    there = {k: v for k, v in channels.items() if isinstance(v, Mapping)} if isinstance(channels, Mapping) else {}
    made = map_of(proposal, listener.raws, there)
    rows = [_counter_row(proposal)]
    for found in proposal.channels:
        latest = " ".join(token or "-" for token in found.column.tokens[-3:])
        scale = "" if found.guess.scale == 1 else f"x {found.guess.scale:g} "
        rows.append(
            Row(
                found.channel,
                column_said(found.column),
                "text",
                f"{scale}{found.guess.unit}",
                latest,
                found.sure,
                why(found),
            )
        )
    return Learnt(rows, _notes(proposal, listener, made), made, _document(proposal, made))


def _counter_row(proposal: LineProposal) -> Row:
    counts = proposal.counts
    reason = f"went up by one from line to line, {counts[0]} to {counts[-1]}"
    if proposal.counter_rivals:
        reason += "; as well counts: " + ", ".join(column_said(one) for one in proposal.counter_rivals)
    latest = " ".join(map(str, counts[-3:]))
    return Row("shot_counter", column_said(proposal.counter), "text", "", latest, proposal.counter_sure, reason)


def _notes(proposal: LineProposal, listener: Listener, made: MapText | None) -> list[str]:
    notes = [layout_said(proposal.layout)]
    if proposal.layout.headings:
        notes.append(f"headings: {' / '.join(proposal.layout.headings)}")
    notes += figures_said(proposal.unmatched, proposal.doubt, "column")
    for found in proposal.channels:
        odd = proposal.doubt.odd.get(found.channel)
        if odd is not None:
            notes.append(odd_said(found.channel, column_said(found.column), found.guess, odd, proposal.counts[odd.at]))
    for number in proposal.unseen:
        notes.append(f"shot {number} was read off the screen and never printed here: its figures settle nothing")
    notes += unsettled_said([found.sure for found in proposal.channels], made is not None)
    if made is None:
        return notes
    n_taken, rejected = taken(proposal, listener.raws)
    notes.append(
        f"with this map {n_taken} of {len(listener.raws)} lines are shots"
        + (f"; not taken: {rejected[0]}" if rejected else "")
    )
    return notes


def _document(proposal: LineProposal, made: MapText | None) -> dict[str, object]:
    layout = proposal.layout
    usable = [found for found in proposal.channels if found.sure != "possible"]
    by_pattern = bool(usable) and needs_pattern(proposal, usable)
    return {
        "delimiter": layout.delimiter,
        "decimal": layout.decimal,
        "encoding": layout.encoding,
        "headings": list(layout.headings),
        "pattern": made.keys.get("pattern") if made else None,
        "skip": made.keys.get("skip") if made else None,
        "shots": list(proposal.counts),
        "shot_counter": {
            "field": proposal.counter.at + 1,
            "sure": proposal.counter_sure,
            "as_well": [{"field": one.at + 1} for one in proposal.counter_rivals],
        },
        "channels": {
            found.channel: channel_keys(found, by_pattern)
            | {
                "field": found.column.at + 1,
                "sure": found.sure,
                "share": round(found.share, 3),
                "why": why(found),
                "latest": list(found.column.tokens[-3:]),
                "as_well": [{"field": one.at + 1} for one in found.rivals],
            }
            for found in proposal.channels
        },
        "unmatched": list(proposal.unmatched),
        "unseen": list(proposal.unseen),
    }
