"""Reconcile: roster, readers' enrolments and punches, held against each other."""

from evenhand.reconcile.attribute import Attribution, attribute

__all__ = ["Attribution", "attribute"]
