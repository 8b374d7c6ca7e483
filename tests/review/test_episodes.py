"""Runs of calls over which a change stood: what stood open beside it, and the limits passed meanwhile."""

from shotlog.records import OtherChange
from shotlog.review.episodes import episodes
from tests.review.made_up_press import verdict

LOT, WORN = OtherChange("material", "lot change", 12), OtherChange("insert", "gate erosion", 20)


def test_what_stood_beside_a_change_is_told_once_as_it_was_told_last() -> None:
    """The change that decides in the end may have stood beside another before."""
    later = OtherChange("material", "lot change", 13)
    called = [
        verdict(20, "B-1", "watch", cause="lot change", group="material", others=(WORN,), limits=("fill_time",)),
        verdict(21, "B-1", "swap", cause="gate erosion", group="insert", others=(LOT,), limits=("cushion",)),
        verdict(22, "B-1", "swap", cause="gate erosion", group="insert", others=(later,), limits=("fill_time",)),
    ]
    (one,) = episodes(called)
    assert one.others == (later,)
    assert one.limits == ("fill_time", "cushion")


def test_a_call_by_a_limit_alone_names_no_cause_and_no_onset() -> None:
    (one,) = episodes([verdict(3, "B-1", "watch", limits=("cushion",)), verdict(4, "B-1")])
    assert (one.cause, one.onset, one.limits, one.others, one.withdrawn) == ("", None, ("cushion",), (), True)
    assert one.ended == "within", "a limit that is passed no longer was no call, and is not withdrawn"
