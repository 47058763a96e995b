"""Strays: whose punches arrive under numbers nobody owns."""

from evenhand.web.pages.strays.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
