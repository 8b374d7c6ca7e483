"""How to read the evidence: said once for all presses, so that no table has to say it again."""

from shotlog.report.html import Html, definition, section

__all__ = ["reading_section"]

_HOW = (
    (
        "calls",
        "The number after a cause is its weight among all causes tried, from 0 to 1. What was said at a shot, and"
        " on what evidence: shotlog explain.",
    ),
    (
        "judged again",
        "An entry made late, a weight, or a new release has shots judged again. What had been said is what people"
        " acted on at the time; what is said now is in force.",
    ),
    (
        "in common",
        "Only what these parts share more than others do. Bad parts are held against those inspected and found "
        "sound, parts in doubt against all others. Told: chance does not explain it for all values tried "
        "together. Parts made one after the other share lot, halves and bath alike: this is where to look, and no"
        " cause.",
    ),
    (
        "swaps",
        "A swap is an experiment. A level that comes back confirms the insert that came out; one that stays says "
        "it was something else.",
    ),
    (
        "lives",
        "Filled points were judged, hollow ones were settling. Solid line: the insert's own level; dashed: its "
        "limits. Tinted, hatched at the foot: parts in doubt; grey: missed shots; dotted upright: onset of a "
        "change that stood; dash-dotted: another insert changed. Sound shots are those before the insert had gone"
        " off. A life that did not end by failure says only that the insert would have lived longer, and is "
        "reckoned so.",
    ),
    (
        "ends",
        "A part found bad makes a life a failure and dates it. Else the words of the reason, the call and what "
        "the swap showed decide, in this order: damage seen on the insert; a swap that left the level where it "
        "was (not this insert); a call on it; a fault seen on its parts, unless a change laid to the press or the "
        "material stood open. All else is not known to be off. The words looked for: ending_words in review --json.",
    ),
    (
        "drift",
        "A straight line over the judged shots of each stretch with the same inserts. Where no action limit is "
        "configured, six spreads from the start of the line stand in for it (derived). A lot change or a pause "
        "within a stretch bends the line.",
    ),
    (
        "pieces",
        "Mean ± spread between pieces (how many). Each shot takes another piece, so spread between pieces and not"
        " wear is what these values hold; settling shots and odd pieces are left out, and a reused half that "
        "wears meanwhile widens the spread. Limits: where one further sound piece lies but for 27 in 10 000; they"
        " are no tolerances.",
    ),
    (
        "lots",
        "A lot is noted when it is loaded; what lies in hopper and barrel is used first, and mixes. Parts between"
        " the note and the shot the values moved at may be of either lot, and some mixing goes on after it.",
    ),
    (
        "costs",
        "Per accepted part: the first figure supposes that every held part turns out acceptable, the second that "
        "every one is bad and was found late. Every insert counts whole, also one that is still mounted. Late "
        "finds are scrapped parts. Hindsight: the best swap would have been right before the first shot after the"
        " insert had gone off; sound shots given up are what one not known to be off would have made yet, on average.",
    ),
    (
        "levels",
        "Level (limits of the chart); first shot outside them. Frozen by the tool after the settling shots, from "
        "the shots named. The limits are statistical: they are no tolerances of a part. Learnt otherwise: the "
        "first shot outside, had the limits been learnt from as many shots beginning five later, or from twice as"
        " many, where that matters. The calls do not rest on these limits.",
    ),
)


def reading_section() -> Html:
    """Return how to read what stands before."""
    return section("reading", "How to read the evidence", definition(_HOW))
