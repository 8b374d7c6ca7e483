"""Opening a transaction on the log: what is asked before all else, and the commit with its link of the chain."""

from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import contextmanager

from sqlalchemy import func, select

from shotlog.errors import StoreDamaged, StoreError, StoreGone, StoreReplaced
from shotlog.records import Signature
from shotlog.store.log import schema
from shotlog.store.log.engine import translated
from shotlog.store.log.identity import Head, Identity
from shotlog.store.log.origins import OF_ORIGIN
from shotlog.store.log.prepared import Asked, Prepared
from shotlog.store.log.transaction import Transaction
from shotlog.store.log.writing import Writing

__all__ = ["transaction"]

_LEDGER = schema.ledger.c
_NEWEST = select(func.max(_LEDGER.id)).scalar_subquery()
_STANDING = Prepared(
    select(
        _NEWEST.label("number"),
        select(_LEDGER.digest).where(_LEDGER.id == _NEWEST).scalar_subquery().label("digest"),
        select(func.max(schema.logs.c.id)).scalar_subquery().label("name"),
        OF_ORIGIN.scalar_subquery().label("same"),
        select(func.max(schema.set_points.c.id)).scalar_subquery().label("set_point"),
    )
)
"""What each transaction looks at first, asked at once: on a server each question is a way there and back."""


@contextmanager
def transaction(
    writing: Writing,
    identity: Identity,
    where: str,
    notice: Callable[[StoreError], None],
    origin: str | None = None,
    trial_id: int | None = None,
    signature: Signature | None = None,
    presses: Collection[str] | None = None,
    asked: Sequence[Asked] = (),
) -> Iterator[Transaction]:
    """Open a transaction; it is committed, with its link of the chain, when the block ends well.

    `asked`: what is asked as well when it begins, under its lock; see `Transaction.answers`. `notice` is told that the
    log is gone, replaced or damaged.

    Raises
    ------
    StoreGone, StoreReplaced
        What is open is not the log that lies at the path. It may have been committed all the same, to no use: whoever
        delivers it again gives an origin.
    """
    try:
        if not writing.is_open:  # opening changes a file, which may be none of ours
            identity.check_file()
        try:
            with translated(where):
                begun = writing.begin([(_STANDING, {"origin": origin}), *asked])
                try:
                    (standing,), *answers = begun.answers
                    number, newest_digest, a_name, same, set_point = standing
                    newest = None if number is None else Head(number, newest_digest)
                    identity.check_chain(begun.connection, newest)
                    work = Transaction(
                        begun.connection,
                        newest,
                        trial_id,
                        signature,
                        presses,
                        is_named=a_name is not None,
                        is_repeated=same is not None,
                        newest_set_point=set_point or 0,
                        answers=answers,
                    )
                    yield work
                    last = work.seal(origin)
                    answer = writing.commit(begun, last)
                except BaseException:
                    writing.undo(begun)
                    raise
            if answer:
                work.newest = Head(answer[0][0], last[-1][1]["digest"])
        except StoreError:
            identity.check_file()  # whatever failed: where the file is gone, that is why
            raise
        identity.check_commit()
    except (StoreGone, StoreReplaced, StoreDamaged) as error:
        notice(error)
        raise
    identity.saw(work.newest, work.uid)
