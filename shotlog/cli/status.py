"""``shotlog status``: how things stand at each press and balance, from the log."""

import argparse
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from shotlog.answers.entered_there import not_in_yet, not_taken_in
from shotlog.channels import CHANNELS
from shotlog.cli.every_edge import edges_of, every_edge
from shotlog.cli.opening import Subparsers, add_command, opened, print_json, read_settings, say_of_server
from shotlog.cli.set_points import set_document, set_line
from shotlog.cli.starting import start_document, step_document
from shotlog.cli.waiting import waiting_document
from shotlog.cli.who_is_told import messages_document, messages_said
from shotlog.clock import SystemClock, iso_utc
from shotlog.errors import StoreError
from shotlog.records import COUNTED, Gap, Weighing
from shotlog.settings import BalanceSettings
from shotlog.wording.backups import backup_trouble, last_backup
from shotlog.wording.clock import clock_said, start_said
from shotlog.wording.entries import half_named
from shotlog.wording.found import ASKED, found_said, why_asked
from shotlog.wording.held import held_next, held_said
from shotlog.wording.incoming import missed_said, one_line, uncertain_said, unread_said
from shotlog.wording.kept import room_said, set_aside_said, space_said, waiting_said
from shotlog.wording.logger import failure_said, getting_ready, silent_there, state_said, unheard_said
from shotlog.wording.numbers import plain, some
from shotlog.wording.putting_right import follows_said
from shotlog.wording.shipped import shipped_said
from shotlog.wording.times import clock_time, rough_ago
from shotlog.wording.unjudged import unjudged_said

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from shotlog.answers.needs import PressFacts
    from shotlog.parts.found import FoundWrong
    from shotlog.parts.held import HeldNow
    from shotlog.settings import DesignSettings, Settings
    from shotlog.store.asked.backed_up import BackedUp
    from shotlog.store.asked.kept import KeptNow
    from shotlog.store.asked.logger_state import LoggerState
    from shotlog.store.asked.state import PressState
    from shotlog.store.asked.tally import Counts
    from shotlog.store.asked.unjudged import Unjudged
    from shotlog.store.log.log import Log
    from shotlog.store.parts.places import WhereIs

__all__ = ["add"]

