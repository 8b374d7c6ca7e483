"""The ribbon of a long log: what it cannot show is left out, and what matters most is not."""

from shotlog.report.ribbon import thinned


def test_what_fits_is_drawn_as_it_is() -> None:
    spans = [(n, n, "keep") for n in range(1, 401)]
    assert thinned(spans, 1, 400) is spans


def test_of_too_many_each_column_shows_the_gravest_and_a_gap_stays_one() -> None:
    """8,000 shots in 400 columns of twenty: turns of ten shots, one call of a single shot, 200 shots of which none."""
    spans = [(n, n + 9, "settling" if n % 20 == 1 else "keep") for n in range(1, 8001, 10) if not 6001 <= n <= 6200]
    spans.append((4007, 4007, "swap"))
    found = thinned(spans, 1, 8000)
    assert found == [(1, 4000, "keep"), (4001, 4020, "swap"), (4021, 6000, "keep"), (6201, 8000, "keep")]
