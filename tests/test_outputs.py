"""A file for people is whole or not there, and what stood in its place stands until then."""

import errno
import os
from pathlib import Path

import pytest

from shotlog.errors import OutputError
from shotlog.outputs import written_aside


def write_half(out: Path, then: BaseException) -> None:
    with written_aside(out) as aside:
        aside.write_text("half of", encoding="utf-8")
        raise then


def test_the_old_file_stands_until_the_new_one_is_whole(tmp_path: Path) -> None:
    out = tmp_path / "out.csv"
    out.write_text("old", encoding="utf-8")
    with written_aside(out) as aside:
        aside.write_text("new", encoding="utf-8")
        assert (out.read_text(encoding="utf-8"), aside.parent) == ("old", tmp_path)
    assert [file.name for file in tmp_path.iterdir()] == ["out.csv"]
    assert out.read_text(encoding="utf-8") == "new"


@pytest.mark.parametrize("there", [True, False])
def test_a_full_disk_is_one_line_and_leaves_nothing_behind(tmp_path: Path, there: bool) -> None:
    out = tmp_path / "out.csv"
    if there:
        out.write_text("old", encoding="utf-8")
    with pytest.raises(OutputError) as caught:
        write_half(out, OSError(errno.ENOSPC, os.strerror(errno.ENOSPC)))
    stands = "what stood there stands" if there else "nothing is left there"
    assert str(caught.value) == f"{out}: it cannot be written (No space left on device); {stands}"
    assert [file.read_text(encoding="utf-8") for file in tmp_path.iterdir()] == (["old"] if there else [])


def test_a_stop_leaves_nothing_behind(tmp_path: Path) -> None:
    with pytest.raises(KeyboardInterrupt):
        write_half(tmp_path / "out.csv", KeyboardInterrupt())
    assert list(tmp_path.iterdir()) == []


def test_a_link_stays_and_what_it_leads_to_is_replaced(tmp_path: Path) -> None:
    (tmp_path / "far").mkdir()
    link = tmp_path / "out.csv"
    try:
        link.symlink_to(tmp_path / "far" / "real.csv")
    except OSError:
        pytest.skip("links are not allowed here")
    with written_aside(link) as aside:
        aside.write_text("new", encoding="utf-8")
    assert link.is_symlink()
    assert (tmp_path / "far" / "real.csv").read_text(encoding="utf-8") == "new"


def test_a_folder_that_is_not_there_is_one_line(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="No such file or directory"), written_aside(tmp_path / "no" / "x") as aside:
        aside.write_text("new", encoding="utf-8")
