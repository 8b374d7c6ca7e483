"""What closes an open change but a swap: a return to the level, a lot that is the new level, a person who has looked.

Time alone closes nothing: a change that nobody mends stays open however long it lasts. A lot is no fault to be mended,
so what is the material is the level after some shots, where the lot is on record.
"""

import numpy as np

from shotlog.wear.change.causes import CHECK_RING, moves
from shotlog.wear.change.free import free_step
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.constants import (
    ACCEPT_FROM,
    ACCEPT_GRADUAL,
    LOT_NEAR,
    MATERIAL_AFTER,
    MATERIAL_WEIGHT,
    MENDED_FROM,
    MENDED_GROWN,
    MENDED_LEFT,
)
from shotlog.wear.level.baseline import by_channel
from shotlog.wear.life.changes import Accepted, OpenChange
from shotlog.wear.life.half import HalfState

__all__ = ["accept_material", "found_sound", "undone_by"]


def accept_material(life: HalfState, post: Posterior, n: int) -> None:
    """Take a change of the material as the level, once a lot is on record near it and it has stopped growing.

    Without one it stays open: what looks like a lot that nobody changed may be something else.
    """
    call = life.call
    if call is None or call.group != "material" or n - call.at < ACCEPT_FROM or post.gradual >= ACCEPT_GRADUAL:
        return
    logged = any(moves(kind) == "material" and abs(at - call.onset.shot) <= LOT_NEAR for at, kind in life.events)
    if logged and call.weight >= MATERIAL_WEIGHT and n - call.onset.shot + 1 > MATERIAL_AFTER:
        life.accept(Accepted(call.onset.clean, call.group, call.onset.shot))


def found_sound(life: HalfState, n: int) -> list[OpenChange]:
    """Close what is laid to the insert at shot `n`: a person has looked at it and found it sound.

    Return what was.
    """
    life.acquit()
    laid = [one for one in life.open() if one.group == "insert"]
    for one in laid:
        life.accept(Accepted(one.onset.clean, one.group, n), one)
    return laid


def undone_by(life: HalfState, onset: int, post: Posterior) -> OpenChange | None:
    """Return the open change that one from shot `onset` on undoes, None for none: of the two, little is left.

    The table knows no fault that runs backwards, so the step back is fitted freely, channel by channel. A check ring
    that leaks now and then comes back by itself and is not mended by that.
    """
    prior, filt = life.stretch.prior, life.stretch.filter
    if prior is None or filt is None or not life.standing or post.growing_spread >= MENDED_GROWN:
        return None
    now = free_step(filt.sums(), onset)
    for one in reversed(life.standing):
        before = by_channel(prior, one.effect) / prior.sigma
        left = float(np.linalg.norm(before + now))
        if left >= MENDED_LEFT * float(np.linalg.norm(before)) or one.cause == CHECK_RING:
            continue
        if not one.carried or filt.last >= MENDED_FROM:
            return one
    return None
