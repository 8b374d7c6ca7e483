"""What is said of figures and of what is not sure: no word against the other."""

import pytest

from shotlog.learning.figures_said import unsettled_said


@pytest.mark.parametrize(("writable", "begins"), [(True, "what is only possible goes in"), (False, "nothing is sure")])
def test_what_is_not_sure_goes_in_as_a_remark_or_nowhere(writable: bool, begins: str) -> None:
    (line,) = unsettled_said(["likely", "possible"], writable)
    assert line.startswith(begins)


def test_nothing_is_said_where_all_is_sure() -> None:
    assert unsettled_said(["settled", "likely"], writable=True) == []
