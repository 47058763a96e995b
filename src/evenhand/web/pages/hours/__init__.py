"""Hours: everybody's week, a person's week, a day from raw punch to paid second, and its corrections."""

from evenhand.web.pages.hours.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
