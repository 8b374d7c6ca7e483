"""Which parts are held after what people saw: tables of facts, worked out by hand from the rules of the trade.

The rules: a finding or a bad inspection holds the part and those since the last known good one; parts stay held until
somebody lets them go; a noted or far-out shot holds its part; a half taken out for damage holds what it made since the
last known good one; what is held follows from facts in the order of the log, never of a clock.

Where a rule leaves room, a case says what must be held and what may be; between the two either will do.
"""

import shlex
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random

import pytest

from tests.examined.shop import Row, Shop, sound_day, sound_values

N = 80


def span(first: int, last: int = N) -> frozenset[int]:
    return frozenset(range(first, last + 1))


NONE: frozenset[int] = frozenset()


def with_moving(swap: int, serial: str = "B-12") -> list[Row]:
    return [replace(row, moving=serial) if row.shot >= swap else row for row in sound_day(N)]


def with_fixed(swap: int, serial: str = "A-08") -> list[Row]:
    return [replace(row, fixed=serial) if row.shot >= swap else row for row in sound_day(N)]


def single_use() -> list[Row]:
    return [replace(row, moving=f"S-{row.shot:02d}", single_use="moving", design="plate-r1") for row in sound_day(40)]


def far_out() -> list[Row]:
    """Shot 50 reads 0.9 mm less cushion, 30 spreads, and the next ones as before."""
    return [
        replace(row, values={**row.values, "cushion": round(row.values["cushion"] - 0.9, 2)}) if row.shot == 50 else row
        for row in sound_day(N)
    ]


def noted_and_short() -> list[Row]:
    """Piece S-19 cracked on loading: cushion -0.9 mm, pressure -35 bar on that shot (scenario.md, S2)."""
    return [
        replace(
            row,
            values={
                **row.values,
                "cushion": round(row.values["cushion"] - 0.9, 2),
                "peak_pressure": round(row.values["peak_pressure"] - 35, 1),
            },
            event="note:piece cracked on loading",
        )
        if row.shot == 19
        else row
        for row in single_use()
    ]


def two_presses() -> list[Row]:
    noise = Random(15)
    other = [Row(n, sound_values(n, noise), fixed="A-21", moving="B-31", press="P2") for n in range(1, 61)]
    return [*sound_day(N), *other]


def with_dry_shot() -> list[Row]:
    return [replace(row, event="dry:no melt") if row.shot == 45 else row for row in sound_day(N)]


DAYS: dict[str, Callable[[], list[Row]]] = {
    "sound": lambda: sound_day(N),
    "moving swapped at 61": lambda: with_moving(61),
    "moving swapped at 38": lambda: with_moving(38),
    "fixed swapped at 61": lambda: with_fixed(61),
    "single-use": single_use,
    "far out at 50": far_out,
    "cracked on loading": noted_and_short,
    "two presses": two_presses,
    "dry at 45": with_dry_shot,
}


@dataclass(frozen=True)
class Case:
    """Facts in the order they are entered, and what follows; `may` is all that may be held, `must` what has to be."""

    name: str
    day: str
    steps: str
    must: frozenset[int]
    may: frozenset[int]
    verdict: str | None = None
    """``swap`` after a crack, ``called`` (watch or swap) where one may look first, ``keep`` where nothing stands."""


def exactly(name: str, day: str, steps: str, held: frozenset[int], verdict: str | None = None) -> Case:
    return Case(name, day, steps, held, held, verdict)


CRACK = "note P1 finding crack --at-shot 40 --half fixed --initials ab"
GOOD = 'note P1 good "looked at it" --at-shot 35 --initials ab'
LET_GO = 'parts P1 36-80 --release --reason "measured" --initials QA'
SOME_LET_GO = 'parts P1 36-50 --release --reason "measured" --initials QA'


def good(shot: int) -> str:
    return f'note P1 good "saw it" --at-shot {shot}'


def seen(what: str, shot: int, half: str) -> str:
    return f"note P1 finding {what} --at-shot {shot} --half {half}"


def bad(shot: int, what: str, half: str) -> str:
    return f"inspect P1 {shot} --finding {what} --half {half} --initials cd"


def out_for(reason: str) -> str:
    return f'remove P1 B-11 --at-shot 61 --reason "{reason}"'


def back(kind: str) -> str:
    return f'undo {kind} LAST --reason "entered in error"'


