"""The one plain sentence of a verdict: what was seen, with its figures, and what to check next."""

from collections.abc import Mapping

from shotlog.channels import CHANNELS
from shotlog.wear.change.causes import CAUSES
from shotlog.wear.verdict.shots_left import HORIZON, ShotsLeft
from shotlog.wear.verdict.swap_cost import SwapCosts

__all__ = ["called", "learning", "quiet", "settling", "waited"]


def settling(n: int, judged_from: int, insert: str) -> str:
    """Return the sentence for shot `n` of an insert, not judged yet; `judged_from`: the first to be, of the press."""
    return f"settling: shot {n} on {insert or 'the insert'}, not judged before shot {judged_from} of the press"


def waited(n: int, insert: str) -> str:
    """Return the sentence for a shot after a wait whose effect is not known well enough to judge by."""
    return f"settling after a wait: no change is called; shot {n} on {insert or 'the insert'}"


def learning(n: int, insert: str) -> str:
    """Return the sentence for a shot before the insert's own level is known."""
    return f"not judged: the level of {insert or 'the insert'} is not known yet; shot {n} on it"


def quiet(n: int, insert: str, since: int, n_sisters: int, odd: int | None) -> str:
    """Return the sentence for a shot without a change; `odd` names a shot held back as odd."""
    text = f"no change seen in these values since shot {since}; shot {n} on {insert or 'the insert'}"
    if odd is not None:
        text += f"; shot {odd} was odd, look at that part and watch the next shot"
    if not n_sisters:
        text += "; first insert of its design, so less sharp"
    return text


def moved_text(change: Mapping[str, float], least: Mapping[str, float]) -> str:
    """Return the two largest changes in words, largest first in units of what matters."""
    ranked = sorted(change, key=lambda name: -abs(change[name]) / least[name])[:2]
    shown = [name for name in ranked if abs(change[name]) >= 0.5 * least[name]] or ranked[:1]
    return " and ".join(
        f"{CHANNELS[name].label.lower()} {'up' if change[name] > 0 else 'down'} "
        f"{_rounded(abs(change[name]), CHANNELS[name].decimals)} {CHANNELS[name].unit}"
        for name in shown
    )


def _rounded(size: float, decimals: int) -> str:
    """Return a change with the digits of its channel; a mean over shots of a few last digits has one more.

    Examples
    --------
    >>> _rounded(0.5431, 2), _rounded(0.0431, 2)
    ('0.54', '0.043')
    """
    return f"{size:.{decimals + (size < 10.0 ** (1 - decimals))}f}"


def left_text(left: ShotsLeft) -> str:
    """Return the shots left in words."""
    if left.median is None:
        return "no end in sight"
    if left.high == 0.0:
        return "no good shot left"
    high = f"{left.high:.0f}" if left.high is not None else f"over {HORIZON}"
    return f"about {left.median:.0f} shot{'' if round(left.median) == 1 else 's'} left ({left.low or 0:.0f} to {high})"


def called(
    moved: str,
    onset: tuple[int, int, int],
    weights: Mapping[str, float],
    cause: str,
    group: str,
    weight: float,
    left: ShotsLeft,
    costs: SwapCosts | None,
    note: str,
) -> str:
    """Return the sentence of a call; `onset` is shot, low, high in the press's numbers, `weights` are by cause."""
    shot, low, high = onset
    since = f"shot {shot}" if low == high else f"shot {shot} ({low} to {high})"
    text = f"{moved} since {since}: most likely the {group} ({weight:.2f})"
    rival = max((c for c in weights if c != cause), key=lambda c: weights[c], default=cause)
    if weights.get(rival, 0.0) > 0.6 * weights.get(cause, 0.0) and rival != cause:
        text += f", cannot be told apart: {cause} or {rival}"
    else:
        text += f", {cause}"
    text += f"; {left_text(left)}"
    if costs is not None:
        text += f"; next shot costs {costs.next_shot:.2f}, swapping {costs.per_part:.2f} a part"
    if note:
        text += f"; {note}"
    return f"{text}; {CAUSES[cause].check}"
