"""What people enter: an insert mounted or removed, a lot change, a finding.

An entry takes effect at a shot. One that reaches back before shots already judged opens a new judging there, in the
same transaction, so that nobody ever sees new attributions beside old verdicts as if they belonged together.
"""

from datetime import datetime

from sqlalchemy import Connection, func, select

from shotlog.entries import KINDS, Effect
from shotlog.errors import UsageError
from shotlog.records import Event, Insert, Mounting, Removal, Stay
from shotlog.store.inserts.named_half import refuse_empty_half
from shotlog.store.inserts.redated import correct_same_place, take_back_same_insert
from shotlog.store.log import schema
from shotlog.store.log.entered import in_force_from, read_timeline
from shotlog.store.log.judgements import judge_again
from shotlog.store.log.log import Log
from shotlog.store.log.shots import FIRST_TO_COME, last_shot
from shotlog.store.log.transaction import Entered, Transaction

__all__ = ["entered_with", "mount", "mount_within", "note", "note_within", "remove", "remove_within"]


def mount(
    log: Log,
    press: str,
    serial: str,
    time: datetime,
    *,
    half: str | None = None,
    at_shot: int | None = None,
    design: str = "",
    print_batch: str = "",
    single_use: bool = False,
    initials: str = "",
    reason: str = "",
) -> Entered[Mounting]:
    """Enter that an insert was mounted, in force from `at_shot` on (default: the next shot).

    Where the press has no shot yet the next one is the first that comes, whatever its counter stands at
    (`FIRST_TO_COME`). The half defaults to the one the insert was in before, else to moving. An insert in that half is
    replaced; `reason` says why that one came out, and is entered with the mounting as its removal. A mounting entered
    for the very same half and shot is corrected by this one, and one of the same insert in the same half is re-dated
    when `at_shot` is given.

    Raises
    ------
    UsageError
        The insert is mounted already, there or in another press; or a reason is given and no insert came out.
    """
    with log.transaction() as work:
        return mount_within(
            work,
            press,
            serial,
            time,
            half=half,
            at_shot=at_shot,
            design=design,
            print_batch=print_batch,
            single_use=single_use,
            initials=initials,
            reason=reason,
        )


def mount_within(
    work: Transaction,
    press: str,
    serial: str,
    time: datetime,
    *,
    half: str | None = None,
    at_shot: int | None = None,
    design: str = "",
    print_batch: str = "",
    single_use: bool = False,
    initials: str = "",
    reason: str = "",
) -> Entered[Mounting]:
    """Enter what `mount` enters, within a transaction."""
    known = _known_insert(work, serial)
    if at_shot is not None and half in (None, _last_half(work, serial)):
        take_back_same_insert(work, press, serial, at_shot, time, initials)
    at_shot = _next_shot(work, press) if at_shot is None else at_shot
    half = half or _last_half(work, serial) or "moving"
    if known:
        _refuse_other(serial, "design", design, known.design)
        _refuse_other(serial, "print batch", print_batch, known.print_batch)
    old = _came_out(work, press, half, at_shot) if reason.strip() else None
    if old is not None:
        remove_within(work, press, old, time, reason=reason, at_shot=at_shot, initials=initials)
    mounting = Mounting(press, half, known or Insert(serial, design, print_batch), at_shot, time, single_use, initials)
    _refuse_double(work, mounting)
    correct_same_place(work, mounting)
    entered = work.enter(mounting)
    judge_again(work, press, at_shot, f"mounting of {serial} in {half} at shot {at_shot}", time)
    return entered


def remove(
    log: Log, press: str, serial: str, time: datetime, *, reason: str, at_shot: int | None = None, initials: str = ""
) -> Entered[Removal]:
    """Enter that an insert was taken out: `at_shot` (default: the next shot) is the first shot without it.

    Raises
    ------
    UsageError
        The insert was not mounted in that press at that shot, or no reason is given.
    """
    with log.transaction() as work:
        return remove_within(work, press, serial, time, reason=reason, at_shot=at_shot, initials=initials)


def remove_within(
    work: Transaction,
    press: str,
    serial: str,
    time: datetime,
    *,
    reason: str,
    at_shot: int | None = None,
    initials: str = "",
) -> Entered[Removal]:
    """Enter what `remove` enters, within a transaction."""
    if not reason.strip():
        raise UsageError("reason: given nothing, allowed: a few words that say why the insert was taken out")
    at_shot = _next_shot(work, press) if at_shot is None else at_shot
    stays = [stay for stay in read_timeline(work.connection, press).stays if stay.mounting.insert.serial == serial]
    at = in_force_from(work.connection, press, at_shot)
    if not any(stay.first <= at <= stay.end for stay in stays):
        where = "; ".join(_where(stay) for stay in stays) or "never"
        raise UsageError(f"insert {serial} was not mounted in {press} at shot {at_shot} (mounted: {where})")
    removal = Removal(press, serial, at_shot, time, reason.strip(), initials)
    entered = work.enter(removal)
    judge_again(work, press, at_shot, f"removal of {serial} at shot {at_shot}", time)
    return entered


