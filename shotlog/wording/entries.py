"""Words for what people enter at a press, and for the place in the mould it is about."""

from collections.abc import Sequence

from shotlog.entries import KINDS, OR_MORE, clock_step
from shotlog.life_text import LifeTold, life_told
from shotlog.records import MadeEntry
from shotlog.wording.clock import set_by
from shotlog.wording.numbers import some
from shotlog.wording.told_about import seen_in_short
from shotlog.wording.where import bath_named

__all__ = [
    "BEGINS_ANEW",
    "RELEARNING",
    "SET_ANEW",
    "at_the_shot",
    "checked_said",
    "display_said",
    "entry_text",
    "half_named",
    "learnt_anew",
    "made_said",
    "made_what",
    "series_asked",
    "series_said",
    "since_shot",
    "tells_of_life",
    "text_shown",
]


BEGINS_ANEW = "level and sisters are learnt anew from here on, for earlier values may have been in another scale"
"""What is said where a channel map was changed."""


SET_ANEW = "the level is learnt anew from here on"
"""What is said where what a press is set to was found changed."""


RELEARNING = "Learning the level anew"
"""The headline after a channel map was changed, until the level is known again."""


def learnt_anew(shot: int, changed: str, judged_from: int | None) -> str:
    """Return since which shot channels are read otherwise, and what that means for the verdict.

    Examples
    --------
    >>> learnt_anew(105, "cushion scale 0.01 to 0.1", 135)
    'cushion scale 0.01 to 0.1 at shot 105: the level is learnt anew, no change is called before shot 135 of the press'
    """
    until = "yet" if judged_from is None else f"before shot {judged_from} of the press"
    return f"{changed} at shot {shot}: the level is learnt anew, no change is called {until}"


def checked_said(what: str, n: int) -> str:
    """Return what an entry would change of parts that people have checked already.

    Examples
    --------
    >>> checked_said("lot", 12)
    'this changes the lot of 12 parts that were inspected, released or scrapped already'
    """
    were = "was" if n == 1 else "were"
    return f"this changes the {what} of {some(n, 'part')} that {were} inspected, released or scrapped already"


def display_said(display: int, shot: int) -> str:
    """Return in words that a number was taken for the one that the press showed, and which shot that is.

    Examples
    --------
    >>> display_said(3, 65539)
    'the press shows 3: shot 65539'
    """
    return f"the press shows {display}: shot {shot}"


def entry_text(kind: str, text: str) -> str:
    """Return an entry in the words of the screens.

    Examples
    --------
    >>> entry_text("setup", "hold 240 bar"), entry_text("finding", "flash"), entry_text("pause", "pause")
    ('set-up: hold 240 bar', 'seen: flash', 'pause')
    >>> entry_text("clock", "-7200.000 s"), entry_text("map", "cushion scale 0.01 to 0.1")
    ('clock set back by 2 h', 'channel map changed: cushion scale 0.01 to 0.1')
    >>> entry_text("life", '{"serial":"B-12","design":"cap-r2","made":92,"sound":88,"gone_off":true,"press":"P15"}')
    'a sister on P15: B-12 of cap-r2 had gone off after 88 of 92 shots'
    """
    shown = text_shown(kind, text)
    if KINDS[kind].effect.life_told and shown != text:
        return shown
    if shown != text:
        return f"{KINDS[kind].word} {shown}"
    word = KINDS[kind].told or KINDS[kind].word
    return word if text == kind else f"{word}: {text}"


def tells_of_life(kind: str, text: str) -> bool:
    """Say whether an entry tells of a life: it is the program's, and there may be many at one shot.

    Where it is said what happened at a press they are left out: they would crowd out what people noted.

    Examples
    --------
    >>> tells_of_life("life", '{"serial":"B-12","design":"cap-r2","made":92}'), tells_of_life("life", "of people")
    (True, False)
    """
    return KINDS[kind].effect.life_told and life_told(text) is not None