_STEPS = 3
"""Steps of the clock that are told, the newest."""


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "status", "show how things stand at each press and balance", _over_all)
    parser.add_argument("--press", metavar="P", help="only this press or balance")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def _over_all(arguments: argparse.Namespace) -> int:
    """Go over the edges of a centre; say last what was set aside there, which counts nowhere."""
    worst = every_edge(_run)(arguments)
    for one in () if arguments.json else edges_of(arguments.config) or ():
        if one.set_aside is not None:
            print(f"\nset aside on {clock_time(one.set_aside)}: {one.name}; it is read with ?edge={quote(one.name)}")
    return worst


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.answers.needs import needy_first
    from shotlog.store.asked.backed_up import backed_up
    from shotlog.store.asked.followed import followed
    from shotlog.store.asked.health import health
    from shotlog.store.asked.kept import kept_now
    from shotlog.store.asked.logger_state import Listening
    from shotlog.store.asked.shipped import shipped
    from shotlog.store.asked.state import last_weighing, press_state
    from shotlog.store.asked.tally import Tally
    from shotlog.store.log.clock_steps import clock_steps
    from shotlog.store.log.journal_place import noted
    from shotlog.store.log.starts import starts
    from shotlog.store.parts.places import where_is

    settings = read_settings(arguments.config)
    kept = kept_now(settings, SystemClock().now())
    waits = waiting_said(kept.shots or 0, kept.place, kept.since, kept.why, kept.unsafe)
    with _said_before(waits), opened(arguments.config) as (settings, log):
        say_of_server(log)
        wanted = arguments.press
        balances = [one for one in settings.balances if wanted in (None, one.name)]
        presses = settings.presses if wanted is None else () if balances else (settings.press(wanted),)
        logger, where = Listening(SystemClock(), noted=lambda: noted(settings)).look_well(log), where_is(log)
        counts, _ = Tally().all(log, [*(one.name for one in presses), *(one.name for one in balances)])
        stands = [_stands(log, one.name, counts[one.name], settings.designs, where, logger) for one in presses]
        states = [document for _, document in stands]
        weighed = [
            _balance(one, press_state(log, one.name, counts[one.name]), last_weighing(log, one.weighs, one.name))
            for one in balances
        ]
        before = followed(log)
        logging = health(log, settings, logger, kept, SystemClock().now())
        backups = None if settings.backup is None else backed_up(log)
        told, sent = messages_document(log, settings), shipped(log)
        on_the_way = not_taken_in(log, SystemClock().now())
        unheard = _unheard_since(settings)
        waiting = [waiting_document(one) for one in not_in_yet(log, SystemClock().now())]
        stepped, started = clock_steps(log, _STEPS), starts(log, 1)
    document = {
        "log": settings.store_shown,
        "logging_seen": logging["last_beat"],
        "logging": logging,
        "follows": [
            {"log": one.log, "digest": one.digest, "reason": one.reason, "since": iso_utc(one.time)} for one in before
        ],
        "started": next((start_document(one) for one in started), None),
        "clock_steps": [step_document(one) for one in stepped],
        "messages": told,
        "shipped": [
            {
                "to": one.to,
                "transaction": one.link,
                "time": None if one.time is None else iso_utc(one.time),
                "waits": one.waits,
                "why": one.why,
                "since": None if one.since is None else iso_utc(one.since),
            }
            for one in sent
        ],
        "entered_at_centre": waiting,
        "presses": states,
        "balances": weighed,
    }
    if settings.edge:  # what is answered, and waits on a disk, is so there
        document["not_heard_since"] = None if unheard is None else iso_utc(unheard)
        logging["shots_waiting"] = None
    if arguments.json:
        print_json(document)
    else:
        print(f"log {settings.store_shown}")
        for one in before:
            print(f"  {follows_said(clock_time(one.time), one.reason)}")
        now = SystemClock().now()
        unjudged = getting_ready(logging["unjudged"])
        record = [
            *filter(None, (unjudged, waits, *_disks(kept))),
            *map(start_said, started),
            *(clock_said(one, now) for one in stepped),
            *_backups(settings, backups, now),
            *messages_said(told),
            *on_the_way,
            *(shipped_said(one.to, one.link, one.time, one.waits, one.why, one.since, now) for one in sent),
        ]
        by_name = {facts.press: document for facts, document in stands}
        needy = [by_name[one.press] for one in needy_first(facts for facts, _ in stands)]
        _print_all(logger, needy, weighed, record, settings.edge, unheard)
    if logger.is_failure:
        since = kept.since if logger.state == "log not written" else logger.seen
        wrong = failure_said(logger.state, since, logging["silent"], _where(logger), waits, settings.text_log)
        if unheard is not None:
            wrong = f"{settings.edge} {unheard_said(unheard)}"
        elif settings.edge and logger.state == "stale":
            wrong = silent_there(logger.seen, _where(logger))
        print(f"shotlog status: {wrong}", file=sys.stderr)
    return int(logger.is_failure)


def _unheard_since(settings: "Settings") -> datetime | None:
    """Return when the edge of a log at a centre was heard last; None where it is heard, or the log is no such copy."""
    if not settings.edge:
        return None

    from shotlog.store.centre.centre import centre_of, edges
    from shotlog.store.centre.edges import UNHEARD_S

    found = next((one for one in edges(centre_of(settings.store)) if one.name == settings.edge), None)
    return None if found is None or found.silent_s <= UNHEARD_S else found.last_seen


@contextmanager
def _said_before(waits: str) -> Iterator[None]:
    """Where the log cannot be read, say all the same what waits for it."""
    try:
        yield
    except StoreError:
        if waits:
            print(f"shotlog status: {waits}", file=sys.stderr)
        raise


def _backups(settings: "Settings", state: "BackedUp | None", now: datetime) -> list[str]:
    if state is None or settings.backup is None:
        return []
    about = (state.done, state.file, state.failed, state.why, state.is_due(settings.backup, now))
    return [backup_trouble(*about, settings.backup.every_h) or last_backup(state.done, state.file)]


def _disks(kept: "KeptNow") -> list[str]:
    """Return how much room each disk has, and where what did not read was set aside."""
    said = []
    for one in kept.disks:
        about = (one.what, one.folder, one.free_bytes, one.shots, one.hours)
        said.append(space_said(*about, one.low, one.reserve) or room_said(*about, one.reserve))
    return said if kept.set_aside is None else [*said, set_aside_said(kept.set_aside)]


