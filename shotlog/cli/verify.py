"""``shotlog verify``: whether the log is whole and as it was written, and what outside of it confirms that."""

import argparse
from typing import TYPE_CHECKING

from shotlog.cli.every_edge import every_edge
from shotlog.cli.opening import Subparsers, add_command, opened, say_of_server
from shotlog.cli.progress import Progress
from shotlog.errors import StoreDamaged
from shotlog.wording.numbers import some
from shotlog.wording.putting_right import follows_said
from shotlog.wording.times import clock_time

if TYPE_CHECKING:
    from shotlog.settings import Settings
    from shotlog.store.log.log import Log

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(
        subparsers,
        "verify",
        "check that the file of the log is whole and that nothing in it, and no picture, was changed later",
        every_edge(_run, aside=True),
    )
    parser.add_argument(
        "--expect", metavar="DIGEST", help="a digest that a report, an export or a backup printed: the log must hold it"
    )


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.asked.followed import followed
    from shotlog.store.keeping.head import contained
    from shotlog.store.keeping.whole_file import file_damage
    from shotlog.store.parts.pictures import check_pictures, picture_folder

    tell = Progress()
    with opened(arguments.config) as (settings, log):
        say_of_server(log)
        with log.reading() as connection:
            damage = file_damage(connection, tell)
        if damage is not None and not damage.record_whole:
            inside = f"in {', '.join(damage.tables)}" if damage.tables else "outside of every table"
            raise StoreDamaged(f"log {settings.store_shown}: its file is damaged {inside}: {damage.said}")
        n, last = log.verify(tell)
        n_files = check_pictures(log, picture_folder(settings.store, settings.file))
        if n_files:
            print(f"pictures: {some(n_files, 'file')}, each there and as it was kept")
        _archived(log, tell)
        unsigned = _signed(log)
        if arguments.expect:
            place, more = contained(log, arguments.expect)
            print(f"expected digest: that of transaction {place}; {some(more, 'transaction')} came after it")
        _confirmed(log, settings, n, bool(arguments.expect))
        before = followed(log)
        if unsigned:
            raise StoreDamaged(f"log {settings.store_shown}: {unsigned}")
    for one in before:
        known = "not known" if one.digest is None else one.digest
        print(f"it {follows_said(clock_time(one.time), one.reason)}; that log: {one.log}, last digest {known}")
    print(f"log {settings.store_shown}: {some(n, 'transaction')}, nothing changed later; last digest {last}")
    if damage is not None:
        raise StoreDamaged(
            f"log {settings.store_shown}: the record is whole, but the file is damaged in {', '.join(damage.tables)}, "
            f"which holds only what can be worked out again ({damage.said}): look at the disk; `shotlog run` sets "
            "the file aside and writes it anew when it meets the page"
        )
    return 0


def _signed(log: "Log") -> str:
    """Say how the entries are signed; return what is wrong with signatures, empty where nothing is."""
    from shotlog.store.log.signed import tally

    with log.reading() as connection:
        found = tally(connection)
    n = found.by_login + found.typed + found.not_said
    told = f"{found.by_login} by log-in, {found.typed} with typed initials, {found.not_said} whose maker is not said"
    by_itself = f"; {found.by_program} by the logger itself" if found.by_program else ""
    print(f"signed: {some(n, 'entry', 'entries')} of people: {told}{by_itself}")
    for one in found.lost:
        print(f"  {one}: it was lost with the log that this one goes on from")
    for one in found.wrong:
        print(f"  {one}")
    return "; ".join(found.wrong)


def _archived(log: "Log", tell: Progress) -> None:
    """Look at the archives that are at hand; say which are, and what is taken at the word of the log."""
    from shotlog.store.keeping.archived import check_archives

    for one, found in check_archives(log, tell):
        where = (
            f"the archive {found}, which verifies and holds them"
            if found
            else f"the archive {one.file}, which is neither there nor beside the log; "
            f"{some(one.links, 'transaction')} taken at the word of the log"
        )
        print(f"{some(one.rows, 'verdict')} of {one.trial}: in {where}")


def _confirmed(log: "Log", settings: "Settings", n: int, expected: bool) -> None:
    """Say up to where the log is confirmed by what was written down outside of it."""
    from shotlog.store.keeping.anchors import anchors_named, compare, is_there

    if settings.anchor is None:
        named = anchors_named(log)
        if named:
            print(
                f"not compared with {', '.join(named)}, where its head was written down: no anchor in {settings.file}"
            )
        elif not expected:
            print("nothing outside the log confirms it: see --expect, and `anchor` under [log]")
        return
    found = compare(log, settings.anchor)
    if found.newest is None:
        why = "holds no anchor of it yet" if is_there(settings.anchor) else "is not there"
        print(f"nothing outside the log confirms it: {settings.anchor} {why}")
    else:
        head, when = found.newest.head, clock_time(found.newest.time)
        n = max(n, head.links)  # a log in use has grown since
        print(
            f"confirmed from outside up to transaction {head.links} of {n}, written down on {when} in "
            f"{found.newest.file}"
        )
    if found.beyond is not None:
        print(
            f"it goes on from a log of which {found.beyond.head.links} transactions were written down on "
            f"{clock_time(found.beyond.time)} in {found.beyond.file}; the newest "
            "of them are not in this one, and it says so"
        )
    if found.unread:
        print(f"{settings.anchor}: {some(found.unread, 'line')} of the anchors do not read")
