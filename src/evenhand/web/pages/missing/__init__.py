"""Missing punches: a supervisor's list to print, to give away and on a phone, and what they say, to be decided on."""

from evenhand.web.pages.missing.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
