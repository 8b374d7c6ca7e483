"""How long parts stay what they are, and whether swapping now is the cheaper: one plain sentence each.

Neither may contradict the verdict it stands beside. What cannot be told is left out.
"""

from shotlog.facts import Facts
from shotlog.records import Verdict
from shotlog.wear.change.causes import BATCH, BREAK
from shotlog.wear.constants import BEYOND_FOR, HORIZON, LEFT_SHARES
from shotlog.wording.blame import rival_group
from shotlog.wording.numbers import some

__all__ = ["cheaper", "until_bad"]


def until_bad(verdict: Verdict, facts: Facts) -> str:
    """Return for how many shots parts are expected to be what they should; empty where that cannot be told."""
    if verdict.limits:
        return _beyond(verdict, facts)
    if verdict.group != "insert" or verdict.cause == BATCH or facts.asked is not None:
        return ""
    if verdict.left_high == 0.0:
        return "" if facts.bad_chance is not None else "the next part is likely bad"
    if verdict.left_median is None:
        return "when parts turn bad cannot be foreseen"
    median, low, high = round(verdict.left_median), round(verdict.left_low or 0.0), verdict.left_high
    if low == 0:
        likeliest = f", more likely in about {some(median, 'shot')}" if median else ""
        latest = "" if high is None else f", at the latest in {some(round(high), 'shot')}"
        return f"parts may be bad from now on{likeliest}{latest}"
    upto = f"over {HORIZON}" if high is None else f"{high:.0f}"
    return f"about {some(median, 'shot')} until parts are bad ({low} to {upto})"


def _beyond(verdict: Verdict, facts: Facts) -> str:
    """Return what parts are worth beyond a limit, and where no swap is called, why not."""
    bad = "parts beyond a limit count as bad"
    if verdict.verdict == "swap":
        return bad
    if facts.limits and not any(one.level or one.running >= BEYOND_FOR for one in facts.limits):
        return "hold this part: one shot beyond a limit may be chance, two running are not"
    elsewhere = verdict.group in ("material", "press", "measurement") or verdict.cause == BATCH
    if elsewhere and not rival_group(verdict):
        return f"{bad}, and no swap of the insert mends that"
    if verdict.settling:
        return f"{bad}; no swap is called while the insert settles"
    return bad


def cheaper(verdict: Verdict, facts: Facts) -> str:
    """Return whether swapping now is the cheaper, with what either costs; until when not, as far as that is told.

    Where a swap is called although going on is the cheaper, the reason is said.
    """
    risk, swap = facts.next_shot_cost, facts.swap_cost
    if risk is None or swap is None or facts.asked is not None:
        return ""
    figures = f"the next part risks {risk:.2f}, a new insert costs {swap:.2f} for each part made on it"
    if risk > swap:
        return f"cheaper to swap now: {figures}" if verdict.verdict == "swap" else ""
    if verdict.verdict == "swap":
        piece = "a piece may be missing" if verdict.cause == BREAK else "more speaks against the insert"
        return f"swap although going on is cheaper, since {piece}"
    shot = _until(verdict, facts, risk, swap)
    until = "" if shot is None else f" until about shot {shot}"
    return f"cheaper to go on{until}: {figures}"


def _until(verdict: Verdict, facts: Facts, risk: float, swap: float) -> int | None:
    """Return the shot at which going on is expected to cost as much as swapping; None where that is not told.

    The chance of a bad part grows from what it is now to what the shots left say of it, evenly in between.
    """
    now, left = facts.bad_chance, (verdict.left_low, verdict.left_median, verdict.left_high)
    if not now or risk <= 0.0:
        return None
    enough = now * swap / risk
    at, chance = 0.0, now
    for share, shots in zip(LEFT_SHARES, sorted(one for one in left if one is not None), strict=False):
        bad = 1.0 - share
        if shots > at and bad > chance:
            if enough <= bad:
                return verdict.shot + round(at + (shots - at) * (enough - chance) / (bad - chance))
            at, chance = shots, bad
    return None
