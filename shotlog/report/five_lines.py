"""What happened, in five lines: the day as a whole, then the presses, those with the most held parts first.

With two presses each has a line for its swaps and one for what people found; with more each has one, and those that
do not fit are named in the first.
"""

from shotlog.entries import FINDING
from shotlog.report.html import Html, items, joined, text
from shotlog.review import Review
from shotlog.review.press import PressReview
from shotlog.wording.incoming import missed_counted
from shotlog.wording.numbers import counted
from shotlog.wording.parts import held_text

__all__ = ["LINES", "five_lines"]

LINES = 5

_NAMED, _SEEN = 3, 2
"""Things of a kind named in a line, and findings, which are whole sentences; more are counted."""

_SHOWED = {
    "came back": "swaps showed it was",
    "stayed": "swaps showed it was not",
    "nothing had moved": "no level had moved before the swap of",
    "not resolved": "not resolved by the swap of",
}
"""What swaps showed, for several at once: the words of `wording.parts.swap_showed`."""


def five_lines(review: Review) -> Html:
    """Return at most five lines."""
    worst = sorted(review.presses, key=lambda one: -one.parts.held)
    each = 2 if len(worst) <= (LINES - 1) // 2 else 1
    told = worst[: (LINES - 1) // each]
    lines = [_whole(review, worst[len(told) :])]
    for press in (one for one in review.presses if one in told):
        said = [part for part in (_swaps(press), _people(press)) if part]
        said = said or ["no swap, no finding, and no part inspected"]
        for part in said if each > 1 else ["; ".join(said)]:
            lines.append(joined([Html(f"<strong>{text(press.press)}</strong>: "), part, "."]))
    return items(lines)


def _whole(review: Review, left_out: list[PressReview]) -> Html:
    parts = [one.parts for one in review.presses]
    stand = held_text(*(sum(getattr(one, name) for one in parts) for name in ("held", "released", "scrapped", "open")))
    missed = sum(one.n_missed for one in review.presses)
    gaps = [gap for one in review.presses for gap in one.gaps]
    faults = sum(kind.n for one in review.presses for kind in one.faults)
    blind = f"{missed_counted(missed, gaps)} missed" + (f", {counted(faults, 'fault')}" if faults else "")
    away = sum(len(one.outages) for one in review.presses)
    blind += f", {counted(away, 'time')} nobody was looking" if away else ""
    silent = [*(one.press for one in left_out)]
    also = f" {', '.join(silent)}: see below." if silent else ""
    none = f" Without a shot: {', '.join(review.silent)}." if review.silent else ""
    seen = sum(one.n_seen for one in review.presses)
    presses = counted(len(review.presses), "press", "presses")
    return text(f"{presses}, {counted(seen, 'shot')}, {blind}. Parts: {stand}.{also}{none}")


def _swaps(press: PressReview) -> str:
    """Return what changes were, by the swaps that answered them, and what stands open at the last shot."""
    by = {
        outcome: [f"{one.out} ({one.at_shot})" for one in press.swaps if one.outcome == outcome] for outcome in _SHOWED
    }
    said = [f"{words} {_few(by[outcome])}" for outcome, words in _SHOWED.items() if by[outcome]]
    if by["came back"] and by["stayed"]:
        said[:2] = [f"{said[0]}; not {_few(by['stayed'])}"]
    running = [call.episode for call in press.calls if call.episode.last == press.last and not call.episode.withdrawn]
    for one in running:
        since = "" if one.onset is None else f" since {one.onset}"
        cause = "a change of unknown cause" if one.cause in ("", "unknown") else one.cause
        said.append(f"open: {cause}{since}")
    return "; ".join(said)


def _people(press: PressReview) -> str:
    """Return what people found: on parts they inspected, and at the press."""
    said = []
    if press.inspected:
        looked = {one.part for one in press.inspected}
        bad = sorted({one.part.shot for one in press.inspected if one.bad})
        told = f" ({_few([str(shot) for shot in bad])})" if bad else ""
        said.append(f"{counted(len(looked), 'part')} inspected, {len(bad) or 'none'} bad{told}")
    seen = [one.event for one in press.entries if one.event.kind == FINDING and not one.taken_back]
    if seen:
        said.append(f"seen: {_few([f'{one.text} ({one.at_shot})' for one in seen], _SEEN)}")
    return "; ".join(said)


def _few(named: list[str], most: int = _NAMED) -> str:
    more = f" and {len(named) - most} more" if len(named) > most else ""
    return ", ".join(named[:most]) + more
