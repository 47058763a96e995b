"""Check that recorded time and all steps add up to paid time: the one place where it is checked.

Recorded seconds come from the punches, steps from what each rule says it did, paid seconds from what was classed: three
origins, so a rule that drops or invents a second without a step is found.
"""

from __future__ import annotations

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.hours import FAILING_WEEKS
from evenhand.terms.languages import Sentence, told

__all__ = ["find_failing_weeks", "say_failing"]


def find_failing_weeks(weeks: Frame) -> Frame:
    """Return the workweeks in `weeks` (WEEKS) whose sum fails (FAILING_WEEKS); none where all is well."""
    paid = pl.col("ordinary_s") + pl.col("overtime_s") + pl.col("double_s")
    failing = weeks.filter(pl.col("recorded_s") + pl.col("steps_s") != paid).with_columns(paid_s=paid)
    return failing.select(FAILING_WEEKS.names)


def say_failing(failing: Frame) -> Sentence:
    """Return one sentence on weeks (FAILING_WEEKS, not empty) that must not be shown as pay or handed off."""
    first = failing.row(0, named=True)
    others = told(" and {count} more", count=failing.height - 1) if failing.height > 1 else ""
    return told(
        "{person}, week of {week}{others}: {recorded} s recorded and {steps} s of steps do not make {paid} s paid. "
        "That is a fault of this program: pay these weeks from the punches by hand, and report it.",
        person=first["person"],
        week=str(first["workweek"]),
        others=others,
        recorded=first["recorded_s"],
        steps=first["steps_s"],
        paid=first["paid_s"],
    )
