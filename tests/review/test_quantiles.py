"""The quantiles are those of the statistics library, to the last digit: numbers of old reports stand."""

import pytest
from scipy.stats import chi2, t

from shotlog.review.quantiles import chi_square, student


@pytest.mark.parametrize("freedom", [1.0, 2.5, 7.0, 30.0, 419.3])
@pytest.mark.parametrize("share", [0.025, 0.5, 0.975, 0.9998])
def test_they_are_the_librarys(share: float, freedom: float) -> None:
    assert student(share, freedom) == float(t.ppf(share, freedom))
    assert chi_square(share, freedom) == float(chi2.ppf(share, freedom))
