"""Pay in money, and the hand-off to payroll: rows by the user's own columns, control totals, digest of the sources."""

from evenhand.pay.control import ControlTotal, control_total, digest
from evenhand.pay.differentials import DifferentialRate
from evenhand.pay.handoff import (
    FIELDS,
    MONEY_FIELDS,
    HandoffRow,
    check_double_time,
    handoff_columns,
    handoff_rows,
)
from evenhand.pay.week import Pay, compute_pay, earliest_earned

__all__ = [
    "FIELDS",
    "MONEY_FIELDS",
    "ControlTotal",
    "DifferentialRate",
    "HandoffRow",
    "Pay",
    "check_double_time",
    "compute_pay",
    "control_total",
    "digest",
    "earliest_earned",
    "handoff_columns",
    "handoff_rows",
]
