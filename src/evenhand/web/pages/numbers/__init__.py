"""Numbers: how safe they are, who has none, which rest or clash, new ones, slips, and the move to safer ones."""

from evenhand.web.pages.numbers.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
