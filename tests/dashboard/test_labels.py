"""Labels over the strips: none lies on another, the important ones come first."""

from hypothesis import given
from hypothesis import strategies as st

from dashboard.shared.figures.labels import place, shortened


@given(st.lists(st.tuples(st.floats(0, 100), st.text(min_size=1, max_size=40)), max_size=30))
def test_no_label_lies_on_another(labels: list[tuple[float, str]]) -> None:
    placed = place(labels, 0.0, 100.0, n_chars=90)
    spans = []
    for label in placed:
        width = len(label.text) * 100.0 / 90
        left = label.shot - width if label.leftward else label.shot
        spans.append((label.row, left, left + width))
    for n, (row, left, right) in enumerate(spans):
        for other_row, other_left, other_right in spans[n + 1 :]:
            assert row != other_row or right <= other_left + 1e-9 or left >= other_right - 1e-9


def test_the_first_label_always_finds_room() -> None:
    placed = place([(50.0, "hold parts from 50")] + [(50.0, f"event {n}") for n in range(9)], 0.0, 100.0, n_chars=90)
    assert placed[0].text == "hold parts from 50"
    assert len(placed) == 3


def test_a_label_near_the_right_edge_stands_to_the_left_of_its_line() -> None:
    (label,) = place([(98.0, "seen: flash")], 0.0, 100.0, n_chars=90)
    assert label.leftward


def test_a_long_text_is_cut_and_says_so() -> None:
    assert shortened("lot: a very long lot number indeed") == "lot: a very long lot\N{HORIZONTAL ELLIPSIS}"
    assert shortened("lot: L2") == "lot: L2"
