"""Linkage: whose punches are these? For each stray a posterior over owners and over 'nobody here', solved jointly."""

from evenhand.linkage.doubts import doubted
from evenhand.linkage.link import Linkage, link

__all__ = ["Linkage", "doubted", "link"]
