"""Teaching: a round to practise on, and who of the supervisors can do their part at the reader."""

from evenhand.web.pages.teaching.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
