"""What became of inserts, calls and parts: how long lives were, whether calls were right, what bad parts look like."""

from collections import Counter

from shotlog.answers.asked import Asked
from shotlog.answers.table import Cell, Table
from shotlog.parts.part import Part
from shotlog.review.answers import ANSWERS, Answer
from shotlog.review.chain import PartChain
from shotlog.review.groups import Group
from shotlog.review.ledger import LedgerEntry
from shotlog.wording.numbers import label, number, shots, some
from shotlog.wording.parts import factor_named, life_end, life_text, result_text

__all__ = ["acted", "bad", "calls", "lives"]

_LOOKED_AT = 40
"""Inspected parts whose values are told, bad ones first: more are no table any more (own)."""

_TOLD = 2.0
"""Spreads from its neighbours from which on a value is told of an inspected part (own)."""


def lives(asked: Asked) -> list[Table]:
    """Return how long each insert lasted and how it ended, and what planned life the lives of each group support."""
    ledger = asked.ledger
    rows = () if ledger is None else tuple(_life(one) for one in ledger.entries)
    groups = () if ledger is None else tuple(_group(one) for one in ledger.groups)
    heads = ("Insert", "Design", "Half", "Print material", "Resin", "Shots on it", "Before it went off", "End",
             "How that is known")  # fmt: skip
    return [
        Table("lives", heads, rows, frozenset(heads[5:7]), "Insert", title="How long each insert lasted",
              about="Not known to be off, still mounted: it would have lasted longer than these shots.",
              empty="No reused insert has made a shot yet."),
        Table("groups", ("By", "Name", "Lives", "Gone off", "10 % by shot", "Half by shot", "Planned swap",
                         "Where nobody watches"), groups, frozenset({"Lives", "Gone off"}),
              title="What planned life that supports", about="In brackets: 95 % interval.",
              empty="No lives to go by yet."),
    ]  # fmt: skip


def _life(entry: LedgerEntry) -> tuple[Cell, ...]:
    life = entry.life
    sound = f"{life.sound}"
    if life.failed and life.sound_high > life.sound_low:
        sound += f" ({life.sound_low} to {life.sound_high})"
    return (
        life.serial, life.design, life.half, entry.resin_family or "not set", entry.material or "not set",
        life.n_shots, sound, life_end(life), life_text(life),
    )  # fmt: skip


def _group(group: Group) -> tuple[Cell, ...]:
    start: tuple[Cell, ...] = (factor_named(group.factor), group.name, group.curve.n, group.n_failed)
    fitted = group.weibull
    if fitted is None:
        return (*start, group.why_not, "", "", "")
    ends = (f"{one.value:.0f} ({one.low:.0f} to {one.high:.0f})" for one in (fitted.b10, fitted.b50))
    plan = (
        "no costs given for it"
        if group.plan is None
        else "none pays"
        if group.plan.shots is None
        else f"after {group.plan.shots} shots"
    )
    blind = "" if group.blind_plan is None else f"after {group.blind_plan.shots} shots"
    return (*start, *ends, plan, blind)


def calls(asked: Asked) -> list[Table]:
    """Return for each call when it was acted on and what was found, and which share was right to date."""
    heads = (
        "Insert",
        "Press",
        "Called at",
        "Acted on",
        "Shots later",
        "Looked at",
        "Bad",
        "What came of it",
        "How that is known",
    )
    rows = tuple(
        (
            one.insert or "none on record", press.press, one.first,
            acted(one),
            "" if one.lag is None else one.lag, one.n_looked_at, one.n_bad, one.answer, one.ground,
        )
        for press in asked.presses
        for one in press.answers
    )  # fmt: skip
    told = Counter(one.answer for press in asked.presses for one in press.answers)
    n = sum(told.values())
    shares = tuple((answer, told[answer], f"{100.0 * told[answer] / n:.0f} %" if n else "") for answer in ANSWERS)
    return [
        Table("calls", heads, rows, frozenset({"Called at", "Shots later", "Looked at", "Bad"}), "Insert",
              title="Was each call acted on, and what was found?", empty="No change was called."),
        Table("right", ("What came of it", "Calls", "Share"), shares if n else (), frozenset({"Calls", "Share"}),
              title="To date", about="Confirmed: true. Nothing found: false. Open: not resolved. The two others: "
              "there was a change, and it was laid to something else.", empty="No change was called."),
    ]  # fmt: skip


