"""What a trial takes, where the right answer is known from outside: arithmetic, and the negative binomial law.

The logs are made up so that their lives are of a known kind; figures the log does not know are given by hand.
"""

from collections.abc import Callable, Iterator, Sequence
from math import ceil, log
from pathlib import Path
from random import Random
from typing import Any

import pytest
from scipy.stats import geom, nbinom

from tests.examined.shop import Row, Shop, sound_values

CONFIG = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P1"
  [press.collector]
  kind = "recording"
[design.pin-r1]
settling_shots = 5
[design.pin-r1.cost]
part = 2.0
insert = 18.0
changeover = 12.0
late_find = 8.0
"""

HAND = ("--scrap", 0, "--settling", 0, "--late", 1)


def lives_of(sound: Sequence[int]) -> list[Row]:
    """Return inserts one after another: each makes so many sound shots, then one on which a crack is seen."""
    noise, rows, shot = Random(1), [], 1
    for n, length in enumerate(sound, start=1):
        for k in range(length + 1):
            event = [f"removed:B-{n - 1:02d}:crack"] if n > 1 and k == 0 else []
            event += ["finding:crack"] if k == length else []
            values = sound_values(shot, noise, shot - k)
            rows.append(Row(shot, values, "", f"B-{n:02d}", design="pin-r1", event=";".join(event)))
            shot += 1
    return rows


@pytest.fixture(scope="module")
def shops(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Callable[..., Shop]]:
    """A shop whose inserts lived so long, taken in once."""
    made: dict[tuple[int, ...], Path] = {}
    patch = pytest.MonkeyPatch()

    def shop(*sound: int) -> Shop:
        if sound not in made:
            made[sound] = tmp_path_factory.mktemp("plan")
            (made[sound] / "shop.toml").write_text(CONFIG, encoding="utf-8")
            if sound:
                Shop(made[sound], patch).take(lives_of(sound))
        return Shop(made[sound], patch)

    yield shop
    patch.undo()


def plan(shop: Shop, parts: int, *options: object) -> dict[str, Any]:
    found: dict[str, Any] = shop.asked("plan", "--design", "pin-r1", "--parts", parts, *options)
    return found


def inserts(row: dict[str, Any]) -> tuple[int, int]:
    """Return how many inserts are enough in half of the trials, and in nine of ten."""
    half, most = row["stocks"]
    assert (half["certainty"], most["certainty"]) == (0.5, 0.9)
    return half["inserts"]["pin-r1"], most["inserts"]["pin-r1"]


def pieces(row: dict[str, Any]) -> tuple[int, int]:
    half, most = row["stocks"]
    return half["pieces"]["pin-r1"], most["pieces"]["pin-r1"]


ALIKE = (39,) * 12
"""Each insert made 39 sound shots."""


@pytest.mark.parametrize("parts", [70, 180, *(pytest.param(n, marks=pytest.mark.long) for n in (30, 110))])
def test_inserts_that_all_live_alike_are_counted_by_dividing(shops: Callable[..., Shop], parts: int) -> None:
    """A dozen lives alike do not prove the next: for nine of ten one more may be asked."""
    half, most = inserts(plan(shops(*ALIKE), parts, *HAND)["chosen"])
    assert half == ceil(parts / 39)
    assert most - half in (0, 1)


@pytest.mark.parametrize("after", [8, 20, *(pytest.param(n, marks=pytest.mark.long) for n in (10, 25))])
def test_a_planned_swap_before_any_insert_goes_off_is_counted_by_dividing(
    shops: Callable[..., Shop], after: int
) -> None:
    found = plan(shops(*ALIKE), 195, "--swap-after", after, *HAND)
    assert inserts(found["chosen"]) == (ceil(195 / after), ceil(195 / after))


def test_the_hours_are_shots_and_changes(shops: Callable[..., Shop]) -> None:
    """195 parts, ten inserts of at most 20 shots: 195 cycles of 75 s, nine changes of 10 min, then 24 h in the bath."""
    options = ("--swap-after", 20, "--changeover-min", 10, "--dissolve-h", 24)
    half, _ = plan(shops(*ALIKE), 195, *options, *HAND)["chosen"]["stocks"]
    assert half["shots"] == 195
    assert half["press_h"] == pytest.approx(195 * 75 / 3600 + 9 / 6, abs=0.2)
    assert half["bath_h"] == pytest.approx(half["press_h"] + 24, abs=0.1)


@pytest.mark.parametrize(
    ("scrap", "breakage", "parts"), [(0.05, 0.0, 100), (0.2, 0.0, 48), (0.1, 0.1, 200), (0.0, 0.05, 48)]
)
def test_single_use_pieces_follow_the_negative_binomial_law(
    shops: Callable[..., Shop], scrap: float, breakage: float, parts: int
) -> None:
    """A piece gives an accepted part with one chance: the pieces until the Nth are N and a negative binomial number."""
    options = ("--single-use", "--scrap", scrap, "--breakage", breakage, "--settling", 0)
    found = pieces(plan(shops(), parts, *options)["chosen"])
    chance = (1 - scrap) * (1 - breakage)
    wanted = [parts + int(nbinom.ppf(certainty, parts, chance)) for certainty in (0.5, 0.9)]
    assert found == pytest.approx(wanted, abs=1)


def test_settling_shots_take_pieces_and_make_no_part(shops: Callable[..., Shop]) -> None:
    options = ("--single-use", "--scrap", 0, "--breakage", 0)
    assert pieces(plan(shops(), 48, *options, "--settling", 10)["chosen"]) == (58, 58)


def test_a_bath_that_takes_few_parts_at_a_time_keeps_the_last_ones_waiting(shops: Callable[..., Shop]) -> None:
    """48 parts by twelve, 24 h each: four baths one after another, the first begun when its parts are moulded."""
    options = ("--single-use", "--scrap", 0, "--breakage", 0, "--settling", 0, "--dissolve-h", 24, "--cycle-s", 60)
    stock = plan(shops(), 48, *options, "--bath-parts", 12)["chosen"]["stocks"][1]
    assert 4 * 24 <= stock["bath_h"] <= 4 * 24 + stock["press_h"] + 0.1


CHANCE_OFF = 0.05
AS_CHANCE_HAS_IT = tuple(int(geom.ppf((n + 0.5) / 40, CHANCE_OFF)) - 1 for n in range(40))
"""Forty lives at the quantiles of a law without memory: each shot an insert goes off with one chance in twenty."""


def enough(parts: int, certainty: float, chance: float) -> int:
    """The least number of inserts whose sound shots together are enough: sums of geometric numbers."""
    n = 1
    while nbinom.sf(parts - 1, n, chance) < certainty:
        n += 1
    return n


def test_lives_without_memory_add_up_to_negative_binomial_sums(shops: Callable[..., Shop]) -> None:
    """Nine of ten is asked of forty lives, not of the law itself: somewhat more, and never less."""
    half, most = inserts(plan(shops(*AS_CHANCE_HAS_IT), 400, *HAND)["chosen"])
    assert half == pytest.approx(enough(400, 0.5, CHANCE_OFF), rel=0.12)
    assert enough(400, 0.9, CHANCE_OFF) <= most <= 1.35 * enough(400, 0.9, CHANCE_OFF)


def test_where_lives_have_no_memory_no_planned_swap_pays(shops: Callable[..., Shop]) -> None:
    """A new insert goes off as soon as an old one (Barlow and Proschan 1965): to swap early buys nothing."""
    rows = plan(shops(*AS_CHANCE_HAS_IT), 400, *HAND)["rows"]
    cost = {row["planned"]: row["cost"] for row in rows}
    run_on = cost.pop(None)
    early = {planned: each for planned, each in cost.items() if planned <= log(2) / CHANCE_OFF}
    assert early
    assert all(each > run_on for each in early.values()), cost


def test_where_inserts_all_go_off_at_one_age_a_swap_just_before_pays(shops: Callable[..., Shop]) -> None:
    rows = plan(shops(*ALIKE), 390, "--scrap", 0, "--settling", 0, "--late", 20)["rows"]
    (cheapest,) = [row["planned"] for row in rows if row["cheapest"]]
    assert cheapest is not None
    assert 20 <= cheapest <= 40


def test_more_parts_never_take_fewer_inserts_and_more_certainty_never_less(shops: Callable[..., Shop]) -> None:
    before = (0, 0)
    for parts in (10, 50, 100, 200, 400):
        half, most = inserts(plan(shops(*AS_CHANCE_HAS_IT), parts, *HAND)["chosen"])
        assert half <= most
        assert half >= before[0]
        assert most >= before[1]
        before = half, most


def sources(found: dict[str, Any]) -> dict[str, str]:
    return {figure["name"]: figure["source"] for figure in found["figures"]}


def test_what_the_shop_has_not_yet_is_said_to_be_assumed(shops: Callable[..., Shop]) -> None:
    told = sources(plan(shops(), 100))
    assert {told[name] for name in ("life", "late", "scrap", "cycle_s", "changeover_min")} == {"assumed"}
    said = shops().do("plan", "--design", "pin-r1", "--parts", 100)
    assert said.lower().count("assumed") >= 5


def test_what_the_log_or_a_hand_gives_is_not_assumed(shops: Callable[..., Shop]) -> None:
    told = sources(plan(shops(*ALIKE), 100, "--scrap", 0.05))
    assert (told["life"], told["late"], told["cycle_s"], told["scrap"]) == ("log", "log", "log", "given")
    assert told["insert"] == "configuration", "what an insert costs"


def test_what_cannot_be_planned_is_refused_in_one_line(shops: Callable[..., Shop]) -> None:
    for wrong in (("--design", "nothing-r9", "--parts", 10), ("--design", "pin-r1", "--parts", 0),
                  ("--design", "pin-r1", "--parts", 10, "--scrap", 1.0),
                  ("--design", "pin-r1", "--parts", 10, "--settling", -1),
                  ("--design", "pin-r1", "--parts", 10, "--swap-after", 0)):  # fmt: skip
        said = shops(*ALIKE).ask("plan", *wrong)
        if wrong[1] != "nothing-r9":
            assert said.status == 2, f"{wrong}: {said.all}"
        assert "Traceback" not in said.err