def _print_all(
    logger: "LoggerState",
    states: list[dict[str, Any]],
    balances: list[dict[str, Any]],
    record: list[str],
    edge: str,
    unheard: datetime | None,
) -> None:
    """Print how things stand; `record`: what waits, the last start and what the clock did, a line each.

    `edge`: whose log it is, where this is a centre; `unheard`: when it was heard last, where it is not.
    """
    now, sign = SystemClock().now(), logger.sign
    said = state_said(logger.state, logger.seen, None if sign is None else sign.since, now)
    print(f"logging: {said if unheard is None else unheard_said(unheard)}")
    for line in record:
        print(f"  {line}")
    for state in states:
        _print(state, now, edge)
    for balance in balances:
        _print_balance(balance, now)


def _where(logger: "LoggerState") -> str:
    return "" if logger.sign is None else f"process {logger.sign.process} on {logger.sign.host}"


def _document(state: "PressState") -> dict[str, Any]:
    from shotlog.answers.verdict import verdict_document

    verdict = state.verdict
    return {
        "press": state.press,
        "shot": state.shot,
        "time": None if state.time is None else iso_utc(state.time),
        "values": dict(state.values),
        "units": {name: CHANNELS[name].unit for name in state.values},
        "mounted": {
            half: {
                "serial": stay.mounting.insert.serial,
                "design": stay.mounting.insert.design,
                "single_use": stay.mounting.single_use,
                "since_shot": stay.first,
                "shots": 0 if state.shot is None else max(0, state.shot - stay.first + 1),
            }
            for half, stay in state.mounted.items()
        },
        "connection": _connection(state),
        "verdict": None if verdict is None else verdict_document(verdict),
        "shots_stored": state.n_shots,
        "shots_missed": state.n_missed,
        "missed_said": missed_said(state.n_missed, state.uncertain),
        "uncertain": [
            {"first": gap.first, "last": gap.last, "least": gap.least, "most": gap.most, "reason": gap.reason}
            for gap in state.uncertain
        ],
        "faults": state.n_faults,
        "unjudged": _unjudged(state.unjudged),
    }


def _unjudged(waits: "Unjudged | None") -> dict[str, Any] | None:
    """Return the shots that wait for their verdict, `shots` of them, or more where that is as many as are counted."""
    if waits is None:
        return None
    return {"shots": waits.n, "or_more": waits.n >= COUNTED, "first": waits.first, "since": iso_utc(waits.since)}


def _came(log: "Log", press: str) -> dict[str, Any]:
    """Return what could not be taken from a press, by kind; `said` of a value, where shots are logged without it."""
    from shotlog.store.asked.faults import fault_kinds

    return {
        "faults_by_kind": [
            {
                "kind": one.kind, "n": one.n, "first": iso_utc(one.first), "last": iso_utc(one.last),
                "first_shot": one.first_shot, "newest": one.example,
                "said": unread_said(one.told, one.n, clock_time(one.first), one.first_shot) if one.channel else "",
            }
            for one in fault_kinds(log, press)
        ]
    }  # fmt: skip


def _set_to(log: "Log", press: str) -> dict[str, Any]:
    """Return what a press is set to, by name; nothing in it where the press does not tell."""
    from shotlog.store.asked.set_points import set_points_at

    return {"set_points": {one.name: set_document(one) for one in set_points_at(log, press)}}


def _stands(
    log: "Log",
    press: str,
    counts: "Counts",
    designs: "Mapping[str, DesignSettings]",
    where: "WhereIs",
    logger: "LoggerState",
) -> "tuple[PressFacts, dict[str, Any]]":
    """Return how a press stands: what decides how soon it needs a person, and all that is known."""
    from shotlog.answers.needs import needs
    from shotlog.answers.press_needs import facts_of
    from shotlog.review.still_held import held_with_parts
    from shotlog.store.asked.state import press_state
    from shotlog.store.asked.unjudged import as_told
    from shotlog.store.parts.found import found_on

    timeline = log.timeline(press)
    now, found = press_state(log, press, counts, timeline), found_on(log, press, timeline, designs)
    now = replace(now, unjudged=as_told(now.unjudged, press, logger.sign))
    held, parts = held_with_parts(log, press, designs, timeline, found)
    facts = facts_of(log, now, timeline, found, parts, where, logger, SystemClock().now())
    people = _by_people(now, found, held)
    return facts, {
        **_document(now), **_came(log, press), **_set_to(log, press), **people, "needs": list(needs(facts)),
    }  # fmt: skip


