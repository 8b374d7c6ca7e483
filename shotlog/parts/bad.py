"""The one idea of a bad part: what is held, what the next shot costs, when none is left, how a life ended, ask here.

Nobody sees a part before the next day. On the day three things speak against one, and each is enough:

* a change that stands open: every part since the early edge of its onset, whatever it is laid to;
* an action limit: a channel was beyond it at the part's own shot;
* what people found, on the part or on the insert.

That holds a part. How likely it is a bad one is another question, and what the next shot costs rests on it. Beyond a
limit a part counts as bad, that is what the limit is for. A change smaller than the smallest that matters spoils none.
Where in between parts turn bad nobody has said, so it may be anywhere there: the chance grows evenly with the size.
"""

import numpy as np
from numpy.typing import NDArray

__all__ = ["beyond", "share_bad"]

F = NDArray[np.float64]


def beyond(low: float | None, high: float | None, value: float) -> float | None:
    """Return the limit that a value is beyond, None where it is within. A value at the limit is within."""
    if low is not None and value < low:
        return low
    return high if high is not None and value > high else None


def share_bad(size: F, least: F, room: F) -> F:
    """Return the chance that a part is bad whose channel has moved by `size`, all of one shape and unit, none below 0.

    `least`: the smallest change that matters. `room`: from the sound level to the limit on that side, infinite where
    there is none; a limit closer than `least` is the one step from sound to bad.
    """
    near = np.minimum(least, room)
    ramp = np.where(room > near, room - near, 1.0)
    between = np.where(np.isfinite(room), (size - near) / ramp, 0.0)
    return np.where(size >= room, 1.0, np.where(room > near, np.clip(between, 0.0, 1.0), 0.0))
