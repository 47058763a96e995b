"""The hand-off to payroll: rows by the user's own columns, control totals, digest of the sources."""

from evenhand.pay.payroll.control import ControlTotal, control_total, digest
from evenhand.pay.payroll.handoff import (
    FIELDS,
    MONEY_FIELDS,
    Cell,
    HandoffRow,
    check_double_time,
    handoff_columns,
    handoff_rows,
)

__all__ = [
    "FIELDS",
    "MONEY_FIELDS",
    "Cell",
    "ControlTotal",
    "HandoffRow",
    "check_double_time",
    "control_total",
    "digest",
    "handoff_columns",
    "handoff_rows",
]
