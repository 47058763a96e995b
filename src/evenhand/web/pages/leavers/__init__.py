"""Leavers: whose hand must be gone and whose records go when, from the last day to the erasure; and the schedule."""

from evenhand.web.pages.leavers.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
