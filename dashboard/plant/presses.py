"""A press as it stands on the page of a plant: facts that tell how soon it needs a person, and the words for it.

The words are those of the page at the press; here they are only made short.
"""

from dataclasses import dataclass, replace
from datetime import datetime

from dashboard.press.standing import PressStanding
from dashboard.shared.trouble import Trouble
from dashboard.shared.views import Mounted, PressView
from shotlog.answers.needs import PressFacts, needs
from shotlog.answers.press_needs import SeenPress, Silence, facts_from, n_waiting_long
from shotlog.answers.whereof import Whereof
from shotlog.wording.plant import until_in_short

__all__ = ["PlantPress", "not_read", "plant_press"]

_CALLED = ("watch", "swap")


@dataclass(frozen=True, slots=True)
class PlantPress:
    """A press on the page: `why` in one line, `left` until parts are bad, `mounted` each insert with what it has made.

    Where the data are not current, what was called last is still the headline, and `why` begins with as of when.
    `lost`: that its edge is not heard, since when; empty where that is heard.
    """

    facts: PressFacts
    sign: str
    headline: str
    why: str
    left: str
    mounted: tuple[str, ...]
    where: Whereof
    runs: bool
    lost: str = ""

    @property
    def press(self) -> str:
        """Its name."""
        return self.facts.press

    @property
    def edge(self) -> str:
        """The edge whose log it is in; empty where there is only one log."""
        return self.facts.edge

    @property
    def needs(self) -> tuple[str, ...]:
        """What it needs a person for."""
        return needs(self.facts)


def plant_press(
    view: PressView,
    words: PressStanding,
    wrong: list[Trouble],
    held: int,
    where: Whereof,
    now: datetime,
    logger_seen: datetime | None,
    edge: str = "",
) -> PlantPress:
    """Return a press as it stands; `words` as said at the press, `wrong` what keeps them from being current.

    `held`: how many of its parts are held, and `where`.
    """
    verdict, judged = view.verdict, view.judged
    seen = SeenPress(
        view.press,
        view.shot,
        verdict,
        "" if judged is None else judged.serial,
        0 if judged is None else judged.n_shots,
        bool(view.mounted),
        view.found,
        view.question,
        [len(one.waiting) for one in view.mounted if one.waiting is not None],
        n_waiting_long(view.unjudged, now),
    )
    away = any(one.kind != "quiet" for one in wrong)
    silence = Silence(away, _away_s(view, wrong, now, logger_seen), quiet=bool(wrong))
    facts = facts_from(seen, held, where, silence, edge)
    stood = words.stood or words
    called = facts.verdict in _CALLED
    left = until_in_short(verdict) if called and verdict is not None else ""
    why = _why(stood) if words.current or called else ""
    runs = words.current and view.shot is not None
    headline = words.headline.removeprefix(f"{edge} ") if edge else words.headline  # which stands beside it
    headline = headline[:1].upper() + headline[1:]
    if not words.current and called:
        headline, why = stood.headline, f"{headline}. {why[:1].upper()}{why[1:]}".strip()
    lost = next((one.what.removeprefix(f"{edge} ") for one in wrong if one.kind == "unheard"), "")
    return PlantPress(facts, words.sign, headline, why, left, tuple(map(_made, view.mounted)), where, runs, lost)


def not_read(one: PlantPress, said: str) -> PlantPress:
    """Return a press as it stood when it was read last; `said`: that it cannot be read now, and as of when this is."""
    called = one.facts.verdict in _CALLED
    return replace(
        one,
        facts=replace(one.facts, away=True, quiet=False),
        sign="cut",
        headline=one.headline if called else said,
        why=said if called else "",
        runs=False,
    )


def _why(words: PressStanding) -> str:
    """Return the one line below the word: what was seen."""
    if words.sign in ("keep", "cut"):
        return ""
    return words.limit or ": ".join(filter(None, (words.likely, words.sentence)))


def _made(one: Mounted) -> str:
    if not one.single_use:
        return f"{one.serial}\N{NO-BREAK SPACE}{one.earlier + one.n_shots}"
    left = "" if one.waiting is None else f"\N{NO-BREAK SPACE}{len(one.waiting)} left"
    return f"{one.piece or one.serial}{left}"


def _away_s(view: PressView, wrong: list[Trouble], now: datetime, logger_seen: datetime | None) -> float | None:
    kinds = {one.kind for one in wrong}
    since = [view.link.time] if view.link is not None and kinds & {"link", "stopped"} else []
    since += [logger_seen] if logger_seen is not None and "silent" in kinds else []
    return max(((now - one).total_seconds() for one in since), default=None)
