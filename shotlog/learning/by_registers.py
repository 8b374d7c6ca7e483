"""Learning a press that shows its shots in registers: connect, read, count, propose."""

import threading
from collections.abc import Mapping, Sequence

from shotlog.channels import CHANNELS
from shotlog.clock import Clock
from shotlog.collectors import modbus_rtu, modbus_tcp
from shotlog.errors import CollectorError, UsageError
from shotlog.learning.asking import Questions
from shotlog.learning.counting import said as counting_said
from shotlog.learning.figures_said import figures_said, odd_said, unsettled_said
from shotlog.learning.learnt import Learnt, Row, Wishes
from shotlog.learning.places import place_said, type_said
from shotlog.learning.proposal import RegisterFound, RegisterProposal
from shotlog.learning.reading import RegisterReader, Source, passed_over_said, pieces, ranges_in, said
from shotlog.learning.register_keys import channel_keys, counter_keys, map_of, orders, scale_said, type_of, why
from shotlog.learning.session import Session
from shotlog.settings import PressSettings

__all__ = ["KINDS", "learn_registers", "learnt_of"]

KINDS = {"modbus-tcp": modbus_tcp.register_client, "modbus-rtu": modbus_rtu.register_client}
"""How each kind of collector reaches its registers."""


def learn_registers(press: PressSettings, wishes: Wishes, clock: Clock) -> Learnt:
    """Read a press while it shoots and propose its map.

    Raises
    ------
    SettingsError
        The configuration does not say where the press is.
    UsageError
        No range is given.
    CollectorError
        The press does not answer, or refuses all of the range.
    """
    section = press.collector
    table = wishes.table or section.choice("table", ("holding", "input"), "holding")
    if not wishes.registers:
        raise UsageError("--registers: given nothing, allowed: the addresses that may be read, such as 0-199 (from 0)")
    ranges = ranges_in(wishes.registers)
    source = KINDS[press.kind](section, table)
    asked = pieces(ranges)
    n_registers = sum(piece.words for piece in asked)
    function = 3 if table == "holding" else 4
    requests = "1 request" if len(asked) == 1 else f"{len(asked)} requests"
    minutes = f"{wishes.most_s / 60:g} minutes"
    wishes.tell(
        f"{press.name}: reads {table} registers {said(a for p in asked for a in range(p.address, p.last + 1))} "
        f"(function {function}) and nothing else; it cannot write. {n_registers} registers in {requests}, over and "
        f"over, {wishes.pace:g} requests a second at most, until {wishes.n_shots} shots were counted, {minutes} "
        "at most. Ctrl-C ends it sooner and keeps what was found."
    )
    stop = threading.Event()
    reader = RegisterReader(source, clock, ranges, stop, wishes.pace, wishes.tell)
    session = Session(reader, clock, wishes.n_shots, wishes.most_s, wishes.tell)
    session.seen += wishes.seen
    try:
        reader.find()
        if reader.refused:
            wishes.tell(f"the press refuses {table} registers {said(reader.refused)}: they are left out")
        if reader.unasked:
            wishes.tell(passed_over_said(reader.unasked))
        _gather(session, stop, wishes, source)
    except KeyboardInterrupt:
        wishes.tell("stopped: this is what was found until then")
    finally:
        source.close()
    return learnt_of(session.proposal(), table, _there(press), reader)


def _gather(session: Session, stop: threading.Event, wishes: Wishes, source: Source) -> None:
    if wishes.ask is None:
        session.gather()
        return
    failed: list[CollectorError] = []

    def work() -> None:
        try:
            session.gather()
        except CollectorError as error:
            failed.append(error)

    # questions wait for a person, and the press must be read meanwhile
    thread = threading.Thread(target=work, name="reads the press")
    questions = Questions(wishes.ask)
    session.keep_on = questions.keep_on
    thread.start()
    try:
        while thread.is_alive():
            thread.join(0.2)
            if questions.are_due(session.n_counted) and thread.is_alive():
                session.quiet = True
                answer = questions.put(lambda: session.shown)
                if answer is not None:
                    session.seen.append(answer)
                session.keep_on, session.quiet = questions.keep_on, False
    finally:
        stop.set()
        thread.join()
    if failed:
        raise failed[0]


def _there(press: PressSettings) -> Mapping[str, Mapping[str, object]]:
    channels = press.collector.peek("channels")
    found = channels if isinstance(channels, Mapping) else {}
    return {name: one for name, one in found.items() if isinstance(one, Mapping)}


