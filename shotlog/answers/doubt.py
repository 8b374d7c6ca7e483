"""Which parts are in doubt and which are not, where they are, which to look at first, and what ten shots more cost."""

from shotlog.answers.asked import Asked
from shotlog.answers.table import Cell, Table
from shotlog.review.press import PressReview
from shotlog.review.states import PartRun
from shotlog.review.suspects import Suspects
from shotlog.wording.numbers import cost, shots, some
from shotlog.wording.parts import held_text

__all__ = ["earlier", "in_doubt", "look_first"]

_STATES = {"made": "nothing against them", "released": "released", "scrapped": "scrapped", "held": "held"}


def in_doubt(asked: Asked) -> list[Table]:
    """Return the parts made since each onset with its margin, where they are, and the parts that nothing is against."""
    rows = tuple(_doubt(asked, press, one) for press in asked.presses for one in press.suspects)
    others = tuple(
        (
            press.press,
            shots(run.first, run.last),
            run.n,
            _STATES[run.state],
            asked.where(press, run.first, run.last, run.n),
        )
        for press in asked.presses
        for run in press.runs
        if run.state != "held"
    )
    return [
        Table(
            "doubt",
            ("Press", "Shots", "Onset", "May have begun", "How they stand", "Where they are", "Because", "Until"),
            rows,
            frozenset({"Onset"}),
            title="In doubt",
            about="From the early edge of each onset on; the margin is the shots at which it may have begun.",
            empty="No change was called and nothing was found.",
        ),
        Table(
            "not in doubt",
            ("Press", "Shots", "Parts", "How they stand", "Where they are"),
            others,
            frozenset({"Parts"}),
            title="Not in doubt: made before an onset, or between",
            empty="None.",
        ),
    ]


def _doubt(asked: Asked, press: PressReview, one: Suspects) -> tuple[Cell, ...]:
    counts = one.parts
    stands = held_text(counts.held, counts.released, counts.scrapped, counts.open)
    where = asked.where(press, one.first, one.last, counts.made)
    margin = shots(one.onset_low, one.onset_high)
    because = f"withdrawn later: {one.reason}" if one.withdrawn else one.reason
    return press.press, shots(one.first, one.last), one.onset, margin, stands, where, because, one.ended_by


def earlier(asked: Asked) -> list[Table]:
    """Return how many more parts would be held, were each onset ten shots earlier, and what they would cost."""
    rows = tuple(_earlier(press, one) for press in asked.presses for one in press.suspects if one.look_first)
    heads = ("Press", "Shots", "Onset", "Held now", "More parts", "Held then", "Cost at most", "What it is made of")
    return [
        Table(
            "earlier", heads, rows, frozenset(heads[2:7]), title="Were the onset ten shots earlier",
            about="No further back than the insert came in. The cost is that of every such part being bad.",
            empty="No change was called.",
        )
    ]  # fmt: skip


def _earlier(press: PressReview, one: Suspects) -> tuple[Cell, ...]:
    before = [(run.state, _parts_within(run, one.first - one.earlier, one.first - 1)) for run in press.runs]
    more = sum(n for state, n in before if state in ("made", "released"))
    made = sum(n for _, n in before)
    each = one.earlier_cost / made if one.earlier_cost is not None and made else None
    if not one.earlier:
        price, made_of = cost(0.0), "the insert came in at that shot"
    elif not more:
        price, made_of = cost(0.0), "the ten before are held already"
    elif each is None:
        price, made_of = "not known", "no costs are set for this design"
    else:
        price, made_of = cost(each * more), f"{cost(each)} each: the part, and finding it late"
    held = one.parts.held
    return press.press, shots(one.first, one.last), one.onset, held, more, held + more, price, made_of


def _parts_within(run: PartRun, first: int, last: int) -> int:
    """Return how many parts of a run are of shots `first` to `last`: a shot of a run makes as many as any other."""
    shared = max(0, min(run.last, last) - max(run.first, first) + 1)
    return round(run.n * shared / (run.last - run.first + 1))


def look_first(asked: Asked) -> list[Table]:
    """Return the parts that tell most of all that nobody has looked at, in the order of how much they tell."""
    rows = tuple(
        (press.press, look.shot, "; ".join(look.why), asked.where(press, look.shot, look.shot, 1))
        for press in asked.presses
        for look in press.inspect_first
    )
    n = len({(one.part.press, one.part.shot) for press in asked.presses for one in press.inspected})
    return [
        Table(
            "first", ("Press", "Shot", "Why", "Where it is"), rows, frozenset({"Shot"}), title="Look at these first",
            about=f"{some(n, 'shot')} looked at already are left out.",
            empty="No part tells more than another: nothing is in doubt that nobody has looked at.",
        )
    ]  # fmt: skip
