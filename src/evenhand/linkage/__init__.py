"""Linkage: whose punches are these? A posterior over candidates and 'nobody here' for each stray, solved jointly."""

from evenhand.linkage.comparisons.contradictions import TRAVEL_S
from evenhand.linkage.doubts import doubted
from evenhand.linkage.link import Linkage, link
from evenhand.linkage.roster import PeopleColumns, roster_of

__all__ = ["TRAVEL_S", "Linkage", "PeopleColumns", "doubted", "link", "roster_of"]
