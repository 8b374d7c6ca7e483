"""Long work says how far it is, and leaves no half of a file when it is stopped."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from shotlog.cli import progress, review


def test_what_is_soon_done_says_nothing_and_the_rest_a_line_now_and_then(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    clock = iter([100.0, 104.9, 105.0, 109.9, 110.0])
    monkeypatch.setattr(progress, "monotonic", lambda: next(clock))
    tell = progress.Progress()
    for shot in (1, 2, 3, 4):
        tell(f"shot {shot}")
    assert capsys.readouterr().err == "shot 2\nshot 4\n"


def test_a_report_that_is_stopped_leaves_the_file_that_stood_there(tmp_path: Path) -> None:
    def stopped() -> Iterator[str]:
        yield "half of"
        raise KeyboardInterrupt

    out = tmp_path / "review.html"
    review.write_whole(out, ["before"])
    with pytest.raises(KeyboardInterrupt):
        review.write_whole(out, stopped())
    assert out.read_text(encoding="utf-8") == "before"
    assert [file.name for file in tmp_path.iterdir()] == ["review.html"]
