"""European Union: Directive 2003/88/EC on working time, whose limits are checked and whose pay is national.

Source: Directive 2003/88/EC (second hand). Time worked is recorded and paid as elapsed, in one class; what is overtime,
and how long a break is, national law and agreements say. `find_breaches` compares worked time with the limits.
"""

from __future__ import annotations

from evenhand.law.eu_2003_88 import workweek
from evenhand.law.eu_2003_88.pay import MINIMUM_WAGES, PAY_LAW
from evenhand.law.recorded import call_back, doubles, grace, pairing

__all__ = ["MINIMUM_WAGES", "PAY_LAW", "RULES"]

RULES = (doubles, pairing, grace, workweek, call_back)
"""In order of application."""
