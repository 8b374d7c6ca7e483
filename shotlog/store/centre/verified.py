"""Whether the logs at a centre are what their edges wrote: each chain over its rows, and what the centre says of it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from shotlog.errors import StoreDamaged
from shotlog.store.centre.batch import head_at
from shotlog.store.centre.centre import Centre
from shotlog.store.centre.edges import Edge
from shotlog.store.keeping.head import Head
from shotlog.store.log.identity import Head as Newest
from shotlog.store.log.verifying import nobody

__all__ = ["VerifiedEdge", "verify_centre", "verify_edge"]


@dataclass(frozen=True, slots=True)
class VerifiedEdge:
    """What came of one edge: its head where it verifies, `wrong`: what does not, empty where all does."""

    edge: Edge
    head: Head | None
    wrong: str = ""


def verify_edge(centre: Centre, name: str, tell: Callable[[str], None] = nobody) -> Head:
    """Recompute the hash chain over all that a centre holds of one edge; return its head.

    Rows may come meanwhile: they are not looked at, and what was there before has to stand as it was said.

    Raises
    ------
    StoreDamaged
        A row was changed, added or taken out; or the centre says that it holds another head than it does.
    UsageError
        There is no such edge.
    """
    said = centre.edge(name)
    with centre.log(name) as log, log.one_moment():
        links, digest = log.verify(tell)
        with log.reading() as connection:
            there = head_at(connection, said.link)
    if links < said.links or (said.link and there != Newest(said.link, said.digest)):
        raise StoreDamaged(
            f"centre {centre.where}: of {name!r} {links} transactions are there, and it says {said.links} up to "
            f"{said.link}, last digest {said.digest or 'none'}"
        )
    return Head(links, digest)


def verify_centre(centre: Centre, tell: Callable[[str], None] = nobody) -> Iterator[VerifiedEdge]:
    """Verify edge after edge, by name; one that is damaged keeps none from being looked at."""
    for edge in centre.edges():
        try:
            yield VerifiedEdge(edge, verify_edge(centre, edge.name, tell))
        except StoreDamaged as error:
            yield VerifiedEdge(edge, None, str(error))
