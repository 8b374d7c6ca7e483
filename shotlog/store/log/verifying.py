"""Whether the log is as it was written: its hash chain recomputed over every row of record.

A link whose rows lie in the archive of a trial is taken at its word (`store.log.covered`). Whether the archive holds
them is asked of the archive, which is a log itself.

A report of one day on a log of years need not read all of it back: a link holds by itself to the one before it, so what
came since some link, and what was entered before it, can be recomputed alone. Who says so says what was not.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence

from sqlalchemy import ColumnElement, Connection, bindparam, func, or_, select

from shotlog.errors import StoreDamaged
from shotlog.store.log import schema
from shotlog.store.log.chain import GENESIS, linked
from shotlog.store.log.covered import Archived, archived, covered_texts
from shotlog.store.log.prepared import Prepared, of_press

__all__ = ["nobody", "verify_chain", "verify_since"]

_LINKS = 2000
"""Links of the chain verified at a time: rows of up to some MB, and a question a table."""

_SOON = 50_000
"""Links before the first one asked for up to which they are all recomputed: it takes a second (own)."""

_LINK = schema.ledger.c

_STORED = Prepared(
    select(*(select(func.count()).select_from(table).scalar_subquery() for table in schema.RECORD_TABLES.values()))
)
"""How many rows each table of the record has."""

_BLANKS = func.length(_LINK.rows) - func.length(func.replace(_LINK.rows, " ", ""))
_NAMED = Prepared(select(func.sum(_BLANKS + 1)).where(_LINK.rows != ""))
"""How many rows the links name."""

_FIRST_ROW = Prepared(
    select(func.min(schema.shots.c.id)).where(of_press(schema.shots), schema.shots.c.shot >= bindparam("shot"))
)
_NEXT_SHOT = Prepared(
    select(_LINK.id, _LINK.rows)
    .where(_LINK.id >= bindparam("link"), or_(_LINK.rows.like("shots:%"), _LINK.rows.like("% shots:%")))
    .order_by(_LINK.id)
    .limit(1)
)

Link = tuple[int, str, str]
"""Its number, the rows it names, and its digest."""


def nobody(text: str) -> None:
    """Tell nobody how far long work is."""


def verify_chain(connection: Connection, where: str, tell: Callable[[str], None] = nobody) -> tuple[int, str]:
    """Return how many transactions the log `where` has and the digest of the last.

    `tell` is told now and then how far it is.

    Raises
    ------
    StoreDamaged
        A row was changed, added or taken out after it was written; says in which transaction.
    """
    _check_no_strangers(connection, where)
    before, n, n_rows = GENESIS, 0, 0
    gone = archived(connection)
    whole = connection.execute(select(func.count()).select_from(schema.ledger)).scalar_one()
    for links in _links(connection, _LINK.id >= 0):
        tell(f"log {where}: transaction {n} of {whole} looked at")
        n_rows += _recomputed(connection, where, [before, *(said for _, _, said in links)], links, gone)
        before, n = links[-1][2], n + len(links)
    stored = sum(_STORED.all(connection)[0])
    if stored != n_rows:
        raise StoreDamaged(f"log {where}: {stored} rows where the chain covers {n_rows}")
    if (gone.found_links, gone.found_rows) != (gone.links, gone.rows):
        raise StoreDamaged(
            f"log {where}: {gone.found_rows} rows of {gone.found_links} transactions are gone, and "
            f"into archives went {gone.rows} of {gone.links}"
        )
    return n, before


def verify_since(
    connection: Connection,
    where: str,
    shots: Mapping[str, int],
    tell: Callable[[str], None] = nobody,
    soon: int = _SOON,
) -> tuple[int, str, int]:
    """Recompute the chain since the first of some shots, of each press by name and all later ones.

    Of what came before it is recomputed what was entered, or came beside a shot; and counted that there are as many
    rows as the links name.

    Returns
    -------
    What `verify_chain` returns, and the number of the transaction from which on all was recomputed: 0 for all of them.
    That is so where no more than `soon` came before.

    Raises
    ------
    StoreDamaged
        As `verify_chain`, as far as it is looked at.
    """
    rows = [_FIRST_ROW.scalar(connection, press=press, shot=shot) for press, shot in shots.items()]
    first = _link_of(connection, min((row for row in rows if row is not None), default=0))
    earlier = select(_LINK.digest).where(_LINK.id < first).order_by(_LINK.id.desc()).limit(1)
    if connection.execute(earlier.offset(soon)).first() is None:
        return *verify_chain(connection, where, tell), 0
    _check_no_strangers(connection, where)
    gone, n = archived(connection), 0
    for links in _links(connection, schema.ENTERED_IN & (_LINK.id < first)):
        tell(f"log {where}: {n} transactions of entries looked at")
        _recomputed(connection, where, _before_each(connection, links), links, gone)
        n += len(links)
    before = connection.execute(earlier).scalar_one()
    for links in _links(connection, _LINK.id >= first):
        tell(f"log {where}: transaction {links[0][0]} looked at, from {first} on")
        _recomputed(connection, where, [before, *(said for _, _, said in links)], links, gone)
        before = links[-1][2]
    named, stored = _NAMED.scalar(connection), sum(_STORED.all(connection)[0])
    if stored + gone.rows != named:
        raise StoreDamaged(f"log {where}: {stored} rows where the chain covers {named - gone.rows}")
    return connection.execute(select(func.count()).select_from(schema.ledger)).scalar_one(), before, first


def _links(connection: Connection, which: ColumnElement[bool]) -> Iterator[list[Link]]:
    """Yield some links at a time, in their order."""
    query = select(_LINK.id, _LINK.rows, _LINK.digest).where(which).order_by(_LINK.id)
    with connection.execute(query.execution_options(yield_per=_LINKS)) as found:
        for part in found.partitions():
            yield [(number, named, said) for number, named, said in part]


def _recomputed(
    connection: Connection, where: str, before: Sequence[str], links: Sequence[Link], gone: Archived
) -> int:
    """Hold links, given the digest before each, against their rows; return how many rows they have."""
    texts_of, n_rows = covered_texts(connection, [(number, named) for number, named, _ in links], where, gone), 0
    for (number, named, said), texts, stood in zip(links, texts_of, before, strict=False):
        if texts is not None and linked(stood, texts) != said:
            raise StoreDamaged(f"log {where}: transaction {number} ({named[:80]}) was changed later")
        n_rows += len(texts or ())
    return n_rows


def _before_each(connection: Connection, links: Sequence[Link]) -> list[str]:
    """Return the digest that stands before each of some links."""
    earlier = schema.ledger.alias("earlier")
    digest = select(earlier.c.digest).where(earlier.c.id < _LINK.id).order_by(earlier.c.id.desc()).limit(1)
    within = _LINK.id.between(links[0][0], links[-1][0])
    query = select(digest.correlate(schema.ledger).scalar_subquery()).where(schema.ENTERED_IN, within)
    query = query.order_by(_LINK.id)
    return [one or GENESIS for one in connection.execute(query).scalars()]


def _link_of(connection: Connection, row: int) -> int:
    """Return the link that brought a row of shots, looked for by halves: both are numbered as they came."""
    low, high = 0, connection.execute(select(func.max(_LINK.id))).scalar() or 0
    while low < high:
        middle = (low + high) // 2
        found = _NEXT_SHOT.first(connection, link=middle)
        if found is None or max(_shots_in(found[1])) >= row:
            high = middle
        else:
            low = found[0] + 1
    found = _NEXT_SHOT.first(connection, link=low)
    return low if found is None else int(found[0])


def _shots_in(rows: str) -> Iterator[int]:
    """Yield the rows of shots that a link names."""
    for word in rows.split():
        table, _, number = word.partition(":")
        if table == schema.shots.name and number.isdecimal():
            yield int(number)


def _check_no_strangers(connection: Connection, where: str) -> None:
    """Look for what could write or read otherwise than it seems: no release ever made such a thing."""
    if connection.dialect.name != "sqlite":
        return
    made = connection.exec_driver_sql("SELECT type, name FROM main.sqlite_master WHERE type IN ('trigger', 'view')")
    for kind, name in made:
        raise StoreDamaged(f"log {where}: a {kind} {name!r} was put into it, which no release of this program makes")
