"""Rounding: what it gave and took, for whom, and whether it averages out."""

from evenhand.web.pages.rounding.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