def learnt_of(
    proposal: RegisterProposal, table: str, there: Mapping[str, Mapping[str, object]], reader: RegisterReader
) -> Learnt:
    """Return a proposal as rows, notes, keys and plain data."""
    made = map_of(proposal, table, there)
    rows = []
    counter = proposal.counter
    if counter is not None:
        cell, shown = counter.counting.cell, counter.counting.shown
        also = [f"{place_said(one.cell)} as {one.cell.kind.name} ({one.shown[-1]})" for one in counter.rivals]
        reason = counting_said(counter.counting) + (f"; as well counts: {', '.join(also)}" if also else "")
        latest = " ".join(map(str, shown[-3:]))
        rows.append(Row("shot_counter", place_said(cell), type_said(cell), "", latest, counter.sure, reason))
    rows += [_row(found) for found in proposal.channels]
    order = ["shot_counter", *CHANNELS]
    rows.sort(key=lambda row: order.index(row.channel))
    return Learnt(
        rows,
        _notes(proposal, reader, made is not None, made.gone if made else ()),
        made,
        _document(proposal, table, reader),
    )


def _row(found: RegisterFound) -> Row:
    guess = found.guess
    decimals = CHANNELS[found.channel].decimals + 1
    latest = " ".join(f"{value:.{decimals}f}".rstrip("0").rstrip(".") for value in guess.measured[-3:])
    kind = type_said(guess.cell).replace(guess.cell.kind.name, type_of(guess), 1)
    unit = CHANNELS[found.channel].unit
    return Row(
        found.channel, place_said(guess.cell), kind, scale_said(guess), f"{latest} {unit}", found.sure, why(found)
    )


def _notes(proposal: RegisterProposal, reader: RegisterReader, writable: bool, gone: Sequence[str]) -> list[str]:
    notes = [f"not the shot counter: {place_said(one.cell)} {one.why}" for one in proposal.refused[:12]]
    if reader.refused:
        notes.append(f"refused by the press and left out: registers {said(reader.refused)}")
    if reader.unasked:
        notes.append(passed_over_said(reader.unasked))
    notes += figures_said(proposal.unmatched, proposal.doubt, "register")
    notes += [_odd_said(found, proposal) for found in proposal.channels if found.channel in proposal.doubt.odd]
    for number in proposal.unseen:
        notes.append(f"shot {number} was read off the screen and never counted here: its figures settle nothing")
    if proposal.counter is None:
        notes.append("nothing counts shots: was the press shooting, and is its counter in this range and table?")
    elif proposal.settle_s:
        notes.append(f"the values come after the count: settle_s = {proposal.settle_s:g} s waits for them")
    if gone:
        notes.append(f"gives way, for its registers are another's: {', '.join(gone)}")
    return notes + unsettled_said([found.sure for found in proposal.channels], writable)


def _odd_said(found: RegisterFound, proposal: RegisterProposal) -> str:
    odd = proposal.doubt.odd[found.channel]
    return odd_said(found.channel, place_said(found.guess.cell), found.guess, odd, proposal.shots[odd.at].number)


def _document(proposal: RegisterProposal, table: str, reader: RegisterReader) -> dict[str, object]:
    counter = proposal.counter
    usual = orders(proposal, proposal.channels)
    return {
        "table": table,
        "word_order": usual[0],
        "byte_order": usual[1],
        "settle_s": proposal.settle_s,
        "shots": [shot.number for shot in proposal.shots],
        "shot_counter": None
        if counter is None
        else counter_keys(counter.counting, usual)
        | {
            "sure": counter.sure,
            "why": counting_said(counter.counting),
            "latest": list(counter.counting.shown[-3:]),
            "as_well": [counter_keys(one, usual) | {"latest": one.shown[-1]} for one in counter.rivals],
        },
        "channels": {
            found.channel: channel_keys(found.guess, usual)
            | {
                "sure": found.sure,
                "share": round(found.share, 3),
                "why": why(found),
                "latest": [float(f"{value:.10g}") for value in found.guess.measured[-3:]],
                "same": [one.cell.span.address for one in found.same],
                "as_well": [channel_keys(one, usual) for one in found.rivals],
            }
            for found in proposal.channels
        },
        "unmatched": list(proposal.unmatched),
        "unseen": list(proposal.unseen),
        "no_counter": [{"address": one.cell.span.address, "why": one.why} for one in proposal.refused],
        "refused": reader.refused,
        "unasked": sorted(reader.unasked),
        "requests": reader.n_requests,
    }
