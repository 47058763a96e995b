"""Linkage: whose punches are these? For each stray a posterior over owners and over 'nobody here', solved jointly."""

from evenhand.linkage.doubts import doubted
from evenhand.linkage.link import Linkage, link
from evenhand.linkage.roster import roster_of

__all__ = ["Linkage", "doubted", "link", "roster_of"]
