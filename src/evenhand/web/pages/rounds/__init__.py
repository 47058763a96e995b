"""Round: the page held at the reader, one person at a time."""

from evenhand.web.pages.rounds.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
