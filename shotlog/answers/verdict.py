"""A verdict as other programs are told it: the same facts in `status --json`, over MQTT and in the live feed."""

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from shotlog.parts.found import FoundWrong
from shotlog.records import Verdict
from shotlog.wording.found import found_said, held_since
from shotlog.wording.verdicts import announced, told

__all__ = ["found_documents", "verdict_document"]


def verdict_document(verdict: Verdict) -> dict[str, Any]:
    """Return what a verdict says. `announced` and `sentence` are for people; no program has to read them."""
    return {
        "shot": verdict.shot,
        "insert": verdict.insert,
        "shots_on_insert": verdict.shots_on_insert,
        "settling": verdict.settling,
        "verdict": verdict.verdict,
        "announced": announced(verdict),
        "sentence": told(verdict),
        "signals": list(verdict.signals),
        "cause": verdict.cause,
        "group": verdict.group,
        "onset": verdict.onset,
        "others": [asdict(other) for other in verdict.others],
        "limits": list(verdict.limits),
    }


def found_documents(found: Sequence[FoundWrong]) -> list[dict[str, Any]]:
    """Return what people found that stands."""
    return [
        {
            "shot": one.wrong.shot, "text": one.wrong.text, "half": one.wrong.half, "initials": one.wrong.initials,
            "said": f"{found_said(one)}; {held_since(one)}",
        }
        for one in found
        if one.stands
    ]  # fmt: skip
