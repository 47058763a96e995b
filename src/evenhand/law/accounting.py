"""Check that recorded time and all steps add up to paid time: the one place where it is checked.

Recorded seconds come from the punches, steps from what each rule says it did, paid seconds from what was classed: three
origins, so a rule that drops or invents a second without a step is found.
"""

from __future__ import annotations

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.hours import FAILING_WEEKS

__all__ = ["find_failing_weeks", "say_failing"]


def find_failing_weeks(weeks: Frame) -> Frame:
    """Return the workweeks in `weeks` (WEEKS) whose sum fails (FAILING_WEEKS); none where all is well."""
    paid = pl.col("ordinary_s") + pl.col("overtime_s") + pl.col("double_s")
    failing = weeks.filter(pl.col("recorded_s") + pl.col("steps_s") != paid).with_columns(paid_s=paid)
    return failing.select(FAILING_WEEKS.names)


def say_failing(failing: Frame) -> str:
    """Return one sentence on weeks (FAILING_WEEKS, not empty) that must not be shown as pay or handed off."""
    first = failing.row(0, named=True)
    others = f" and {failing.height - 1} more" if failing.height > 1 else ""
    return (
        f"{first['person']}, week of {first['workweek']}{others}: {first['recorded_s']} s recorded and "
        f"{first['steps_s']} s of steps do not make {first['paid_s']} s paid, which is a fault of this program; "
        "pay these weeks from the punches by hand, and report it."
    )
