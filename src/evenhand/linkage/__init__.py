"""Linkage: whose punches are these? For each stray a posterior over owners and over 'nobody here', solved jointly."""

from evenhand.linkage.bits.weights import Weights
from evenhand.linkage.doubts import doubted
from evenhand.linkage.propose import Linkage, link
from evenhand.linkage.tables import CANDIDATES, PARTS, STRAYS

__all__ = ["CANDIDATES", "PARTS", "STRAYS", "Linkage", "Weights", "doubted", "link"]
