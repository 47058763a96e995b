"""Enrolment day: planned, changed while it runs, and proved; with coverage, growth and the line at the readers."""

from evenhand.web.pages.enrolment.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
