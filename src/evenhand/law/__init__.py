"""Law: punches of whole people become paid seconds in one class each, with the reasons.

`compute_hours` takes and gives frames; `class_columns` is the same over bare columns, for everybody at once.
"""

from __future__ import annotations

from evenhand.law.dated import compute_hours
from evenhand.law.eu_2003_88.breaches import find_breaches
from evenhand.law.everybody import WeekTotals, class_columns
from evenhand.law.hours import Hours
from evenhand.law.own import resolve
from evenhand.law.pay_laws import pay_laws
from evenhand.law.proposals import propose_punches

__all__ = [
    "SPLIT_KEY",
    "Hours",
    "WeekTotals",
    "class_columns",
    "compute_hours",
    "find_breaches",
    "pay_laws",
    "propose_punches",
    "resolve",
]

SPLIT_KEY = "person"
"""Work may be split between people only: one person's hours at all sites are one workweek (29 CFR 778.103)."""
