"""Every case by its name, in the order of the table. Adding one is a row in the table of its file."""

from tests.benchmark.examiner.cases import healthy, one_change
from tests.benchmark.examiner.cases.base import Case

__all__ = ["CASES"]

CASES: dict[str, Case] = {case.name: case for of in (healthy, one_change) for case in of.CASES}
