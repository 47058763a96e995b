"""Whether rounding averages out."""

from evenhand.pay.rounding.audit import audit_days, moved_bounds, moved_days

__all__ = ["audit_days", "moved_bounds", "moved_days"]
