"""Hand-off: what blocks the file for payroll, and the file itself."""

from evenhand.web.pages.handoff.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
