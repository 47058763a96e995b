"""Strays: whose punches arrive under numbers nobody holds."""

from evenhand.web.pages.strays.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
