"""Reconcile: roster, readers' enrolments and punches, held against each other."""

from evenhand.reconcile.attribute import Attribution, attribute, holders
from evenhand.reconcile.compare import compare
from evenhand.reconcile.reader_steps import apply_steps, reader_steps
from evenhand.reconcile.seen import count_seen

__all__ = ["Attribution", "apply_steps", "attribute", "compare", "count_seen", "holders", "reader_steps"]
