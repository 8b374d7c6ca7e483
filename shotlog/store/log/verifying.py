"""Whether the log is as it was written: its hash chain recomputed over every row of record.

A link whose rows lie in the archive of a trial is taken at its word (`store.log.covered`). Whether the archive holds
them is asked of the archive, which is a log itself.
"""

from collections.abc import Callable

from sqlalchemy import Connection, func, select

from shotlog.errors import StoreDamaged
from shotlog.store.log import schema
from shotlog.store.log.chain import GENESIS, linked
from shotlog.store.log.covered import archived, covered_texts
from shotlog.store.log.prepared import Prepared

__all__ = ["nobody", "verify_chain"]

_LINKS = 2000
"""Links of the chain verified at a time: rows of up to some MB, and a question a table."""

_STORED = Prepared(
    select(*(select(func.count()).select_from(table).scalar_subquery() for table in schema.RECORD_TABLES.values()))
)
"""How many rows each table of the record has."""


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
    ledger = schema.ledger
    links = select(ledger.c.id, ledger.c.rows, ledger.c.digest).order_by(ledger.c.id)
    with connection.execute(links.execution_options(yield_per=_LINKS)) as found:
        for part in found.partitions():
            tell(f"log {where}: transaction {n} of {whole} looked at")
            texts_of = covered_texts(connection, [(number, named) for number, named, _ in part], where, gone)
            for (number, named, said), texts in zip(part, texts_of, strict=True):
                if texts is not None and linked(before, texts) != said:
                    raise StoreDamaged(f"log {where}: transaction {number} ({named[:80]}) was changed later")
                before, n, n_rows = said, n + 1, n_rows + len(texts or ())
    stored = sum(_STORED.all(connection)[0])
    if stored != n_rows:
        raise StoreDamaged(f"log {where}: {stored} rows where the chain covers {n_rows}")
    if (gone.found_links, gone.found_rows) != (gone.links, gone.rows):
        raise StoreDamaged(
            f"log {where}: {gone.found_rows} rows of {gone.found_links} transactions are gone, and "
            f"into archives went {gone.rows} of {gone.links}"
        )
    return n, before


def _check_no_strangers(connection: Connection, where: str) -> None:
    """Look for what could write or read otherwise than it seems: no release ever made such a thing."""
    if connection.dialect.name != "sqlite":
        return
    made = connection.exec_driver_sql("SELECT type, name FROM main.sqlite_master WHERE type IN ('trigger', 'view')")
    for kind, name in made:
        raise StoreDamaged(f"log {where}: a {kind} {name!r} was put into it, which no release of this program makes")
