"""Hands: which hands and readers changed, whom to enrol again, and what thresholds cost."""

from evenhand.web.pages.hands.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
