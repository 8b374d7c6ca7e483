"""How weighings met their shots, counted from what is known of each match, whatever was said of it."""

from shotlog.review.weighed import WeighedCounts, weighed_counts
from shotlog.store.parts.weights import Weighed
from tests.review.made_up_press import at, mounting, record


def weighed(shot: int | None, others: tuple[int, ...] | None, by_hand: bool = False, why: str = "") -> Weighed:
    return Weighed(shot or 0, "P1", "balance-1", 10.0, at(shot or 8), shot, by_hand, others, why)


def test_only_what_is_known_makes_a_match_doubtful() -> None:
    press = record(10, lambda shot: 5.0, [mounting("B-1", 1)])
    weighings = (
        weighed(2, (1,)),
        weighed(3, (2, 1)),
        weighed(4, (), why="a person wrote that it could be 3"),
        weighed(5, None, why="newest shot before it; could be 4 as well"),
        weighed(6, None, by_hand=True),
        weighed(None, ()),
        weighed(None, None, why="not matched yet"),
    )
    assert weighed_counts(press, weighings, 1) == WeighedCounts(7, 2, 1, n_ambiguous=2, n_not_known=1, n_shots=0)
    assert weighed_counts(press, weighings, 6) == WeighedCounts(3, 2, 1, n_ambiguous=0, n_not_known=0, n_shots=0)
    assert weighed_counts(press, weighings[:5], 10) is None
