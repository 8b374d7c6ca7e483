"""The words: one for one thing, on screens, in commands, in the report and in what is written about them.

The page *Help* explains each, the table in DEVELOPERS.md lists them, and a test looks that none of the words they take
the place of stands where people read.
"""

from dataclasses import dataclass

from shotlog.entries import FINDING, KINDS

__all__ = ["TERMS", "Term"]


@dataclass(frozen=True, slots=True)
class Term:
    """A word and what it stands for; `never`: what it is not called, as it would stand in a text."""

    word: str
    meaning: str
    never: tuple[str, ...] = ()


TERMS = (
    Term("shot", "one moulding cycle; its number is the press's own counter, carried on over roll-over and restart"),
    Term("insert", "one printed half, with a serial number; inserts of one design are sisters", ("tool insert",)),
    Term("half", "where an insert sits: fixed, moving or core", ("mould side",)),
    Term("single-use", "a half that leaves the press with its part: every shot takes a new piece", ("disposable",)),
    Term("piece", "one single-use insert, used up by one shot; a series is many of them under numbered serials"),
    Term("queue", "the order in which single-use pieces go in; one that is dropped is left out of it"),
    Term("plate", "the build plate that an insert was printed on, and its position there"),
    Term("dry shot", "a dry cycle, or a purge that the press counted: it made no part and took no piece"),
    Term("life", "the shots an insert makes, from the first on, over all the times it is mounted", ("lifespan",)),
    Term("mount, remove", "an insert goes in, or is taken out; a late or wrong entry is corrected by a new one",
         ("dismount", "unmount", "uninstall")),
    Term("swap", "another insert goes in in place of the one in that half", ("tool change", "insert exchange")),
    Term("print material", "what an insert is printed from", ("resin family", "insert resin", "resin of the insert")),
    Term("print batch", "inserts printed together"),
    Term("resin", "what is moulded: the plastic of the parts", ("moulded material",)),
    Term("lot", "a delivery of resin, noted at the shot it is loaded for"),
    Term("set-up", "the set-points in force; a change starts a new baseline", ("recipe", "parameter set")),
    Term("set-point", "one thing that a press is set to; read with each shot where that is configured, never written"),
    Term("channel map",
         "where a channel is read, in which scale and unit; a change starts a new baseline, and no sister from "
         "before it counts"),
    Term("clock set", "the computer's clock was set; what is logged keeps the order in which it came"),
    Term("no level yet", "the insert's own settled shots are too few to say where its value lies"),
    Term("settling", "shots at the start and after a stop: not charted, and judged only beside sisters"),
    Term("level", "where a value lies while nothing changes, scatter left out"),
    Term("baseline", "the level and scatter an insert is held against, from its own settled shots"),
    Term("limits", "of a chart: what scatter explains about a level; no tolerances of a part", ("control limit",)),
    Term("action limit", "what somebody set for a value of a design: beyond it a part counts as bad", ("alarm limit",)),
    Term("limit passed", "a value, or its level, lies beyond an action limit; said before all else"),
    Term("signal", "a rule of a chart fired at a shot", ("flag", "flags", "alarm raised")),
    Term("other signal", "another rule than outside limits: neighbours lie further apart than scatter explains"),
    Term("spreads", "how far a value lies off, counted in its usual shot-to-shot scatter"),
    Term("far out", "a single shot many spreads from what was expected: its part is held, and no change is called"),
    Term("no change seen", "nothing has moved in these values; of what they cannot show it says nothing",
         ("good part", "good parts")),
    Term("watch", "something changed, or a limit was passed, and a swap is not, or not yet, what to do"),
    Term("onset", "the shot from which the level changed, with the earliest and latest it may have been",
         ("change point", "changepoint")),
    Term("cause", "what may lie behind a change: insert, material, press or measurement", ("root cause",)),
    Term("also open", "changes that stand beside the one that decides the verdict, each since its shot"),
    Term("outlived a swap", "a change that was still there after it: it was not the insert that came out"),
    Term("until parts are bad", "for how many shots parts are expected to be what they should, if the change goes on",
         ("shots left", "no good shot", "no end in sight", "remaining life")),
    Term("cheaper to swap, to go on", "what the next part risks, against what a new insert costs a part"),
    Term("in doubt", "parts that something speaks against: every part since the early edge of the onset, and more",
         ("suspect part", "suspect parts", "suspicious")),
    Term("held", "in doubt, or set aside by a person: not to be used until somebody releases or scraps them",
         ("quarantine", "quarantined", "on hold", "hold back")),
    Term("released, scrapped", "what a person decided of held parts, with the reason", ("rejected",)),
    Term("finding", f"what a person saw: {', '.join(KINDS[FINDING].quick)}", ("defect", "nonconformity")),
    Term("found sound", "a person has looked at the insert and says so by name: what was laid to the insert is closed"),
    Term("gone off", "an insert that has changed so far that its parts are bad, or are held to be", ("worn out",)),
    Term("not known to be off", "an insert taken out for another reason: nobody knows how long it would have lived",
         ("censored", "taken out sound")),
    Term("gap, missed", "shots that the press counted and nobody saw; counts on an insert stay right"),
    Term("fault",
         "what came from the press and could not be taken as it was; the first few of a kind are kept, others counted"),
    Term("torn", "half of a shot's values were old and half new when they were read: it is not taken"),
    Term("bath, filling", "where the core is dissolved out of a part, and what is in it since it was made up"),
    Term("place", "where parts are by now: container, bag, box, shelf", ("storage location",)),
    Term("accepted part", "a part that nothing stands against, or that somebody released"),
    Term("plan", "what to print before a trial; enough in 9 trials of 10 means that one in ten needs more"),
    Term("scrap", "the share of inspected parts, made on a sound insert, that were not accepted"),
    Term("verdict", "what is said after a shot: no change seen, watch or swap"),
    Term("cushion", "melt left ahead of the screw at the end of hold, in mm"),
    Term("peak pressure", "highest injection pressure of the shot, in bar"),
    Term("fill time", "from the start of injection to switchover, in s"),
)  # fmt: skip
"""Every word, in the order in which one meets them."""
