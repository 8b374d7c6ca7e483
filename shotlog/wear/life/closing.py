"""What closes an open change but a swap: a return to the level, a lot that is the new level, a person who has looked.

Time alone closes nothing: a change that nobody mends stays open however long it lasts. A lot is no fault to be mended,
so what is surely the material is the level after some shots.
"""

import numpy as np

from shotlog.wear.change.causes import moves
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.constants import (
    ACCEPT_FROM,
    ACCEPT_GRADUAL,
    LOT_NEAR,
    MATERIAL_AFTER,
    MATERIAL_WEIGHT,
    MATERIAL_WEIGHT_LOGGED,
    MENDED_ALONG,
    MENDED_FROM,
    MENDED_GROWN,
    MENDED_SIZE,
)
from shotlog.wear.level.baseline import by_channel
from shotlog.wear.life.changes import Accepted, OpenChange
from shotlog.wear.life.half import HalfState

__all__ = ["accept_material", "undone_by"]


def accept_material(life: HalfState, post: Posterior, n: int) -> None:
    """Take a change of the material as the level, once it is surely that and has stopped growing."""
    call = life.call
    if call is None or call.group != "material" or n - call.at < ACCEPT_FROM or post.gradual >= ACCEPT_GRADUAL:
        return
    logged = any(moves(kind) == "material" and abs(at - call.onset.shot) <= LOT_NEAR for at, kind in life.events)
    sure = call.weight >= (MATERIAL_WEIGHT_LOGGED if logged else MATERIAL_WEIGHT)
    if sure and n - call.onset.shot + 1 > MATERIAL_AFTER:
        life.accept(Accepted(call.onset.clean, call.group))


def undone_by(life: HalfState, post: Posterior, n: int) -> OpenChange | None:
    """Return the open change that a new one undoes, None for none: as large as it, and the other way.

    A check ring that leaks now and then comes back by itself and is not mended by that.
    """
    prior = life.stretch.prior
    if prior is None or post.growing_spread >= MENDED_GROWN:
        return None
    for one in reversed(life.standing):
        before = by_channel(prior, one.effect) / prior.sigma
        was, now = float(np.linalg.norm(before)), float(np.linalg.norm(post.effect))
        along = float(post.effect @ before) / (now * was + 1e-12)
        alike = along < -MENDED_ALONG and MENDED_SIZE[0] < now / max(was, 1e-9) < MENDED_SIZE[1]
        if alike and one.cause != "check-ring leak" and (not one.carried or n >= MENDED_FROM):
            return one
    return None
