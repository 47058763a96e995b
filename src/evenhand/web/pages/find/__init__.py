"""Find: what a few typed words mean, wherever in evenhand it has its page."""

from evenhand.web.pages.find.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
