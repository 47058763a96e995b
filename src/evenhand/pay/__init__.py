"""Pay in money, whether rounding averages out, and the hand-off to payroll."""

from evenhand.pay.compute import Pay, compute_pay, earliest_earned
from evenhand.pay.day import DayPart, parts_of_day
from evenhand.pay.earned.differentials import DifferentialRate
from evenhand.pay.payroll import (
    FIELDS,
    MONEY_FIELDS,
    Cell,
    ControlTotal,
    HandoffRow,
    check_double_time,
    control_total,
    digest,
    handoff_columns,
    handoff_rows,
)
from evenhand.pay.rates import hourly_rates, knows_money, salaried_people
from evenhand.pay.rounding import audit_days, moved_days

__all__ = [
    "FIELDS",
    "MONEY_FIELDS",
    "Cell",
    "ControlTotal",
    "DayPart",
    "DifferentialRate",
    "HandoffRow",
    "Pay",
    "audit_days",
    "check_double_time",
    "compute_pay",
    "control_total",
    "digest",
    "earliest_earned",
    "handoff_columns",
    "handoff_rows",
    "hourly_rates",
    "knows_money",
    "moved_days",
    "parts_of_day",
    "salaried_people",
]
