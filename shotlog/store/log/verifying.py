"""Whether the log is as it was written: its hash chain recomputed over every row of record.

A link whose rows lie in the archive of a trial is taken at its word (`store.log.covered`). Whether the archive holds
them is asked of the archive, which is a log itself.
"""

from collections.abc import Callable

from sqlalchemy import Connection, func, select

from shotlog.errors import StoreDamaged
from shotlog.store.log import schema
from shotlog.store.log.chain import GENESIS, digest
from shotlog.store.log.covered import archived, covered

__all__ = ["nobody", "verify_chain"]

_LINKS = 500
"""Links of the chain verified at a time."""


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
    links = select(schema.ledger).order_by(schema.ledger.c.id).execution_options(yield_per=_LINKS)
    with connection.execute(links) as found:
        for part in found.mappings().partitions():
            tell(f"log {where}: transaction {n} of {whole} looked at")
            for link, rows in zip(part, covered(connection, part, where, gone), strict=True):
                if rows is not None and digest(before, rows) != link["digest"]:
                    raise StoreDamaged(f"log {where}: transaction {link['id']} ({link['rows'][:80]}) was changed later")
                before, n, n_rows = link["digest"], n + 1, n_rows + len(rows or ())
    counts = [select(func.count()).select_from(table) for table in schema.RECORD_TABLES.values()]
    stored = sum(connection.execute(count).scalar_one() for count in counts)
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
