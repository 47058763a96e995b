"""Whether rounding averages out."""

from evenhand.pay.rounding.audit import audit_rounding, moved_bounds

__all__ = ["audit_rounding", "moved_bounds"]
