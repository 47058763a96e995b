"""Together: decide several of one kind on one page, with one look at what that does and one reason."""

from evenhand.web.pages.together.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
