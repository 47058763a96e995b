"""Sign-off: who confirmed and approved which hours, what is disputed, and the page at a reader where people sign."""

from evenhand.web.pages.signoff.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
