"""Today: what needs a person, most at stake first."""

from evenhand.web.pages.today.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