CASES = [
    exactly("nothing said, nothing held", "sound", "", NONE, "keep"),
    exactly("a crack, and the last good one known", "sound", f"{GOOD}; {CRACK}", span(36), "swap"),
    exactly("the question answered after the crack", "sound", f"{CRACK}; {GOOD}", span(36), "swap"),
    Case("a crack before the question is answered", "sound", CRACK, span(40), span(1), "swap"),
    exactly("good alone holds nothing", "sound", GOOD, NONE, "keep"),
    exactly("a closer answer counts", "sound", f"{CRACK}; {GOOD}; {good(38)}", span(39), "swap"),
    exactly("an answer taken back", "sound", f"{CRACK}; {good(30)}; {GOOD}; {back('event')}", span(31), "swap"),
    Case(
        "good beyond the finding heals no crack",
        "sound",
        f"{GOOD}; {CRACK}; {good(45)}",
        span(36, 40) | span(46),
        span(36),
        "swap",
    ),
    exactly("no half named", "sound", f"{GOOD}; note P1 finding flash --at-shot 40", span(36), "called"),
    exactly(
        "no half named, and one swapped between",
        "moving swapped at 38",
        f"{GOOD}; note P1 finding flash --at-shot 40",
        span(36),
        "called",
    ),
    exactly(
        "the half came in after the last good one",
        "moving swapped at 38",
        f"{GOOD}; {seen('flash', 40, 'moving')}",
        span(38),
        "called",
    ),
    exactly(
        "the other half is swapped, the cracked one stays", "moving swapped at 61", f"{GOOD}; {CRACK}", span(36), "swap"
    ),
    exactly("the cracked half is swapped", "fixed swapped at 61", f"{GOOD}; {CRACK}", span(36, 60), "keep"),
    Case(
        "seen on an insert that is out by now",
        "moving swapped at 61",
        seen("crack", 50, "moving"),
        span(50, 60),
        span(1, 60),
        "keep",
    ),
    exactly(
        "seen on an insert that is out by now, good known",
        "moving swapped at 61",
        f"{good(44)}; {seen('crack', 50, 'moving')}",
        span(45, 60),
        "keep",
    ),
    exactly("the finding taken back", "sound", f"{GOOD}; {CRACK}; {back('event')}", NONE, "keep"),
    Case(
        "found sound lets nothing go by itself",
        "sound",
        f'{GOOD}; {CRACK}; note P1 sound "R. K., looked with a loupe" --at-shot 60',
        span(36, 40),
        span(36, 60),
        "keep",
    ),
    exactly("let go stays let go", "sound", f"{GOOD}; {CRACK}; {SOME_LET_GO}", span(51), "swap"),
    exactly("let go, and nothing new by waiting", "sound", f"{GOOD}; {CRACK}; {LET_GO}; wait 30", NONE, "swap"),
    Case(
        "let go, and then one of them is found bad",
        "sound",
        f"{GOOD}; {CRACK}; {LET_GO}; {bad(44, 'crack', 'fixed')}",
        span(44),
        span(36),
        "swap",
    ),
    Case(
        "let go, and then something else is seen",
        "sound",
        f"{GOOD}; {CRACK}; {LET_GO}; {seen('flash', 70, 'moving')}",
        span(70),
        span(36),
        "swap",
    ),
    exactly(
        "scrapped is not held",
        "sound",
        f"{GOOD}; {CRACK}; parts P1 36-40 --scrap --reason crack --initials QA",
        span(41),
        "swap",
    ),
    exactly(
        "a person holds, a person lets go",
        "sound",
        "parts P1 10-12 --hold --reason dropped; parts P1 11 --release --reason measured --initials QA",
        frozenset({10, 12}),
        "keep",
    ),
    exactly(
        "yesterday's part found bad today",
        "sound",
        f"{GOOD}; wait 24; {bad(40, 'flash', 'moving')}",
        span(36),
        "called",
    ),
    Case(
        "yesterday's part found bad, nothing known of others",
        "sound",
        f"wait 24; {bad(40, 'flash', 'moving')}",
        span(40),
        span(1),
        "called",
    ),
    exactly(
        "yesterday's part found bad, the half is out since",
        "moving swapped at 61",
        f"{GOOD}; wait 24; {bad(40, 'flash', 'moving')}",
        span(36, 60),
        "keep",
    ),
    exactly(
        "a dimension out of tolerance is a bad part",
        "sound",
        f"{GOOD}; wait 24; inspect P1 40 --dimension wall=1.42",
        span(36),
        "called",
    ),
    exactly(
        "a part measured within tolerance is a known good one",
        "sound",
        f"wait 24; inspect P1 35 --dimension wall=1.20; {bad(40, 'crack', 'fixed')}",
        span(36),
        "swap",
    ),
    exactly(
        "a part within tolerance holds nothing", "sound", "wait 24; inspect P1 40 --dimension wall=1.20", NONE, "keep"
    ),
    exactly(
        "a bad inspection taken back",
        "sound",
        f"wait 24; {bad(40, 'flash', 'moving')}; {back('inspection')}",
        NONE,
        "keep",
    ),
    exactly("taken out for flash, good known", "sound", f"{good(50)}; {out_for('flash')}", span(51, 60)),
    Case("taken out for flash, nothing known", "sound", out_for("flash"), frozenset({60}), span(1, 60)),
    exactly("taken out as planned", "sound", out_for("planned life"), NONE, "keep"),
    exactly("taken out at the end of the trial", "sound", out_for("trial over"), NONE, "keep"),
    exactly(
        "a piece cracked on loading",
        "sound",
        'note P1 note "piece cracked on loading" --at-shot 19',
        frozenset({19}),
        "keep",
    ),
    exactly("a piece cracked on loading, taken in with its values", "cracked on loading", "", frozenset({19}), "keep"),
    exactly("a harmless note", "sound", 'note P1 note "photo taken for the file" --at-shot 19', NONE, "keep"),
    exactly("a shot far out, nobody saw anything", "far out at 50", "", frozenset({50})),
    exactly(
        "seen on a single-use piece",
        "single-use",
        f"{good(19)}; {seen('crack', 20, 'moving')}",
        frozenset({20}),
        "keep",
    ),
    exactly(
        "seen on the reused half beside single-use pieces",
        "single-use",
        f"{good(19)}; {seen('flash', 20, 'fixed')}",
        span(20, 40),
        "called",
    ),
    exactly(
        "one single-use part found bad a day later",
        "single-use",
        f"{good(19)}; wait 24; {bad(20, 'crack', 'moving')}",
        frozenset({20}),
        "keep",
    ),
    exactly("a finding on one press holds nothing on another", "two presses", f"{GOOD}; {CRACK}", span(36), "swap"),
    exactly("a dry shot made no part", "dry at 45", f"{GOOD}; {CRACK}", span(36) - {45}, "swap"),
    exactly(
        "the clock set back between entries",
        "sound",
        f"{GOOD}; wait -2; {CRACK}; wait -2; {SOME_LET_GO}",
        span(51),
        "swap",
    ),
    Case(
        "the clock set back, and new evidence after",
        "sound",
        f"{GOOD}; {CRACK}; {LET_GO}; wait -2; {bad(44, 'crack', 'fixed')}",
        span(44),
        span(36),
        "swap",
    ),
]


