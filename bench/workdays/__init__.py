"""Workplaces whose days are known minute by minute, with punches taken away, added or keyed wrongly, and the truth.

Written by somebody who had not read how missing punches are proposed, so that a proposal's stated interval, its chance
and its error can be held against days it was not fitted to. All of it is invented.
"""

from bench.workdays.families import FAMILIES, Family
from bench.workdays.presence import Presence, days_of
from bench.workdays.spoiling import Spoilt, spoil

__all__ = ["FAMILIES", "Family", "Presence", "Spoilt", "days_of", "spoil"]
