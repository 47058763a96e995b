"""People: who is on the roster, under which number, on which readers, with which hours."""

from evenhand.web.pages.people.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