@pytest.fixture(scope="module")
def days(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """Each day taken in once; the cases work on copies."""
    made: dict[str, Path] = {}

    def day(name: str) -> Path:
        if name not in made:
            made[name] = tmp_path_factory.mktemp("day")
            with pytest.MonkeyPatch.context() as patch:
                Shop(made[name], patch).take(DAYS[name]())
        return made[name]

    return day


@pytest.fixture
def shop_on(days: Callable[[str], Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], Shop]:
    return lambda day: Shop.after(days(day), tmp_path, monkeypatch)


def last(shop: Shop, kind: str) -> int:
    """Return the number of the last entry of a kind that undo takes, as `entries` lists it."""
    numbers = [one["number"] for one in shop.asked("entries") if one["kind"] == kind]
    return int(max(numbers))


def play(shop: Shop, steps: str) -> None:
    for step in filter(None, map(str.strip, steps.split(";"))):
        command, *words = shlex.split(step)
        if command == "wait":
            shop.wait(float(words[0]))
            continue
        if "LAST" in words:
            words[words.index("LAST")] = str(last(shop, words[0]))
        shop.do(command, *words)


@pytest.mark.parametrize(
    "case",
    [pytest.param(case, id=case.name, marks=pytest.mark.long if n % 2 else ()) for n, case in enumerate(CASES)],
)
def test_what_is_held(case: Case, shop_on: Callable[[str], Shop]) -> None:
    shop = shop_on(case.day)
    play(shop, case.steps)
    held = shop.held()
    assert held >= case.must, f"not held: {sorted(case.must - held)}"
    assert held <= case.may, f"held for nothing: {sorted(held - case.may)}"
    if case.verdict is not None:
        assert shop.verdict() in {"called": ("watch", "swap")}.get(case.verdict, (case.verdict,))
    if case.day == "two presses":
        assert shop.held("P2") == set()