def note(
    log: Log,
    press: str,
    kind: str,
    text: str,
    time: datetime,
    *,
    at_shot: int | None = None,
    half: str = "",
    initials: str = "",
) -> Entered[Event]:
    """Enter an event, about one `half` of the mould where that is said.

    What was seen defaults to the last shot, which the person has just seen; others to the next.

    Raises
    ------
    UsageError
        The kind is not one of `entries.KINDS`, the text is empty or does not say who looked where it has to, or
        something was seen on a half in which nothing was.
    """
    with log.transaction() as work:
        return note_within(work, press, kind, text, time, at_shot=at_shot, half=half, initials=initials)


def note_within(
    work: Transaction,
    press: str,
    kind: str,
    text: str,
    time: datetime,
    *,
    at_shot: int | None = None,
    half: str = "",
    initials: str = "",
) -> Entered[Event]:
    """Enter what `note` enters, within a transaction."""
    row = KINDS.get(kind)
    if not text.strip() and not (row and row.who):
        raise UsageError(f"text of {kind}: given nothing, allowed: a few words")
    if at_shot is None:
        at_shot = max(FIRST_TO_COME, _next_shot(work, press) - (1 if row and row.seen else 0))
    if row and row.seen:
        refuse_empty_half(work.connection, press, half, at_shot)
    entered = work.enter(Event(press, at_shot, kind, text.strip(), time, half, initials))
    if KINDS[kind].effect != Effect():
        judge_again(work, press, at_shot, f"{kind} at shot {at_shot}", time)
    return entered


def entered_with(connection: Connection, mounting_id: int) -> list[tuple[int, str]]:
    """Return number and reason of the removal entered with a mounting: of one shot and time, and just before it."""
    table, removal = schema.mountings, schema.removals
    before = select(func.max(table.c.id)).where(table.c.id < mounting_id).scalar_subquery()
    query = (
        select(removal.c.id, removal.c.reason)
        .join(table, (table.c.press_id == removal.c.press_id) & (table.c.at_shot == removal.c.at_shot))
        .where(table.c.id == mounting_id, table.c.time == removal.c.time)
        .where(removal.c.newest_mounting.is_(None) | (removal.c.newest_mounting == func.coalesce(before, 0)))
    )
    return [(row.id, row.reason) for row in connection.execute(query)]


def _came_out(work: Transaction, press: str, half: str, at_shot: int) -> str:
    """Return the serial in a half before a shot."""
    at = in_force_from(work.connection, press, at_shot)
    stay = read_timeline(work.connection, press).stays_at(at - 1).get(half)
    if stay is None:
        raise UsageError(f"reason: given, but nothing was in {press} {half} before shot {at}")
    return stay.mounting.insert.serial


def _next_shot(work: Transaction, press: str) -> int:
    last = last_shot(work.connection, press)
    return FIRST_TO_COME if last is None else last[0] + 1


def _known_insert(work: Transaction, serial: str) -> Insert | None:
    table = schema.inserts
    query = (
        select(table.c.print_batch, schema.designs.c.name)
        .select_from(table.outerjoin(schema.designs))
        .where(table.c.serial == serial)
    )
    row = work.connection.execute(query).first()
    return Insert(serial, row.name or "", row.print_batch) if row is not None else None


def _last_half(work: Transaction, serial: str) -> str | None:
    table = schema.mountings
    query = (
        select(table.c.half)
        .join(schema.inserts)
        .where(schema.inserts.c.serial == serial)
        .order_by(table.c.id.desc())
        .limit(1)
    )
    return work.connection.execute(query).scalar()


def _refuse_other(serial: str, what: str, given: str, known: str) -> None:
    if given and given != known:
        raise UsageError(f"insert {serial}: given {what} {given!r}, on record as {known or f'no {what}'!r}")


def _refuse_double(work: Transaction, new: Mounting) -> None:
    presses = work.connection.execute(select(schema.presses.c.name)).scalars().all()
    for press in presses:
        for stay in read_timeline(work.connection, press).stays:
            if stay.mounting.insert.serial != new.insert.serial:
                continue
            from_shot = in_force_from(work.connection, press, new.at_shot)
            mounted_there = from_shot < stay.end if press == new.press else stay.end == float("inf")
            if mounted_there:
                raise UsageError(
                    f"insert {new.insert.serial} is already mounted: {_where(stay)}; remove it there first"
                )


def _where(stay: Stay) -> str:
    until = "now" if stay.end == float("inf") else f"shot {int(stay.end) - 1}"
    return f"{stay.mounting.press} {stay.mounting.half}, shot {stay.first} to {until}"