def _by_people(state: "PressState", found: "Sequence[FoundWrong]", held: "HeldNow | None") -> dict[str, Any]:
    """Return what people found that stands, what is asked about it, and what is held, as the page says it.

    `stands`: the verdict beside what they found.
    """
    from shotlog.answers.verdict import found_documents
    from shotlog.parts.found import verdict_beside

    verdict, asked = None if state.verdict is None else state.verdict.verdict, why_asked(found)
    stands = [one for one in found if one.stands]
    return {
        "stands": None if verdict is None and not stands else verdict_beside(verdict or "keep", stands),
        "found": found_documents(stands),
        "asked": "" if asked is None else f"{found_said(asked)}: {ASKED}",
        "held": None if held is None else {
            "parts": held.n_parts, "first": held.first, "look_first": list(held.look_first),
            "shots": [[one.first, one.last] for one in held.blocks], "said": f"{held_said(held)}; {held_next(held)}",
        },
    }  # fmt: skip


def _balance(balance: BalanceSettings, state: "PressState", last: Weighing | None) -> dict[str, Any]:
    return {
        "balance": balance.name,
        "weighs": balance.weighs,
        "connection": _connection(state),
        "grams": None if last is None else last.grams,
        "time": None if last is None else iso_utc(last.time),
        "faults": state.n_faults,
    }


def _connection(state: "PressState") -> dict[str, str] | None:
    link = state.link
    return None if link is None else {"state": link.state, "since": iso_utc(link.time), "detail": link.detail}


def _print_connection(link: dict[str, str] | None) -> None:
    if link is None:
        print("  connection: never tried")
        return
    since = clock_time(datetime.fromisoformat(link["since"]))
    print(f"  connection: {link['state']} since {since}{': ' if link['detail'] else ''}{link['detail']}")


def _print_balance(balance: dict[str, Any], now: datetime) -> None:
    print(f"\nbalance {balance['balance']}, weighs for {balance['weighs']}")
    _print_connection(balance["connection"])
    if balance["time"] is None:
        print("  no weight yet")
    else:
        print(f"  last weight: {balance['grams']:.3f} g, {rough_ago(datetime.fromisoformat(balance['time']), now)}")
    print(f"  faults {balance['faults']}")


def _print(state: dict[str, Any], now: datetime, edge: str) -> None:
    """Print how a press stands; of an `edge`, at a centre, no command is named that is refused there."""
    print(f"\npress {state['press']}")
    _print_connection(state["connection"])
    if state["shot"] is None:
        print("  no shot yet")
    else:
        print(f"  last shot:  {state['shot']}, {rough_ago(datetime.fromisoformat(state['time']), now)}")
        for name, value in state["values"].items():
            channel = CHANNELS[name]
            print(f"    {channel.label:<20} {plain(name, value):>10} {channel.unit}")
    for half, insert in state["mounted"].items():
        print(
            f"  {half + ':':<11} {insert['serial']}, {some(insert['shots'], 'shot')} since shot {insert['since_shot']}"
        )
    if not state["mounted"]:
        print(f"  no insert entered ({'it is entered at the press' if edge else 'shotlog mount'})")
    if state["set_points"]:
        print(f"  set to:     {set_line(state['set_points'])}")
    print(f"  stored {state['shots_stored']}, missed {state['missed_said']}, faults {state['faults']}")
    for gap in state["uncertain"]:
        print(f"    {uncertain_said(Gap(state['press'], time=now, **gap))}")
    for one in state["faults_by_kind"]:
        if one["said"]:
            print(f"    {one_line(one['said'])}")
    fresh = [one for one in state["mounted"].items() if not one[1]["single_use"] and not one[1]["shots"]]
    for half, insert in fresh:
        print(f"  {insert['serial']} is in, {half_named(half)}; waiting for its first shot")
    for one in state["found"]:
        print(f"  FOUND BY PEOPLE: {one['said']}")
    if state["asked"]:
        answer = f"shotlog note CONFIG {state['press']} good TEXT --at-shot N, or unsure TEXT where none is known"
        print(f"  asked: {state['asked']} ({'it is answered at the press' if edge else answer})")
    if state["held"]:
        print(f"  {state['held']['said']}")
    if "unjudged" in state["needs"]:
        waits = state["unjudged"]
        since = clock_time(datetime.fromisoformat(waits["since"]))
        print(f"  NOT JUDGED: {unjudged_said(waits['shots'], waits['first'], since)}")
    if state["verdict"]:
        said = state["verdict"]
        before = f"before that, at shot {said['shot']}: " if fresh else ""
        before = f"by the values, at shot {said['shot']}: " if state["found"] else before
        print(f"  {before}{said['announced']}")