def _life_said(life: LifeTold) -> str:
    where = f"a sister on {life.where}" if life.press else "life ended"
    if not life.made:
        return f"{where}: {life.serial} of {life.design} does not count, its entry was taken back"
    ended = f"had gone off after {life.sound} of {some(life.made, 'shot')}"
    sound = f"made {some(life.made, 'shot')}, not known to be off"
    return f"{where}: {life.serial} of {life.design} {ended if life.gone_off else sound}"


def text_shown(kind: str, text: str) -> str:
    """Return the text of an entry as people read it: the program writes of the clock in seconds, and of lives as data.

    Examples
    --------
    >>> text_shown("clock", "-7200.000 s"), text_shown("clock", "-90.500 s or more"), text_shown("lot", "4711")
    ('back by 2 h', 'back by 90 s or more', '4711')
    """
    if KINDS[kind].effect.life_told and (told := life_told(text)) is not None:
        return _life_said(told)
    exact = text.removesuffix(OR_MORE)
    step_s = clock_step(exact) if KINDS[kind].effect.clock_set else None
    return text if step_s is None else f"{set_by(step_s)}{text[len(exact) :]}"


def half_named(half: str) -> str:
    """Return a place in the mould in words; the core stands in neither half."""
    return half if half == "core" else f"{half} half"


def since_shot(at_shot: int) -> str:
    """Return from which shot an entry holds; 0 is that of one made before the press had any shot.

    Examples
    --------
    >>> since_shot(93), since_shot(0)
    ('from shot 93', 'from the first shot that comes')
    """
    return f"from shot {at_shot}" if at_shot else "from the first shot that comes"


def at_the_shot(at_shot: int) -> str:
    """Return at which shot something was noted; 0 as in `since_shot`."""
    return f"at shot {at_shot}" if at_shot else "at the first shot that comes"


def made_said(entry: MadeEntry) -> str:
    """Return what somebody entered, in one line: which press and shots, and what."""
    return f"{_of_shots(entry)}{made_what(entry)}"


def made_what(entry: MadeEntry) -> str:
    """Return what somebody entered, without of which press and shots."""
    kind, about, text, half = entry.kind, entry.about, entry.text, entry.half
    match kind:
        case "mounting":
            said = f"{about} mounted, {half_named(half)}{', a new piece every shot' if text else ''}"
        case "removal":
            said = f"{about} removed: {text}"
        case "event":
            said = entry_text(about, text) + (f", {half_named(half)}" if half else "")
            said += f", by {entry.at_press} at the press" if entry.at_press else ""
        case "inspection":
            found = ": ".join(filter(None, (about.replace("_", " "), text)))
            said = f"inspected, {found}" + (f", {half_named(half)}" if half else "")
        case "bath-in" | "bath-out":
            said = ": ".join(filter(None, (f"{'into' if kind == 'bath-in' else 'out of'} {bath_named(about)}", text)))
        case "acknowledgement":
            said = seen_in_short(about, text, entry.press)
        case "bath-check":
            said = f"{bath_named(about)} checked: {text}"
        case _:
            words = {"decision": about, "place": f"in {about}", "picture": f"picture {about}".strip()}
            said = ": ".join(filter(None, (words.get(kind, about), text)))
    return said


def _of_shots(entry: MadeEntry) -> str:
    if not entry.press:
        return ""
    if entry.first is None:
        return f"{entry.press}, "
    if not entry.first:
        return f"{entry.press}, first shot to come, "
    cavity = "" if entry.cavity is None or entry.kind in ("bath-in", "bath-out") else f"/{entry.cavity}"
    shots = f"shot {entry.first}" if entry.last in (None, entry.first) else f"shots {entry.first} to {entry.last}"
    return f"{entry.press}, {shots}{cavity}, "


def series_said(serials: Sequence[str]) -> str:
    """Return in words which pieces the next shots take.

    Examples
    --------
    >>> series_said(["S-009", "S-010"])
    'a new piece each shot, S-009, S-010 and so on,'
    """
    return f"a new piece each shot, {', '.join(serials)} and so on,"


def series_asked(serials: Sequence[str]) -> str:
    """Return what is asked where a serial does not look like that of a piece."""
    return f"the next shots would take {', '.join(serials)} and so on: are these the serials of single pieces?"
