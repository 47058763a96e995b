"""The hand-off to payroll: rows by the user's own columns, a control total, and a digest of the sources."""

from evenhand.pay.control import ControlTotal, control_total, digest
from evenhand.pay.handoff import FIELDS, HandoffRow, handoff_columns, handoff_rows

__all__ = ["FIELDS", "ControlTotal", "HandoffRow", "control_total", "digest", "handoff_columns", "handoff_rows"]