def acted(call: Answer) -> str:
    """Return whether somebody acted on a call; "not yet" only where that is still to be done."""
    if call.acted_at is not None:
        return f"swapped before shot {call.acted_at}"
    if call.out_at is not None and call.out_at <= call.first:
        return f"nothing to do, it was out since shot {call.out_at}"
    if call.withdrawn:
        return "nothing to do, withdrawn"
    return "not yet" if call.out_at is None else f"it came out before shot {call.out_at}"


def bad(asked: Asked) -> list[Table]:
    """Return how inspected parts look in the values of their shots, and what the bad ones have in common."""
    seen: dict[Part, bool] = {}
    for press in asked.presses:
        for one in press.inspected:
            seen[one.part] = seen.get(one.part, False) or one.bad
    wanted = sorted(seen, key=lambda part: (not seen[part], part))[:_LOOKED_AT]
    rows = tuple(_looks(asked.chain(part), seen[part]) for part in wanted)
    left = len(seen) - len(wanted)
    shared = tuple(
        (press.press, one.parts, one.factor, one.value, f"{one.n} of {one.of}", f"{one.n_others} of {one.of_others}",
         "no test fits" if one.p is None else f"p = {one.p:.2g} of {one.tried} tried" + (", told" if one.told else ""))
        for press in asked.presses
        for one in press.shared
    )  # fmt: skip
    related = tuple(
        (press.press, label(one.quantity), label(one.channel), one.n, number(one.within, 2),
         f"{number(one.low, 2)} to {number(one.high, 2)}", "yes" if one.told else "no")
        for press in asked.presses
        for one in press.relations
    )  # fmt: skip
    return [
        Table("inspected", ("Press", "Shot", "Cavity", "Result", "Bad", "In press data"), rows,
              frozenset({"Shot", "Cavity"}),
              title="How inspected parts look in press data",
              about="Against neighbours made before that nothing is against; all of a part: shotlog part, or its page."
              + (f" {some(left, 'more part')} not shown." if left else ""),
              empty="No part was inspected yet."),
        Table("shared", ("Press", "Parts", "What", "Which", "Of these", "Of the others", "Chance"), shared,
              title="What bad parts, and parts in doubt, have in common", empty="Nothing more than the others."),
        Table("related", ("Press", "Measured", "Value", "Parts", "Correlation within runs", "95 % interval", "Told"),
              related,
              frozenset({"Parts", "Correlation within runs"}), title="How measurements go with press data",
              empty="Fewer than ten measured parts to go by."),
    ]  # fmt: skip


def _looks(chain: PartChain, is_bad: bool) -> tuple[Cell, ...]:
    part = chain.part
    off = sorted(((one.off, one.channel) for one in chain.beside if one.off is not None), key=lambda one: -abs(one[0]))
    told = [
        f"{label(name).lower()} {'+' if by > 0 else ''}{number(by, 1)} spreads" for by, name in off if abs(by) >= _TOLD
    ]
    looks = "nobody saw the shot" if chain.shot is None else "no neighbours to set it beside"
    if off:
        looks = ", ".join(told) or f"as its neighbours, all within {_TOLD:g} spreads"
        looks += f" (beside shots {shots(chain.neighbours[0], chain.neighbours[-1])})"
    result = "; ".join(result_text(one) for one in chain.inspections)
    return part.press, part.shot, part.cavity, result, "BAD" if is_bad else "", looks
