"""Numbers come out with the digits of their channel, and times as a clock has them."""

import doctest
from datetime import UTC, datetime, timedelta, timezone

import pytest

from shotlog.channels import CHANNELS
from shotlog.wording import numbers, times


@pytest.mark.parametrize("module", [numbers, times])
def test_the_examples_hold(module: object) -> None:
    failed, tried = doctest.testmod(module)  # type: ignore[arg-type]
    assert (failed, tried > 0) == (0, True)


@pytest.mark.parametrize("channel", CHANNELS)
def test_a_channel_has_its_decimals(channel: str) -> None:
    assert numbers.value(channel, -1.23456) == f"{-1.23456:.{CHANNELS[channel].decimals}f}".replace("-", "\u2212")


@pytest.mark.parametrize(("given", "text"), [(1234.5, "1234"), (12.345, "12.3"), (0.012345, "0.0123"), (0.0, "0")])
def test_a_channel_nobody_knows_has_three_figures(given: float, text: str) -> None:
    assert numbers.value("mould_gap", given) == text
    assert (numbers.label("mould_gap"), numbers.unit("mould_gap")) == ("mould gap", "")


def test_what_is_missing_is_said() -> None:
    assert (numbers.value("cushion", None), numbers.number(None, 2, "")) == ("\u2013", "")
    assert times.moment(None, UTC) == "\u2013"
    assert times.clock_time(None) == ""


def test_a_moment_carries_its_offset() -> None:
    zone = timezone(timedelta(hours=2))
    assert times.moment(datetime(2026, 1, 5, 6, 0, 3, 999, tzinfo=UTC), zone) == "2026-01-05 08:00:03 +02:00"


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(-3, "0 s ago"), (119, "119 s ago"), (121, "2 min ago"), (7300, "2 h ago"), (200_000, "2 d ago")],
)
def test_how_long_ago_it_was(seconds: float, words: str) -> None:
    now = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
    assert times.rough_ago(now - timedelta(seconds=seconds), now) == words
