"""Why a weighing is taken for a shot, in words."""

from shotlog.records import Proposal

__all__ = ["say_proposal"]


def say_proposal(one: Proposal) -> str:
    """Say why a weighing is taken for a shot, or for none.

    Examples
    --------
    >>> say_proposal(Proposal(12, (11, 10), None, 90.0))
    'newest shot before it; could be 11, 10 as well'
    >>> say_proposal(Proposal(None, (), 12, 90.0))
    'no shot without a weight in the 90 s before it; was the weighing before it meant for another shot than 12?'
    """
    if one.shot is None:
        why = f"no shot without a weight in the {one.after_s:g} s before it"
        asked = "" if one.before is None else f"; was the weighing before it meant for another shot than {one.before}?"
        return why + asked
    if not one.others:
        return "only shot before it without a weight"
    return f"newest shot before it; could be {', '.join(str(shot) for shot in one.others)} as well"
