"""Linkage: whose punches are these? For each stray a posterior over owners and over 'nobody here', solved jointly."""

from evenhand.linkage.doubts import doubted
from evenhand.linkage.link import Linkage, link
from evenhand.linkage.tables import CANDIDATES, DECIDED, PARTS, STRAYS
from evenhand.linkage.weights.parameters import Weights

__all__ = ["CANDIDATES", "DECIDED", "PARTS", "STRAYS", "Linkage", "Weights", "doubted", "link"]
