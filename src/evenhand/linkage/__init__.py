"""Linkage: whose punches are these? A posterior over candidates and 'nobody here' for each stray, solved jointly."""

from evenhand.linkage.doubts import doubted
from evenhand.linkage.link import Linkage, link
from evenhand.linkage.roster import roster_of

__all__ = ["Linkage", "doubted", "link", "roster_of"]
