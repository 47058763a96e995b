"""Files: what waits to be looked at, what was taken, and taking it back."""

from evenhand.web.pages.files.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
