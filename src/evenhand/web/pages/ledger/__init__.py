"""Ledger: what was done when and by whom, and the proof that nothing of it was altered since."""

from evenhand.web.pages.ledger.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
