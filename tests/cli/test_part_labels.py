"""Labels of parts: the code leads to the page of the part where other machines find it, else it is the part itself."""

from pathlib import Path

import pytest
import segno

from tests.cli.test_parts_commands import Run, moulded, run

__all__ = ["moulded", "run"]


def sheet(run: Run, out: Path, *words: str) -> str:
    status, said, _ = run("labels", *words, "--out", out)
    assert status == 0
    page = out.read_text(encoding="utf-8")
    assert f"{page.count('<svg')} labels" in said
    return page


def coded(text: str) -> str:
    """Return the drawing of a code that holds a text."""
    return segno.make(text, error="m", micro=False).svg_inline(border=1, omitsize=True)


def test_without_an_address_the_code_is_the_part_as_it_is_typed(moulded: Run, tmp_path: Path) -> None:
    moulded("note", "P25", "lot", "L<7>", "--at-shot", 1)
    page = sheet(moulded, tmp_path / "l.html", "P25/3-4", "P25/9/2", "S-001")
    assert page.count("<svg") == 6, "two cavities a shot, one of them named, and a serial"
    for code in ("P25/3/1", "P25/3/2", "P25/4/1", "P25/4/2", "P25/9/2", "S-001"):
        assert coded(code) in page
    assert "<b>P25 3/2</b><br>F-1, S-003<br>lot L&lt;7&gt;<br>moulded 2026-01-05" in page


def test_with_an_address_it_leads_to_the_page_of_the_part(moulded: Run, tmp_path: Path) -> None:
    page = sheet(moulded, tmp_path / "l.html", "P25/3/2", "--address", "http://10.0.0.7:8050/")
    assert coded("http://10.0.0.7:8050/part/P25/3/2") in page
    config = tmp_path / "c.toml"
    config.write_text(config.read_text(encoding="utf-8") + '[dashboard]\nhost = "10.0.0.8"\nport = 80\n', "utf-8")
    assert coded("http://10.0.0.8:80/part/P25/3") in sheet(moulded, tmp_path / "l.html", "P25/3/1")


@pytest.mark.parametrize(
    ("words", "said"),
    [(("P25/99",), "99"), (("P25/3", "--address", "10.0.0.7"), "http://HOST:PORT"), (("P25/3/9",), "cavity 1 to 2")],
)
def test_what_cannot_be_is_refused(moulded: Run, tmp_path: Path, words: tuple[str, ...], said: str) -> None:
    status, _, err = moulded("labels", *words, "--out", tmp_path / "l.html")
    assert (status, said in err) == (2, True)
    assert not (tmp_path / "l.html").exists()
