"""What `replay` writes of each shot."""

from shotlog.cli.replay import VERDICT_COLUMNS, verdict_cells
from shotlog.records import OtherChange, Verdict


def test_what_stands_beside_the_deciding_change_ends_the_row() -> None:
    """A script that reads the columns by their place goes on reading the same."""
    others = (OtherChange("material", "lot change", 41), OtherChange("press", "set-point or drive", 50))
    verdict = Verdict(
        "P25", 52, "M-1", 52, False, "swap", threshold=6.5, others=others, limits=("cushion", "fill_time")
    )
    row = verdict_cells(verdict)
    assert VERDICT_COLUMNS[-3:] == ("threshold", "others", "limits")
    assert row[-3:] == [6.5, "material:lot change:41;press:set-point or drive:50", "cushion;fill_time"]
    assert verdict_cells(Verdict("P25", 52, "M-1", 52, False, "keep"))[-3:] == ["", "", ""]
