"""Glossary: what the words of the trade and of the standards mean that pages use."""

from evenhand.web.pages.glossary.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
