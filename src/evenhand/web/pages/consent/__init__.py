"""Consent: the policy on hands, who has agreed to it and who is still to be asked, and what somebody says now."""

from evenhand.web.pages.consent.page import MENU, ROUTES

__all__ = ["MENU", "ROUTES"]
