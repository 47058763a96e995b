"""Settings: what holds at the workplace and at each site, by which source; changed with a preview, and taken back."""

from evenhand.web.pages.settings.columns import ROUTES
from evenhand.web.pages.settings.page import MENU

__all__ = ["MENU", "ROUTES"]
