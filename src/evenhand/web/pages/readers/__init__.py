"""Readers: how each stands, and what to do at it."""

from evenhand.web.pages.readers.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
